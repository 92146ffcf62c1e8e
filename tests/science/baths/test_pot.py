"""A warm pot: CoolProp, handbook formulas, the reference's table, and balances."""

import math

import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.pot import (
    Pot,
    evaporation_kg_per_m2h,
    hours_above,
    hours_to_sink,
    humidity_ratio,
    reaches_c,
    saturation_pa,
    steady,
)

POT = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35)
OPEN = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, lid=False)


@pytest.mark.parametrize("temperature", [0.01, 10, 20, 35, 45, 60, 80, 100])
def test_vapour_pressure_agrees_with_coolprop(temperature):
    # CoolProp's water (IAPWS-95); Hyland and Wexler lie within 0.06 % of it from 0 to 100 °C.
    assert saturation_pa(temperature) == pytest.approx(PropsSI("P", "T", temperature + 273.15, "Q", 1, "Water"), rel=8e-4)


def test_humidity_ratio_by_hand():
    # ASHRAE: 0.621945 p / (101325 - p); at 2339 Pa (20 °C, saturated) 0.01470.
    assert humidity_ratio(2339.0) == pytest.approx(0.01470, abs=5e-6)
    assert humidity_ratio(101_325.0) == math.inf


# bench 2.5: open surface, room 20 °C and 50 %. Its figures are evaporation alone (25 kg/m2h and 2400 kJ/kg); 1.5 % covers its
# rounding
# to tens and another vapour pressure.
@pytest.mark.parametrize(("water", "watts"), [(35, 490), (45, 960), (50, 1320), (55, 1790), (60, 2430)])
def test_an_open_surface_loses_what_the_reference_table_says(water, watts):
    evaporating = evaporation_kg_per_m2h(water, 20.0, 0.5).value * 2.40e6 / 3600
    assert evaporating == pytest.approx(watts, rel=0.015)


def test_evaporation_lies_in_the_range_of_the_ashrae_pool_formula():
    """ASHRAE HVAC Applications, natatoriums: w = A (pw - pa)(0.089 + 0.0782 V) / Y; still air, kPa and kJ/kg (from memory)."""
    for water in (30.0, 40.0, 50.0):
        over_kpa = (saturation_pa(water) - 0.5 * saturation_pa(20.0)) / 1000
        ashrae = over_kpa * 0.089 / 2400 * 3600
        found = evaporation_kg_per_m2h(water, 20.0, 0.5)
        assert found.low * 0.6 < ashrae < found.high * 1.2


def test_warm_up_by_hand():
    # bench 2.5: 20 L from 15 to 45 °C = 20 * 4.186 * 30 / 3600 = 0.70 kWh.
    assert steady(Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, room_c=15), 45).warm_up_kwh == pytest.approx(0.6977, abs=0.0005)


def test_a_lidded_tub_of_25_litres_takes_what_practice_says():
    # bench 2.5, common practice: a 25 L insulated tub holds 45 °C on 100-200 W with lid; the range must meet it.
    tub = Pot(volume_l=25, open_m2=0.12, wall_m2=0.55, foam=True, lid=True)
    held = steady(tub, 45).steady_w
    assert held.low < 200
    assert held.high > 40


@given(st.floats(25, 80), st.floats(1, 15))
def test_hotter_takes_more_heat_and_more_water(temperature, more):
    cool, hot = steady(POT, temperature), steady(POT, temperature + more)
    assert hot.steady_w.value > cool.steady_w.value
    assert hot.evaporation_kg_per_day.value > cool.evaporation_kg_per_day.value
    assert hot.warm_up_kwh > cool.warm_up_kwh


@given(st.floats(25, 90))
def test_the_parts_add_up_and_a_lid_and_foam_help(temperature):
    bare, lid = steady(OPEN, temperature), steady(POT, temperature)
    foam = steady(Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, foam=True), temperature)
    assert bare.wall_w + bare.top_w + bare.evaporation_w == pytest.approx(bare.steady_w.value)
    assert foam.steady_w.value < lid.steady_w.value < bare.steady_w.value
    assert bare.evaporation_w == pytest.approx(bare.evaporation_kg_per_day.value / 86400 * 2.40e6)


@given(st.floats(10, 400))
def test_where_a_heater_ends_is_where_heat_in_is_heat_out(watts):
    temperature, boils = reaches_c(POT, watts)
    if not boils:
        assert steady(POT, max(temperature, 20.0001)).steady_w.value == pytest.approx(watts, abs=0.5)


def test_a_strong_heater_boils_a_small_pot():
    assert reaches_c(POT, 2000)[1]
    assert reaches_c(POT, 0) == (20.0, False)


def test_hours_until_the_heater_stands_bare_follow_from_the_water_lost():
    # 0.07 m2 x 5 cm = 3.5 L; over what evaporates in a day.
    lost = steady(OPEN, 45).evaporation_kg_per_day.value
    assert hours_to_sink(OPEN, 45, 0.05).value == pytest.approx(24 * 3.5 / lost)
    dry = hours_to_sink(OPEN, 100, 0.2, watts=300)
    # 300 W less 7 x 0.35 x 80 = 196 W of wall is 104 W: 0.166 kg/h of steam for 13.4 kg.
    assert dry.value == pytest.approx(14 * 0.958 / (104 * 3600 / 2.26e6), rel=0.01)


def test_a_pot_without_power_cools_by_its_own_law():
    """With a straight-line loss the hours are C ln(..)/UA; walls alone in a lidded, dry-air-free case are near that."""
    hours = hours_above(POT, 45, 35)
    loss = steady(POT, 40).steady_w.value / 20
    assert hours == pytest.approx(20 * 4186 / loss * math.log(25 / 15) / 3600, rel=0.05)
    assert hours_above(POT, 45, 19) == math.inf


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: Pot(volume_l=0, open_m2=0.1, wall_m2=0.1), OutsideRange, "the water is 0 L; it must be above 0"),
        (lambda: Pot(volume_l=1, open_m2=9, wall_m2=0.1), OutsideRange, "the open area is 9 m²"),
        (lambda: Pot(volume_l=1, open_m2=0.1, wall_m2=0.1, room_rh=2), OutsideRange, "the room is 20 °C at 200 %"),
        (lambda: steady(POT, 10), OutsideRange, "10 °C cannot be held: it must be above the room's 20 °C"),
        (lambda: steady(POT, 99), OutsideRange, "99 °C cannot be held"),
        (lambda: saturation_pa(120), OutsideRange, "the water is 120 °C"),
        (lambda: hours_to_sink(POT, 45, 0), OutsideRange, "the water may sink 0 mm"),
        (lambda: hours_to_sink(POT, 99, 0.1), Impossible, "it boils: say how many watts the heater has"),
        (lambda: reaches_c(POT, -5), OutsideRange, "a heater of -5 W cannot be"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
