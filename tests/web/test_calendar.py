"""The page of the weeks ahead, and what other programs take from it."""

import time

import vobject


def test_what_is_late_stands_first_and_every_place_in_words(pages):
    html = pages.get("/calendar").text
    assert (
        0 < html.index("misses its promise" if "1 piece misses" in html else "miss their promise") < html.index("What stands where")
    )
    assert html.count('role="img"') == 2
    assert "The same in words" in html
    assert "Day by day" in html


def test_the_plan_as_json_is_the_plan_today_reads(pages):
    card = pages.get("/api/v1/plan?days=60").json()
    assert (card["schema"], card["status"]) == ("plan/1", "by rule")
    assert {"specimen", "step", "place", "start", "end"} <= card["tasks"][0].keys()
    made = pages.get("/api/v1/today").json()["plan_made"]
    assert card["made_at"] == made


def test_the_phone_gets_a_calendar_file(pages):
    answer = pages.get("/calendar.ics")
    assert answer.headers["content-type"].startswith("text/calendar")
    assert len(vobject.readOne(answer.text).vevent_list) > 20


def test_days_out_of_reach_are_said_in_words(pages):
    answer = pages.get("/calendar?days=0")
    assert answer.status_code == 422
    assert "0 days were asked for; the calendar shows 1 to 420" in answer.text


def test_a_longer_look_goes_on_beside_the_page_and_says_what_came_of_it(pages, program):
    answer = pages.post("/calendar/look")
    assert (answer.status_code, answer.headers["location"]) == (303, "/calendar")
    job = pages.get("/api/v1/jobs?kind=plan").json()["jobs"][0]["id"]
    assert f'data-job="{job}"' in pages.get("/calendar").text
    assert pages.post("/api/v1/plan", json={}).json()["id"] == job
    for _ in range(1200):
        card = pages.get(f"/api/v1/jobs/{job}").json()
        if card["ended"]:
            break
        time.sleep(0.1)
    assert (card["state"], card["result"]["current"]) == ("done", True), card
    html = pages.get("/calendar").text
    assert "The last look: it is done" in html
    assert "data-job" not in html


def test_what_may_be_promised_stands_at_the_top_and_bad_days_in_words(pages):
    html = pages.get("/promise?species=raccoon&arrives=2026-05-20").text
    assert 0 < html.index("If the raccoon comes in on 20 May, it should be ready about") < html.index("Ask for another")
    refused = pages.get("/promise?species=raccoon&arrives=whenever")
    assert refused.status_code == 422
    assert "&#39;whenever&#39; is not a day" in refused.text


def test_effort_no_program_should_ask_for_is_refused(pages):
    assert pages.post("/api/v1/plan", json={"seconds": -1}).status_code == 422
    assert pages.post("/api/v1/plan", json={"seconds": True}).status_code == 422
