"""What takes long in a large room: begun by a button, followed on the page, shown again with its age; the same as JSON."""

import time

import pytest

from bonebench.services import at_length


@pytest.fixture(autouse=True)
def work(program):
    yield program.state.work
    program.state.work.close()


@pytest.fixture
def large(monkeypatch):
    monkeypatch.setattr(at_length, "LARGE", 1)


def until_done(pages, path):
    for _ in range(1200):
        card = pages.get(path).json()
        if not card["job"] or card["job"]["ended"]:
            return card
        time.sleep(0.05)
    raise AssertionError(card)


def test_in_a_large_room_a_what_if_is_begun_by_a_button_and_shown_again(pages, large):
    ask = pages.get("/what-if?tick=one+more+pot").text
    assert "Side by side" not in ask
    assert '<form method="post" action="/what-if/look"' in ask
    begun = pages.post("/what-if/look", data={"tick": "one more pot", "buys:one more pot": "80", "until": ""})
    assert (begun.status_code, begun.headers["location"]) == (303, "/what-if")
    going = pages.get("/what-if").text
    assert "data-job=" in going or "Side by side" in going
    card = until_done(pages, "/api/v1/what-if/look")
    assert (card["schema"], card["current"]) == ("plan.what-if.kept/1", True)
    html = pages.get("/what-if").text
    assert "worked out just now; nothing was written in the book since; 300 orders were tried" in html
    assert html.count(" checked>") == 1
    assert 'value="80"' in html


def test_in_a_small_room_an_answer_comes_at_once_and_a_closer_look_is_begun_by_its_own_button(pages):
    assert "Side by side" in pages.get("/what-if?tick=one+more+pot").text
    pages.post("/what-if/look", data={"tick": "one more pot", "closer": "yes"})
    job = pages.get("/api/v1/what-if/look").json()["job"]
    assert (job["kind"], job["asked"]["moves"]) == ("what-if", 3000)
    assert pages.post(f"/jobs/{job['id']}/stop?back=/what-if").status_code == 303


def test_nothing_ticked_is_said_on_the_page(pages, large):
    answer = pages.post("/what-if/look", data={"until": ""})
    assert answer.status_code == 422
    assert "tick or name at least one change" in answer.text


def test_in_a_large_room_the_last_day_is_begun_by_a_button_and_shown_again(pages, large):
    ask = pages.get("/season?holiday=2026-12-20&species=raccoon").text
    assert "ake in a raccoon until" not in ask
    assert 'value="2026-12-20"' in ask
    assert pages.post("/season/look", data={"holiday": "2026-12-20", "species": "raccoon"}).headers["location"] == "/season"
    card = until_done(pages, "/api/v1/season/holiday")
    assert (card["replays"], card["current"], card["holiday"]["through_by"]) == (200, True, "2026-12-20")
    html = pages.get("/season").text
    assert "ake in a raccoon until" in html
    assert 'value="raccoon"' in html
    assert "worked out just now; nothing was written in the book since; the room was replayed 200 times" in html


def test_a_holiday_that_cannot_be_is_said_and_nothing_is_begun(pages, large):
    answer = pages.post("/season/look", data={"holiday": "soon", "species": "raccoon"})
    assert answer.status_code == 422
    assert "&#39;soon&#39; is not a day" in answer.text
    assert pages.get("/api/v1/season/holiday").json()["job"] is None


def test_any_change_of_a_file_and_any_species_are_begun_as_json(pages):
    body = {"change": [{"name": "two racks", "more": {"rack": 2}}], "moves": 5}
    begun = pages.post("/api/v1/what-if/look", json=body)
    assert (begun.status_code, begun.json()["kind"]) == (202, "what-if")
    assert [side["name"] for side in until_done(pages, "/api/v1/what-if/look")["card"]["sides"]] == ["as it is", "two racks"]
    refused = pages.post("/api/v1/season/holiday", json={"holiday": "2026-12-20", "species": "griffin"})
    assert (refused.status_code, "griffin" in refused.json()["error"]["text"]) == (404, True)
