import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.baths import STRONGEST_W, density, water_density

TABLE = Path(__file__).parents[2] / "data" / "h2o2_density.csv"
with TABLE.open(encoding="utf-8", newline="") as file:
    ROWS = [(float(r["wt_pct"]) / 100, float(r["temp_C"]), float(r["density_kg_m3"]), r["source"]) for r in csv.DictReader(file)]

OWN_CUBIC = [row for row in ROWS if row[3].startswith("Easton")]  # worked out from this very cubic: a regression, no reference
WATER = [row for row in ROWS if row[3].startswith("water density table")]
TOO_STRONG = [row for row in ROWS if row[0] > STRONGEST_W]
OTHERS = [row for row in ROWS if row not in OWN_CUBIC and row not in WATER and row not in TOO_STRONG]


def test_every_row_of_the_table_is_used_once():
    assert len(OWN_CUBIC) + len(WATER) + len(OTHERS) + len(TOO_STRONG) == len(ROWS) > 190


# The source stands in each row: Laliberté 2009, a handbook at 18 °C (from memory), spot values from pages. Two published
# correlations of partly the same measurements lie up to 2.0 apart, and pages round to 1-10 kg/m3: hence 2.
@pytest.mark.parametrize(("strength", "temperature", "kg_m3", "source"), OTHERS)
def test_density_agrees_with_every_other_source_within_two(strength, temperature, kg_m3, source):
    assert density(strength, temperature) == pytest.approx(kg_m3, abs=2.0), source


# The handbook's lineage is older than the measurements behind the cubic, so it is the independent one. It prints 0.1; the
# cubic is fitted at 0, 10, 25 and 50 °C with 1 part in 5000, which is 0.2: hence 0.3, and 1.0 above 50 %, where it was thin.
@pytest.mark.parametrize(("strength", "temperature", "kg_m3", "source"), [r for r in OTHERS if r[3].startswith("International")])
def test_density_agrees_more_closely_with_the_independent_handbook(strength, temperature, kg_m3, source):
    assert density(strength, temperature) == pytest.approx(kg_m3, abs=0.3 if strength <= 0.5 else 1.0), source


# Water table (bench R75), seven figures; the cubic's water is Kell's formula, good to 0.005 here.
@pytest.mark.parametrize(("strength", "temperature", "kg_m3", "source"), WATER)
def test_pure_water_agrees_with_the_water_table(strength, temperature, kg_m3, source):
    assert density(strength, temperature) == pytest.approx(kg_m3, abs=0.01), source


# Handbook of water densities, from memory: 999.84 at 0, 999.97 at 4, 988.04 at 50 °C; they are printed to 0.01.
@pytest.mark.parametrize(("temperature", "kg_m3"), [(0, 999.84), (4, 999.97), (50, 988.04)])
def test_water_agrees_with_remembered_handbook_values(temperature, kg_m3):
    assert water_density(temperature) == pytest.approx(kg_m3, abs=0.02)


# Regression rows: the same cubic, printed to 0.01.
@pytest.mark.parametrize(("strength", "temperature", "kg_m3", "source"), OWN_CUBIC)
def test_the_cubic_is_the_one_the_table_was_made_with(strength, temperature, kg_m3, source):
    assert density(strength, temperature) == pytest.approx(kg_m3, abs=0.0051), source


@pytest.mark.parametrize("row", TOO_STRONG)
def test_rows_above_seventy_percent_are_refused(row):
    with pytest.raises(OutsideRange, match=r"strength is 100 %; it must lie from 0 to 70 % by weight"):
        density(row[0], row[1])


@pytest.mark.parametrize("strength", [-0.01, 0.71, float("nan")])
def test_a_strength_outside_the_table_is_refused(strength):
    with pytest.raises(OutsideRange, match="read the bottle's label again"):
        density(strength, 20)


@pytest.mark.parametrize(("temperature", "shown"), [(-1, "-1 °C"), (60, "60 °C"), (float("nan"), "nan °C")])
def test_a_temperature_outside_the_table_is_refused(temperature, shown):
    with pytest.raises(OutsideRange) as refused:
        density(0.03, temperature)
    assert str(refused.value) == (f"temperature is {shown}; the density table holds from 0 to 50 °C: mix at room temperature")


@given(st.floats(0, 0.69), st.floats(0, 50))
def test_stronger_is_denser(strength, temperature):
    assert density(strength + 0.01, temperature) > density(strength, temperature)


@given(st.floats(0, 0.7), st.floats(4, 49))
def test_warmer_is_lighter(strength, temperature):
    # From 4 °C on, where water itself is densest.
    assert density(strength, temperature + 1) < density(strength, temperature)
