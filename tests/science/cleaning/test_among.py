"""A piece that shares its colony: known truths are recovered, looks narrow it, the scale is read with what may have dried."""

import math
import random

import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning import DRYING, Reading, by_look, by_scale, clean_among, clean_by, eat, steady
from bonebench.science.cleaning.among import WATER, paces

TISSUE = Figure(0.3, 0.3, 0.3, "kg", Standing.ROOM, "weighed")
WIDE = Figure(0.3, 0.2, 0.45, "kg", Standing.ESTIMATE, "by its kind")
RATE = 0.05


def test_alone_with_plenty_of_beetles_it_says_what_the_plain_rule_says():
    # Two implementations of one law; the same grid of paces where the tissue is known. Rounding only.
    plain = clean_by(2.0, 0.3, RATE, [by_look(2.0, "half gone")])
    shared = clean_among(2.0, TISSUE, RATE, [by_look(2.0, "half gone")], [steady(math.inf)])
    assert shared.days_50 == pytest.approx(plain.days_50, rel=1e-9)
    assert shared.days_80 == pytest.approx(plain.days_80, rel=1e-9)
    assert shared.left_share.value == pytest.approx(plain.left_share.value, rel=1e-9)


def test_a_look_narrows_what_is_left_and_moves_the_dates():
    none = clean_among(3.0, WIDE, RATE, [], [steady(1.0)])
    early = clean_among(3.0, WIDE, RATE, [by_look(3.0, "hardly touched")], [steady(1.0)])
    late = clean_among(3.0, WIDE, RATE, [by_look(3.0, "crevices left")], [steady(1.0)])
    assert early.left_share.high - early.left_share.low < none.left_share.high - none.left_share.low
    assert late.days_50 < none.days_50 < early.days_50


def test_fewer_beetles_put_the_date_off_and_the_later_date_is_never_before_the_even_one():
    days = [clean_among(0.0, WIDE, RATE, [], [steady(most)]) for most in (1.0, 0.05, 0.01)]
    assert days[0].days_50 <= days[1].days_50 <= days[2].days_50
    assert all(one.days_50 <= one.days_80 for one in days)


def test_made_pieces_are_clean_by_their_dates_as_often_as_it_says():
    """Known truth: paces drawn from the same spread, each looked at twice with an honest eye."""
    rng = random.Random(11)
    grid, by_50, by_80, count = paces(WIDE), 0, 0, 200
    for _ in range(count):
        meal = eat(0.3, RATE * rng.choice(grid), steady(0.08))
        looks = [Reading(day, meal.left_kg(day) / 0.3 + rng.gauss(0, 0.13), 0.13) for day in (1.0, 2.0)]
        told = clean_among(2.0, WIDE, RATE, looks, [steady(0.08)])
        by_50 += meal.clean_day - 2.0 <= told.days_50 + 1e-9
        by_80 += meal.clean_day - 2.0 <= told.days_80 + 1e-9
    # Shares of 200 have a standard deviation of 0.035 and 0.028; three of them.
    assert by_50 / count == pytest.approx(0.5, abs=0.11)
    assert by_80 / count == pytest.approx(0.8, abs=0.09)


def test_a_scale_by_hand():
    # By hand: T 200 g, lost 100 g after 3 days with a drying time of 3 days: what is left weighs 0.26 + 0.74 / e = 0.532 of
    # fresh, so 100 g on the scale are 188 g fresh: 94 % left. Taken as eaten alone it would have been half.
    tissue = Figure(0.2, 0.2, 0.2, "kg", Standing.ROOM, "weighed")
    reading = by_scale(3.0, tissue, 0.1, DRYING)
    assert reading.left_share == pytest.approx(0.5 / (1 - WATER + WATER * math.exp(-1.0)))
    assert reading.spread > 0.05


def test_a_scale_that_lost_nothing_or_all_says_so():
    assert by_scale(1.0, TISSUE, 0.0, DRYING) is None
    assert by_scale(1.0, TISSUE, 0.31, DRYING).left_share == 0.0


def test_what_cannot_be_is_refused():
    with pytest.raises(Impossible, match="give one appetite"):
        clean_among(0.0, TISSUE, RATE, [], [])
    with pytest.raises(OutsideRange, match="eating rate is 0"):
        clean_among(0.0, TISSUE, 0.0, [], [steady(1.0)])
