"""Self-heating: Semenov's border derived by hand, and scipy's integrator on the same balance."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bonebench.errors import OutsideRange
from bonebench.science.baths.runaway import DAY_S, WarmBath, heat_w, judge, self_heating

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
    assert 0 < found.days_to_warn < found.days_to_boil < 1


def test_three_percent_cannot_boil_from_room_temperature_whatever_is_in_it():
    # 0.03 x 98 kJ/mol / 0.0340147 kg/mol / 4.1 kJ/(kg K) = 21.1 K in all: 41 °C at most (published heat, derived rise).
    found = self_heating(strength_w=0.03, rate20_per_day=3.0, **TUB)
    assert found.verdict == "runs away"
    assert found.most_c == pytest.approx(41.1, abs=0.05)
    assert found.days_to_boil is None
    assert found.days_to_warn is not None
    assert self_heating(strength_w=0.12, rate20_per_day=3.0, **TUB).days_to_boil is not None  # 84 K: 12 % on tissue can


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
    with pytest.raises(OutsideRange, match="the bath is 100 °C; it lies from 0 to below 100 °C"):
        WarmBath(mass_kg=10, strength_w=0.03, rate20_per_day=0.1, loss_w_per_k=1, air_c=20, bath_c=100.0)


def test_the_border_is_one_over_e_as_the_books_have_it():
    # F. A. Williams, Combustion Theory, appendix B.2 (as read): criticality at 1/e, one degree-e above the surroundings.
    b = math.log(2.2) / 10
    for psi, verdict in ((1 / math.e * 0.999, "warms"), (1 / math.e * 1.001, "runs away")):
        rate = psi * 4.0 / (heat_w(20.0, 0.1, 1.0, 25.0) * b)
        found = self_heating(mass_kg=20, strength_w=0.1, rate20_per_day=rate, loss_w_per_k=4.0, air_c=25.0)
        assert found.verdict == verdict
    near = self_heating(mass_kg=20, strength_w=0.1, rate20_per_day=4.0 / math.e / (heat_w(20.0, 0.1, 1.0, 25.0) * b) * (1 - 1e-9),
                        loss_w_per_k=4.0, air_c=25.0)  # fmt: skip
    assert near.settles_c == pytest.approx(25 + 1 / b, abs=0.01)


def test_arrhenius_tips_at_nearly_the_same_warming():
    # Semenov with Arrhenius: it tips R T^2 / E above the air (any book). 2.2 in ten degrees is 58 kJ/mol: 8.314 x 293.15^2 / 58 000
    # = 12.3 K, against 10 / ln 2.2 = 12.7 K here; the exponential is the series of Arrhenius broken off, so a few in a hundred.
    assert 10 / math.log(2.2) == pytest.approx(8.314 * 293.15**2 / 58_000, rel=0.04)


def test_a_bath_made_too_warm_runs_away_where_a_cool_one_settles():
    cool = judge(WarmBath(mass_kg=20, strength_w=0.12, rate20_per_day=0.1, loss_w_per_k=4, air_c=20))
    assert cool.verdict == "settles"
    for above, verdict in ((-0.5, "warms"), (0.5, "runs away")):
        warm = WarmBath(mass_kg=20, strength_w=0.12, rate20_per_day=0.1, loss_w_per_k=4, air_c=20, bath_c=cool.tips_c + above)
        assert judge(warm).verdict == verdict


@given(st.floats(0.005, 0.6), st.floats(0.001, 3), st.floats(0, 40), st.floats(0.5, 20))
def test_heat_made_is_heat_lost_where_it_settles_and_where_it_tips(strength, rate, air, loss):
    found = self_heating(mass_kg=10, strength_w=strength, rate20_per_day=rate, loss_w_per_k=loss, air_c=air)
    if found.settles_c is None:
        return
    for at in (found.settles_c, found.tips_c):
        assert heat_w(10, strength, rate, at) == pytest.approx(loss * (at - air), rel=1e-6, abs=1e-9)
    assert found.settles_c <= air + 10 / math.log(2.2) + 1e-9 <= found.tips_c + 1e-6


def test_a_warm_bath_of_water_cools_and_is_called_warm():
    found = judge(WarmBath(mass_kg=10, strength_w=0.0, rate20_per_day=1.0, loss_w_per_k=3, air_c=20, bath_c=35.0))
    assert (found.verdict, found.settles_c, found.days_to_boil) == ("warms", 20.0, None)
