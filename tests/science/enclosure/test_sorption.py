"""Water in wood against the USDA Wood Handbook, and its slope against a difference."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.science.enclosure.sorption import wood_moisture, wood_moisture_and_slope

TABLE = (Path(__file__).parents[2] / "data" / "physics_wood_emc.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(line for line in TABLE.splitlines() if not line.startswith("#")))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['T_C']}-{row['RH']}")
def test_wood_agrees_with_the_handbook(row):
    found = 100 * wood_moisture(float(row["T_C"]), float(row["RH"]))
    if row["published_EMC_pct"]:
        # USDA Wood Handbook (2021), table 4-2, which prints one decimal; hence 0.06.
        assert found == pytest.approx(float(row["published_EMC_pct"]), abs=0.06)
    # Equation 4-5 worked out apart from this program, to three decimals.
    assert found == pytest.approx(float(row["equation_EMC_pct"]), abs=6e-4)


@given(st.floats(-1, 38), st.floats(0.01, 0.98))
def test_the_slope_is_that_of_the_curve(t, rh):
    step = 1e-6
    difference = (wood_moisture(t, rh + step) - wood_moisture(t, rh - step)) / (2 * step)
    # A central difference of 1e-6 leaves 1e-9 of rounding over 2e-6.
    assert wood_moisture_and_slope(t, rh)[1] == pytest.approx(difference, rel=1e-5)
