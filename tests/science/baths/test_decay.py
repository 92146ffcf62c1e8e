"""Decay of a bath: the shipped rates, and what follows from them by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths import oxygen_l
from bonebench.science.baths.decay import (
    K20,
    Q10,
    Leaning,
    days_to_floor,
    half_life_days,
    known_load,
    look_by_days,
    oxygen_l_per_day,
    rate_per_day,
    strength_after,
)
from bonebench.science.baths.spread import Z90, ends, log_at

TEMPERATURES = st.floats(0, 50)
LOAD = st.sampled_from(sorted(K20))


# Bench 1.4 and 0: 0.03 (0.01-0.05) clean, 0.15 (0.05-0.3) with degreased bone, 0.5-3 with tissue, a day at 20 °C: common practice.
# The ends are met to the last digits because they are taken as one in ten.
@pytest.mark.parametrize(("load", "low", "value", "high"), [("clean", 0.01, 0.03, 0.05), ("bone", 0.05, 0.15, 0.3)])
def test_rates_at_20_degrees_are_those_of_the_bench(load, low, value, high):
    rate = rate_per_day(load, 20)
    assert (rate.low, rate.value, rate.high) == pytest.approx((low, value, high), rel=1e-12)
    assert rate.standing is Standing.PRACTICE


def test_tissue_runs_from_half_to_three_a_day_about_its_geometric_mean():
    rate = rate_per_day("tissue", 20)
    assert (rate.low, rate.high) == pytest.approx((0.5, 3.0), rel=1e-12)
    # sqrt(0.5 * 3) = 1.22; shipped rounded.
    assert rate.value == pytest.approx(math.sqrt(1.5), rel=0.03)


# Bench 1.4: 2.2-fold in 10 K (1.8-2.8). By hand at 30 °C for bone: 0.15 * 2.2 = 0.33; the high end adds the two doubts as squares
# of logarithms: ln 2 = 0.6931 and ln(2.8/2.2) = 0.2412 give 0.7339, so 0.33 * e^0.7339 = 0.687.
def test_ten_degrees_more_by_hand():
    rate = rate_per_day("bone", 30)
    assert rate.value == pytest.approx(0.33)
    assert rate.high == pytest.approx(0.33 * math.exp(math.hypot(math.log(2), math.log(2.8 / 2.2))))
    assert rate.high == pytest.approx(0.687, abs=0.001)


def test_below_20_degrees_a_strong_effect_of_warmth_makes_the_low_end():
    # By hand at 10 °C: 0.15 / 2.2 = 0.0682; low end: ln 3 and ln(2.8/2.2) as squares.
    rate = rate_per_day("bone", 10)
    assert rate.low == pytest.approx(0.15 / 2.2 / math.exp(math.hypot(math.log(3), math.log(2.8 / 2.2))))


# Bench 1.4 ties 2.2-fold to 58 kJ/mol (from memory there) and 75 kJ/mol to 2.76-fold from 20 to 30 °C: Arrhenius by hand.
@pytest.mark.parametrize(("kj", "fold", "abs_"), [(58, Q10.value, 0.01), (75, 2.76, 0.01), (75, Q10.high, 0.05)])
def test_the_effect_of_warmth_agrees_with_activation_energies(kj, fold, abs_):
    assert math.exp(kj * 1000 / 8.314462618 * (1 / 293.15 - 1 / 303.15)) == pytest.approx(fold, abs=abs_)


def test_strength_half_life_and_floor_by_hand():
    rate = rate_per_day("bone", 20)
    # 3 % * e^(-0.15*3) = 3 % * 0.63763 = 1.913 %; ends with 0.3 and 0.05: 1.220 % and 2.582 %.
    after = strength_after(0.03, 3, rate)
    assert (after.low, after.value, after.high) == pytest.approx((0.012197, 0.019129, 0.025821), abs=1e-6)
    # ln 2 / 0.15 = 4.62 days, and 3 % to 1.5 % is one half-life.
    assert half_life_days(rate).value == pytest.approx(4.621, abs=0.001)
    assert days_to_floor(0.03, rate).value == pytest.approx(half_life_days(rate).value)
    # Look by the early end: ln 2 / 0.3 = 2.31 days.
    assert look_by_days(days_to_floor(0.03, rate)) == pytest.approx(2.310, abs=0.001)


def test_a_slow_bath_is_looked_at_within_two_weeks_all_the_same():
    # 30 % clean at 5 °C lasts months by the figures; two weeks is the longest: common practice, no source.
    assert look_by_days(days_to_floor(0.3, rate_per_day("clean", 5))) == 14


def test_oxygen_of_the_next_day_by_hand():
    # 10 kg of 3 % hold 106 L (bench 1.4: 10.6 L a kilogram); 1 - e^-0.15 = 13.93 % of it goes in a day: 14.8 L.
    assert oxygen_l_per_day(0.03, 10, rate_per_day("bone", 20)).value == pytest.approx(14.8, abs=0.1)


@given(LOAD, TEMPERATURES, st.floats(0, 0.7))
def test_oxygen_in_a_day_is_never_more_than_there_is(load, temperature, strength):
    assert oxygen_l_per_day(strength, 5, rate_per_day(load, temperature)).high <= oxygen_l(strength, 5) * (1 + 1e-12)


@given(LOAD, TEMPERATURES, TEMPERATURES)
def test_warmer_is_faster(load, one, other):
    cooler, warmer = sorted((one, other))
    assert rate_per_day(load, cooler).value <= rate_per_day(load, warmer).value


@given(TEMPERATURES)
def test_bone_is_faster_than_none_and_tissue_faster_than_bone(temperature):
    clean, bone, tissue = (rate_per_day(load, temperature).value for load in ("clean", "bone", "tissue"))
    assert clean < bone < tissue


@given(LOAD, TEMPERATURES, st.floats(0, 0.7), st.floats(0, 30), st.floats(0, 30))
def test_strength_falls_with_time_and_two_stretches_make_one(load, temperature, strength, first, second):
    rate = rate_per_day(load, temperature)
    between = strength_after(strength, first, rate).value
    assert between <= strength
    # Exponentials multiply: exact but for rounding.
    assert strength_after(between, second, rate).value == pytest.approx(
        strength_after(strength, first + second, rate).value, rel=1e-9
    )


@given(LOAD, TEMPERATURES, st.floats(0.016, 0.7))
def test_after_the_days_to_the_floor_it_is_at_the_floor(load, temperature, strength):
    rate = rate_per_day(load, temperature)
    assert strength_after(strength, days_to_floor(strength, rate).value, rate).value == pytest.approx(0.015, rel=1e-9)


def test_a_bath_below_the_floor_has_no_days_left():
    assert days_to_floor(0.01, rate_per_day("bone", 20)).high == 0


def test_a_room_that_leans_narrows_and_moves_the_range_and_says_so():
    rate = rate_per_day("bone", 20, Leaning(middle=Z90, spread=0.5, tests=8))
    # One z90 up is the shipped high end, 0.3; half the spread leaves half the logarithmic width above: 0.3 * sqrt(2).
    assert rate.value == pytest.approx(0.3)
    assert rate.high == pytest.approx(0.3 * math.sqrt(2))
    assert (rate.standing, "8 tests of this room" in rate.source) == (Standing.ROOM, True)


def test_the_ends_of_a_product_of_two_figures_add_as_squares():
    # Two independent lognormals, x/÷ 2 and x/÷ 3 at one in ten: their product is x/÷ exp(hypot(ln 2, ln 3)).
    two, three = Figure(1, 0.5, 2, "1", Standing.ESTIMATE, "made"), Figure(1, 1 / 3, 3, "1", Standing.ESTIMATE, "made")
    low, high = ends(lambda z: log_at(two, z[0]) + log_at(three, z[1]), [0, 0], [[1, 0], [0, 1]])
    assert (low, high) == pytest.approx((-math.hypot(math.log(2), math.log(3)), math.hypot(math.log(2), math.log(3))), rel=1e-6)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (lambda: rate_per_day("bone", 60), "temperature is 60 °C; the rule for decay holds from 0 to 50 °C"),
        (lambda: known_load("leather"), "'leather' is no load of a bath: say clean"),
        (lambda: strength_after(0.03, -1, rate_per_day("bone", 20)), "-1 days cannot be worked with"),
        (lambda: days_to_floor(0.03, rate_per_day("bone", 20), 0.0), "floor strength is 0 %: a bath never gets there"),
        (lambda: strength_after(0.8, 1, rate_per_day("bone", 20)), "strength is 80 %"),
    ],
)
def test_what_cannot_be_is_refused_in_words(wrong, words):
    with pytest.raises((OutsideRange, Impossible), match=words):
        wrong()
