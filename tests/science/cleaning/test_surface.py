import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning import FLUX, days_in_box, eating_rate_kg_per_day, exposed_area_m2, spheroid_surface_m2


def summed_surface(along_m: float, across_m: float, rings: int = 20_000) -> float:
    """The surface by brute force: the area of thin cones round the axis."""
    a, b = along_m / 2, across_m / 2
    points = [(a * math.cos(math.pi * i / rings), b * math.sin(math.pi * i / rings)) for i in range(rings + 1)]
    return sum(math.pi * (y0 + y1) * math.hypot(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in itertools.pairwise(points))


# Brute force; cones inside a curved surface are too small by about 1 / rings^2.
@pytest.mark.parametrize(("along", "across"), [(0.255, 0.110), (0.021, 0.011), (0.11, 0.15), (0.1, 0.0999)])
def test_the_spheroid_agrees_with_summing_thin_cones(along, across):
    assert spheroid_surface_m2(along, across) == pytest.approx(summed_surface(along, across), rel=1e-6)


def test_a_ball_is_a_spheroid():
    # 4 pi r^2 with r = 0.05 m
    assert spheroid_surface_m2(0.1, 0.1) == pytest.approx(math.pi * 0.01)


@given(st.floats(0.01, 1), st.floats(-1e-5, 1e-5))
def test_nothing_jumps_near_the_ball(size, off):
    # To first order the surface is that of the ball of mean radius; the second order is off^2.
    assert spheroid_surface_m2(size * (1 + off), size) == pytest.approx(math.pi * size**2 * (1 + 2 * off / 3), rel=1e-8)


@given(st.floats(0.01, 1), st.floats(0.01, 1))
def test_a_longer_head_shows_more(along, across):
    assert spheroid_surface_m2(along * 1.1, across) > spheroid_surface_m2(along, across)


LENGTH = Figure(0.255, 0.22, 0.29, "m", Standing.MEMORY, "species table")
WIDTH = Figure(0.11, 0.095, 0.125, "m", Standing.MEMORY, "species table")


def test_the_surface_of_a_head_is_an_estimate_with_its_range():
    area = exposed_area_m2(LENGTH, WIDTH)
    # By hand for 255 x 110 mm: e = 0.9022, asin e = 1.1247, so 2 pi 0.055^2 (1 + 0.1275 * 1.1247 / (0.055 * 0.9022)) = 0.0739 m2.
    assert area.value == pytest.approx(0.0739, abs=1e-4)
    assert area.low == spheroid_surface_m2(0.22, 0.095)
    assert area.high == spheroid_surface_m2(0.29, 0.125)
    assert area.standing is Standing.ESTIMATE


@pytest.mark.parametrize("wrong", ["length", "width"])
def test_a_measure_of_nothing_is_refused(wrong):
    nothing = Figure(0, 0, 0.1, "m", Standing.MEMORY, "typed")
    with pytest.raises(OutsideRange) as refused:
        exposed_area_m2(*((nothing, WIDTH) if wrong == "length" else (LENGTH, nothing)))
    assert str(refused.value) == f"the skull's {wrong} is 0 mm; it must be above 0: check the species"


def test_the_eating_rate_is_an_estimate_from_larvae_on_the_surface():
    # Bench biology 5.2, derived there: 43 mg fresh a day for a late larva; 2 to 3 on a square centimetre (estimate).
    assert 2 * 43e-6 * 1e4 < FLUX.value < 3 * 43e-6 * 1e4
    rate = eating_rate_kg_per_day(Figure(0.1, 0.1, 0.1, "m2", Standing.ROOM, "measured"))
    assert (rate.value, rate.low, rate.high, rate.unit) == (pytest.approx(0.12), pytest.approx(0.04), pytest.approx(0.25), "kg/day")
    assert rate.standing is Standing.ESTIMATE


# Times read: a mouse takes 1 day with a big colony (bench R140); a deer about 5 days (bench R142, weak). Tissue: species table.
# The rate's range is a factor of six, so all that is asked is that the time read lies between its ends.
@pytest.mark.parametrize(("length", "width", "tissue", "days"), [(0.021, 0.011, 0.0005, 1), (0.255, 0.110, 0.56, 5)])
def test_times_people_report_lie_within_the_range(length, width, tissue, days):
    area = spheroid_surface_m2(length, width)
    assert days_in_box(tissue, area * FLUX.high) < days < days_in_box(tissue, area * FLUX.low)
