import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Standing
from bonebench.science.baths import BASIS, density, dilute, dilute_by_parts, from_mass_fraction, pearson_parts

# Bench 1.2, derived there at 20 °C by mass balance; last digits as printed, and the naive percent to 0.01.
#        litres, target, stock, stock L, stock kg or None, water L, naive stock L, naive gives %
MIXES = [
    (10, 0.03, 0.35, 0.7644, 0.8647, 9.240, 0.8571, 3.36),
    (10, 0.03, 0.30, 0.9081, None, 9.096, 1.000, 3.30),
    (10, 0.03, 0.50, 0.5064, None, 9.500, 0.600, 3.55),
    (5, 0.10, 0.35, 1.3060, None, 3.700, 1.429, 10.92),
]


@pytest.mark.parametrize(("litres", "target", "stock", "stock_l", "stock_kg", "water_l", "naive_l", "naive_percent"), MIXES)
def test_mixes_agree_with_the_reference_table(litres, target, stock, stock_l, stock_kg, water_l, naive_l, naive_percent):
    mix = dilute(stock, target, litres, 20)
    assert mix.stock_l == pytest.approx(stock_l, abs=6e-5)
    assert mix.water_l == pytest.approx(water_l, abs=6e-4)
    assert mix.naive_stock_l == pytest.approx(naive_l, abs=6e-4)
    assert 100 * mix.naive_strength == pytest.approx(naive_percent, abs=6e-3)
    assert stock_kg is None or mix.stock_kg == pytest.approx(stock_kg, abs=6e-5)


# A peroxide maker's example (bench R7): 10 lb of 35 % holds 3.5 lb of peroxide and 6.5 lb of water. pint does the pounds.
def test_ten_pounds_of_thirty_five_percent_hold_three_and_a_half_pounds():
    pound = pint.UnitRegistry().Quantity(1, "lb").to("kg").magnitude
    litres = 10 * pound * 1000 / density(0.35, 20)
    assert litres * from_mass_fraction(0.35, "w/v", 20) == pytest.approx(3.5 * pound)
    thinned = dilute(0.35, 0.035, 10 * litres * density(0.35, 20) / density(0.035, 20), 20)
    assert (thinned.stock_kg, thinned.water_kg) == (pytest.approx(10 * pound), pytest.approx(90 * pound))


def test_water_for_the_worked_mix_by_mass():
    # Bench 9 item 5: 10 L of 3 % from 35 % takes 9.2235 kg of water; printed to 0.0001.
    assert dilute(0.35, 0.03, 10, 20).water_kg == pytest.approx(9.2235, abs=6e-5)


# Published alligation exercises (bench R189, R190): 7 % and 2 % to 5 % is 3:2; 35 % and 100 % to 95 %, 260 mL, is 20 + 240 mL.
@pytest.mark.parametrize(("high", "low", "target", "total", "of_high"), [(7, 2, 5, 5, 3), (100, 35, 95, 260, 240)])
def test_crossed_differences_agree_with_published_exercises(high, low, target, total, of_high):
    assert total * pearson_parts(high, low, target)[0] == pytest.approx(of_high)


def test_crossed_differences_for_an_army_course_problem():
    # Bench R193, answer derived there: 300 mL of 70 % to 40 % with water takes 225 mL of water.
    of_stock, of_water = pearson_parts(70, 0, 40)
    assert 300 * of_water / of_stock == pytest.approx(225)


def test_crossed_differences_do_not_repeat_a_published_wrong_answer():
    # Bench R194 prints 138.46 mL of 95 % for 300 mL of 70 %; by hand 300 * 70 / 95 = 221.05.
    of_stock = 300 * pearson_parts(95, 0, 70)[0]
    assert of_stock == pytest.approx(221.05, abs=0.005)
    assert of_stock != pytest.approx(138.46, abs=50)


def test_thirty_five_to_three_percent_is_three_to_thirty_two_by_mass():
    # Bench 1.2: 3 : 32 by mass.
    of_stock, of_water = pearson_parts(0.35, 0, 0.03)
    assert of_water / of_stock == pytest.approx(32 / 3)


def test_half_and_half_by_volume_of_thirty_percent_gives_nearly_sixteen():
    # Common practice, no source: about 15.8 %; printed to 0.1. By hand 0.3 * 1110.9 / (1110.9 + 998.2) = 0.1580.
    mix = dilute_by_parts(0.30, 1, 1, volume_l=10, temperature_c=20)
    assert 100 * mix.strength_w == pytest.approx(15.8, abs=0.05)
    assert mix.naive_strength == pytest.approx(0.15)
    assert mix.stock_l == pytest.approx(mix.water_l)
    assert mix.naive_stock_l == pytest.approx(5)


def test_parts_without_water_are_the_stock():
    mix = dilute_by_parts(0.35, 3, 0, volume_l=2, temperature_c=20)
    assert (mix.strength_w, mix.water_l, mix.naive_strength) == (pytest.approx(0.35), pytest.approx(0), pytest.approx(0.35))


def test_the_stock_itself_is_a_mix_without_water():
    mix = dilute(0.03, 0.03, 5, 20)
    assert (mix.stock_l, mix.water_kg, mix.naive_strength) == (pytest.approx(5), 0, pytest.approx(0.03))


@pytest.mark.parametrize(("target", "boils"), [(0.03, False), (0.06, False), (0.12, True), (0.35, True)])
def test_whether_a_mix_could_boil(target, boils):
    # Bench 1.4: 3 % warms 21 K and cannot boil from room temperature; 12 % warms 84 K, which is 104 °C from 20 °C; 35 % boils.
    assert dilute(0.5, target, 1, 20).boils is boils


def test_a_warm_tub_boils_sooner():
    # By hand: 10 % warms 70 K, so it boils from 35 °C and not from 20 °C.
    assert [dilute(0.35, 0.10, 1, t).boils for t in (20, 35)] == [False, True]


strengths = st.floats(0.01, 0.7)
tubs = {"litres": st.floats(0.01, 1000), "temperature": st.floats(0, 50)}


@given(stock=strengths, share=st.floats(0.01, 1), **tubs)
def test_mass_and_peroxide_are_neither_made_nor_lost(stock, share, litres, temperature):
    mix = dilute(stock, stock * share, litres, temperature)
    assert mix.stock_kg + mix.water_kg == pytest.approx(litres * density(stock * share, temperature) / 1000)
    assert mix.stock_kg * stock == pytest.approx(mix.mass_kg * mix.strength_w)


@given(stock=strengths, share=st.floats(0.01, 1), **tubs)
def test_plain_volumes_never_underdose_and_the_parts_shrink(stock, share, litres, temperature):
    mix = dilute(stock, stock * share, litres, temperature)
    assert mix.naive_strength >= mix.strength_w * (1 - 1e-9)
    assert -1e-9 * litres <= mix.contraction_l <= 0.01 * litres


@given(stock=strengths, water=st.floats(0, 50), **tubs)
def test_parts_and_target_lead_to_the_same_mix(stock, water, litres, temperature):
    by_parts = dilute_by_parts(stock, 1, water, volume_l=litres, temperature_c=temperature)
    by_target = dilute(stock, by_parts.strength_w, litres, temperature)
    assert by_parts.stock_l == pytest.approx(by_target.stock_l)
    assert by_parts.stock_l * water == pytest.approx(by_parts.water_l, abs=1e-9 * litres)
    assert by_parts.naive_strength <= by_parts.strength_w * (1 + 1e-9)


@given(**tubs)
def test_twice_the_tub_takes_twice_of_everything(litres, temperature):
    one, two = (dilute(0.35, 0.03, v, temperature) for v in (litres / 2, litres))
    assert (two.stock_kg, two.water_l, two.oxygen_l) == pytest.approx((2 * one.stock_kg, 2 * one.water_l, 2 * one.oxygen_l))


def test_upward_is_refused_in_plain_words():
    with pytest.raises(Impossible) as refused:
        dilute(0.03, 0.06, 10, 20)
    assert str(refused.value) == "target strength 6 % is above the stock's 3 %: a bath cannot be diluted upward"


REFUSED = [
    (lambda: dilute(0.35, 0.0, 10, 20), "target strength is 0 %: that is plain water; give the strength the bath should have"),
    (lambda: dilute(0.0, 0.03, 10, 20), "stock strength is 0 %: that is plain water; read the bottle's label again"),
    (
        lambda: dilute(0.8, 0.03, 10, 20),
        "stock strength is 80 %; it must lie from 0 to 70 % by weight: read the bottle's label again",
    ),
    (
        lambda: dilute(0.35, -0.03, 10, 20),
        "target strength is -3 %; it must lie from 0 to 70 % by weight: read the bottle's label again",
    ),
    (lambda: dilute(0.35, 0.03, 0, 20), "volume is 0 mL; one mix is above 0 and at most 1000 L: check the number and its unit"),
    (
        lambda: dilute(0.35, 0.03, -2, 20),
        "volume is -2 L; one mix is above 0 and at most 1000 L: check the number and its unit",
    ),
    (
        lambda: dilute_by_parts(0.35, 1, 1, volume_l=5000, temperature_c=20),
        "volume is 5000 L; one mix is above 0 and at most 1000 L: check the number and its unit",
    ),
    (
        lambda: dilute_by_parts(0.35, 0, 1, volume_l=5, temperature_c=20),
        "parts are 0 of stock to 1 of water; it takes some stock and no negative water: write them like 1:1",
    ),
    (
        lambda: dilute_by_parts(0.35, 1, -1, volume_l=5, temperature_c=20),
        "parts are 1 of stock to -1 of water; it takes some stock and no negative water: write them like 1:1",
    ),
    (
        lambda: dilute_by_parts(0, 1, 1, volume_l=5, temperature_c=20),
        "stock strength is 0 %: that is plain water; read the bottle's label again",
    ),
    (lambda: dilute(0.35, 0.03, 10, 55), "temperature is 55 °C; the density table holds from 0 to 50 °C: mix at room temperature"),
    (
        lambda: pearson_parts(0.35, 0.1, 0.05),
        "target strength 5 % does not lie between 10 % and 35 %: no mix of the two can give it",
    ),
    (
        lambda: pearson_parts(0.1, 0.1, 0.1),
        "target strength 10 % does not lie between 10 % and 10 %: no mix of the two can give it",
    ),
]


@pytest.mark.parametrize(("mix", "words"), REFUSED)
def test_impossible_mixes_are_refused_in_plain_words(mix, words):
    with pytest.raises((Impossible, OutsideRange)) as refused:
        mix()
    assert str(refused.value) == words


@pytest.mark.parametrize("nonsense", [float("nan"), float("inf")])
def test_numbers_that_are_none_are_refused(nonsense):
    with pytest.raises(OutsideRange):
        dilute(0.35, 0.03, nonsense, 20)
    with pytest.raises(OutsideRange):
        dilute_by_parts(0.35, 1, nonsense, volume_l=5, temperature_c=20)


def test_a_mix_shows_what_it_rests_on():
    # Two published correlations lie 2.0 kg/m3 apart at most up to 50 % (bench 1.1).
    line = next(line for line in BASIS if line.key == "peroxide.density_error")
    assert (line.low, line.high, line.standing) == (-2, 2, Standing.DERIVED)
    assert all(line.source for line in BASIS)
