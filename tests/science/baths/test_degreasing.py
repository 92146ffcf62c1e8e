"""Degreasing: the class table, limits, laws, and a room's own rate recovered from made pieces with honest intervals."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Standing
from bonebench.science.baths.degreasing import (
    CHANGES,
    CLEAN_SHARE,
    DAYS,
    LIMITS,
    SHARED,
    Check,
    Water,
    days_needed,
    fat_left,
    learn,
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


def test_clean_is_a_twentieth_left_after_the_days_needed():
    assert fat_left(18, 18) == pytest.approx(CLEAN_SHARE)
    assert fat_left(0, 18) == 1
    # First order: twice the days, the square of the share.
    assert fat_left(36, 18) == pytest.approx(CLEAN_SHARE**2)


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


def made_room(seed, pieces):
    """A made room whose rates differ from the table by a shift of its own, and the next piece's own true days."""
    rng = random.Random(seed)
    shift = rng.gauss(0, math.sqrt(SHARED))

    def true_days(grease):
        return DAYS[grease].value * math.exp(-(shift + rng.gauss(0, math.sqrt(1 - SHARED))) * table_spread(grease))

    checks = []
    for _ in range(pieces):
        grease = rng.choice((2, 3, 4))
        needed = true_days(grease)
        at = DAYS[grease].value * math.exp(rng.uniform(-0.7, 0.7))
        checks.append(Check(grease, at, passed=needed <= at))
    return checks, true_days(3)


@pytest.mark.parametrize("pieces", [1, 4, 15])
def test_the_next_pieces_days_lie_in_their_interval_as_often_as_it_says(pieces):
    """Known truth recovered: 80 % intervals over 400 made rooms; 5 points cover two sampling errors of 2."""
    held = 0
    for seed in range(400):
        checks, truth = made_room(seed, pieces)
        found = days_needed(3, 45.0, learn(checks))
        held += found.low <= truth <= found.high
    assert 0.75 < held / 400 < 0.86


def test_more_checks_narrow_it_and_point_the_right_way():
    slow = [Check(3, 25.0, passed=False)] * 6
    fast = [Check(3, 9.0, passed=True)] * 6
    assert days_needed(3, 45, learn(slow)).value > 18 > days_needed(3, 45, learn(fast)).value
    assert learn(slow).spread < learn(slow[:1]).spread < 1.0
    assert days_needed(3, 45, learn(slow)).high < days_needed(3, 45, learn(slow)).value * DAYS[3].high / DAYS[3].low


def test_clear_water_early_says_fast_or_little_and_cloudy_water_late_says_slow():
    late_cloudy = learn([], [Water(3, 15.0, 20.0, clear=False)] * 3)
    late_clear = learn([], [Water(3, 15.0, 20.0, clear=True)] * 3)
    assert late_cloudy.middle < late_clear.middle


def test_nothing_seen_is_the_table():
    assert learn([]).middle == pytest.approx(0, abs=1e-9)
    assert learn([]).spread == pytest.approx(1.0, abs=0.01)
    assert days_needed(3, 45, learn([])).value == pytest.approx(18)
    assert days_needed(3, 45).standing is Standing.PRACTICE


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: days_needed(9, 45), Impossible, "grease class 9 is none"),
        (lambda: days_needed(3, 10), OutsideRange, "at 10 °C fat does not leave: warm the pot"),
        (lambda: limit_at(120), OutsideRange, "the water is 120 °C"),
        (lambda: learn([Check(3, 0, passed=True)]), OutsideRange, "a check after 0 days in the pot says nothing"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
