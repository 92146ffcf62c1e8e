"""The pages over the invented room: what a plain browser gets, what a tap stores, and what is turned away."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from bonebench.door import Door
from bonebench.shop.identity import tag_from_number
from bonebench.web.app import make_app
from tests.conftest import Clock
from tests.web.conftest import ADDRESS
from tests.web.test_templates import Form, Reading, words

PAGES = (
    "/", "/?minutes=30", "/specimens", "/specimens?late=1", "/specimens?step=beetles", "/specimens?owner=Ansel", "/room", "/mix",
    "/mix?stock=35%25&target=3%25&volume=10+L", "/mix?stock=30%25&parts=1:1&volume=2+gal", "/add", "/species", "/species?q=fox",
    "/species/raccoon", "/catch-up", "/methods", "/begin",
)  # fmt: skip
IN_TUB, WOLF, FOX = "0ZT-P", "108-E", "104-M"
IN_WORK = 38  # of the forty invented specimens; two were handed over
BOLD = '<b onclick="alert(1)">Ada</b>'


def state_of(pages: TestClient, tag: str) -> Any:
    return pages.get(f"/api/v1/specimens/{tag}").json()["state"]


def entries_of(pages: TestClient, tag: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = pages.get(f"/api/v1/specimens/{tag}").json()["entries"]
    return found


def tap_on(pages: TestClient, path: str, label: str) -> dict[str, Any]:
    """The fields that the button of this label sends."""
    html = pages.get(path).text
    at = html.index(f">{label}</button>")
    form = Reading(html[html.rindex("<form", 0, at) : at] + "</form>").forms[0]
    return {**as_data(form), "about_time": ""}


def as_data(form: Form) -> dict[str, Any]:
    data: dict[str, Any] = {}
    for name, value in form.fields:
        data.setdefault(name, []).append(value)
    return {name: values if name == "subject" else values[0] for name, values in data.items()}


def undo_of(html: str) -> dict[str, Any]:
    """What the Undo beside the words of the last tap sends."""
    return as_data(Reading(html[html.index('id="said"') :]).forms[0])


def send(pages: TestClient, data: dict[str, Any]) -> str:
    """Send a tap as the button does, and return the page the browser is sent to."""
    answer = pages.post("/entries", data=data)
    assert answer.status_code == 303, answer.text
    return pages.get(answer.headers["location"]).text


# -- what every page is ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", PAGES)
def test_every_page_answers_under_a_policy_that_lets_nothing_in_from_elsewhere(pages, path):
    answer = pages.get(path)
    assert answer.status_code == 200
    policy = dict(part.split(" ", 1) for part in answer.headers["content-security-policy"].split("; "))
    assert policy["default-src"] == policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["object-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "path", [*PAGES, f"/specimens/{IN_TUB}", "/nope", "/specimens/XXX", "/mix?stock=3%25&target=6%25&volume=1+L"]
)
def test_no_page_holds_a_script_a_style_or_a_handler_of_its_own(pages, path):
    for tag, at in Reading(pages.get(path).text).tags:
        assert tag != "style"
        assert "style" not in at
        assert not [name for name in at if name.startswith(("on", "hx-on", "hx-vals"))], at
        if tag == "script":
            assert str(at["src"]).startswith("/static/")
        for name in ("href", "src", "action"):
            assert str(at.get(name) or "/").startswith(("/", "#")), at


def test_a_script_on_a_page_has_no_text_inside(pages):
    class Scripts(HTMLParser):
        inside = ""

        def handle_data(self, data: str) -> None:
            self.inside += data if self.lasttag == "script" else ""

    read = Scripts()
    read.feed(pages.get("/").text)
    assert read.inside.strip() == ""


def test_every_specimen_of_the_demo_has_a_page(pages):
    tags = [row["tag"] for row in pages.get("/api/v1/specimens").json()["rows"]]
    assert len(tags) == IN_WORK
    for tag in tags:
        assert pages.get(f"/specimens/{tag}").status_code == 200


def test_every_link_of_every_page_leads_to_a_page(pages):
    seen: set[str] = set()
    ahead = ["/"]
    while ahead:
        path = ahead.pop()
        if path in seen or (
            path.startswith(("/specimens/", "/species/")) and path not in (f"/specimens/{WOLF}", "/species/raccoon")
        ):
            continue
        seen.add(path)
        answer = pages.get(path)
        assert answer.status_code == 200, path
        if answer.headers["content-type"].startswith("text/html"):
            ahead += [str(at["href"]).split("#")[0] or "/" for tag, at in Reading(answer.text).tags if tag in ("a", "link")]
    assert {"/", "/room", "/mix", "/add", "/specimens", "/species", f"/specimens/{WOLF}", "/static/style.css"} <= seen


def test_the_demo_is_marked_and_its_quantities_are_in_us_units(pages):
    shown = words(pages.get("/").text)
    assert "Demo room: invented people and specimens" in shown
    assert "Quantities in US units" in shown
    mixed = words(pages.get("/mix?stock=35%25&target=3%25&volume=10+L").text)
    # 10 L is 2.64 US gallons of 3.785 L, and 20 °C is 68 °F: exact by definition, three digits shown.
    assert "2.64 gal" in mixed
    assert "68 °F" in mixed


def test_today_says_for_every_task_why(pages):
    card = pages.get("/api/v1/today").json()
    shown = words(pages.get("/").text)
    assert len(card["tasks"]) >= 6
    for task in card["tasks"]:
        # The page says it in the room's own units; up to the first quantity the words are the same.
        start = task["why"]["template"].split("{")[0].strip()
        assert task["why"]["text"]
        assert start in shown


# -- a tap -----------------------------------------------------------------------------------------------------------------------


def test_a_tap_is_stored_said_once_with_undo_and_sent_back_to_where_it_came_from(pages):
    data = tap_on(pages, "/", "Rinsing")
    answer = pages.post("/entries", data=data)
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    shown = pages.get("/").text
    assert f"Stored: {IN_TUB}" in words(shown)
    assert undo_of(shown)["entry"] == entries_of(pages, IN_TUB)[0]["id"]
    assert "Stored:" not in words(pages.get("/").text)
    assert state_of(pages, IN_TUB)["step"] == "rinse"


def test_undo_brings_back_what_was_before(pages):
    before, listed = state_of(pages, IN_TUB), pages.get("/specimens").text
    shown = send(pages, tap_on(pages, "/", "Rinsing"))
    assert state_of(pages, IN_TUB) != before
    answer = pages.post("/undo", data=undo_of(shown))
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    assert state_of(pages, IN_TUB) == before
    assert pages.get("/specimens").text == listed
    assert f"{IN_TUB}" in pages.get("/").text


def test_tapping_twice_stores_once(pages):
    data = tap_on(pages, "/", "Rinsing")
    count = len(entries_of(pages, IN_TUB))
    send(pages, data)
    send(pages, data)
    assert len(entries_of(pages, IN_TUB)) == count + 1


def test_the_same_tap_from_a_page_left_open_is_kept_and_moves_nothing(pages, clock: Clock):
    data = tap_on(pages, "/", "Finished")
    tag = "0Z9-S"
    send(pages, data)
    state, count = state_of(pages, tag), len(entries_of(pages, tag))
    clock.advance(minutes=5)
    send(pages, data)
    after = pages.get(f"/api/v1/specimens/{tag}").json()
    assert len(after["entries"]) == count + 1
    assert after["state"]["step"] == state["step"]
    assert after["state"]["next_step"] == state["next_step"]
    assert after["flags"]


def test_a_tap_can_say_that_it_was_yesterday(pages):
    send(pages, {**tap_on(pages, "/", "Rinsing"), "about_time": "yesterday"})
    entry = entries_of(pages, IN_TUB)[0]
    assert entry["earliest"].startswith("2026-05-03")
    assert entry["latest"] >= entry["earliest"]


def test_a_problem_tap_stands_on_the_page_until_it_is_settled(pages):
    html = pages.get(f"/specimens/{FOX}").text
    form = next(f for f in Reading(html).taps() if dict(f.fields)["kind"] == "problem")
    shown = send(pages, as_data(form))
    assert "Problem:" in words(shown)
    settle = next(f for f in Reading(shown).taps() if dict(f.fields)["kind"] == "settled")
    assert "Problem:" not in words(send(pages, as_data(settle))).replace("Stored:", "")


@pytest.mark.parametrize("tag", [WOLF, FOX])
def test_a_button_of_every_kind_stores_what_it_shows(pages, tag):
    one_of_each = {dict(form.fields)["kind"]: as_data(form) for form in Reading(pages.get(f"/specimens/{tag}").text).taps()}
    assert {"moved", "problem", "gone", "skipped", "released" if tag == WOLF else "held"} <= set(one_of_each)
    for data in one_of_each.values():
        count = len(entries_of(pages, tag))
        shown = send(pages, data)
        assert f"Stored: {tag}" in words(shown)
        assert len(entries_of(pages, tag)) == count + 1
        assert pages.post("/undo", data=undo_of(shown)).status_code == 303


def test_a_tray_stores_its_answer_about_what_was_left_ticked(pages):
    tray = Reading(pages.get("/").text).trays()[0]
    answer = next(value for name, value in tray.buttons if name == "answer")
    ticked = tray.sends("subject")
    assert len(ticked) >= 2
    pages.post("/entries", data={"answer": answer, "subject": ticked[1:], "back": "/"})
    tags = {f"specimen:{row['id']}": row["tag"] for row in pages.get("/api/v1/specimens").json()["rows"]}
    newest = {subject: entries_of(pages, tags[subject])[0]["kind"] for subject in ticked}
    assert {newest[subject] for subject in ticked[1:]} == {json.loads(answer)["kind"]}
    stories = [entries_of(pages, tags[subject]) for subject in ticked]
    assert len(stories[0]) == len(stories[1]) - 1


def test_a_tray_with_nothing_ticked_stores_nothing_and_says_so(pages):
    tray = Reading(pages.get("/").text).trays()[0]
    answer = pages.post("/entries", data={"answer": tray.buttons[0][1], "back": "/"})
    assert answer.status_code == 422
    assert "nothing was ticked, so nothing was stored; tick what it is about" in words(answer.text)


def test_a_tap_that_cannot_be_read_says_so_and_stores_nothing(pages):
    data = tap_on(pages, "/", "Rinsing")
    count = len(entries_of(pages, IN_TUB))
    answer = pages.post("/entries", data={**data, "values": "{not json"})
    assert answer.status_code == 422
    assert "the button sent something that cannot be read; load the page again and tap once more" in words(answer.text)
    answer = pages.post("/entries", data={"kind": "moved"})
    assert answer.status_code == 422
    assert "nothing was ticked, so nothing was stored; tick what it is about" in words(answer.text)
    assert len(entries_of(pages, IN_TUB)) == count


def test_a_number_that_is_none_in_a_tap_is_refused_in_words(pages):
    data = {**tap_on(pages, "/", "Rinsing"), "kind": "weighed", "values": '{"mass_kg": NaN}'}
    answer = pages.post("/entries", data=data)
    assert answer.status_code == 422
    assert "weighed holds a number that is none, such as nan; leave it out" in words(answer.text)


def test_undoing_what_is_not_there_says_so(pages):
    answer = pages.post("/undo", data={"entry": "nothing-like-it"})
    assert answer.status_code == 404
    assert "there is no entry nothing-like-it in this book to take back" in words(answer.text)


# -- who is at it ----------------------------------------------------------------------------------------------------------------


def people_of(pages: TestClient) -> dict[str, str]:
    """The names one can tap, with what each button sends."""
    html = pages.get("/").text
    found = re.findall(r'name="person" value="([^"]+)"[^>]*>([^<]+)</button>', html)
    return {name: person for person, name in found}


def test_who_is_working_is_remembered_on_this_device_and_written_into_the_entry(pages):
    answer = pages.post("/who", data={"person": people_of(pages)["Wren Halloway"], "back": "/room"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/room")
    cookie = answer.headers["set-cookie"].casefold()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert "Working now: Wren Halloway" in words(pages.get("/").text)
    send(pages, tap_on(pages, "/", "Rinsing"))
    assert entries_of(pages, IN_TUB)[0]["who"] == "Wren Halloway"


def test_nobody_named_forgets_who_it_was(pages):
    pages.post("/who", data={"person": people_of(pages)["Wren Halloway"]})
    pages.post("/who", data={"person": ""})
    assert "Who is working?" in words(pages.get("/").text)


def test_a_cookie_that_names_nobody_names_nobody(pages):
    pages.cookies.set("bonebench_who", "somebody-else")
    send(pages, tap_on(pages, "/", "Rinsing"))
    assert entries_of(pages, IN_TUB)[0]["who"] is None


# -- turned away -----------------------------------------------------------------------------------------------------------------

WRITING = ["/add", "/entries", "/undo", "/who", "/left", "/begin", "/methods", "/profile", "/features", "/api/v1/specimens",
           "/api/v1/entries"]  # fmt: skip
ELSEWHERE = [
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
    {"Origin": "http://other.example"},
    {"Origin": "null"},
    {"Origin": "http://127.0.0.1:9999"},
]


@pytest.mark.parametrize("headers", ELSEWHERE)
def test_writing_from_another_site_is_refused_and_stores_nothing(pages, headers):
    data = tap_on(pages, "/", "Rinsing")
    count = len(entries_of(pages, IN_TUB))
    answer = pages.post("/entries", data=data, headers=headers)
    assert answer.status_code == 403
    assert answer.text == "this came from another site and was not stored"
    assert "content-security-policy" in answer.headers
    assert len(entries_of(pages, IN_TUB)) == count


@pytest.mark.parametrize("path", WRITING)
def test_every_way_to_write_refuses_another_site(pages, path):
    assert pages.post(path, headers={"Sec-Fetch-Site": "cross-site"}).status_code == 403


@pytest.mark.parametrize("headers", [{"Sec-Fetch-Site": "same-origin"}, {"Sec-Fetch-Site": "none"}, {"Origin": ADDRESS}, {}])
def test_writing_from_our_own_pages_is_let_in(pages, headers):
    assert pages.post("/entries", data=tap_on(pages, "/", "Rinsing"), headers=headers).status_code == 303


@pytest.mark.parametrize(
    "host", ["127.0.0.1:8437", "localhost:8437", "[::1]:8437", "192.168.4.7", "shed", "shed.local:8437", "shed.lan"]
)
def test_the_program_answers_to_numbers_and_to_names_of_the_house(pages, host):
    assert pages.get("/", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize("host", ["other.example", "other.example:8437", "127.0.0.1.other.example", "localhost.", "[::1", ""])
def test_a_strangers_name_that_points_here_reads_nothing(pages, host):
    answer = pages.get("/", headers={"Host": host})
    assert answer.status_code == 421
    assert f"this program does not answer to the name '{host}': use the address it printed" in answer.text
    assert IN_TUB not in answer.text
    told = pages.get("/api/v1/today", headers={"Host": host})
    assert (told.status_code, told.json()["error"]["key"]) == (421, "web.host")


def test_the_name_the_program_was_started_with_is_its_own(open_door: Door):
    started = TestClient(make_app(open_door, host="Bones.example"), base_url="http://bones.example:8437")
    assert started.get("/").status_code == 200


BACKS = ["https://other.example/", "//other.example/", "/\\other.example", "\\\\other.example", "javascript:alert(1)", "other", "",
         "/%5cother.example\r\nSet-Cookie: a=b"]  # fmt: skip


@pytest.mark.parametrize("back", BACKS)
def test_a_tap_never_sends_the_browser_to_another_site(pages, back):
    answer = pages.post("/entries", data={**tap_on(pages, "/", "Rinsing"), "back": back})
    assert answer.status_code == 303
    location = answer.headers["location"]
    assert location.startswith("/")
    assert not location.startswith(("//", "/\\"))
    assert "a=b" not in answer.headers.get("set-cookie", "")


# -- what people type ------------------------------------------------------------------------------------------------------------


def test_adding_a_specimen_leads_to_its_page_which_says_what_was_stored(pages):
    answer = pages.post("/add", data={"species": "Raccoon", "owner": "Ada Nobody", "promised": "2026-09-01"})
    assert answer.status_code == 303
    shown = words(pages.get(answer.headers["location"]).text)
    assert "raccoon" in shown
    assert "for Ada Nobody" in shown
    assert "Stored:" in shown
    assert "Promised to the owner for 1 Sep" in shown


def test_undoing_an_arrival_takes_the_specimen_out_of_the_room(pages):
    answer = pages.post("/add", data={"species": "raccoon"})
    shown = pages.get(answer.headers["location"]).text
    pages.post("/undo", data=undo_of(shown))
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


def test_html_in_what_people_type_is_shown_as_text(pages):
    answer = pages.post("/add", data={"species": "raccoon", "owner": BOLD, "condition": BOLD, "permit": BOLD, "parts": BOLD})
    assert answer.status_code == 303
    for path in (answer.headers["location"], "/specimens", "/room", "/"):
        html = pages.get(path).text
        assert "<b onclick" not in html, path
    assert BOLD in Reading(pages.get("/specimens").text).text


def test_html_in_a_question_is_shown_as_text(pages):
    bad = pages.get("/specimens/<b onclick=alert(1)>x</b>")
    assert bad.status_code == 404
    for path in ("/<b onclick=1>", "/species?q=<b onclick=1>", "/specimens?owner=<b onclick=1>", "/mix?stock=<b onclick=1>"):
        assert "<b onclick" not in pages.get(path).text + bad.text


def test_html_in_a_hold_is_shown_as_text(pages):
    data = tap_on(pages, f"/specimens/{FOX}", "Put on hold")
    shown = send(pages, {**data, "values": json.dumps({"reason": BOLD})})
    assert "<b onclick" not in shown
    assert BOLD in Reading(shown).text


def test_a_species_nobody_knows_says_what_it_could_be_and_keeps_what_was_typed(pages):
    answer = pages.post("/add", data={"species": "racoon dog cat", "owner": "Ada", "head_mass": "1 lb", "finish": "natural"})
    assert answer.status_code == 422
    shown = answer.text
    assert "racoon dog cat" in words(shown)
    typed = {str(at.get("name")): at for tag, at in Reading(shown).tags if tag == "input" and at.get("type") != "radio"}
    assert typed["species"]["value"] == "racoon dog cat"
    assert typed["owner"]["value"] == "Ada"
    assert typed["head_mass"]["value"] == "1 lb"
    chosen = [at["value"] for tag, at in Reading(shown).tags if tag == "input" and "checked" in at and at["name"] == "finish"]
    assert chosen == ["natural"]
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


def test_a_slip_of_the_pen_in_a_species_is_asked_back(pages):
    answer = pages.post("/add", data={"species": "bever"})
    assert answer.status_code == 422
    assert "Did you mean American beaver" in words(answer.text)


BAD_INTAKE = [
    ({"species": ""}, "say which species it is"),
    ({"species": "raccoon", "head_mass": "heavy"}, "'heavy' is not a mass; write it like 350 g or 3 lb"),
    ({"species": "raccoon", "head_mass": "3"}, "'3' has no unit I know for a mass"),
    ({"species": "raccoon", "promised": "soon"}, "'soon' is not a day; write it like 2026-05-09"),
    ({"species": "raccoon", "finish": "gold"}, "'gold' is no finish; it is white or natural"),
    ({"species": "raccoon", "head_mass": "3 kg", "live_mass": "2 kg"}, "a head weighs less"),
]


@pytest.mark.parametrize(("form", "said"), BAD_INTAKE)
def test_what_cannot_be_read_of_an_arrival_is_said_beside_the_form(pages, form, said):
    answer = pages.post("/add", data=form)
    assert answer.status_code == 422
    assert said in words(answer.text)
    for value in form.values():
        assert f'value="{value}"' in answer.text or value == "gold"
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


BAD_MIX = [
    ({"stock": "3%", "target": "6%", "volume": "10 L"}, "target strength 6 % is above the stock's 3 %"),
    ({"stock": "35%", "target": "3%", "volume": "ten buckets"}, "'ten buckets' is not a volume; write it like 10 L or 2 gal"),
    ({"stock": "35% v/v", "target": "3%", "volume": "10 L"}, "'35% v/v' by volume is not a peroxide strength"),
    ({"stock": "35%", "volume": "10 L"}, "a mix needs either a target strength or parts of stock and water"),
    ({"stock": "35%", "parts": "half", "volume": "10 L"}, "'half' is not two parts; write stock and water like 1:1"),
    ({"stock": "35%", "target": "3%", "volume": "10 L", "temperature": "warm"}, "'warm' is not a temperature"),
    ({"stock": "", "target": "3%", "volume": "10 L"}, "'' is not a strength"),
]


@pytest.mark.parametrize(("asked", "said"), BAD_MIX)
def test_a_mix_that_cannot_be_is_refused_in_words_and_keeps_what_was_typed(pages, asked, said):
    answer = pages.get("/mix", params=asked)
    assert answer.status_code == 422
    assert said in words(answer.text)
    typed = {str(at.get("name")): at.get("value") for tag, at in Reading(answer.text).tags if tag == "input"}
    assert {name: typed[name] for name in asked} == asked
    assert "Pour in this order" not in answer.text


def test_no_recipe_stands_above_its_cautions(pages):
    html = pages.get("/mix?stock=35%25&target=3%25&volume=10+L").text
    assert 0 < html.index('class="cautions"') < html.index("Pour in this order")
    assert "Defer to local codes and licensed practice" in html


# -- what is not there -----------------------------------------------------------------------------------------------------------


def test_a_tag_nobody_issued_is_a_page_of_the_house(pages):
    tag = tag_from_number(500)
    answer = pages.get(f"/specimens/{tag}")
    assert answer.status_code == 404
    assert f"{tag}" in words(answer.text)
    assert "Defer to local codes" in words(answer.text)


def test_a_tag_misread_by_one_character_is_caught_before_it_is_looked_for(pages):
    answer = pages.get("/specimens/0ZJ-9")
    assert answer.status_code == 422
    print(words(answer.text))
    assert "0ZJ-9" in words(answer.text)


def test_a_species_nobody_knows_is_a_page_that_names_the_nearest(pages):
    answer = pages.get("/species/bever")
    assert answer.status_code == 404
    assert "American beaver" in words(answer.text)


def test_a_page_that_is_not_there_says_so(pages):
    answer = pages.get("/nope")
    assert answer.status_code == 404
    assert "there is no page at /nope" in words(answer.text)
    assert pages.get("/api/v1/nope").json()["error"]["text"] == "there is no page at /api/v1/nope"


@pytest.mark.parametrize("minutes", ["soon", "-5", "nan", "inf"])
def test_a_time_at_hand_that_is_none_is_said_on_a_page(pages, minutes):
    answer = pages.get("/", params={"minutes": minutes})
    assert answer.status_code == 422
    assert "minutes cannot be read" in words(answer.text)


def test_a_book_that_breaks_under_the_program_is_said_in_words(pages, demo: Path):
    demo.write_bytes(b"this is no book" * 1000)
    for leftover in demo.parent.glob("demo.db-*"):
        leftover.unlink()
    answer = pages.get("/room")
    assert answer.status_code == 507
    assert not re.search(r"Traceback|Error\b", answer.text)
