"""A tap: what it stores, what it says, how it is taken back, and who it was."""

import json
import re

import pytest
from starlette.testclient import TestClient

from tests.conftest import Clock
from tests.web.demo_tags import FINISHED_NEXT
from tests.web.demo_tags import IN_TUB as OPOSSUM
from tests.web.taps import FOX, IN_TUB, WOLF, as_data, entries_of, send, state_of, tap_on, undo_of
from tests.web.test_templates import Reading, words


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
    tag = FINISHED_NEXT
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
    send(pages, {**tap_on(pages, f"/specimens/{OPOSSUM}", "Rinsing"), "about_time": "yesterday"})
    entry = entries_of(pages, OPOSSUM)[0]
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
