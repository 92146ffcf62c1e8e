"""Degreasing: the class table, dose, limits and laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Standing
from bonebench.science.baths.degreasing import (
    CHANGES,
    DAYS,
    LIMITS,
    SURVIVES,
    Room,
    days_needed,
    dose,
    limit_at,
    speed,
    table_spread,
)

# bench 2.1, common practice: days and changes at 45 °C by class.
TABLE = [(1, 1, 3, 5), (2, 3, 8, 14), (3, 10, 18, 30), (4, 21, 35, 60), (5, 45, 90, 180)]


@pytest.mark.parametrize(("grease", "low", "mid", "high"), TABLE)
def test_at_45_degrees_the_days_are_those_of_the_table(grease, low, mid, high):
    found = days_needed(grease, 45.0)
    assert found.value == pytest.approx(mid)
    # The ends are those of a lognormal with the table's own width, put round its middle.
    assert found.high / found.low == pytest.approx(high / low)
    assert DAYS[grease].low == low
    assert CHANGES[grease].low <= CHANGES[grease].value <= CHANGES[grease].high


@given(st.floats(30, 95), st.floats(0.5, 5))
def test_hotter_is_never_slower(temperature, more):
    assert speed(temperature + more).value > speed(temperature).value
    assert days_needed(3, temperature + more).value < days_needed(3, temperature).value


def test_the_rate_doubles_in_twelve_degrees_and_nearly_stops_below_thirty():
    assert speed(57.0).value == pytest.approx(2.0)
    assert speed(33.0).value == pytest.approx(0.5)
    assert speed(20.0).value < 0.01


@pytest.mark.parametrize(
    ("temperature", "words"),
    [(20, "nearly nothing"), (35, "slow"), (45, "good"), (56, "alarm"), (62, "collagen"), (80, "slow cooker"), (99, "boiling")],
)
def test_every_temperature_has_its_limit_with_a_reason(temperature, words):
    row = limit_at(temperature)
    assert words in row.what
    assert row.why
    assert row.source


def test_limits_rise():
    assert [row.from_c for row in LIMITS] == sorted(row.from_c for row in LIMITS)


def test_nothing_seen_is_the_table_and_a_rooms_own_pieces_move_it():
    assert days_needed(3, 45).standing is Standing.PRACTICE
    quick = days_needed(3, 45, Room(middle=1.0, spread=0.6, pieces=10))
    # One class spread quicker: 18 days over exp(spread), by hand.
    assert quick.value == pytest.approx(18 / math.exp(table_spread(3)))
    assert quick.standing is Standing.ROOM
    assert quick.high / quick.low < days_needed(3, 45).high / days_needed(3, 45).low


@pytest.mark.parametrize(("head", "water", "low_ml", "ml", "high_ml"), [(1.0, 5.0, 25, 50, 100), (4.0, 20.0, 100, 200, 400)])
def test_dose_by_hand(head, water, low_ml, ml, high_ml):
    # bench 2.1, common practice: 5 L to a kilogram at least, 5 to 20 mL of detergent in a litre; the most water is 10 L/kg.
    found = dose(head)
    assert found.water_l.value == pytest.approx(water)
    assert found.detergent_l.value == pytest.approx(ml / 1000)
    assert found.detergent_l.low == pytest.approx(low_ml / 1000)
    assert found.detergent_l.high == pytest.approx(2 * high_ml / 1000)


def test_above_sixty_degrees_the_low_end_grows_no_further():
    assert speed(80.0).low == pytest.approx(speed(60.0).low)
    assert speed(80.0).standing is Standing.ESTIMATE
    assert speed(80.0).low < speed(80.0).value


def test_what_a_warm_pot_does_not_kill_is_said_with_its_source():
    # bench 7.1: roundworm eggs, California Department of Public Health (R69); prions from memory.
    assert any("roundworm" in row.what and "R69" in row.source for row in SURVIVES)
    assert any("prion" in row.what and row.standing is Standing.MEMORY for row in SURVIVES)


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: days_needed(9, 45), Impossible, "grease class 9 is none"),
        (lambda: days_needed(3, 10), OutsideRange, "at 10 °C fat does not leave: warm the pot"),
        (lambda: limit_at(120), OutsideRange, "the water is 120 °C"),
        (lambda: dose(0), OutsideRange, "the heads weigh 0 g; it must be above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
