"""Durations that learn: from nothing the class, from many the room, and honest in between."""

import math
import random
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.learning import Prior, shrunk, shrunk_twice

POT = Prior(3.0, 8.0, 14.0)
Z90 = NormalDist().inv_cdf(0.9)
DAYS = st.lists(st.floats(0.1, 60), max_size=40)


def test_with_nothing_seen_it_is_the_class():
    learned = shrunk(POT, [])
    # A limit case: exact but for the logarithm and back.
    assert (learned.p10, learned.p50, learned.p90) == pytest.approx((3.0, 8.0, 14.0), rel=1e-12)
    assert (learned.pieces, learned.weight) == (0, 0.0)


def test_three_pieces_shift_it_a_little_and_thirty_a_lot():
    # By hand: nine pieces' worth of prior against three is a quarter, 8 * (16/8)^(3/12) = 9.51; against thirty 30/39 of the way.
    assert shrunk(POT, [16.0] * 3).p50 == pytest.approx(8 * 2 ** (3 / 12), rel=1e-9)
    assert shrunk(POT, [16.0] * 30).p50 == pytest.approx(8 * 2 ** (30 / 39), rel=1e-9)
    assert shrunk(POT, [16.0] * 3).weight == pytest.approx(0.25)


def test_a_worked_case_by_hand():
    # Symmetric prior: median 4, p90 8, so the spread of log days is ln2/1.28155. One piece of 8 days, prior weight 1:
    # middle (ln4+ln8)/2 = ln 5.657; variance (s^2 + (1*1/2)*(ln2)^2)/2; predictive factor sqrt(1 + 1/2).
    spread = math.log(2) / Z90
    width = math.sqrt((spread**2 + 0.5 * math.log(2) ** 2) / 2 * 1.5)
    learned = shrunk(Prior(2, 4, 8), [8.0], prior_pieces=1)
    assert learned.p50 == pytest.approx(4 * math.sqrt(2), rel=1e-12)
    assert learned.p90 == pytest.approx(4 * math.sqrt(2) * math.exp(Z90 * width), rel=1e-12)


def test_many_pieces_give_the_rooms_own_days():
    rng = random.Random(7)
    own = [math.exp(rng.gauss(math.log(5), 0.2)) for _ in range(4000)]
    learned = shrunk(POT, own)
    # A known truth recovered: 5 days, p90 5*exp(0.2*1.2816) = 6.46; four thousand pieces leave under 1 and 3 %.
    assert learned.p50 == pytest.approx(5.0, rel=0.01)
    assert learned.p90 == pytest.approx(5 * math.exp(0.2 * Z90), rel=0.03)


@pytest.mark.parametrize("pieces", [1, 3, 10, 30])
def test_eight_in_ten_of_the_next_pieces_fall_inside(pieces):
    """Over many rooms whose truth is drawn as the prior says, p10 to p90 must hold about 80 % of the next piece."""
    rng = random.Random(pieces)
    prior = Prior(8 / 1.9, 8, 8 * 1.9)
    spread = math.log(1.9) / Z90
    # The prior counts as nine pieces, so rooms differ from it by spread/3.
    inside, rooms = 0, 3000
    for _ in range(rooms):
        middle = rng.gauss(math.log(8), spread / 3)
        learned = shrunk(prior, [math.exp(rng.gauss(middle, spread)) for _ in range(pieces)])
        inside += learned.p10 <= math.exp(rng.gauss(middle, spread)) <= learned.p90
    # Binomial error of 3000 rooms is 0.7 points; four of them, and a point for the model's own shortcut.
    assert inside / rooms == pytest.approx(0.80, abs=0.04)


def test_a_piece_forgotten_for_a_year_does_not_wreck_it():
    assert shrunk(POT, [8.0] * 5 + [365.0]).p50 < 1.25 * 8


@settings(max_examples=100, deadline=None)
@given(DAYS, st.randoms(use_true_random=False))
def test_the_order_of_pieces_does_not_matter_and_spans_rise(days, chance):
    learned = shrunk(POT, days)
    shuffled = days[:]
    chance.shuffle(shuffled)
    assert shrunk(POT, shuffled) == learned
    assert 0 < learned.p10 <= learned.p50 <= learned.p90
    assert shrunk(POT, [d * 1.01 for d in days]).p50 >= learned.p50


def test_other_species_say_something_and_its_own_say_more():
    nothing, others = shrunk_twice(POT, [], []).p50, shrunk_twice(POT, [16.0] * 30, []).p50
    own = shrunk_twice(POT, [16.0] * 30, [4.0] * 10).p50
    assert nothing == pytest.approx(8.0)
    assert own < nothing < others


def test_a_hundred_others_weigh_no_more_than_the_prior():
    # Capped at nine: nine pieces of its own then weigh half.
    assert shrunk_twice(POT, [8.0] * 100, [16.0] * 9).p50 == pytest.approx(8 * math.sqrt(2), rel=1e-9)


@pytest.mark.parametrize("days", [0.0, -1.0, float("nan"), float("inf")])
def test_days_that_cannot_be_are_refused_in_words(days):
    with pytest.raises(OutsideRange, match="days cannot be learned from: it must be above 0"):
        shrunk(POT, [3.0, days])


def test_a_prior_that_does_not_rise_is_refused_in_words():
    with pytest.raises(OutsideRange, match="it must rise from above 0"):
        Prior(5, 4, 9)
    with pytest.raises(OutsideRange, match="a prior that weighs 0 pieces cannot be"):
        shrunk(POT, [1.0], prior_pieces=0)
