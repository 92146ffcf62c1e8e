"""The rot clock of a piece that is eaten and dries, with its last smell."""

import math

import pytest

from bonebench.science.cleaning import BUDGET_H, DRYING, RotAdvice, WetSpell, rot_clock, worn


def whole(day):
    return 1.0


def gone_in_three(day):
    return max(0.0, 1.0 - day / 3.0)


def test_hours_of_a_whole_piece_at_28_degrees_by_hand():
    # By hand: the wet share falls as exp(-t / 3 d), so 2 days count 24 * 3 * (1 - exp(-2/3)) = 35.0 h. Quarter days: 0.2 %.
    assert worn(2.0, whole, 28.0).hours == pytest.approx(24 * DRYING.value * (1 - math.exp(-2 / DRYING.value)), rel=0.002)


def test_what_is_eaten_does_not_rot():
    assert worn(3.0, gone_in_three, 28.0).hours < 0.6 * worn(3.0, whole, 28.0).hours


def test_a_frozen_piece_uses_nothing_and_never_runs_out():
    cold = worn(5.0, whole, -18.0)
    assert (cold.hours, cold.runs_out_in_h) == (0.0, None)


def test_a_whole_wet_piece_runs_out_when_its_hours_are_the_budget():
    told = worn(1.0, whole, 28.0)
    # By hand: 72 (1 - exp(-t/3)) = 48 at t = 3 ln 3 = 3.296 d, that is 55.1 h after the first day. Quarter days: an hour.
    assert BUDGET_H.value == 48
    assert told.runs_out_in_h == pytest.approx(24 * (3 * math.log(3) - 1), abs=1.0)


def test_a_smell_moves_the_clock_from_its_own_time_on():
    plain, faint, foul = worn(2.0, whole, 28.0), worn(2.0, whole, 28.0, (1.0, 0)), worn(2.0, whole, 28.0, (1.9, 3))
    assert faint.clock.used.value < plain.clock.used.value < foul.clock.used.value
    assert foul.clock.advice is RotAdvice.TAKE_OUT
    assert worn(6.0, gone_in_three, 28.0, (1.0, 3)).clock.advice is RotAdvice.TAKE_OUT


def test_a_smell_of_just_now_says_what_the_clock_with_a_nose_says():
    now = worn(2.0, whole, 28.0, (2.0, 1)).clock
    spells = [WetSpell(6.0, 28.0, 1.0, math.exp(-(k + 0.5) * 0.25 / DRYING.value)) for k in range(8)]
    assert now.used.value == pytest.approx(rot_clock(spells, 1).used.value)
