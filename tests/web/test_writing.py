"""How the pages write days, moments, quantities and keys."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from bonebench.figures import Basis, Standing
from bonebench.said import said
from bonebench.services.cards import Answer
from bonebench.shop.steps import Step
from bonebench.units import Reader
from bonebench.web.writing import filters
from tests.web import sample_cards as sample

METRIC = filters(Reader("metric", date(2026, 5, 9)), ZoneInfo("America/Chicago"))
US = filters(Reader("us", date(2026, 5, 9)), ZoneInfo("America/Chicago"))


def test_a_moment_is_written_in_the_rooms_own_time():
    # Chicago is five hours behind UTC in May (daylight time); the IANA zone data says so.
    assert METRIC["moment"](datetime(2026, 5, 4, 19, 5, tzinfo=UTC)) == "4 May 14:05"


def test_an_instant_late_in_the_evening_belongs_to_the_local_day():
    assert METRIC["day"](datetime(2026, 5, 5, 3, 0, tzinfo=UTC)) == "4 May"


def test_a_moment_without_a_zone_is_refused():
    with pytest.raises(ValueError, match="has no time zone"):
        METRIC["moment"](datetime(2026, 5, 4, 19, 5))  # noqa: DTZ001


def test_another_year_is_named():
    assert METRIC["day"](date(2027, 1, 2)) == "2 Jan 2027"


def test_a_day_of_the_week_is_written_out():
    # 9 May 2026 is a Saturday by the calendar.
    assert METRIC["weekday"](date(2026, 5, 9)) == "Saturday 9 May"


def test_a_time_nobody_knows_exactly_is_written_as_between():
    earliest, latest = datetime(2026, 5, 4, 17, 0, tzinfo=UTC), datetime(2026, 5, 6, 17, 0, tzinfo=UTC)
    assert METRIC["happened"](earliest, latest) == "between 4 May and 6 May"
    assert METRIC["happened"](earliest, earliest) == "4 May 12:00"


def test_a_sentence_is_written_in_the_readers_units():
    sentence = said("pour", "pour {water:volume} of water", water=7.570823568)
    # The US gallon is 3.785411784 L exactly (231 cubic inches).
    assert US["say"](sentence) == "pour 2 gal of water"
    assert METRIC["say"](sentence) == "pour 7.57 L of water"


def test_a_range_says_its_unit_once_where_both_ends_share_it():
    assert METRIC["reach"](2.0, 9.0, "days") == "2 to 9 days"
    assert METRIC["reach"](0.5, 1.4, "mass") == "500 g to 1.4 kg"
    assert METRIC["reach"](3.0, 3.0, "days") == "3 days"


@pytest.mark.parametrize(
    ("unit", "written"),
    [("kg", "1 to 2 kg"), ("degC", "1 to 2 °C"), ("1", "1 to 2"), ("W/K", "1 to 2 W/K")],
)
def test_a_basis_line_is_written_with_the_unit_it_has(unit, written):
    assert METRIC["rests"](Basis("k", 1.0, 2.0, unit, Standing.MEMORY, "s")) == written


def test_the_values_of_a_tap_go_through_a_form_unchanged():
    values = {"step": Step.WHITEN, "visit": 2, "promised": date(2026, 5, 9), "note": 'a "quoted" <b>'}
    assert json.loads(METRIC["as_values"](values)) == {
        "step": "whiten", "visit": 2, "promised": "2026-05-09", "note": 'a "quoted" <b>',
    }  # fmt: skip


def test_neighbours_are_grouped_and_their_order_is_kept():
    days = [date(2026, 5, 1), date(2026, 5, 2), date(2026, 6, 1), date(2026, 5, 3)]
    assert [(month, len(group)) for month, group in METRIC["runs"](days, "month")] == [(5, 2), (6, 1), (5, 1)]


@pytest.mark.parametrize(("count", "strokes"), [(0, []), (4, [4]), (5, [5]), (12, [5, 5, 2])])
def test_a_tally_counts_in_fives(count, strokes):
    assert METRIC["tally"](count) == strokes


def test_a_whole_answer_is_written_for_its_button_with_when_it_was():
    answer = Answer("done", said("tap", "Done"), "done", ("s",), {"step": "trim", "visit": 1}, "t-1")
    written = METRIC["as_answer"](answer, "yesterday")
    assert json.loads(written) == {"kind": "done", "values": {"step": "trim", "visit": 1}, "task": "t-1", "about": "yesterday"}
    assert json.loads(METRIC["as_answer"](answer))["about"] is None


def test_other_gloves_begin_a_new_bench_even_at_the_same_place():
    first, second, *_ = sample.BOX_ROUNDS
    benches = METRIC["benches"]((first, second, replace(second, gloves=said("gloves", "Change")), sample.TODAY.tasks[0]))
    assert [(bench.place_name, len(bench.rounds), len(bench.pieces)) for bench in benches] == [
        ("Beetle box", 2, 0),
        ("Beetle box", 1, 0),
        ("Glue bench", 0, 1),
    ]
