"""The API under invented questions: made from its own description, good ones and bad ones.

A sample runs with the tests; BONEBENCH_FUZZ=500 asks that many questions of every operation and kind. Whatever is asked, the
program never breaks, and answers JSON in the shape it described, with a status it described.
"""

import json
import os
import random
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from schemathesis import BaseSchema, Case, GenerationMode, openapi
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from starlette.testclient import TestClient

from bonebench.demo.build import MORNING
from bonebench.door import Door
from bonebench.shop.entries import KINDS, values_of
from bonebench.web.app import make_app
from tests.web.conftest import ADDRESS, DAY, ZONE, copy_of
from tests.web.demo_tags import IN_TUB

QUESTIONS = int(os.environ.get("BONEBENCH_FUZZ", "12"))
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
]
WORK = ("blend", "cover", "decay", "degrease", "dry", "heat", "titrate", "top-up", "whiten")
COLONY = ("numbers", "forecast", "ramp-up", "least", "away", "thin", "second", "harm", "tonight", "rot", "clean-by")
OPERATIONS = [
    ("GET", "/healthz"),
    ("GET", "/api/v1/today"),
    ("GET", "/api/v1/specimens"),
    ("POST", "/api/v1/specimens"),
    ("GET", "/api/v1/specimens/{tag}"),
    ("GET", "/api/v1/specimens/{tag}/photos"),
    ("POST", "/api/v1/specimens/{tag}/photos"),
    ("POST", "/api/v1/specimens/{tag}/photos/take-out"),
    ("GET", "/api/v1/specimens/{tag}/teeth"),
    ("POST", "/api/v1/specimens/{tag}/teeth"),
    ("GET", "/api/v1/specimens/{tag}/photos/colour"),
    ("POST", "/api/v1/specimens/{tag}/photos/colour"),
    ("POST", "/api/v1/entries"),
    ("GET", "/api/v1/room"),
    ("GET", "/api/v1/species"),
    ("GET", "/api/v1/species/{key}"),
    ("GET", "/api/v1/baths/mix"),
    ("GET", "/api/v1/baths/convert"),
    *(("GET", f"/api/v1/baths/{work}") for work in WORK),
    ("GET", "/api/v1/baths/bench"),
    ("GET", "/api/v1/baths"),
    ("POST", "/api/v1/baths"),
    ("GET", "/api/v1/baths/{name}"),
    ("POST", "/api/v1/baths/{name}"),
    ("GET", "/api/v1/find"),
    ("GET", "/api/v1/plan"),
    ("POST", "/api/v1/plan"),
    ("GET", "/api/v1/season"),
    ("GET", "/api/v1/outdoors"),
    ("GET", "/api/v1/thaw"),
    ("POST", "/api/v1/what-if"),
    *((method, f"/api/v1/{asked}") for method in ("GET", "POST") for asked in ("what-if/look", "season/holiday")),
    ("GET", "/api/v1/prices"),
    ("POST", "/api/v1/prices"),
    ("GET", "/api/v1/promise"),
    ("GET", "/api/v1/promises"),
    ("GET", "/api/v1/jobs"),
    ("GET", "/api/v1/jobs/{job}"),
    ("POST", "/api/v1/jobs/{job}/stop"),
    ("GET", "/api/v1/enclosure/simulate"),
    ("POST", "/api/v1/enclosure/simulate"),
    ("GET", "/api/v1/enclosure/blackout"),
    ("GET", "/api/v1/colony"),
    ("POST", "/api/v1/colony"),
    *(("GET", f"/api/v1/colony/{question}") for question in COLONY),
    *(("POST", f"/api/v1/colony/{question}") for question in ("forecast", "harm")),
    *((method, "/api/v1/colony/with-box") for method in ("GET", "POST")),
    ("GET", "/api/v1/enclosure/advise"),
    ("GET", "/api/v1/enclosure/size"),
    ("GET", "/api/v1/enclosure/begin"),
    ("POST", "/api/v1/specimens/{tag}/look"),
    ("GET", "/api/v1/colony/skill"),
    ("GET", "/api/v1/colony/box"),
    ("POST", "/api/v1/colony/box"),
    ("POST", "/api/v1/scan"),
    ("POST", "/api/v1/scan/picture"),
    ("GET", "/api/v1/sheets/{number}"),
    ("POST", "/api/v1/typed-back"),
    ("GET", "/api/v1/specimens/{tag}/parts"),
    ("POST", "/api/v1/specimens/{tag}/retag"),
    ("GET", "/api/v1/parts/{part}"),
    ("GET", "/api/v1/tags"),
    ("POST", "/api/v1/tags"),
    ("GET", "/api/v1/lots"),
    ("POST", "/api/v1/lots"),
    ("POST", "/api/v1/lots/split"),
    ("GET", "/api/v1/places"),
    ("GET", "/api/v1/places/{key}"),
    ("POST", "/api/v1/places/{key}/count"),
]
# No bad question can be made where there is nothing to say, or where every text is a name somebody may look for.
NO_BAD_ONE = {
    ("GET", "/api/v1/colony/skill"),
    ("GET", "/healthz"), ("GET", "/api/v1/room"), ("GET", "/api/v1/colony"), ("GET", "/api/v1/colony/box"),
    ("GET", "/api/v1/promises"), ("GET", "/api/v1/prices"), ("GET", "/api/v1/what-if/look"), ("GET", "/api/v1/season/holiday"),
    ("GET", "/api/v1/specimens/{tag}"), ("GET", "/api/v1/species/{key}"), ("GET", "/api/v1/specimens/{tag}/photos"),
    ("GET", "/api/v1/specimens/{tag}/teeth"),
    ("GET", "/api/v1/specimens/{tag}/photos/colour"),
    ("GET", "/api/v1/baths/bench"), ("GET", "/api/v1/baths/{name}"), ("GET", "/api/v1/find"),
    ("GET", "/api/v1/jobs/{job}"), ("POST", "/api/v1/jobs/{job}/stop"),
    ("GET", "/api/v1/sheets/{number}"),
    ("GET", "/api/v1/specimens/{tag}/parts"), ("GET", "/api/v1/parts/{part}"), ("GET", "/api/v1/tags"), ("GET", "/api/v1/lots"),
    ("GET", "/api/v1/places"), ("GET", "/api/v1/places/{key}"),
}  # fmt: skip


@pytest.fixture(scope="module")
def description(demo_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[BaseSchema]:
    """The program over a copy of the demo that every question writes into, read by its own description."""
    book = copy_of(demo_file, tmp_path_factory.mktemp("fuzz"))
    now = datetime.combine(DAY, MORNING, ZONE)
    with Door.open(book, clock=lambda: now, rng=random.Random(8437), writer="pages") as door:
        program = make_app(door)
        yield openapi.from_asgi("/api/v1/openapi.json", program)
        program.state.work.close()


def ask(description: BaseSchema, method: str, path: str, kind: GenerationMode) -> int:
    """Ask questions of one operation and return how many were asked."""
    asked = 0

    @seed(8437)
    @settings(max_examples=QUESTIONS, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(case=description[path][method].as_strategy(generation_mode=kind))
    def one(case: Case) -> None:
        nonlocal asked
        asked += 1
        case.call_and_validate(checks=CHECKS)

    one()
    return asked


def test_every_operation_of_the_description_is_asked(description):
    found = [(found.ok().method.upper(), found.ok().path) for found in description.get_all_operations()]
    assert sorted(found) == sorted(OPERATIONS)


@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_whatever_good_question_is_asked_the_answer_is_one_that_was_described(description, method, path):
    assert ask(description, method, path, GenerationMode.POSITIVE) > 0


@pytest.mark.parametrize(("method", "path"), [one for one in OPERATIONS if one not in NO_BAD_ONE])
def test_whatever_bad_question_is_asked_the_answer_is_one_that_was_described(description, method, path):
    assert ask(description, method, path, GenerationMode.NEGATIVE) > 0


SUBJECTS = ("fox", "fox/skull", "room", "specimen:nobody", "specimen:", "", "place:big-pot", "place:dairy-box", "\x00")
AT = st.datetimes(min_value=datetime(2020, 1, 1), max_value=datetime(2030, 1, 1)).map(lambda at: at.replace(tzinfo=UTC).isoformat())  # noqa: DTZ001


@st.composite
def entries(draw: st.DrawFn) -> dict[str, Any]:
    """One entry of a kind the program knows, with values of the right types and any content."""
    what = draw(st.sampled_from(list(KINDS.values())).flatmap(st.builds))
    times = sorted((draw(AT), draw(AT)))
    return {
        "id": draw(st.uuids()).hex, "kind": what.KIND, "values": values_of(what),
        "subjects": draw(st.lists(st.sampled_from(SUBJECTS), min_size=1, max_size=3)), "earliest": times[0], "latest": times[1],
        "writer": draw(st.sampled_from(("phone", "\x00", "tablet"))), "number": draw(st.integers(0, 2**31 - 1)),
    }  # fmt: skip


def test_whatever_an_entry_holds_every_page_still_opens(description):
    app = description.app
    pages = TestClient(app, base_url=ADDRESS)
    fox = pages.get(f"/api/v1/specimens/{IN_TUB}").json()["id"]

    @seed(8437)
    @settings(max_examples=2 * QUESTIONS, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(st.lists(entries(), min_size=1, max_size=6))
    def store(batch: list[dict[str, Any]]) -> None:
        for one in batch:
            one["subjects"] = [s.replace("fox", f"specimen:{fox}") for s in one["subjects"]]
        answer = pages.post("/api/v1/entries", content=json.dumps({"entries": batch}))
        assert answer.status_code in (200, 422), answer.text
        for path in (
            "/",
            "/specimens",
            f"/specimens/{IN_TUB}/teeth",
            "/room",
            "/place/big-pot",
            "/lots",
            "/tags",
            "/species",
            "/colony",
            "/api/v1/today",
            "/api/v1/room",
            "/api/v1/colony",
            f"/specimens/{IN_TUB}/photos",
            f"/specimens/{IN_TUB}/colour",
        ):
            assert pages.get(path).status_code == 200, (path, batch)

    store()
