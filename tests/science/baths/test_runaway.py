"""Self-heating: Semenov's border derived by hand, and scipy's integrator on the same balance."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bonebench.errors import OutsideRange
from bonebench.science.baths.runaway import DAY_S, heat_w, self_heating

TUB = {"mass_kg": 20.0, "loss_w_per_k": 4.0, "air_c": 20.0}


def test_a_clean_three_percent_tub_settles_close_to_the_air():
    # By hand: 20 kg * 0.03 / 0.0340147 kg/mol * 98 kJ * 0.03/day / 86400 s = 0.600 W; over 4 W/K that is 0.15 K.
    found = self_heating(strength_w=0.03, rate20_per_day=0.03, **TUB)
    assert found.heat_w == pytest.approx(0.600, abs=0.001)
    assert found.verdict == "settles"
    assert found.settles_c == pytest.approx(20.152, abs=0.005)


def test_strong_peroxide_on_tissue_runs_away():
    found = self_heating(strength_w=0.15, rate20_per_day=3.0, **TUB)
    assert found.verdict == "runs away"
    assert found.settles_c is None
    assert 0 < found.days_to_boil < 1


def integrated(strength, rate, q10=2.2, hours=2000.0):
    """Where a bath is after a long time, or the hour at which it boils; nothing is used up, as in the formula."""

    def slope(_, t):
        made = heat_w(20.0, strength, rate, float(t[0]), q10)
        return [(made - 4.0 * (t[0] - 20.0)) / (20.0 * 4100.0)]

    def boils(_, t):
        return t[0] - 100.0

    boils.terminal = True
    return solve_ivp(slope, (0, hours * 3600), [20.0], events=boils, rtol=1e-8, atol=1e-8, method="LSODA")


@pytest.mark.parametrize(("strength", "rate"), [(0.03, 0.3), (0.06, 0.4), (0.12, 0.2), (0.03, 0.9)])
def test_where_it_settles_is_where_scipy_ends(strength, rate):
    found = self_heating(strength_w=strength, rate20_per_day=rate, **TUB)
    assert integrated(strength, rate).y[0, -1] == pytest.approx(found.settles_c, abs=0.02)


def test_the_border_between_settling_and_running_away_is_semenovs():
    b = math.log(2.2) / 10
    at_one = heat_w(20.0, 0.1, 1.0, 20.0)
    border = 4.0 / (at_one * b * math.e)  # rate at which heat at air times e times b equals the loss
    assert self_heating(strength_w=0.1, rate20_per_day=border * 0.99, **TUB).verdict != "runs away"
    assert self_heating(strength_w=0.1, rate20_per_day=border * 1.01, **TUB).verdict == "runs away"
    # scipy agrees on both sides.
    assert len(integrated(0.1, border * 0.97).t_events[0]) == 0
    assert len(integrated(0.1, border * 1.05, hours=20000).t_events[0]) == 1


def test_time_to_boil_without_any_loss_is_the_closed_formula_and_scipys():
    found = self_heating(strength_w=0.35, rate20_per_day=5.0, **TUB)

    def slope(_, t):
        return [heat_w(20.0, 0.35, 5.0, float(t[0])) / (20.0 * 4100.0)]

    def boils(_, t):
        return t[0] - 100.0

    boils.terminal = True
    run = solve_ivp(slope, (0, 10 * DAY_S), [20.0], events=boils, rtol=1e-9, atol=1e-9)
    assert found.days_to_boil == pytest.approx(run.t_events[0][0] / DAY_S, rel=1e-4)


@given(st.floats(0.005, 0.3), st.floats(0.001, 3), st.floats(5, 35))
def test_a_warmer_room_never_helps(strength, rate, air):
    cool = self_heating(mass_kg=10, strength_w=strength, rate20_per_day=rate, loss_w_per_k=3, air_c=air)
    warm = self_heating(mass_kg=10, strength_w=strength, rate20_per_day=rate, loss_w_per_k=3, air_c=air + 5)
    order = ["settles", "warms", "runs away"]
    assert order.index(warm.verdict) >= order.index(cool.verdict)
    assert cool.worst_air_c == pytest.approx(warm.worst_air_c)
    assert (cool.verdict == "runs away") == (air > cool.worst_air_c)


def test_plain_water_makes_no_heat():
    assert self_heating(strength_w=0.0, rate20_per_day=1.0, **TUB).settles_c == 20.0


def test_what_cannot_be_is_refused():
    with pytest.raises(OutsideRange, match="mass and loss must be above 0"):
        self_heating(mass_kg=10, strength_w=0.03, rate20_per_day=0.1, loss_w_per_k=0, air_c=20)
