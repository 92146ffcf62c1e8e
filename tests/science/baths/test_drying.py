"""Drying: the class days, the two-weighings rule by hand, a curve recovered from weighings, and the published growth in damp."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.drying import (
    HANDLE_DAYS,
    dry_for,
    fit_weighings,
    reads_long_by_m,
    time_constant_days,
    two_weighings,
    water_left,
)


# bench section 3, common practice: thin skulls 1-3 days, deer 3-7, bear 7-21 at 20 °C and 45-55 %.
@pytest.mark.parametrize(("size", "low", "high"), [("small", 1, 3), ("middle", 3, 7), ("big", 7, 21)])
def test_in_an_ordinary_room_a_skull_is_dry_to_glue_in_the_days_of_practice(size, low, high):
    found = dry_for("glue", size, 20.0, 0.5)
    assert found.value == pytest.approx(HANDLE_DAYS[size].value)
    assert (found.low, found.high) == pytest.approx((low, high))


def test_a_skull_is_measured_after_sixty_days_at_the_earliest():
    assert dry_for("measure", "small", 20.0, 0.5).value == 60  # R119, R120
    assert dry_for("measure", "big", 10.0, 0.85).value > 60


@given(st.floats(0, 50), st.floats(0, 0.9), st.floats(1, 10), st.floats(0.01, 0.04))
def test_colder_or_damper_is_never_quicker(temperature, humidity, colder, damper):
    here = time_constant_days("middle", temperature, humidity).value
    assert time_constant_days("middle", max(temperature - colder, 0), humidity).value >= here
    assert time_constant_days("middle", temperature, humidity + damper).value > here


def test_water_left_is_first_order():
    assert water_left(0, 3) == 1
    assert water_left(6, 3) == pytest.approx(water_left(3, 3) ** 2)


def test_what_two_weighings_leave_open_by_hand():
    # tau 1.7 d: 0.005 / (e^(1/1.7) - 1) = 0.62 %; tau 14 d: 0.005 / (e^(1/14) - 1) = 6.75 %.
    quick = two_weighings(0.8, 0.798, hours_apart=24, step_kg=0.001, constant_days=1.7)
    slow = two_weighings(2.0, 1.995, hours_apart=24, step_kg=0.001, constant_days=14)
    assert (quick.passes, slow.passes) == (True, True)
    assert quick.could_still_lose == pytest.approx(0.005 / math.expm1(1 / 1.7))
    assert slow.could_still_lose == pytest.approx(0.0675, abs=0.0005)


def test_a_fall_above_half_a_percent_does_not_pass_and_a_coarse_scale_says_so():
    assert not two_weighings(0.8, 0.79, hours_apart=24, step_kg=0.001, constant_days=3).passes
    assert two_weighings(0.1, 0.1, hours_apart=24, step_kg=0.01, constant_days=3).scale_too_coarse


@pytest.mark.parametrize("tau", [1.0, 3.0, 10.0])
def test_a_drying_curve_is_found_again_from_weighings(tau):
    days = [0, 1, 2, 4, 7, 12]
    mass = [0.7 + 0.2 * math.exp(-d / tau) for d in days]
    found = fit_weighings(days, mass)
    # The time constants tried lie 2.3 % apart.
    assert found.constant_days.value == pytest.approx(tau, rel=0.03)
    assert found.final_kg.value == pytest.approx(0.7, abs=0.004)


def test_its_interval_holds_the_truth_about_as_often_as_it_says():
    held = 0
    for seed in range(200):
        rng = random.Random(seed)
        tau, days = rng.uniform(2, 6), [0, 1, 2, 3, 5, 8]
        mass = [0.7 + 0.2 * math.exp(-d / tau) + rng.gauss(0, 0.0014) for d in days]
        found = fit_weighings(days, mass).constant_days
        held += found.low <= tau <= found.high
    # 80 % asked; the grid's steps and the floor of 0.2 % make it a little wider.
    assert 0.74 < held / 200 <= 0.95


def test_the_published_growth_in_damp_is_met():
    # R115 and bench 9.16: 158 mm grew 0.57 % = 0.90 mm, from room air to saturated.
    assert reads_long_by_m(0.158, 0.95).value == pytest.approx(0.00090, abs=0.00001)
    assert reads_long_by_m(0.158, 0.5).value == 0
    assert reads_long_by_m(0.158, 0.3).value < 0


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: time_constant_days("big", -5, 0.5), OutsideRange, "the air is -5 °C"),
        (lambda: time_constant_days("big", 20, 0.99), OutsideRange, "bone does not dry above 95 %"),
        (lambda: two_weighings(0, 1, hours_apart=24, step_kg=0, constant_days=1), OutsideRange, "weights and a time above 0"),
        (lambda: fit_weighings([0, 1], [1, 0.9]), Impossible, "takes three weighings or more"),
        (lambda: fit_weighings([0, 2, 1], [1, 0.9, 0.8]), Impossible, "each later than the one before"),
        (lambda: fit_weighings([0, 1, 2], [1, 1, 1]), Impossible, "the weights do not fall"),
        (lambda: reads_long_by_m(0, 0.5), OutsideRange, "a length above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
