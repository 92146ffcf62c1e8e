"""The page of the weeks ahead, and what other programs take from it."""

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
