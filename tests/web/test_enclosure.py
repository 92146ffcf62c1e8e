"""The box in the pages and the JSON: drawn, run, left without power; what cannot be is said on the same page."""

import html
import re

import pytest

from bonebench.files.enclosure_toml import example
from bonebench.services.enclosure.cards import Opening, Seen
from bonebench.units import Reader
from bonebench.web.boxdrawing import FLOOR, drawn
from bonebench.web.boxtools import CUT, RUN, SIZE, TRY, YEAR
from tests.web.test_templates import words

BOX = {
    "length": "1.20 m",
    "width": "0.65 m",
    "height": "0.80 m",
    "wall": "65 mm",
    "watts": "100 W",
    "low_holes": "1",
    "high_holes": "1",
}
AROUND = {"building": "5 C", "humidity": "80 %", "days": "2d"}
SEEN = Seen(
    1.0, 0.6, 0.06, window=True, heater_w=100, pavers_kg=40, water_l=5, fan=True, breathes_kg_s=0.001,
    openings=(
        Opening("holes", 2, 0.025, 0.05, -0.001), Opening("holes", 1, 0.025, 0.45, 0.0004), Opening("duct", 1, 0.1, 0.5, 0.0006),
    ),
)  # fmt: skip


def link_to(start: str, page: str) -> str:
    """The first link of a page that begins so."""
    return next(href for href in map(html.unescape, re.findall(r'href="([^"]*)"', page)) if href.startswith(start))


def test_an_empty_page_offers_an_invented_box_and_it_runs(pages):
    first = pages.get("/enclosure")
    assert first.status_code == 200
    link = link_to("/enclosure?length", first.text)
    answer = pages.get(link)
    assert answer.status_code == 200
    assert "What comes out" in words(answer.text)
    assert "invented box" not in words(answer.text)


def test_the_try_out_fills_only_fields_that_are_there():
    assert set(TRY) <= {field.name for tool in (RUN, CUT, YEAR, SIZE) for field in tool.fields}


def test_a_run_is_drawn_with_its_openings_and_charts(pages):
    answer = pages.get("/enclosure", params={**BOX, **AROUND})
    text = words(answer.text)
    assert answer.text.count("<svg") >= 4
    assert "one open hole at" in text
    assert "litres a second in" in text
    assert "A second, separate over-temperature cut-out" in text


def test_the_box_goes_along_to_the_power_cut(pages):
    answer = pages.get("/enclosure", params={**BOX, **AROUND})
    link = link_to("/enclosure/cut?", answer.text)
    assert "wall=65" in link
    cut = pages.get("/enclosure/cut", params={**BOX, "outdoor": "-10 C", "building_now": "5 C", "bottles": "10 L@60 C"})
    assert cut.status_code == 200
    assert "With the hot water" in words(cut.text)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"wall": "65"}, "65"),
        ({"building": "warm"}, "'warm'"),
        ({"low_holes": "0", "high_holes": "0"}, "nothing is open"),
        ({"settings": "heater.power"}, "no such place"),
        ({"days": "5000d"}, "1 to 366 days"),
    ],
)
def test_what_cannot_be_is_said_on_the_page_and_nothing_typed_is_lost(pages, changed, said):
    answer = pages.get("/enclosure", params={**BOX, **AROUND, **changed})
    assert answer.status_code == 422
    assert said in words(answer.text)
    assert 'value="0.65 m"' in answer.text


def test_the_same_comes_as_json_by_numbers_and_by_file(pages):
    by_numbers = pages.get("/api/v1/enclosure/simulate", params={**BOX, **AROUND}).json()
    assert by_numbers["schema"] == "enclosure.simulate/1"
    assert by_numbers["balance_error"]["heat"] < 1e-9
    sent = {"file": example(), "settings": ["heater.power=80 W"], "building": "5 C", "days": "1d"}
    assert pages.post("/api/v1/enclosure/simulate", json=sent).json()["seen"]["heater_w"] == 80
    cut = pages.get("/api/v1/enclosure/blackout", params={**BOX, "outdoor": "-5 C"}).json()
    assert [line["to_c"] for line in cut["hours_to"]] == [20, 15, 10, 5]


ROOM = {
    "means": "-4 C; 9 C; 23 C; 11 C", "room_length": "5 m", "room_width": "4 m", "room_height": "2.4 m", "room_walls": "R-15",
    "room_heater": "3 kW", "room_set": "5 C", "room_fuel": "vented propane", "tank": "200 lb",
}  # fmt: skip


def test_sizing_shows_what_was_tried_and_the_smallest_that_holds(pages):
    answer = pages.get("/enclosure/size", params={**BOX, **ROOM, "hold": "3"})
    text = words(answer.text)
    assert answer.status_code == 200
    assert "are the smallest that hold" in text
    assert "All that was tried" in text


def test_a_flame_without_a_flue_is_warned_of_with_its_figures(pages):
    text = words(pages.get("/enclosure/year", params={**BOX, **ROOM, "room_fuel": "unvented propane"}).text)
    assert "0.13 kg of water" in text
    assert "0.13 kg of water" not in words(pages.get("/enclosure/year", params={**BOX, **ROOM}).text)


@pytest.mark.parametrize("page", ["/enclosure", "/enclosure/year", "/enclosure/cut", "/enclosure/size"])
def test_a_box_that_comes_along_waits_for_its_question_and_an_empty_one_is_said(pages, page):
    waiting = pages.get(page, params=BOX)
    assert waiting.status_code == 200
    assert 'value="65 mm"' in waiting.text
    sent = pages.get(page, params={**BOX, **ROOM, "building": "", "means": "", "outdoor": "", "building_now": ""})
    assert sent.status_code == 422


def test_a_year_says_what_to_leave_open_and_why_and_how_long_the_tank_lasts(pages):
    answer = pages.get("/enclosure/year", params={**BOX, **ROOM})
    text = words(answer.text)
    assert answer.status_code == 200
    for said in ("What to leave open", "A tank lasts", "Propane in the year", "A listed CO alarm", "Jan", "Dec"):
        assert said in text
    assert answer.text.count("<svg") >= 3


@pytest.mark.parametrize(
    ("changed", "said"),
    [({"means": "5 C"}, "holds 1 values"), ({"room_walls": "15"}, "building.walls"), ({"tank": "-5 kg"}, "building.tank")],
)
def test_a_year_that_cannot_be_is_said(pages, changed, said):
    answer = pages.get("/enclosure/year", params={**BOX, **ROOM, **changed})
    assert answer.status_code == 422
    assert said in words(answer.text)


def test_year_size_and_guide_come_as_json(pages):
    year = pages.get("/api/v1/enclosure/advise", params={**BOX, **ROOM}).json()
    assert [month["month"] for month in year["months"]] == list(range(1, 13))
    size = pages.get("/api/v1/enclosure/size", params={**BOX, **ROOM, "hold": "3"}).json()
    assert size["smallest"]["enough"]
    guide = pages.get("/api/v1/enclosure/begin", params={"starter": "500", "first_day": "2026-05-04"}).json()
    assert [piece["piece"] for piece in guide["pieces"]] == ["a mouse", "a squirrel's head", "a deer's head"]


def test_the_guide_answers_before_anything_is_typed(pages):
    answer = pages.get("/enclosure/begin")
    assert answer.status_code == 200
    for said in ("a child can be shut in", "licensed person", "It can take a deer's head"):
        assert said in words(answer.text)
    assert pages.get("/enclosure/begin", params={"starter": "2"}).status_code == 422


def test_air_that_comes_in_points_at_the_box_and_air_that_goes_out_away_from_it():
    low, high, duct = drawn(SEEN, Reader()).marks
    assert low.tail < low.tip <= low.x
    assert high.tip < high.tail <= high.x
    assert duct.x <= duct.tail < duct.tip
    assert abs(low.tip - low.tail) > abs(high.tip - high.tail), "the longer arrow is the stronger flow"


def test_openings_stand_at_their_heights():
    drawing = drawn(SEEN, Reader())
    assert [round((FLOOR - mark.y) / drawing.h, 3) for mark in drawing.marks] == [0.083, 0.75, 0.833]
