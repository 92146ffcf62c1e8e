"""A building through real weather: against degree-days, hand balances, stoichiometry and what must hold for any building."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.files.weather import read_weather
from bonebench.science.air.moist import humidity_ratio
from bonebench.science.building import Building, Flame, check_building, tank_days, tank_kwh, through
from bonebench.science.building.building import UNVENTED, VENTED, infiltration_kg_s
from bonebench.science.weather import Place, weather

DATA = Path(__file__).parents[2] / "data"
# An old shed of 4 by 5 m insulated to about R-15 (common practice, no source).
SHED = Building((5.0, 4.0, 2.4), wall_r=15 * 0.1761, roof_r=15 * 0.1761, heater_w=4000.0, set_c=7.0)


@pytest.fixture(scope="module", params=["chicago_ohare", "sandpoint_ak"])
def year(request):
    """Two real typical years."""
    return read_weather(str(DATA / f"physics_weather_{request.param}_tmy3.csv"))


@pytest.fixture(scope="module")
def chicago():
    return read_weather(str(DATA / "physics_weather_chicago_ohare_tmy3.csv"))


def steady(t_c, *, wind=0.0, hours=24 * 20, dew=None):
    """Weather that stays as it is, without sun."""
    flat = np.full(hours, float(t_c))
    none = np.zeros(hours)
    return weather(Place("nowhere"), {
        "temperature_c": flat, "dew_point_c": np.full(hours, float(t_c - 5 if dew is None else dew)),
        "pressure_pa": np.full(hours, 101_325.0),
        "wind_m_s": np.full(hours, float(wind)), "global_w_m2": none, "beam_w_m2": none, "diffuse_w_m2": none,
    })  # fmt: skip


def test_without_sun_and_mass_the_heat_of_a_year_is_that_of_hourly_degree_days(year):
    bare = replace(SHED, leak_cm2=0.0, mass_j_k=0.0, absorbed=0.0, sky_loss_k=0.0, hysteresis_k=0.2, heater_w=1500.0)
    found = through(bare, year, gain_w=0.0)
    # Sum of max(0, set - outdoor) over each minute of the straight lines between the hours, which the run follows too.
    t = np.append(year.temperature_c, year.temperature_c[-1])
    share = (np.arange(60) + 0.5) / 60
    minutes = t[:-1, None] + share * (t[1:] - t[:-1])[:, None]
    degree_hours = np.maximum(0.0, 7.0 - minutes).sum() / 60
    assert found.whole.heater_kwh == pytest.approx(bare.conductance_w_k * degree_hours / 1000, rel=0.01)


def test_degree_days_of_the_file_are_those_of_the_reference(chicago):
    # physics.md 1.3: Chicago TMY3, base 7 degC: 1 312 K d, hourly.
    assert np.maximum(0, 7 - chicago.temperature_c).sum() / 24 == pytest.approx(1312, rel=0.002)


def test_at_rest_heat_in_is_heat_out():
    found = through(replace(SHED, hysteresis_k=0.5), steady(-10.0, wind=3.0), gain_w=60.0)
    gap = found.months[-1].t_mean_c + 10.0
    air = infiltration_kg_s(SHED.leakage_cm2, 3, gap, 3.0) * 1006
    # The roof sees the sky: 4 K more across it. Two nodes in a row are one conductance.
    watts = SHED.conductance_w_k * gap + 4.0 * SHED.floor_m2 / SHED.roof_r + air * gap - 60.0
    late = found.heater_w[-10 * 24 :].mean()
    assert late == pytest.approx(watts, rel=0.01)


def test_a_day_outdoors_comes_through_as_two_masses_in_a_row_let_it():
    # Steady periodic answer of fabric and air to a sinusoid outdoors, the two balances solved as complex numbers.
    shed = replace(SHED, heater_w=0.0, leak_cm2=0.0, absorbed=0.0, sky_loss_k=0.0, floor_w_mk=0.0, mass_j_k=2e6)
    hours = np.arange(24 * 40)
    outdoors = steady(0.0, hours=len(hours))
    swing = replace(outdoors, temperature_c=5 * np.sin(2 * np.pi * hours / 24), dew_point_c=np.full(len(hours), -20.0))
    found = through(shed, swing, gain_w=0.0).t_c[-48:]
    inner = 8.0 * (shed.walls_m2 + shed.floor_m2)
    whole = shed.conductance_w_k
    outer = 1 / (1 / whole - 1 / inner)
    omega = 2j * np.pi / 86400
    air = math.prod(shed.inside_m) * 1.2 * 1006
    fabric_air = np.linalg.solve(
        np.array([[omega * 2e6 + outer + inner, -inner], [-inner, omega * air + inner]]), np.array([outer * 5.0, 0.0])
    )
    # Straight lines between hours flatten a day's sinusoid by 0.6 %.
    assert (found.max() - found.min()) / 2 == pytest.approx(abs(fabric_air[1]), rel=0.015)


def test_infiltration_is_the_square_of_stack_and_wind():
    # By hand: 200 cm2 * sqrt(0.000145 * 20 + 0.000174 * 16) = 15.08 L/s.
    assert infiltration_kg_s(200, 3, 20, 4) == pytest.approx(1.2 * 0.01508, rel=1e-3)


def test_a_flame_without_a_vent_wets_the_air_and_a_vented_one_does_not(chicago):
    electric = through(SHED, chicago)
    vented, unvented = (through(replace(SHED, flame=flame), chicago) for flame in (VENTED, UNVENTED))
    assert unvented.ratio.mean() > electric.ratio.mean()
    assert vented.ratio.mean() == pytest.approx(electric.ratio.mean())
    assert vented.whole.co2_max_ppm == pytest.approx(420, rel=0.01)
    assert unvented.whole.co2_max_ppm > 2000


def test_what_an_unvented_flame_adds_is_stoichiometry():
    shed = replace(SHED, flame=Flame(True, 0.92), hysteresis_k=0.5, mass_j_k=0.0, leak_cm2=600.0)
    found = through(shed, steady(0.0, dew=-15.0), gain_w=0.0)
    watts, air = found.heater_w[-240:].mean(), found.air_kg_s[-240:].mean()
    water = 0.12692831 / 3.6e6 * watts / air  # PR3, kg for each kWh to feel
    assert found.ratio[-240:].mean() - float(humidity_ratio(-15.0, 1.0)) == pytest.approx(water, rel=0.05)
    carbon = 2.9941423 * watts / (50.3e6 * 0.92) / air / (44.0095 / 28.966) * 1e6
    assert found.co2_ppm[-240:].mean() - 420 == pytest.approx(carbon, rel=0.05)


def test_propane_of_a_year_is_its_heat_by_the_heating_value(chicago):
    found = through(replace(SHED, flame=VENTED), chicago).whole
    assert found.propane_kg * 50.3e6 * 0.75 / 3.6e6 == pytest.approx(found.heater_kwh)


def test_two_hundred_pounds_last_about_forty_nine_days_at_a_kilowatt():
    # Common practice, no source: 200 lb, about 1 170 kWh, 49 days at 1 kW; 90.7 kg * 50.3 MJ/kg * 0.92 / 3.6.
    assert tank_kwh(200 * 0.45359237, 0.92) == pytest.approx(1170, rel=0.01)
    assert tank_days(200 * 0.45359237, 0.92, 24.0) == pytest.approx(49, rel=0.01)


@pytest.mark.parametrize(
    ("change", "more"),
    [
        ({"wall_r": 1.0}, True),
        ({"set_c": 10.0}, True),
        ({"leak_cm2": 800.0}, True),
        ({"absorbed": 0.9}, False),
        ({"set_c": 3.0}, False),
    ],
)
def test_what_makes_it_lose_more_makes_it_burn_more(chicago, change, more):
    usual, changed = through(SHED, chicago).whole.heater_kwh, through(replace(SHED, **change), chicago).whole.heater_kwh
    assert (changed > usual) is more


def test_gains_of_the_box_spare_the_heater_and_mass_flattens_the_day(chicago):
    assert through(SHED, chicago, gain_w=200.0).whole.heater_kwh < through(SHED, chicago, gain_w=0.0).whole.heater_kwh
    cold = replace(SHED, heater_w=0.0)
    light, heavy = (through(replace(cold, mass_j_k=mass), chicago).whole for mass in (1e5, 2e7))
    assert heavy.t_max_c - heavy.t_min_c < light.t_max_c - light.t_min_c


def test_a_weak_heater_cannot_hold_its_warmth_and_runs_all_the_time():
    found = through(replace(SHED, heater_w=300.0), steady(-20.0))
    assert found.whole.heater_share > 0.99
    assert found.t_c[-1] < 0


def test_air_never_holds_more_water_than_it_can(year):
    found = through(replace(SHED, flame=UNVENTED), year, water_kg_s=1e-4)
    assert (found.ratio <= humidity_ratio(found.t_c, 1.0, float(year.pressure_pa.mean())) * (1 + 1e-9)).all()


REFUSED = [
    (lambda: check_building(replace(SHED, inside_m=(5, 4, -2))), OutsideRange, "cannot be"),
    (lambda: check_building(replace(SHED, wall_r=0.0)), OutsideRange, "walls of 0"),
    (lambda: check_building(replace(SHED, shelter=6)), OutsideRange, "shelter is 6"),
    (lambda: check_building(replace(SHED, hysteresis_k=0.0)), Impossible, "gap between on and off"),
    (lambda: tank_kwh(-1.0, 0.9), OutsideRange, "a tank of"),
    (lambda: tank_days(90.0, 0.0, 24), OutsideRange, "a tank of"),
]


@pytest.mark.parametrize(("ask", "kind", "words"), REFUSED)
def test_what_cannot_be_is_refused_in_words(ask, kind, words):
    with pytest.raises(kind, match=words):
        ask()
