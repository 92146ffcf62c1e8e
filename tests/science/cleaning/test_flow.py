"""Appetite through time, shared first come first served: held against the plain formula and against the older sharing of days."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.cleaning import InBox, Lying, by_day, days_in_box, days_together, eat, for_the_last, left_over, steady

KG = st.floats(0.01, 3.0)
RATE = st.floats(0.005, 0.5)


@given(KG, RATE, RATE)
def test_one_piece_alone_takes_as_long_as_the_formula_says(tissue, rate, appetite):
    # (1 - s) T / min(r, a) + s T / min(r / k, a): the same law, written down for one piece. Rounding only.
    assert eat(tissue, rate, steady(appetite)).clean_day == pytest.approx(days_in_box(tissue, rate, appetite), rel=1e-9)


@given(st.lists(st.tuples(KG, RATE), min_size=1, max_size=5), RATE)
def test_pieces_that_went_in_together_end_when_the_sharing_says(pieces, appetite):
    # `days_together` walks all pieces at once, this one after the other: two ways to the same days. Rounding only.
    together = days_together([InBox(*piece) for piece in pieces], appetite)
    last, before = pieces[-1], [Lying(0.0, *piece) for piece in pieces[:-1]]
    assert eat(*last, for_the_last(steady(appetite), before)).clean_day == pytest.approx(together[-1], rel=1e-6)


@given(KG, RATE, st.floats(0.0, 40.0))
def test_what_is_eaten_and_what_is_left_make_the_whole(tissue, rate, day):
    meal = eat(tissue, rate, steady(math.inf))
    eaten = sum(
        r * max(0.0, min(day, end) - begin)
        for begin, end, r in zip((0.0, *meal.eaten.ends), meal.eaten.ends, meal.eaten.rates, strict=False)
        if end < math.inf
    )
    # A balance: rounding only.
    assert eaten + meal.left_kg(day) == pytest.approx(tissue, abs=1e-9)


def test_a_flow_by_the_day_by_hand():
    # By hand: 1 kg, plenty of surface; 0.1 kg a day until day 2, then 0.3: 0.2 gone, 0.8 / 0.3 = 2.667 days more.
    flow = by_day(0.1, [0.3], today=2.0)
    meal = eat(1.0, 10.0, flow)
    assert meal.clean_day == pytest.approx(2.0 + 0.8 / 0.3)
    assert meal.left_kg(2.0) == pytest.approx(0.8)
    assert [flow.at(day) for day in (1.9, 2.0, 9.0)] == [0.1, 0.3, 0.3]


def test_what_is_left_over_is_the_difference_and_nowhere_below_nothing():
    meal = eat(1.0, 0.2, steady(0.5))
    rest = left_over(steady(0.5), meal.eaten)
    assert rest.at(1.0) == pytest.approx(0.3)  # by hand: 0.5 - 0.2
    assert rest.at(meal.clean_day + 1) == 0.5
    assert left_over(steady(0.1), meal.eaten).at(1.0) == 0.0


def test_with_nothing_to_eat_it_a_piece_is_never_clean():
    assert eat(1.0, 0.2, steady(0.0)).clean_day == math.inf
    assert eat(1.0, 0.2, steady(0.0)).left_kg(100.0) == 1.0
    assert eat(0.0, 0.2, steady(0.0)).clean_day == 0.0


def test_what_cannot_be_is_refused():
    with pytest.raises(OutsideRange, match="each 0 g a day or more"):
        by_day(0.1, [])
    with pytest.raises(OutsideRange, match="0 or more"):
        eat(-1.0, 0.1, steady(1.0))
