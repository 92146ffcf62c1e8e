"""The JSON under /api/v1: the same cards as the pages and the command line, with faults in the same words."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from jsonschema_rs import validator_for
from starlette.testclient import TestClient

from bonebench.cli import build
from bonebench.door import Door
from bonebench.services.baths import working
from bonebench.services.baths.bench import bench
from bonebench.services.baths.mix import convert, mix
from bonebench.services.cards import as_json
from bonebench.shop.identity import tag_from_number
from tests.conftest import Clock
from tests.web.demo_tags import IN_BOX

API = "/api/v1"
# What makes something answers 201.
MADE = {
    ("post", f"{API}/specimens"), ("post", f"{API}/baths"), ("post", f"{API}/specimens/{{tag}}/photos"),
    ("post", f"{API}/specimens/{{tag}}/teeth"), ("post", f"{API}/specimens/{{tag}}/photos/colour"),
    ("post", f"{API}/tags"), ("post", f"{API}/lots"),
}  # fmt: skip
# What begins long work answers 202.
BEGUN = {("post", f"{API}/{asked}") for asked in ("plan", "what-if/look", "season/holiday")}
FOX = IN_BOX
SAME = [
    ("/today", lambda door: door.today()),
    ("/today?minutes=30", lambda door: door.today(minutes=30)),
    ("/specimens", lambda door: door.specimens()),
    ("/specimens?late=true", lambda door: door.specimens(late=True)),
    ("/specimens?step=beetles", lambda door: door.specimens(step="beetles")),
    (f"/specimens/{FOX}", lambda door: door.specimen(FOX)),
    ("/room", lambda door: door.room()),
    ("/species?q=fox", lambda door: door.species_list("fox")),
    ("/species/raccoon", lambda door: door.species("raccoon")),
    ("/baths/mix?stock=35%25&target=3%25&volume=10+L", lambda _: mix(stock="35%", target="3%", volume="10 L")),
    ("/find?q=fox", lambda door: door.find("fox")),
    ("/baths", lambda door: door.baths()),
    ("/baths/white-tub", lambda door: door.bath("white-tub")),
    ("/baths/bench", lambda door: door.work(bench)),
    (
        "/baths/blend?a=35%25&b=0%25&target=3%25&total=10+L",
        lambda door: door.work(lambda k: working.blend(k, a="35%", b="0%", target="3%", total="10 L")),
    ),
    (
        "/baths/titrate?sample=25&normality=0.1&used=17.85&dilution=25",
        lambda door: door.work(lambda k: working.titrate(k, sample="25", normality="0.1", used="17.85", dilution="25")),
    ),
    ("/baths/decay?strength=3%25&days=5d", lambda door: door.work(lambda k: working.decay(k, strength="3%", days="5d"))),
    ("/baths/whiten?species=raccoon", lambda door: door.work(lambda k: working.whiten(k, species="raccoon"))),
    ("/baths/degrease?species=raccoon", lambda door: door.work(lambda k: working.degrease(k, species="raccoon"))),
    ("/baths/dry?species=raccoon&use=glue", lambda door: door.work(lambda k: working.dry(k, species="raccoon", use="glue"))),
    ("/baths/convert?strength=10+vol&to=w/w", lambda _: convert(strength="10 vol", to="w/w")),
]
COMMANDS = [
    ("/today", ["today"]),
    ("/today?minutes=30", ["today", "--minutes", "30"]),
    (f"/specimens/{FOX}", ["specimen", "show", FOX]),
    ("/specimens", ["specimen", "list"]),
    ("/room", ["room"]),
]


def plain(card: Any) -> Any:
    return json.loads(json.dumps(as_json(card)))


def entry(number: int, at: datetime, **changed: Any) -> dict[str, Any]:
    """One entry as a phone in the shed writes it."""
    written = {
        "id": f"0195aaaa-0000-7000-8000-{number:012d}", "kind": "looked", "subjects": [], "values": {"step": "beetles"},
        "earliest": at.astimezone(UTC).isoformat(), "latest": at.astimezone(UTC).isoformat(), "writer": "phone", "number": number,
    }  # fmt: skip
    return {**written, **changed}


@pytest.fixture
def fox(pages: TestClient) -> str:
    """The subject of the fox in the box."""
    return f"specimen:{pages.get(f'{API}/specimens/{FOX}').json()['id']}"


def take(pages: TestClient, *entries: dict[str, Any]) -> list[dict[str, Any]]:
    answer = pages.post(f"{API}/entries", json={"entries": list(entries)})
    assert answer.status_code == 200, answer.text
    assert answer.json()["schema"] == "entries/1"
    answers: list[dict[str, Any]] = answer.json()["entries"]
    return answers


# -- the same card everywhere ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("path", "card"), SAME, ids=[path for path, _ in SAME])
def test_the_api_says_exactly_what_the_card_holds(pages, open_door: Door, path, card):
    answer = pages.get(API + path)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/json"
    assert answer.json() == plain(card(open_door))


@pytest.mark.parametrize(("path", "command"), COMMANDS, ids=[" ".join(command) for _, command in COMMANDS])
def test_the_command_line_prints_the_same_document(pages, demo: Path, clock: Clock, monkeypatch, path, command):
    monkeypatch.setattr("bonebench.cli.face.now", clock)
    printed = CliRunner().invoke(build(), [*command, "--book", str(demo), "--json"])
    assert printed.exit_code == 0, printed.output
    assert json.loads(printed.stdout) == pages.get(API + path).json()


def test_a_fault_on_the_command_line_has_the_words_of_the_api(pages, demo: Path, clock: Clock, monkeypatch):
    monkeypatch.setattr("bonebench.cli.face.now", clock)
    tag = tag_from_number(500)
    printed = CliRunner().invoke(build(), ["specimen", "show", str(tag), "--book", str(demo), "--json"])
    assert printed.exit_code == 1
    told, said = pages.get(f"{API}/specimens/{tag}").json()["error"], json.loads(printed.stdout)["error"]
    assert {name: told[name] for name in said} == said


def test_a_specimen_added_by_json_gets_a_tag_a_route_and_dates(pages):
    answer = pages.post(f"{API}/specimens", json={"species": "raccoon", "owner": "Ada Nobody", "head_mass": "1 lb"})
    assert answer.status_code == 201
    card = answer.json()
    assert card["schema"] == "specimen.add/1"
    assert [leg["step"] for leg in card["route"]][:3] == ["receive", "frozen hold", "thaw to trim"]
    assert card["ready"]["if_quick"] <= card["ready"]["if_slow"]
    shown = pages.get(f"{API}/specimens/{card['tag']}").json()
    assert (shown["owner"], shown["species"]["key"]) == ("Ada Nobody", "raccoon")
    # The international pound, exact by definition.
    assert shown["head_mass_kg"] == pytest.approx(0.45359237, rel=1e-12)


# -- faults ----------------------------------------------------------------------------------------------------------------------

FAULTS = [
    (f"/specimens/{tag_from_number(500)}", 404, "specimen"),
    ("/specimens?step=boil", 404, "'boil' is no step; the steps are:"),
    ("/species/bever", 404, "bever"),
    ("/baths/mix?stock=3%25&target=6%25&volume=1+L", 422, "target strength 6 % is above the stock's 3 %"),
    ("/baths/mix?stock=35%25&target=3%25&volume=ten+buckets", 422, "'ten buckets' is not a volume"),
    ("/baths/mix?stock=35%25+v/v&target=3%25&volume=1+L", 422, "by volume is not a peroxide strength"),
    ("/baths/convert?strength=3%25&to=proof", 404, "'proof' is no way to write a strength"),
    ("/baths/mix?stock=35%25", 422, "volume: Field required"),
    ("/today?minutes=-1", 422, "minutes: Input should be greater than 0"),
    ("/nope", 404, "there is no page at /api/v1/nope"),
]


@pytest.mark.parametrize(("path", "status", "text"), FAULTS, ids=[path for path, _, _ in FAULTS])
def test_a_fault_comes_as_json_with_its_key_and_words(pages, path, status, text):
    answer = pages.get(API + path)
    assert answer.status_code == status
    told = answer.json()
    assert told["schema"] == "error/1"
    assert set(told["error"]) == {"key", "text", "values", "path"}
    assert text in told["error"]["text"]


BAD_BODIES = [
    (b"{", "application/json", "body", "JSON decode error"),
    (b'{"species": 3}', "application/json", "species", "valid string"),
    (b'{"species": "raccoon", "colour": "red"}', "application/json", "colour", "Extra inputs are not permitted"),
    (b'{"species": "raccoon", "measure": "yes"}', "application/json", "measure", "valid boolean"),
]


@pytest.mark.parametrize(("body", "kind", "path", "why"), BAD_BODIES)
def test_a_body_that_cannot_be_read_says_where_and_why(pages, body, kind, path, why):
    answer = pages.post(f"{API}/specimens", content=body, headers={"Content-Type": kind})
    assert answer.status_code == 422
    error = answer.json()["error"]
    assert why in error["text"]
    assert path == error["path"] or path == "body"
    assert len(pages.get(f"{API}/specimens").json()["rows"]) == 38


def test_an_intake_that_cannot_be_is_refused_and_uses_no_tag(pages):
    assert pages.post(f"{API}/specimens", json={"species": "raccoon", "head_mass": "heavy"}).status_code == 422
    tags = [pages.post(f"{API}/specimens", json={"species": "raccoon"}).json()["tag"]]
    pages.post(f"{API}/specimens", json={"species": "no such beast"})
    tags.append(pages.post(f"{API}/specimens", json={"species": "raccoon"}).json()["tag"])
    assert len(set(tags)) == 2


# -- a batch written without a network -------------------------------------------------------------------------------------------


def test_entries_sent_in_a_batch_are_stored_and_sent_again_do_nothing(pages, clock: Clock, fox):
    batch = [entry(n, clock.now - timedelta(hours=n), subjects=[fox]) for n in (1, 2, 3)]
    assert [(a["how"], a["why"]) for a in take(pages, *batch)] == [("stored", None)] * 3
    before = pages.get(f"{API}/specimens/{FOX}").json()
    assert [a["how"] for a in take(pages, *batch)] == ["already stored"] * 3
    assert pages.get(f"{API}/specimens/{FOX}").json() == before


def test_the_same_id_with_other_content_is_kept_aside(pages, clock: Clock, fox):
    first = entry(1, clock.now, subjects=[fox])
    take(pages, first)
    before = pages.get(f"{API}/specimens/{FOX}").json()["entries"]
    assert take(pages, {**first, "values": {"step": "beetles", "found": "half done"}})[0]["how"] == "clash"
    assert pages.get(f"{API}/specimens/{FOX}").json()["entries"] == before


UNREADABLE = [
    ({"kind": "boiled"}, "'boiled' is no kind of entry this version knows"),
    ({"values": {"step": "boil"}}, "looked cannot be read"),
    ({"values": {"step": "beetles", "colour": "red"}}, "looked has no value called 'colour'"),
    ({"earliest": "yesterday"}, "the times of an entry must be ISO 8601 with their zone"),
    ({"earliest": "2026-05-04T07:00:00"}, "the times of an entry must be ISO 8601 with their zone"),
    ({"earliest": "2026-05-04T12:00:00Z", "latest": "2026-05-04T11:00:00Z"}, "an entry's earliest time lies after its latest"),
    ({"subjects": []}, "an entry must say what it is about"),
]


@pytest.mark.parametrize(("changed", "why"), UNREADABLE, ids=[why for _, why in UNREADABLE])
def test_an_entry_that_cannot_be_read_says_why_and_its_neighbours_are_stored(pages, clock: Clock, fox, changed, why):
    bad = {**entry(2, clock.now, subjects=[fox]), **changed}
    answers = take(pages, entry(1, clock.now, subjects=[fox]), bad, entry(3, clock.now, subjects=[fox]))
    assert [a["how"] for a in answers] == ["stored", "unreadable", "stored"]
    assert why in answers[1]["why"]
    assert [a["id"] for a in answers] == [entry(n, clock.now)["id"] for n in (1, 2, 3)]


def test_an_entry_from_a_clock_that_runs_ahead_is_stored_and_flagged(pages, clock: Clock, fox):
    assert take(pages, entry(1, clock.now + timedelta(days=400), subjects=[fox]))[0]["how"] == "stored"
    flags = [flag["what"]["text"] for flag in pages.get(f"{API}/specimens/{FOX}").json()["flags"]]
    assert any("after it was written" in flag for flag in flags)


def test_an_entry_about_what_nobody_knows_yet_is_stored(pages, clock: Clock):
    assert take(pages, entry(1, clock.now, subjects=["specimen:not-here-yet"]))[0]["how"] == "stored"
    assert pages.get("/").status_code == 200


def test_a_void_sent_from_elsewhere_takes_its_target_back(pages, clock: Clock, fox):
    first = entry(1, clock.now, subjects=[fox])
    take(pages, first)
    take(pages, entry(2, clock.now, kind="void", subjects=[fox], values={"target": first["id"]}))
    shown = pages.get(f"{API}/specimens/{FOX}").json()["entries"]
    assert next(e for e in shown if e["id"] == first["id"])["counts"] is False


# -- the description -------------------------------------------------------------------------------------------------------------


def described(pages: TestClient) -> dict[str, Any]:
    found: dict[str, Any] = pages.get(f"{API}/openapi.json").json()
    return found


def test_the_description_is_a_valid_openapi_document(pages):
    from schemathesis import openapi

    document = described(pages)
    assert document["openapi"].startswith("3.1")
    openapi.from_dict(document).validate()


def test_every_question_documents_every_status_it_can_answer_with(pages):
    for path, operations in described(pages)["paths"].items():
        for method, operation in operations.items():
            if path == "/healthz":
                assert set(operation["responses"]) == {"200", "503"}
                continue
            good = "201" if (method, path) in MADE else "202" if (method, path) in BEGUN else "200"
            assert set(operation["responses"]) == {good, "400", "403", "404", "411", "413", "421", "422", "503", "507"}, path
            for status in ("404", "422"):
                assert operation["responses"][status]["content"]["application/json"]["schema"]["$ref"].endswith("/FaultCard")


def test_no_page_of_the_browser_is_in_the_description(pages):
    assert all(path.startswith(f"{API}/") or path == "/healthz" for path in described(pages)["paths"])


@pytest.mark.parametrize("path", ["/today", f"/specimens/{FOX}", "/specimens", "/room", "/species", "/species/raccoon"])
def test_an_answer_keeps_to_the_schema_it_is_described_by(pages, path):
    document = described(pages)
    template = path.replace(FOX, "{tag}").replace("/species/raccoon", "/species/{key}")
    schema = document["paths"][API + template]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
    whole = validator_for({**schema, "components": document["components"]})
    assert [str(fault) for fault in whole.iter_errors(pages.get(API + path).json())] == []


def test_health_is_said_while_the_book_can_be_read_and_written(pages):
    answer = pages.get("/healthz")
    assert (answer.status_code, answer.json()) == (200, {"readable": True, "writable": True})
