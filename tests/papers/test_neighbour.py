"""The neighbour's sheet: everything stands on one page, black on white, with blanks for whom to call."""

from dataclasses import replace

import numpy as np
import pytest

from bonebench.errors import Impossible
from bonebench.papers.awaywords import away_pdf, sheet_of_away
from bonebench.papers.neighbour import BLANKS, NeighbourSheet, neighbour_sheet
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.food import away
from bonebench.services.known import known_in
from bonebench.shop.room import Room
from bonebench.units import Reader
from tests.papers.rendering import fonts_of, page_count, rendered, words_of

METRIC = Reader("metric")


@pytest.fixture(scope="module")
def card():
    room = known_in(replace(Room(), features=("gas heater",)))
    return away(room, Asked(size="3000"), days="10d", first_day="2026-05-04")


@pytest.fixture(scope="module")
def sheet(card) -> NeighbourSheet:
    return sheet_of_away(card, METRIC, room="Shed · Łódź", demo=False)


def test_everything_the_neighbour_must_know_stands_on_one_page(sheet):
    for us in (False, True):
        pdf = neighbour_sheet(sheet, us_paper=us)
        text = words_of(pdf)
        assert page_count(pdf) == 1
        assert "Shed · Łódź · from 4 May 2026 to 13 May 2026" in text
        for words in (*sheet.daily, *sheet.call, *sheet.never, sheet.defer, *(part for one in sheet.cautions for part in one)):
            assert words in text


def test_whom_to_call_is_left_blank_to_be_filled_in(sheet):
    text = words_of(neighbour_sheet(sheet))
    assert all(blank.strip() in text for blank in BLANKS)
    assert "what I saw" in text


def test_the_thermometer_is_told_in_the_neighbours_degrees(card):
    # 38 degC is 100.4 F, 32 degC is 89.6 F, 15 degC is 59 F: exact, three digits are written.
    text = words_of(away_pdf(card, Reader("us"), room="", demo=False))
    assert "Below 59 °F: call me today" in text
    assert "Above 89.6 °F" in text
    assert "Above 100 °F: unplug the heater first" in text


def test_a_room_with_gas_is_told_what_to_do_at_a_smell_of_it(sheet):
    assert "Smell of gas: touch no switch and no phone" in words_of(neighbour_sheet(sheet))


def test_the_demo_is_marked_as_invented(sheet):
    assert "DEMO · invented" in words_of(neighbour_sheet(replace(sheet, demo=True)))


def test_its_fonts_are_in_the_file_and_the_same_sheet_gives_the_same_bytes(sheet):
    pdf = neighbour_sheet(sheet)
    # reportlab names its standard Helvetica on every page, used or not.
    assert {name for name, inside in fonts_of(pdf) if not inside} <= {"/Helvetica"}
    assert pdf == neighbour_sheet(sheet)


def test_nothing_is_drawn_into_the_margin(sheet):
    dark = np.array(rendered(neighbour_sheet(sheet), 100)) < 128
    edge = int(12 / 25.4 * 100)  # the margin is 13 mm, one of them for the pen's width and rounding
    inside = dark[edge:-edge, edge:-edge].sum()
    assert inside == dark.sum() > 0


def test_a_warning_is_never_left_out_to_make_it_fit(sheet):
    many = replace(sheet, cautions=sheet.cautions * 12)
    with pytest.raises(Impossible, match="does not fit on one page with all its warnings"):
        neighbour_sheet(many)


def test_a_longer_room_name_is_shortened_and_nothing_else(sheet):
    text = words_of(neighbour_sheet(replace(sheet, room="An endless name of a room " * 12)))
    assert sheet.never[-1] in text
