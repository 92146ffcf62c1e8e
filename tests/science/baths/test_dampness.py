"""Bone and the air's humidity: water held, water left, and what harms drying bone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.baths.dampness import HARMS, WET, harms_at, held_water, water_kg_per_kg


def test_bone_in_room_air_holds_no_more_than_was_measured_in_damp_air():
    # Phys. Med. Biol. 1967, 12:367 (abstract read): human cortical bone, hydration 0 to 65 mg/g, 37-48 mg/g of it bound.
    assert held_water(0.5).value < 0.065
    assert held_water(0.5).low < 0.037 < 0.048 < held_water(0.5).high


@given(st.floats(0.01, 0.9), st.floats(0.005, 0.04))
def test_damper_air_leaves_more_water(humidity, more):
    assert held_water(humidity + more).value > held_water(humidity).value


@given(st.floats(0, 60), st.floats(0.1, 10), st.floats(0.3, 15), st.floats(0, 0.9))
def test_longer_never_leaves_more_water_and_it_ends_at_the_airs_own(days, more, tau, humidity):
    here = water_kg_per_kg(days, tau, humidity)
    assert water_kg_per_kg(days + more, tau, humidity) <= here
    assert held_water(humidity).value - 1e-12 <= here <= WET.value
    assert water_kg_per_kg(100 * tau, tau, humidity) == pytest.approx(held_water(humidity).value, abs=1e-9)


def test_bone_drier_than_the_air_takes_water_up():
    assert water_kg_per_kg(3, 2, 0.8, start_kg_per_kg=0.02) > 0.02


@pytest.mark.parametrize(
    ("temperature", "humidity", "keys"),
    [
        (20, 0.5, {"teeth", "swings"}),
        # R116: 26 °C and 24 % cracked 64 % of femora.
        (26, 0.24, {"teeth", "swings", "dry"}),
        (40, 0.5, {"teeth", "swings", "warm"}),
        (15, 0.85, {"teeth", "swings", "damp"}),
    ],
)
def test_what_harms_is_picked_by_the_air(temperature, humidity, keys):
    assert {harm.key for harm in harms_at(temperature, humidity)} == keys


def test_every_harm_has_its_reason_and_source():
    assert all(harm.why and harm.source and harm.standing for harm in HARMS)
    assert len({harm.key for harm in HARMS}) == len(HARMS)


def test_air_that_nothing_dries_in_is_refused():
    with pytest.raises(OutsideRange, match="bone does not dry above 95 %"):
        held_water(0.97)
