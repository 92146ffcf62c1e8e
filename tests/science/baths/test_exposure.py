"""Whitening in a bath that fades, what the room's pieces teach, what forbids bone to go in, and when it comes out."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.reference.methods import load_methods
from bonebench.science.baths import heat_rise_k
from bonebench.science.baths.decay import rate_per_day
from bonebench.science.baths.exposure import Whitened, at_own, days_needed, holds, learned, longer_for, out_now
from bonebench.science.baths.spread import Z90, log_at
from bonebench.science.baths.whitening import ACKNOWLEDGE_ABOVE_W, BATH_FROM_C, BATH_TO_C, STRENGTH_POWER, Way, whitening
from bonebench.shop.cautions.baths import BATH_GATES, WARM_BATH_C


def way_of(key):
    method = load_methods()[key]
    span = method.days["all"]
    days = Figure(span.p50, span.p10, span.p90, "days", method.standing, method.source)
    return Way(method.strength_w.value, days, method.longest_days["all"])


MILD, STRONG = way_of("three-percent"), way_of("fifteen-percent")
STEADY = Figure(1e-9, 1e-9, 1e-9, "1/day", Standing.ESTIMATE, "made")


def test_the_shipped_ways_say_what_the_bench_says():
    # Bench 1.8 and 0: 24 h, 6-48 h at 3 %, stop at 48 h; about 15 %: three to four days, common practice without a source.
    mild, strong = whitening(MILD, 0.03, 20), whitening(STRONG, STRONG.strength_w, 20)
    assert (mild.days.low, mild.days.value, mild.days.high, mild.stop_after_days) == pytest.approx((0.25, 1, 2, 2))
    assert (strong.days.low, strong.days.high, strong.stop_after_days) == pytest.approx((3, 4, 4))


def test_limits_are_those_the_cautions_use():
    # Bench 1.6: explicit confirmation above 12 %; bench 0: 15-25 °C, stop above 30 °C.
    assert BATH_GATES[0][0] == ACKNOWLEDGE_ABOVE_W
    assert (BATH_FROM_C, BATH_TO_C, WARM_BATH_C) == (15, 25, 30)


def test_in_a_steady_bath_it_takes_its_own_days():
    needed = days_needed(MILD.days, STEADY)
    # Of 25 points of equal chance the third lies exactly at one in ten: rounding only, and a loss of a billionth a day.
    assert (needed.low, needed.value, needed.high) == pytest.approx((0.25, 1.0, 2.0), rel=1e-6)
    assert needed.never_share == 0


def test_a_fading_bath_by_hand():
    # Power 0.7 and 0.15 a day: n k = 0.105; one day becomes -ln(1 - 0.105)/0.105 = 1.0565 days.
    assert days_needed(MILD.days, rate_per_day("bone", 20)).value == pytest.approx(1.0565, abs=0.0002)


def test_the_range_agrees_with_brute_force_draws():
    rng, rate = random.Random(2), rate_per_day("bone", 20)
    drawn = []
    for _ in range(20000):
        days, k, n = (math.exp(log_at(f, rng.gauss(0, 1))) for f in (MILD.days, rate, STRENGTH_POWER))
        drawn.append(-math.log1p(-n * k * days) / (n * k) if n * k * days < 1 else math.inf)
    drawn.sort()
    needed = days_needed(MILD.days, rate)
    # Draws are good to about 2 %, 25 points to one; 4 % is allowed.
    assert (needed.low, needed.high) == pytest.approx((drawn[2000], drawn[18000]), rel=0.04)


def test_with_tissue_left_it_may_never_be_done_and_says_how_often():
    needed = days_needed(STRONG.days, rate_per_day("tissue", 20))
    # n k t = 0.7 * 1.2 * 3 = 2.5 > 1 at the middle: the bath fades first.
    assert (needed.value, needed.high) == (math.inf, math.inf)
    assert 0.5 < needed.never_share <= 1


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(["clean", "bone", "tissue"]), st.floats(10, 29))
def test_fading_never_makes_it_quicker_and_warmth_fades_more(load, temperature):
    here, warmer = (days_needed(MILD.days, rate_per_day(load, t)) for t in (temperature, temperature + 1))
    assert here.value >= MILD.days.value
    assert warmer.value >= here.value
    assert warmer.never_share >= here.never_share


def test_bears_and_raccoons_take_a_couple_of_days_more_in_the_strong_bath_only():
    # Common practice, no source: three to four days for a beaver, a couple of days more for bear and raccoon.
    bear = longer_for(STRONG, "Ursus")
    assert (bear.days.low, bear.days.value, bear.days.high) == (4, STRONG.days.value + 2, 7)
    assert bear.longest_days == 7
    assert longer_for(STRONG, "Castor") == STRONG
    assert longer_for(MILD, "Procyon") == MILD


def test_a_piece_is_put_back_to_the_ways_own_strength_and_warmth():
    # By hand: two days at 1.5 % and 30 °C count as 2 * 0.5^0.7 * 2 = 2.46 days at 3 % and 20 °C.
    assert at_own(MILD, Whitened(2.0, 0.015, 30)) == pytest.approx(2 * 0.5**0.7 * 2)
    assert at_own(MILD, Whitened(2.0, 0.07, 20)) is None


@given(st.floats(0.016, 0.059), st.floats(10, 29), st.floats(0.1, 5))
def test_putting_back_undoes_what_whitening_does(strength, temperature, days):
    told = whitening(Way(0.03, Figure(days, days, days, "days", Standing.ROOM, "made"), 9), strength, temperature).days.value
    assert at_own(MILD, Whitened(told, strength, temperature)) == pytest.approx(days, rel=1e-9)


def test_the_rooms_pieces_move_the_days_a_little_and_then_a_lot_and_strays_are_counted():
    # Nine pieces' worth of prior (science.learning): three pieces of two days move it a quarter of the way, 2^(1/4) = 1.189 days.
    three, left_out = learned(MILD, [Whitened(2.0, 0.03, 20)] * 3 + [Whitened(3.0, 0.15, 20)])
    assert (three.p50, left_out) == (pytest.approx(2**0.25), 1)
    assert learned(MILD, [Whitened(2.0, 0.03, 20)] * 30)[0].p50 == pytest.approx(2 ** (30 / 39))


def test_what_is_not_clean_is_kept_out_with_the_number_of_its_heat():
    (first, *_rest) = holds(0.03, 20, clean=False, degreased=True)
    # Bench 1.4: 3 % warms by at most 21 K.
    assert first.forbids
    assert first.said.values["rise"] == pytest.approx(heat_rise_k(0.03)) == pytest.approx(21, abs=0.5)
    assert "it foams and heats" in first.said.text
    # 12 % at 20 °C: 84 K more passes 100 °C.
    assert "it would boil over" in holds(0.12, 20, clean=False, degreased=True)[0].said.text


def test_what_nobody_wrote_is_looked_at_and_forbids_nothing():
    found = holds(0.03, 20, clean=None, degreased=None)
    assert [hold.said.key for hold in found] == ["whiten.hold.unknown", "whiten.hold.grease"]
    assert not any(hold.forbids for hold in found)
    assert holds(0.03, 20, clean=True, degreased=True) == ()


def test_a_hot_bath_takes_nothing_and_a_strong_one_wants_a_yes():
    found = holds(0.158, 31, clean=True, degreased=True)
    assert [(hold.said.key, hold.forbids) for hold in found] == [("whiten.hold.hot", True), ("whiten.hold.strong", False)]
    assert holds(0.03, 10, clean=True, degreased=True)[0].said.key == "whiten.hold.warmth"


def test_it_comes_out_when_hot_when_nothing_changes_and_when_the_time_is_over():
    assert out_now(MILD, 0.03, 31, 0.1).key == "whiten.out.hot"
    assert out_now(MILD, 0.03, 20, 1.0, [70, 80, 80.2, 80.1]).key == "whiten.out.same"
    assert out_now(MILD, 0.03, 20, 2.0).key == "whiten.out.long"
    assert out_now(MILD, 0.03, 20, 1.9, [70, 80]) is None
    # The strong way has its own longest stay.
    assert out_now(STRONG, 0.158, 20, 3.9) is None
    assert out_now(STRONG, 0.158, 20, 4.0).key == "whiten.out.long"


def test_days_that_begin_at_nothing_are_refused_in_words():
    with pytest.raises(OutsideRange, match="they begin above 0"):
        days_needed(Figure(0, 0, 0, "days", Standing.ESTIMATE, "made"), STEADY)


def test_the_tenth_is_a_tenth():
    # Table of the normal distribution: 1.2816.
    assert pytest.approx(1.2816, abs=1e-4) == Z90
