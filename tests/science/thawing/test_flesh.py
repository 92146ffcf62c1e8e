import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.science.thawing import Flesh

# Beef with 75 % water in the table of the same appendix: 3.22 and 1.67 kJ/kgK, 255 kJ/kg, and ASHRAE's lean sirloin (71.7 % water):
# 3.52 and 2.09, 239.6. The rule from water alone "is a considerable simplification" and the two tables differ by 9 % and 25 %.
BEEF = Flesh(0.75, 1.0, -1.7)


def test_heat_from_water_alone_is_near_what_tables_of_meat_print():
    assert BEEF.thawed_j_kg_k == pytest.approx((3220 + 3520) / 2, rel=0.05)
    assert BEEF.frozen_j_kg_k == pytest.approx((1670 + 2090) / 2, rel=0.12)
    assert BEEF.latent_j_kg == pytest.approx(255e3, rel=0.03)
    assert Flesh(0.717, 1.0, -1.7).latent_j_kg == pytest.approx(239.6e3, rel=0.005)


def test_conductivity_is_near_what_components_give():
    # Choi and Okos at 20 degC: water 0.604, protein 0.202 W/mK by volume; 75 % water and 22 % protein (1320 kg/m3) gives 0.52.
    # At -10 degC with ice 2.29: about 1.6 for 80 % of the water frozen. The rule from water alone carries no air or fat: 15 %.
    assert BEEF.thawed_w_m_k == pytest.approx(0.52, rel=0.15)
    assert BEEF.frozen_w_m_k == pytest.approx(1.6, rel=0.2)
    assert BEEF.w_m_k(5) == BEEF.thawed_w_m_k
    assert BEEF.w_m_k(-40) == pytest.approx(BEEF.frozen_w_m_k)


def test_lean_beef_takes_up_about_what_the_enthalpy_table_says():
    # Riedel's lean beef, 74.5 % water: 42 kJ/kg at -20, 304 at 0 degC: 262 between (from memory). The two conventions for
    # freezable water give 233 and 283, so 10 % for the middle one.
    beef = Flesh(0.745, 0.9, -1.7)
    heat = beef.latent_j_kg + beef.frozen_j_kg_k * 18.3 + beef.thawed_j_kg_k * 1.7
    assert heat == pytest.approx(262e3, rel=0.10)


@given(st.floats(-60, 5), st.floats(0, 30))
def test_colder_flesh_holds_no_less_ice(temperature, colder):
    assert BEEF.ice_share(temperature - colder) >= BEEF.ice_share(temperature) >= 0
    assert BEEF.ice_share(-20) == pytest.approx(1)
