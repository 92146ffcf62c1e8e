"""The page What if, the questions of the front of the route, and the same as JSON."""

import re


def test_ticks_stand_side_by_side_with_the_pieces_they_move(pages):
    html = pages.get("/what-if?tick=one+more+pot&tick=no+whitening").text
    assert 0 < html.index("Side by side") < html.index(">as it is<") < html.index("Change it")
    assert "no whitening where it has not begun" in html
    assert re.search(r">[0-9A-Z-]{5}, [a-z -]+: \d+ days sooner, through on ", html)
    assert html.count(" checked>") == 2


def test_before_anything_is_ticked_only_the_question_stands_there(pages):
    html = pages.get("/what-if").text
    assert "Side by side" not in html
    assert "What would be otherwise?" in html
    assert "Nothing in the book is changed" in html


def test_a_day_that_is_none_is_said_and_the_ticks_stay(pages):
    answer = pages.get("/what-if?tick=no+whitening&until=soon")
    assert answer.status_code == 422
    assert "&#39;soon&#39; is not a day" in answer.text
    assert answer.text.count(" checked>") == 1


def test_any_change_of_a_file_can_be_asked_as_json(pages):
    body = {"change": [{"name": "two racks", "more": {"rack": 2}}], "moves": 5}
    card = pages.post("/api/v1/what-if", json=body).json()
    assert (card["schema"], [side["name"] for side in card["sides"]]) == ("plan.what-if/1", ["as it is", "two racks"])
    refused = pages.post("/api/v1/what-if", json={"change": [{"name": "x", "more": {"pott": 1}}]})
    assert refused.status_code == 422
    assert refused.json()["error"]["path"] == "change[0].more.pott"


def test_a_forecast_is_answered_on_its_page_and_as_json(pages):
    # The demo's today is Monday 4 May 2026; the third day is a Wednesday.
    html = pages.get("/calendar/ask/outdoors?warmest=-7+-9+-3+C").text
    assert "Bring them in on Wednesday 6 May" in html
    card = pages.get("/api/v1/outdoors?warmest=-7,+-9,+-3+C").json()
    assert (card["schema"], card["last_day"], card["bring_in"]) == ("front.outdoors/1", "2026-05-05", "2026-05-06")
    refused = pages.get("/calendar/ask/outdoors?warmest=cold")
    assert refused.status_code == 422
    assert "is no forecast" in refused.text


def test_the_thaw_shelf_is_asked_from_the_room_and_what_can_hurt_stands_with_the_answer(pages):
    assert '"/calendar/ask/thaw"' in pages.get("/room").text
    html = pages.get("/calendar/ask/thaw?species=raccoon&shelf=6+C").text
    assert "A head of raccoon is soft enough to trim after" in html
    assert "Rabies" in html
    card = pages.get("/api/v1/thaw?species=raccoon&shelf=6+C").json()
    assert card["thaw"]["low"] < card["thaw"]["value"] < card["thaw"]["high"]
    assert pages.get("/calendar/ask/nothing").status_code == 404
