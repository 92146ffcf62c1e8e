"""Long work from outside: asked again, sent line by line, and stopped by a button."""

import json
import time

import pytest

from bonebench.door.work import Work
from tests.door.tasks import KINDS


@pytest.fixture
def work(program, open_door):
    program.state.work = Work(open_door, KINDS)
    yield program.state.work
    program.state.work.close()


def _until_it_ends(pages, job):
    for _ in range(1200):
        card = pages.get(f"/api/v1/jobs/{job}").json()
        if card["ended"]:
            return card
        time.sleep(0.05)
    raise AssertionError(card)


def test_long_work_is_listed_and_followed_to_its_end(pages, work):
    job = work.start("count", {"to": 3}).id
    assert pages.get("/api/v1/jobs?kind=count").json()["jobs"][0]["id"] == job
    card = _until_it_ends(pages, job)
    assert (card["schema"], card["state"], card["result"]["counted"]) == ("job/1", "done", 3)


def test_how_far_it_is_comes_line_by_line(pages, work):
    job = work.start("count", {"to": 3}).id
    with pages.stream("GET", f"/api/v1/jobs/{job}/events") as answer:
        assert answer.headers["content-type"].startswith("text/event-stream")
        lines = [json.loads(line.removeprefix("data: ")) for line in answer.iter_lines() if line.startswith("data: ")]
    assert lines[0]["live"]
    assert (lines[-1]["state"], lines[-1]["share"], lines[-1]["live"]) == ("done", 1.0, False)


def test_a_button_stops_it_and_the_best_so_far_is_kept(pages, work):
    job = work.start("count", {"to": None}).id
    while pages.get(f"/api/v1/jobs/{job}").json()["share"] == 0:
        time.sleep(0.05)
    answer = pages.post(f"/jobs/{job}/stop?back=/today")
    assert (answer.status_code, answer.headers["location"]) == (303, "/today")
    assert _until_it_ends(pages, job)["result"]["counted"] >= 1


def test_work_nobody_knows_is_said_in_words(pages):
    answer = pages.get("/api/v1/jobs/none")
    assert (answer.status_code, answer.json()["error"]["text"]) == (
        404, "there is no work none in this book; what ended long ago is cleared away",
    )  # fmt: skip
