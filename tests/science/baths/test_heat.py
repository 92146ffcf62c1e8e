"""A warm pot: balances, a table of open tanks, hand calculations, closed forms and laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths.heat import LID_LETS, OPEN_H, Pot, money_per_day, reach_c, reaches_c, steady
from bonebench.science.baths.topup import hours_above, hours_to_dry, hours_to_sink, top_up, warm_up

POT = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35)
OPEN = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, lid=False)
COOKER = Pot(volume_l=6, open_m2=0.06, wall_m2=0.2, vessel_kg=3.0, material="stoneware")


def test_warm_up_by_hand():
    # bench 2.5: 20 L from 15 to 45 °C = 20 * 4.186 * 30 / 3600 = 0.70 kWh.
    bare = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, room_c=15)
    assert steady(bare, 45).warm_up_kwh == pytest.approx(0.6977, abs=0.0005)
    # 3 kg of stoneware at 850 J/kgK (from memory) adds 3 * 850 * 30 J = 0.02125 kWh.
    crock = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, room_c=15, vessel_kg=3, material="stoneware")
    assert steady(crock, 45).warm_up_kwh == pytest.approx(0.6977 + 0.02125, abs=0.0005)


# "Heat loss from open water tanks" (engineeringtoolbox.com, d_286, read): water °F, dry heat of the surface in Btu/ft2h, air 60 °F.
@pytest.mark.parametrize(("water_f", "btu"), [(100, 70), (110, 90), (120, 110), (130, 135), (140, 160), (150, 180), (160, 210)])
def test_the_dry_heat_of_an_open_top_is_that_of_a_published_table(water_f, btu):
    per_kelvin = btu * 3.1546 / ((water_f - 60) / 1.8)
    assert OPEN_H.low <= per_kelvin <= OPEN_H.high
    # At the 38 to 49 °C of a warm pot within 5 %.
    if water_f <= 120:
        assert OPEN_H.value == pytest.approx(per_kelvin, rel=0.05)


def test_an_open_square_metre_takes_about_a_kilowatt_and_a_lidded_one_a_sixth():
    # bench section 0: 1.2 kW/m2 open and 0.15 lidded at 45 °C, each times or over 2.
    whole = {lid: Pot(volume_l=200, open_m2=1, wall_m2=1e-6, lid=lid) for lid in (True, False)}
    assert 0.6 < steady(whole[False], 45).steady_w.value / 1000 < 2.4
    assert 0.075 < steady(whole[True], 45).steady_w.value / 1000 < 0.30


def test_a_foamed_tub_with_a_lid_is_held_by_the_heaters_of_practice():
    # bench 2.5, common practice: a 25 L insulated tub holds 45 °C on heaters of 100-200 W with lid, so it takes no more than that.
    tub = Pot(volume_l=25, open_m2=0.12, wall_m2=0.55, foam=True, lid=True)
    assert steady(tub, 45).steady_w.high < 200
    assert reach_c(tub, 100).low > 45


@given(st.floats(26, 80), st.floats(1, 15))
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
    assert lid.evaporation_kg_per_day.value == pytest.approx(LID_LETS.value * bare.evaporation_kg_per_day.value)
    assert bare.kwh_per_day.value == pytest.approx(bare.steady_w.value * 0.024)


def test_money_is_energy_times_its_price():
    held = steady(OPEN, 45)
    assert money_per_day(held, 0.30).value == pytest.approx(held.steady_w.value * 24 / 1000 * 0.30)
    assert money_per_day(held, 0).value == 0


@given(st.floats(10, 600))
@settings(max_examples=40, deadline=None)
def test_where_a_heater_ends_heat_in_is_heat_out(watts):
    temperature, boils = reaches_c(POT, watts)
    if not boils:
        assert steady(POT, max(temperature, 20.0001)).steady_w.value == pytest.approx(watts, abs=0.5)
    else:
        assert steady(POT, 97.99).steady_w.value <= watts + 0.5
    reach = reach_c(POT, watts)
    assert reach.low <= reach.value <= reach.high


def test_a_cooker_left_on_may_boil_though_a_rule_of_thumb_denies_it():
    """25 kg/m2h without end would hold 400 W at 90 °C in this pot for ever; evaporation that stays finite cannot."""
    assert reaches_c(POT, 400) == (100.0, True)
    assert reach_c(POT, 300).high == 100
    assert reaches_c(POT, 2000) == (100.0, True)
    assert reaches_c(POT, 0) == (20.0, False)


def test_a_slow_cooker_ends_where_common_practice_found_it():
    # bench 2.2 (from memory): slow cookers run at 75-95 °C; bench 2.5 (R113): a 6 quart one takes about 180 W.
    assert 75 < reach_c(COOKER, 180).value < 95


def test_hours_until_the_heater_stands_bare_follow_from_the_water_lost():
    # 0.07 m2 x 5 cm = 3.5 L; over what evaporates in a day.
    lost = steady(OPEN, 45).evaporation_kg_per_day
    found = hours_to_sink(OPEN, 45, 0.05)
    assert found.value == pytest.approx(24 * 3.5 / lost.value)
    assert found.low == pytest.approx(24 * 3.5 / lost.high)
    assert hours_to_dry(OPEN, 45).value == pytest.approx(24 * 20 / lost.value)
    # A fall deeper than the water is a dry pot.
    assert hours_to_sink(OPEN, 45, 5.0) == hours_to_dry(OPEN, 45)


def test_a_boiling_pot_dries_no_faster_than_all_its_power_in_steam():
    # 20 L x 0.958 kg/L x 2.257 MJ/kg (steam tables) / 1500 W = 8.0 h; the walls' 196 W and the lid's part make the middle later.
    dry = hours_to_dry(POT, 100, watts=1500)
    assert dry.low == pytest.approx(20 * 0.958 * 2.257e6 / 1500 / 3600, rel=0.005)
    assert dry.value == pytest.approx(20 * 0.958 * 2.257e6 / (1500 - 196 - 22.4) / 3600, rel=0.005)
    assert hours_to_dry(POT, 100, watts=3000).value < dry.value


def test_topping_up_is_looked_at_in_half_the_shortest_time_and_once_a_day_at_least():
    assert top_up(POT, 45, 0.05).look_every_hours == 24
    found = top_up(OPEN, 45, 0.05)
    assert found.look_every_hours == pytest.approx(hours_to_sink(OPEN, 45, 0.05).low / 2)
    assert found.litres_per_day.value == steady(OPEN, 45).evaporation_kg_per_day.value
    # Mixing by hand: so many litres of 20 °C in 20 L of 45 °C.
    poured = found.litres_per_day.value
    assert found.cools_k == pytest.approx(25 * poured / 20)


def dry_pot(foam):
    """A pot that loses heat almost only through its walls, in a straight line."""
    return Pot(volume_l=20, open_m2=1e-6, wall_m2=0.5, foam=foam)


@pytest.mark.parametrize("foam", [True, False])
def test_cooling_and_warming_through_walls_are_the_closed_forms(foam):
    # C dT/dt = P - UA (T - Ta): logarithms; sixty slices lie within 0.2 % of them.
    pot, ua = dry_pot(foam), 0.5 * (1.2 if foam else 7.0)
    tau_h = 20 * 4186 / ua / 3600
    assert hours_above(pot, 60, 40).value == pytest.approx(tau_h * math.log(40 / 20), rel=2e-3)
    assert warm_up(pot, 45, 200).hours.value == pytest.approx(-tau_h * math.log(1 - 25 * ua / 200), rel=2e-3)


@given(st.floats(150, 1500), st.floats(10, 300))
@settings(max_examples=30, deadline=None)
def test_a_stronger_heater_warms_sooner_and_energy_is_never_less_than_the_heat_stored(watts, more):
    one, two = warm_up(POT, 45, watts), warm_up(POT, 45, watts + more)
    assert two.hours.value < one.hours.value
    assert one.kwh > steady(POT, 45).warm_up_kwh
    assert one.hours.low <= one.hours.value <= one.hours.high


def test_a_pot_never_cools_below_its_room_and_a_heavy_vessel_holds_longer():
    assert hours_above(POT, 45, 19).value == math.inf
    assert hours_above(POT, 40, 45).value == 0
    crock = Pot(volume_l=20, open_m2=0.07, wall_m2=0.35, vessel_kg=10, material="stoneware")
    assert hours_above(crock, 45, 35).value > hours_above(POT, 45, 35).value > hours_above(OPEN, 45, 35).value


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: Pot(volume_l=0, open_m2=0.1, wall_m2=0.1), OutsideRange, "the water is 0 L; it must be above 0"),
        (lambda: Pot(volume_l=1, open_m2=9, wall_m2=0.1), OutsideRange, "the open area is 9 m²"),
        (lambda: Pot(volume_l=1, open_m2=0.1, wall_m2=0.1, room_rh=2), OutsideRange, "the room is 20 °C at 200 %"),
        (lambda: Pot(volume_l=1, open_m2=0.1, wall_m2=0.1, vessel_kg=-1), OutsideRange, "the vessel is -1 kg"),
        (lambda: Pot(volume_l=1, open_m2=0.1, wall_m2=0.1, material="cheese"), Impossible, "'cheese' is no material"),
        (lambda: steady(POT, 10), OutsideRange, "10 °C cannot be held: it must be above the room's 20 °C"),
        (lambda: steady(POT, 99), OutsideRange, "99 °C cannot be held"),
        (lambda: hours_to_sink(POT, 45, 0), OutsideRange, "the water may sink 0 mm"),
        (lambda: hours_to_sink(POT, 99, 0.1), Impossible, "it boils: say how many watts the heater has"),
        (lambda: reaches_c(POT, -5), OutsideRange, "a heater of -5 W cannot be"),
        (lambda: warm_up(OPEN, 60, 50), Impossible, "50 W do not take it to 60 °C: it loses"),
        (lambda: warm_up(POT, 45, 500, from_c=50), OutsideRange, "the water begins at 50 °C"),
        (lambda: money_per_day(steady(POT, 45), -1), OutsideRange, "power costs -1 for a kWh"),
        (lambda: hours_above(POT, 120, 40), OutsideRange, "the water is 120 °C"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
