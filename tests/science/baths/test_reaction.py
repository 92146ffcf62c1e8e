import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.baths import density, from_mass_fraction, heat_rise_k, oxygen_l

# Perfect gas, by hand: R T / p = 8.314462618 * 293.15 / 101325 = 0.0240553 m3/mol at 20 °C; 1 bar is another convention.
WARMED = 293.15 / 273.15


# Bench 1.4, derived there from 2 H2O2 -> 2 H2O + O2; printed to 0.1 and 1 L.
@pytest.mark.parametrize(("strength", "litres", "abs_"), [(0.03, 10.6, 0.06), (0.06, 21, 0.5), (0.12, 42, 0.5), (0.35, 124, 0.5)])
def test_oxygen_of_a_kilogram(strength, litres, abs_):
    assert oxygen_l(strength, 1) == pytest.approx(litres, abs=abs_)


# The label's own definition (bench R21, R26): a litre of x volumes gives x L of oxygen at 0 °C and 1 atm. 22.4 for 22.414 L/mol is
# 0.06 %: hence 0.1 %.
def test_a_litre_gives_its_volumes_of_oxygen():
    litre_kg = density(0.0884, 20) / 1000
    assert oxygen_l(0.0884, litre_kg) == pytest.approx(from_mass_fraction(0.0884, "vol", 20) * WARMED, rel=1e-3)


# Bench 1.4, derived there from 98 kJ/mol and 4.1 kJ/(kg K); printed as whole kelvin.
@pytest.mark.parametrize(("strength", "kelvin"), [(0.03, 21), (0.06, 42), (0.12, 84)])
def test_warming_when_no_heat_gets_away(strength, kelvin):
    assert heat_rise_k(strength) == pytest.approx(kelvin, abs=0.5)


# Tables of standard enthalpies, from memory: H2O2(l) -187.8, H2O(l) -285.8 kJ/mol, so 98.0 is given off for a mole.
def test_heat_of_decay_is_the_difference_of_the_enthalpies_of_formation():
    from bonebench.science.baths import HEAT_OF_DECAY

    assert HEAT_OF_DECAY.value == pytest.approx(285.8 - 187.8, abs=0.2)


@given(st.floats(0, 0.7), st.floats(0, 100))
def test_twice_the_bath_gives_twice_the_oxygen(strength, mass):
    assert oxygen_l(strength, 2 * mass) == pytest.approx(2 * oxygen_l(strength, mass))


@pytest.mark.parametrize("wrong", [lambda: oxygen_l(0.8, 1), lambda: heat_rise_k(-0.1)])
def test_a_strength_outside_the_table_is_refused(wrong):
    with pytest.raises(OutsideRange, match="it must lie from 0 to 70 % by weight"):
        wrong()
