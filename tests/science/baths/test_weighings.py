"""Weighings: the rule of two by hand and by brute force, a curve recovered with an honest interval, and what cannot be told."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.weighings import UNSTEADY, fall_allowed, fit_weighings, student_90, two_weighings


def curve(days, tau, final=0.7, free=0.2):
    return [final + free * math.exp(-d / tau) for d in days]


def test_what_two_weighings_leave_open_by_hand():
    # tau 1.7 d: 0.005 / (e^(1/1.7) - 1) = 0.62 %; tau 14 d: 0.005 / (e^(1/14) - 1) = 6.75 %.
    quick = two_weighings(0.8, 0.798, hours_apart=24, step_kg=0.001, constant_days=1.7)
    slow = two_weighings(2.0, 1.995, hours_apart=24, step_kg=0.001, constant_days=14)
    assert (quick.passes, slow.passes) == (True, True)
    assert quick.could_still_lose == pytest.approx(0.005 / math.expm1(1 / 1.7))
    assert slow.could_still_lose == pytest.approx(0.0675, abs=0.0005)


@given(st.floats(0.3, 15), st.floats(0, 30), st.floats(6, 96))
def test_what_is_still_to_go_is_what_the_curve_itself_still_loses(tau, start, hours):
    days = [start, start + hours / 24]
    first, second = curve(days, tau)
    found = two_weighings(first, second, hours_apart=hours, step_kg=0.0, constant_days=tau)
    # By the curve itself: 0.7 kg is where it ends. The share is of the first weight.
    assert found.still_to_lose.value == pytest.approx((second - 0.7) / first, rel=1e-6, abs=1e-12)


def test_the_scales_step_widens_what_is_still_to_go():
    fine, coarse = (two_weighings(0.8, 0.799, hours_apart=24, step_kg=s, constant_days=3).still_to_lose for s in (0.0, 0.001))
    assert coarse.low < fine.low <= fine.high < coarse.high


def test_weighings_far_apart_are_not_let_off_with_half_a_percent_for_each_day():
    # 2 % lost in 10 days: within 0.5 % a day, and still four times too much between two weighings.
    assert not two_weighings(1.0, 0.98, hours_apart=240, step_kg=0.001, constant_days=14).passes
    assert two_weighings(1.0, 0.9985, hours_apart=12, step_kg=0.0001, constant_days=3).passes
    assert not two_weighings(1.0, 0.996, hours_apart=12, step_kg=0.0001, constant_days=3).passes


@pytest.mark.parametrize(
    ("second", "step", "said"), [(0.79, 0.001, "falls"), (0.799, 0.001, "same"), (0.81, 0.001, "rises"), (0.8, 0.01, "too coarse")]
)
def test_two_weighings_are_said_in_a_word(second, step, said):
    assert two_weighings(0.8, second, hours_apart=24, step_kg=step, constant_days=3).said == said


def test_a_coarse_scale_says_so():
    # 0.5 % of 100 g is 0.5 g; a kitchen scale of 1 g cannot see half of that, one of 0.1 g can.
    assert two_weighings(0.1, 0.1, hours_apart=24, step_kg=0.001, constant_days=3).scale_too_coarse
    assert not two_weighings(0.1, 0.1, hours_apart=24, step_kg=0.0001, constant_days=3).scale_too_coarse


@given(st.floats(0.2, 20), st.floats(1e-3, 0.02))
def test_the_fall_that_is_allowed_leaves_just_that_much(tau, share):
    fall = fall_allowed(tau, share)
    # What falls by f in a day has f / (e^(1/tau) - 1) to go.
    assert fall / math.expm1(1 / tau) == pytest.approx(share)
    assert fall_allowed(tau * 2, share) < fall


def test_a_bear_is_asked_for_less_than_a_tenth_of_the_trades_rule():
    # tau 14 d: 0.5 % (e^(1/14) - 1) = 0.037 % a day.
    assert fall_allowed(14.0) == pytest.approx(0.00037, abs=1e-5)


@pytest.mark.parametrize("tau", [1.0, 3.0, 10.0])
def test_a_drying_curve_is_found_again_from_weighings(tau):
    days = [0, 1, 2, 4, 7, 12]
    found = fit_weighings(days, curve(days, tau))
    # The time constants tried lie 2 parts in 10 000 apart.
    assert found.constant_days.value == pytest.approx(tau, rel=5e-4)
    assert found.final_kg.value == pytest.approx(0.7, abs=1e-4)


@pytest.mark.parametrize("tau", [0.5, 2.0, 8.0])
def test_two_weighings_and_the_dry_mass_give_the_time_constant_by_hand(tau):
    found = fit_weighings([0, 2], curve([0, 2], tau), final_kg=0.7)
    # tau = t / ln(free / free left), by hand.
    assert found.constant_days.value == pytest.approx(tau, rel=0.03)
    assert found.final_kg.value == 0.7


@pytest.mark.parametrize("days", [[0, 1, 3, 7], [0, 1, 2, 3, 5, 8], list(range(14))])
def test_its_intervals_hold_the_truth_about_as_often_as_they_say(days):
    tau_held = final_held = told = 0
    for seed in range(300):
        rng = random.Random(seed)
        tau = rng.uniform(1.5, 5)
        mass = [m * (1 + rng.gauss(0, UNSTEADY.value)) for m in curve(days, tau)]
        try:
            found = fit_weighings(days, mass)
        except Impossible:
            continue
        told += 1
        tau_held += found.constant_days.low <= tau <= found.constant_days.high
        final_held += found.final_kg.low <= 0.7 <= found.final_kg.high
    assert told > 200
    # 80 % asked, two sampling errors of 2.3 points; curved unknowns and what is refused move it by a few more.
    assert 0.72 < tau_held / told < 0.88
    assert 0.72 < final_held / told < 0.88


@pytest.mark.parametrize("counts", [4, 5, 7, 12, 30])
def test_students_t_is_that_of_scipy(counts):
    from scipy.stats import t

    assert student_90(counts) == pytest.approx(float(t.ppf(0.9, counts)), rel=0.003)


def test_more_weighings_narrow_it():
    widths = []
    for last in (5, 8, 14):
        days = list(range(last))
        found = fit_weighings(days, curve(days, 2.5))
        widths.append(found.final_kg.high - found.final_kg.low)
    assert widths[0] > widths[1] > widths[2]


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: two_weighings(0, 1, hours_apart=24, step_kg=0, constant_days=1), OutsideRange, "weights and a time above 0"),
        (lambda: fall_allowed(0), OutsideRange, "a time above 0"),
        (lambda: fit_weighings([0, 1], [1, 0.9]), Impossible, "takes three weighings or more, or two and the dry mass"),
        (lambda: fit_weighings([0, 2, 1], [1, 0.9, 0.8]), Impossible, "each later than the one before"),
        (lambda: fit_weighings([0, 1, 2], [1, 1, 1]), Impossible, "the weights do not fall"),
        (lambda: fit_weighings([0, 1, 2], [1, 0.95, 0.9]), Impossible, "do not bend enough to tell where they end"),
        (lambda: fit_weighings([0, 1], [1, 0.9], final_kg=0.95), Impossible, "the dry mass of 950 g is not below the weighings"),
    ],
)
def test_what_cannot_be_told_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
