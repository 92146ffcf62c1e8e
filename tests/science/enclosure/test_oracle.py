"""The loop against scipy's LSODA with events on the same equations, and against CoolProp's moist air."""

from dataclasses import replace

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI

from bonebench.science.air.moist import humidity_ratio
from bonebench.science.enclosure import (
    Box,
    Duct,
    Heater,
    Holes,
    Humidistat,
    Store,
    Window,
    around_box,
    closed_test,
    numbers_of,
    simulate,
    start_at,
)
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.layout import LATENT

from .oracle import begin, exact, room_of

BOX = Box(
    (1.2, 0.65, 0.8),
    holes=(Holes(2, 0.0254, 0.05), Holes(2, 0.0254, 0.45)),
    duct=Duct(0.1, 2.0, 0.5, 2.0, 0.0, True, 0.0175, 12.0),
    heater=Heater(100.0),
    humidistat=Humidistat(),
    stores=(Store("pavers", 40.0),),
)
DAYS = 2
HOURS = np.arange(24 * DAYS + 1)
ROOM_C = 7 + 3 * np.sin(2 * np.pi * HOURS / 24)
ROOM_RH = 0.8
WATER = 20 / 3.6e6  # kg/s, enough to bring the fan on now and then


def both(box, step, water=WATER):
    numbers = numbers_of(box)
    around = around_box(24 * DAYS, t_c=ROOM_C, rh=ROOM_RH, heat_w=2.0, water_kg_s=water)
    start = start_at(box)
    run = simulate(box, around, step_s=step, start=start)
    first = begin(numbers, start.state[at.T], start.state[at.W], start.state[at.BED_KG_KG], start.state[at.SENSED_RH])
    return run, exact(numbers, room_of(around.t_c, around.ratio, around.heat_w, around.water_kg_s), first, 24 * DAYS)


def test_two_days_with_both_switches_agree_with_lsoda():
    run, oracle = both(BOX, 1.0)
    assert oracle.heater_starts > 50
    assert oracle.fan_starts > 2
    # A step of 1 s sees each turn up to 1 s late, and each later cycle is shifted with it: a few parts in a thousand of the energy.
    assert run.year.heater_kwh == pytest.approx(oracle.heater_kwh, rel=3e-3)
    assert run.year.fan_hours == pytest.approx(oracle.fan_hours, rel=0.03)
    assert run.year.heater_starts == pytest.approx(oracle.heater_starts, rel=0.02)


def test_without_switches_the_air_follows_lsoda_step_by_step():
    box = replace(BOX, heater=None, humidistat=None, duct=None)
    water = 2 / 3.6e6  # so little that the air is never full: the oracle knows no dew
    run, oracle = both(box, 1.0, water)
    looks = simulate(
        box,
        around_box(24 * DAYS, t_c=ROOM_C, rh=ROOM_RH, heat_w=2.0, water_kg_s=water),
        step_s=1.0,
        start=start_at(box),
        look_every_s=3600.0,
    ).trace
    # Backward steps of 1 s against masses of an hour: 1 s / 3600 s of a swing of 20 K, and the air's flow renewed every 0.2 K.
    assert np.abs(looks[:, at.TRACE_T] - oracle.t_c).max() < 0.02
    assert np.abs(looks[:, at.TRACE_RATIO] / oracle.ratio - 1).max() < 2e-3
    assert run.year.heater_kwh == 0


def test_ten_second_steps_give_the_energy_of_one_second_steps():
    fine, coarse = (
        simulate(BOX, around_box(24 * DAYS, t_c=ROOM_C, rh=ROOM_RH, water_kg_s=WATER), step_s=step) for step in (1.0, 10.0)
    )
    # The reference asks for 0.1 % in energy between 10 s and 1 s over long runs; two days hold 100 cycles, so one cut short is 1 %.
    assert coarse.year.heater_kwh == pytest.approx(fine.year.heater_kwh, rel=0.01)


def test_the_closed_state_balances_with_coolprop_moist_air():
    test = closed_test(BOX, building_c=7.0, building_ratio=0.0045, water_kg_s=6e-6)
    numbers = numbers_of(BOX)

    def enthalpy(t, w):
        return HAPropsSI("H", "T", t + 273.15, "P", 101_325.0, "W", w)

    # Vapour arrives with the enthalpy of vapour at the box's temperature less its latent heat, which it took from the air.
    arrives = 6e-6 * (HAPropsSI("H", "T", test.t_c + 273.15, "P", 101_325, "W", 1e-6) * 0 + 4186 * test.t_c)
    carried = test.air_kg_s * (enthalpy(test.t_c, test.ratio) - enthalpy(7.0, 0.0045)) - arrives
    left = numbers.constants.heater_w - numbers.constants.ua_w_k * (test.t_c - 7.0)
    # The loop leaves out what vapour holds besides its latent heat: below 2 % of what air carries off.
    assert carried == pytest.approx(left, rel=0.02)


@pytest.mark.parametrize("t", [20.0, 24.0, 27.0])
def test_latent_heat_is_that_of_coolprop(t):
    latent = PropsSI("H", "T", t + 273.15, "Q", 1, "Water") - PropsSI("H", "T", t + 273.15, "Q", 0, "Water")
    # One value, 2.45 MJ/kg, for 20-27 degC (physics.md, from memory); CoolProp is IAPWS-95 and falls from 2.454 to 2.437.
    assert pytest.approx(latent, rel=0.006) == LATENT


@pytest.mark.parametrize(("t", "rh"), [(5.0, 0.8), (26.5, 0.48), (35.0, 0.9)])
def test_the_start_holds_the_water_coolprop_gives(t, rh):
    # Perfect gas against real gas: below 0.6 % (physics.md 1.1, measured there).
    assert start_at(BOX, t, rh).state[at.W] == pytest.approx(HAPropsSI("W", "T", t + 273.15, "P", 101_325, "R", rh), rel=0.006)
    assert start_at(BOX, t, rh).state[at.W] == pytest.approx(float(humidity_ratio(t, rh)), rel=1e-12)


def test_a_window_that_sweats_keeps_its_water_in_the_balance():
    box = replace(BOX, window=Window(0.1, 5.5), heater=Heater(100.0), humidistat=None, duct=None, holes=(Holes(1, 0.0254, 0.1),))
    run = simulate(box, around_box(72, t_c=-5.0, rh=0.8, water_kg_s=WATER))
    assert run.year.condensed_kg > 0.1
    assert run.end.state[at.FILM] > 0
    assert run.water_error < 1e-9
    assert run.heat_error < 1e-9
