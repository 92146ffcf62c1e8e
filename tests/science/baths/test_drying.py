"""Drying: the class days, diffusion through a wall, the rule of sixty days, and the published growth in damp."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.figures import Standing
from bonebench.science.baths.drying import (
    HANDLE_DAYS,
    Q10,
    dry_for,
    measurable_from_day,
    reads_long_by_m,
    time_constant_days,
    time_constant_of_wall_days,
    wall_m,
    water_left,
)
from bonebench.science.baths.evaporation import saturation_pa


# bench section 3, common practice: thin skulls 1-3 days, deer 3-7, bear 7-21 at 20 °C and 45-55 %.
@pytest.mark.parametrize(("size", "low", "high"), [("small", 1, 3), ("middle", 3, 7), ("big", 7, 21)])
def test_in_an_ordinary_room_a_skull_is_dry_to_glue_in_the_days_of_practice(size, low, high):
    found = dry_for("glue", size, 20.0, 0.5)
    assert found.value == pytest.approx(HANDLE_DAYS[size].value)
    assert (found.low, found.high) == pytest.approx((low, high))


def test_a_skull_is_measured_after_sixty_days_at_the_earliest():
    assert dry_for("measure", "small", 20.0, 0.5).value == 60  # R119, R120
    assert dry_for("measure", "big", 10.0, 0.85).value > 60


def test_a_level_that_is_a_guess_is_not_shown_as_practice():
    assert dry_for("glue", "small", 20.0, 0.5).standing is Standing.PRACTICE
    assert dry_for("seal", "small", 20.0, 0.5).standing is Standing.ESTIMATE
    assert dry_for("seal", "small", 20.0, 0.5).value > dry_for("glue", "small", 20.0, 0.5).value
    assert dry_for("whiten", "small", 20.0, 0.5).value < dry_for("glue", "small", 20.0, 0.5).value


@given(st.floats(0, 50), st.floats(0, 0.9), st.floats(1, 10), st.floats(0.01, 0.04))
def test_colder_or_damper_is_never_quicker(temperature, humidity, colder, damper):
    here = time_constant_days("middle", temperature, humidity).value
    assert time_constant_days("middle", max(temperature - colder, 0), humidity).value >= here
    assert time_constant_days("middle", temperature, humidity + damper).value > here


def test_water_left_is_first_order():
    assert water_left(0, 3) == 1
    assert water_left(6, 3) == pytest.approx(water_left(3, 3) ** 2)


@pytest.mark.parametrize("size", ["tiny", "small", "middle", "big"])
def test_the_time_goes_with_the_square_of_the_wall(size):
    constant = time_constant_days(size, 20.0, 0.5).value
    assert time_constant_of_wall_days(wall_m(size), 20.0, 0.5).value == pytest.approx(constant)
    assert time_constant_of_wall_days(wall_m(size) * 2, 20.0, 0.5).value == pytest.approx(4 * constant)


def test_a_wall_dries_no_faster_than_water_moves_through_bone():
    """Slab drying from both sides: tau = L^2 / (pi^2 D); D = 7.8e-11 m2/s in rabbit cortical bone at 40 °C (Wehrli and
    Fernandez-Seara 2005, Ann. Biomed. Eng. 33:79, abstract read). A whole skull, spongy and closed, takes longer, not 100 times."""
    tau_days = 0.003**2 / (math.pi**2 * 7.8e-11) / 86400
    ours = time_constant_of_wall_days(0.003, 40.0, 0.5)
    assert tau_days < ours.low
    assert ours.high < 100 * tau_days


def test_a_macaque_is_back_in_ordinary_air_as_soon_as_was_measured():
    # R115 (abstract read): skulls of about 158 mm returned to their size within 1-2 days; a small skull here is dry by then.
    found = dry_for("glue", "small", 20.0, 0.5)
    assert found.low <= 2.0
    assert water_left(2.0, time_constant_days("small", 20.0, 0.5).value) < 0.1


def test_warmth_hastens_drying_no_more_than_it_raises_vapour_pressure():
    # ASHRAE saturation pressure: 4246 Pa at 30 °C over 2339 Pa at 20 °C = 1.82; diffusion in a solid alone is about 1.2 (memory).
    ratio = saturation_pa(30.0) / saturation_pa(20.0)
    assert ratio == pytest.approx(1.82, abs=0.01)
    assert 1.0 < Q10.low <= 1.2
    assert Q10.value < ratio <= Q10.high


def test_sixty_days_begin_again_after_boiling_or_the_freezer():
    # R119, R120.
    assert measurable_from_day(10) == 70
    assert measurable_from_day(10, [30, 12]) == 90
    assert measurable_from_day(10, [3]) == 70


@given(st.lists(st.floats(0, 300), max_size=5), st.floats(0, 300), st.floats(0, 300))
def test_another_restart_never_brings_the_day_forward(restarts, cleaned, another):
    assert measurable_from_day(cleaned, [*restarts, another]) >= measurable_from_day(cleaned, restarts)


def test_the_published_growth_in_damp_is_met():
    # R115 and bench 9.16: 158 mm grew 0.57 % = 0.90 mm, from room air to saturated.
    assert reads_long_by_m(0.158, 0.95).value == pytest.approx(0.00090, abs=0.00001)
    assert reads_long_by_m(0.158, 0.5).value == 0
    assert reads_long_by_m(0.158, 0.3).value < 0


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: time_constant_days("big", -5, 0.5), OutsideRange, "the air is -5 °C"),
        (lambda: time_constant_days("big", 20, 0.99), OutsideRange, "bone does not dry above 95 %"),
        (
            lambda: time_constant_of_wall_days(0.2, 20, 0.5),
            OutsideRange,
            "the wall is 200 mm; it must be above 0 and at most 50 mm",
        ),
        (lambda: reads_long_by_m(0, 0.5), OutsideRange, "a length above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()
