"""Moist air: published ASHRAE values, psychrolib and CoolProp as independent libraries, and the compiled form held equal."""

import csv
import re
from pathlib import Path

import numpy as np
import psychrolib
import pytest
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.air import moist, scalar

psychrolib.SetUnitSystem(psychrolib.SI)
TABLE = (Path(__file__).parents[2] / "data" / "physics_psychro.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(line for line in TABLE.splitlines() if not line.startswith("#")))


def second(row):
    """The number in the second input: 'z=500 m', 'RH=0.7', 'W=0.02'."""
    return float(re.search(r"-?[0-9.]+", row["second_input"])[0]) if row["second_input"] else 0.0


def worked(row):
    t = float(row["T_C"]) if row["T_C"] else 0.0
    p = float(row["p_Pa"]) if row["p_Pa"] else moist.SEA_LEVEL_PA
    return {
        "sat_vapour_pressure": lambda: moist.saturation_pressure(t),
        "sat_humidity_ratio": lambda: moist.humidity_ratio(t, 1.0, p),
        "sat_air_enthalpy": lambda: moist.enthalpy(t, moist.humidity_ratio(t, 1.0, p)),
        "dry_air_volume": lambda: moist.specific_volume(t, 0.0, p),
        "std_atm_pressure": lambda: moist.pressure_at(second(row)),
        "moist_air_volume": lambda: moist.specific_volume(t, second(row), p),
        "humratio_realgas": lambda: moist.humidity_ratio(t, second(row), p),
    }.get(row["quantity"])


# Wet-bulb rows ask for what this program has no use for; one row lies above the range (10 km).
KNOWN = [row for row in ROWS if worked(row) is not None and "10000" not in row["second_input"]]


def test_most_published_rows_are_worked_out_here():
    assert len(KNOWN) >= 24, sorted({row["quantity"] for row in ROWS})


@pytest.mark.parametrize("row", KNOWN, ids=lambda row: f"{row['quantity']} {row['T_C']} {row['second_input']}")
def test_published_values_come_out(row):
    expected, tolerance = float(row["expected"]), row["rel_tol"]
    if tolerance.startswith("abs"):
        assert float(worked(row)()) == pytest.approx(expected, abs=float(tolerance.removeprefix("abs")))
    else:
        assert float(worked(row)()) == pytest.approx(expected, rel=float(tolerance))


AIR = [(t, rh) for t in (-30.0, -10.0, -0.5, 0.5, 7.0, 20.0, 26.5, 40.0) for rh in (0.05, 0.48, 0.9, 1.0)]


@pytest.mark.parametrize(("t", "rh"), AIR)
def test_psychrolib_agrees(t, rh):
    # The same ASHRAE chapter typed by others: only constants' last digits differ.
    ratio = float(moist.humidity_ratio(t, rh))
    assert ratio == pytest.approx(psychrolib.GetHumRatioFromRelHum(t, rh, 101325), rel=1e-3)
    assert float(moist.relative_humidity(t, ratio)) == pytest.approx(rh, rel=1e-12)
    # psychrolib searches its dew point to 0.001 K.
    assert float(moist.dew_point(ratio)) == pytest.approx(psychrolib.GetTDewPointFromRelHum(t, rh), abs=0.02)
    assert float(moist.enthalpy(t, ratio)) == pytest.approx(psychrolib.GetMoistAirEnthalpy(t, ratio), rel=1e-9)
    assert float(moist.specific_volume(t, ratio)) == pytest.approx(psychrolib.GetMoistAirVolume(t, ratio, 101325), rel=1e-5)


@pytest.mark.parametrize(("t", "rh"), [(t, rh) for t, rh in AIR if t >= 0])
def test_real_gas_humid_air_agrees_within_what_the_handbook_says(t, rh):
    # Perfect-gas relations lie within 0.7 % of real moist air from -50 to 50 °C (ASHRAE 2017, chapter 1); CoolProp is real gas.
    assert float(moist.humidity_ratio(t, rh)) == pytest.approx(HAPropsSI("W", "T", t + 273.15, "P", 101325, "R", rh), rel=0.007)


@given(st.floats(-60, 100), st.floats(0, 0.05), st.floats(80_000, 105_000))
def test_the_compiled_form_is_the_same(t, ratio, pressure):
    assert scalar.saturation_pa(t) == pytest.approx(float(moist.saturation_pressure(t)), rel=1e-12)
    assert scalar.relative_humidity(t, ratio, pressure) == pytest.approx(
        float(moist.relative_humidity(t, ratio, pressure)), rel=1e-12
    )
    if t < 60:
        assert scalar.saturated_ratio(t, pressure) == pytest.approx(float(moist.humidity_ratio(t, 1.0, pressure)), rel=1e-12)


def test_ice_and_water_meet_at_freezing():
    # Both forms are told for 0 °C; the handbook prints 611.2 for both, and they differ in the fifth digit.
    assert float(moist.saturation_pressure(-1e-9)) == pytest.approx(float(moist.saturation_pressure(0.0)), rel=2e-4)


@given(st.floats(-40, 60), st.floats(0.02, 0.98))
def test_dew_point_and_humidity_go_round(t, rh):
    ratio = moist.humidity_ratio(t, rh)
    assert float(moist.dew_point(ratio)) <= t + 1e-6
    assert float(moist.humidity_ratio(moist.dew_point(ratio), 1.0)) == pytest.approx(float(ratio), rel=1e-6)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda: moist.saturation_pressure(120), "temperature is 120 °C; moist air is told from -100 °C to 100 °C"),
        (lambda: moist.humidity_ratio(20, 1.2), "humidity is 120 %"),
        (lambda: moist.dew_point(1e-9), "has its dew point outside -100 °C to 100 °C"),
        (lambda: moist.pressure_at(9000), "the place lies 9000 m above the sea"),
    ],
)
def test_what_it_does_not_cover_is_refused_in_words(act, words):
    with pytest.raises(OutsideRange, match=words):
        act()


def test_arrays_come_back_in_their_shape():
    t = np.linspace(-20, 40, 12).reshape(3, 4)
    assert moist.saturation_pressure(t).shape == (3, 4)
    assert moist.dew_point(moist.humidity_ratio(t, 0.5)).shape == (3, 4)
