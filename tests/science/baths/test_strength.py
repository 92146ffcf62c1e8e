import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.baths import density, from_mass_fraction, to_mass_fraction

NOTATIONS = st.sampled_from(["w/w", "w/v", "vol", "mol/L"])


# Volume strength pages (bench R22, R23, section 1.3): 3.035 g/100 mL and 9.11 % w/v. They use 34.0 g/mol where the molar mass is
# 34.0147, a difference of 0.04 %, and print three or four figures: hence 0.1 %.
@pytest.mark.parametrize(("volumes", "w_v"), [(10, 0.03035), (30, 0.0911), (100, 0.3035)])
def test_volumes_hold_what_the_labels_say_by_volume_of_solution(volumes, w_v):
    w = to_mass_fraction(volumes, "vol", 20)
    assert from_mass_fraction(w, "w/v", 20) == pytest.approx(w_v, rel=1e-3)


# Volume strength page (bench R21, R23): 10 volumes is 0.89 mol/L (two figures), 30 volumes is 2.678 mol/L (four figures, cut off).
@pytest.mark.parametrize(("volumes", "mol_per_l", "abs_"), [(10, 0.89, 0.005), (30, 2.678, 0.001)])
def test_volumes_in_mol_per_litre(volumes, mol_per_l, abs_):
    w = to_mass_fraction(volumes, "vol", 20)
    assert from_mass_fraction(w, "mol/L", 20) == pytest.approx(mol_per_l, abs=abs_)


# Normality page (bench R21): 10 volumes is 1.79 N. Peroxide gives two electrons, so N = 2 mol/L; three figures.
def test_ten_volumes_is_one_point_seven_nine_normal():
    assert 2 * from_mass_fraction(to_mass_fraction(10, "vol", 20), "mol/L", 20) == pytest.approx(1.79, abs=0.005)


# Bench 1.3, derived there with 34.0 g/mol; the molar mass here is 0.04 % higher, which is 0.02 at 35 %: hence 0.03 points.
@pytest.mark.parametrize(("volumes", "percent"), [(10, 3.01), (20, 5.96), (30, 8.84), (40, 11.67), (100, 27.56), (130, 34.9)])
def test_volumes_by_weight(volumes, percent):
    assert 100 * to_mass_fraction(volumes, "vol", 20) == pytest.approx(percent, abs=0.03)


# Bench 1.3, derived there; printed as whole volumes.
@pytest.mark.parametrize(("strength", "volumes"), [(0.35, 130), (0.30, 110), (0.50, 197)])
def test_bottle_strengths_in_volumes(strength, volumes):
    assert from_mass_fraction(strength, "vol", 20) == pytest.approx(volumes, abs=0.5)


# Bench 1.2, derived there at 20 °C; printed to 0.1 g/L, 12 % to 1 g/L.
@pytest.mark.parametrize(
    ("strength", "g_per_l", "abs_"), [(0.03, 30.3, 0.06), (0.12, 125, 0.5), (0.35, 395.9, 0.06), (0.5, 597.6, 0.06)]
)
def test_grams_in_a_litre(strength, g_per_l, abs_):
    assert 1000 * from_mass_fraction(strength, "w/v", 20) == pytest.approx(g_per_l, abs=abs_)


def test_mol_per_litre_agrees_with_an_independent_unit_library():
    # pint does the units; hydrogen peroxide is 2 * 1.008 + 2 * 15.999 = 34.014 g/mol (IUPAC abridged weights), 2e-5 below 34.0147.
    unit = pint.UnitRegistry()
    litre = density(0.35, 20) * unit.kg / unit.m**3 * 0.35
    expected = (litre / (34.014 * unit.g / unit.mol)).to("mol/L").magnitude
    assert from_mass_fraction(0.35, "mol/L", 20) == pytest.approx(expected, rel=1e-4)


@given(st.floats(0, 0.7), NOTATIONS, st.floats(0, 50))
def test_a_strength_comes_back_from_every_notation(strength, notation, temperature):
    # 60 halvings of 0.7 leave 6e-19; what remains is rounding.
    there = from_mass_fraction(strength, notation, temperature)
    assert to_mass_fraction(there, notation, temperature) == pytest.approx(strength, abs=1e-12)


@given(st.floats(0, 0.69), NOTATIONS, st.floats(0, 50))
def test_stronger_by_weight_is_stronger_in_every_notation(strength, notation, temperature):
    assert from_mass_fraction(strength + 0.01, notation, temperature) > from_mass_fraction(strength, notation, temperature)


@pytest.mark.parametrize("notation", ["w/w", "w/v", "vol", "mol/L"])
def test_nothing_is_nothing_in_every_notation(notation):
    assert to_mass_fraction(0, notation, 20) == 0


# 0.7 * 1288.6 kg/m3 (bench 1.1) = 90.2 % w/v.
def test_too_strong_by_volume_says_where_the_table_ends():
    with pytest.raises(OutsideRange) as refused:
        to_mass_fraction(0.95, "w/v", 20)
    assert str(refused.value) == (
        "strength is 95 % w/v; the table holds from 0 to 90.2 % w/v, which is 70 % by weight: read the bottle's label again"
    )


@pytest.mark.parametrize(("amount", "notation"), [(-1, "vol"), (400, "vol"), (40, "mol/L"), (float("nan"), "w/v")])
def test_an_amount_that_cannot_be_is_refused(amount, notation):
    with pytest.raises(OutsideRange, match="the table holds from 0 to"):
        to_mass_fraction(amount, notation, 20)


def test_a_mass_fraction_that_cannot_be_is_refused():
    with pytest.raises(OutsideRange, match="strength is 80 %; it must lie from 0 to 70 % by weight"):
        to_mass_fraction(0.8, "w/w", 20)
