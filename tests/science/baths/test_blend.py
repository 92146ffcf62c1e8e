"""Two solutions to a third, topping up and thinning, against published examples and the balance of peroxide and water."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import (
    blend,
    density,
    dilute,
    from_mass_fraction,
    pearson_parts,
    pour_together,
    thin,
    to_mass_fraction,
    top_up,
)

from .examples import agrees, examples


@pytest.mark.parametrize("example", examples("blend"), ids=str)
def test_the_worked_blends_come_out(example):
    made = blend(**example.inputs, temperature_c=20.0)
    assert agrees(example, getattr(made, example.output))


# Alcohol and the like count by volume there, so shares of plain numbers, not of masses.
@pytest.mark.parametrize("example", examples("alligation"), ids=str)
def test_published_alligations_come_out_and_a_published_wrong_one_does_not(example):
    asked = example.inputs
    strong, weak = pearson_parts(asked["high"], asked["low"], asked["target"])
    assert agrees(example, asked["total"] * {"high_part": strong, "low_part": weak}[example.output])


@pytest.mark.parametrize("example", examples("together"), ids=str)
def test_half_and_half_by_volume_is_stronger_than_half(example):
    asked = dict(example.inputs)
    if "a_w_v" in asked:
        asked["a_w"] = to_mass_fraction(asked.pop("a_w_v"), "w/v", 20.0)
    made = pour_together(**asked, temperature_c=20.0)
    assert agrees(example, getattr(made, example.output))
    assert made.naive_strength_w == pytest.approx(asked["a_w"] / 2)
    assert made.strength_w > made.naive_strength_w


@pytest.mark.parametrize("example", examples("density"), ids=str)
def test_densities_agree_with_what_is_published(example):
    assert agrees(example, density(**example.inputs))


@pytest.mark.parametrize("example", examples("notation"), ids=str)
def test_one_strength_in_its_notations(example):
    strength = to_mass_fraction(example.inputs["amount"], example.inputs["notation"], 20.0)
    assert agrees(example, from_mass_fraction(strength, example.output, 20.0))


@given(st.floats(0, 0.70), st.sampled_from(["w/w", "w/v", "vol", "mol/L"]), st.floats(0, 50))
def test_every_notation_leads_back(strength, notation, warm):
    # Halving sixty times leaves 0.7 / 2^60, so only rounding is left.
    assert to_mass_fraction(from_mass_fraction(strength, notation, warm), notation, warm) == pytest.approx(strength, abs=1e-12)


@given(st.floats(0, 0.69), st.floats(1e-4, 0.01), st.floats(0, 50))
def test_stronger_is_stronger_in_every_notation_and_heavier(strength, more, warm):
    for notation in ("w/w", "w/v", "vol", "mol/L"):
        assert from_mass_fraction(strength + more, notation, warm) > from_mass_fraction(strength, notation, warm)
    assert density(strength + more, warm) > density(strength, warm)


def test_ten_pounds_of_35_percent_hold_3_and_a_half_pounds_of_peroxide():
    # A maker's own example, as read: 10 lb of 35 % = 3.5 lb peroxide + 6.5 lb water. Made from 50 % and water it holds the same.
    pound = 0.45359237
    ten = blend(0.50, 0.0, 0.35, total_l=10 * pound / density(0.35, 20) * 1000, temperature_c=20)
    assert ten.a_kg * 0.50 / pound == pytest.approx(3.5, abs=1e-9)
    assert (ten.b_kg + ten.a_kg * 0.50) / pound == pytest.approx(6.5, abs=1e-9)


def test_a_blend_with_water_is_the_dilution():
    one, other = blend(0.35, 0.0, 0.03, total_l=10, temperature_c=20), dilute(0.35, 0.03, 10, 20)
    for ours, theirs in (("a_kg", "stock_kg"), ("b_kg", "water_kg"), ("contraction_l", "contraction_l"),
                         ("naive_a_l", "naive_stock_l"), ("naive_strength_w", "naive_strength")):  # fmt: skip
        assert getattr(one, ours) == pytest.approx(getattr(other, theirs))


STRENGTH = st.floats(0.001, 0.6)


@given(STRENGTH, STRENGTH, st.floats(0.01, 0.99), st.floats(0.1, 100), st.floats(0, 50))
def test_peroxide_and_water_both_balance_in_every_blend(one, other, share, litres, warm):
    assume(abs(one - other) > 1e-3)
    target = min(one, other) + share * abs(one - other)
    made = blend(one, other, target, total_l=litres, temperature_c=warm)
    assert made.a_kg * made.a_w + made.b_kg * made.b_w == pytest.approx(made.mass_kg * target, rel=1e-9)
    water = made.a_kg * (1 - made.a_w) + made.b_kg * (1 - made.b_w)
    assert water == pytest.approx(made.mass_kg * (1 - target), rel=1e-9)
    # By volume the denser one is overdosed, so plain volumes never come out weaker.
    assert made.naive_strength_w >= target - 1e-12


@given(STRENGTH, STRENGTH, st.floats(0.01, 0.99), st.floats(0.1, 100), st.floats(0, 50))
def test_what_a_blend_asks_for_makes_the_blend_when_poured_together(one, other, share, litres, warm):
    assume(abs(one - other) > 1e-3)
    target = min(one, other) + share * abs(one - other)
    made = blend(one, other, target, total_l=litres, temperature_c=warm)
    poured = pour_together(made.b_l, made.b_w, made.a_l, made.a_w, temperature_c=warm)
    assert (poured.strength_w, poured.total_l) == pytest.approx((target, litres), rel=1e-9)
    assert poured.contraction_l == pytest.approx(made.contraction_l, abs=1e-9 * litres)


BATH = {"bath": st.floats(0.001, 0.05), "stock": st.floats(0.1, 0.6), "share": st.floats(0.05, 0.95), "litres": st.floats(1, 50)}


def balanced(*, litres, bath, added_w, target, largest, out_kg, added_kg, volume):
    """Both balances, and the line of the vessel."""
    kept = litres * density(bath, 20) / 1000 - out_kg
    assert kept >= -1e-9
    after = kept + added_kg
    assert kept * bath + added_kg * added_w == pytest.approx(after * target, rel=1e-9)
    assert kept * (1 - bath) + added_kg * (1 - added_w) == pytest.approx(after * (1 - target), rel=1e-9)
    assert volume <= largest * (1 + 1e-9)
    assert volume == pytest.approx(after / density(target, 20) * 1000, rel=1e-9)
    # Nothing is taken out unless the vessel would run over, and then it ends full to its line.
    assert out_kg == 0 or volume == pytest.approx(largest, rel=1e-9)


@given(**BATH, room=st.floats(0, 1))
def test_a_top_up_ends_at_its_strength_within_its_vessel_and_balances(bath, stock, share, litres, room):
    target = bath + share * (stock - bath)
    assume(bath < target < stock)
    largest = litres * (1 + room)
    up = top_up(bath_l=litres, bath_w=bath, stock_w=stock, target_w=target, largest_l=largest, temperature_c=20)
    balanced(litres=litres, bath=bath, added_w=stock, target=target, largest=largest, out_kg=up.take_out_kg,
             added_kg=up.stock_kg, volume=up.volume_l)  # fmt: skip
    assert up.naive_strength_w > target


@given(**BATH, room=st.floats(0, 1), weak=st.floats(0, 0.9))
def test_a_thinned_bath_ends_at_its_strength_within_its_vessel_and_balances(bath, stock, share, litres, room, weak):
    added = bath * weak
    target = added + share * (stock - added)
    assume(added < target < stock)
    largest = litres * (1 + room)
    down = thin(bath_l=litres, bath_w=stock, with_w=added, target_w=target, largest_l=largest, temperature_c=20)
    balanced(litres=litres, bath=stock, added_w=added, target=target, largest=largest, out_kg=down.take_out_kg,
             added_kg=down.added_kg, volume=down.volume_l)  # fmt: skip


def test_a_top_up_by_hand():
    # 10 L at 1.5 % to 3 % from 35 %: 10.035 kg * 0.015 / 0.32 = 0.4704 kg of stock; density of 1.5 % at 20 °C is 1003.5 kg/m3.
    up = top_up(bath_l=10, bath_w=0.015, stock_w=0.35, target_w=0.03, largest_l=20, temperature_c=20)
    assert up.stock_kg == pytest.approx(0.4704, abs=0.0005)
    assert up.take_out_l == 0
    # By plain volumes: 10 * 0.015 / 0.32 = 0.469 L, against 0.4704 / 1.1312 = 0.416 L.
    assert (up.naive_stock_l, up.stock_l) == pytest.approx((0.46875, 0.4158), abs=0.0005)


def test_a_full_vessel_is_emptied_a_little_first():
    # By hand: 10 L of 3 % are 10.088 kg, 0.015 / 0.335 of it stock: 0.4517 kg; 9.6365 of 10.035 kg are kept, 0.398 kg go out.
    up = top_up(bath_l=10, bath_w=0.015, stock_w=0.35, target_w=0.03, largest_l=10, temperature_c=20)
    assert up.volume_l == pytest.approx(10, rel=1e-9)
    assert (up.stock_kg, up.take_out_kg) == pytest.approx((0.4517, 0.398), abs=0.001)


def test_a_bath_that_is_too_strong_thinned_by_hand():
    # 10 L at 6 % are 10.196 kg; to 3 % it takes as much water again by mass: 10.196 kg.
    down = thin(bath_l=10, bath_w=0.06, target_w=0.03, largest_l=25, temperature_c=20)
    assert down.added_kg == pytest.approx(10.196, abs=0.001)
    assert down.naive_added_l == pytest.approx(10)
    # In a vessel of 10 L: half of 10.088 kg is kept.
    full = thin(bath_l=10, bath_w=0.06, target_w=0.03, largest_l=10, temperature_c=20)
    assert full.take_out_kg == pytest.approx(10.196 - 5.044, abs=0.001)


ASKED = {"bath_l": 10.0, "bath_w": 0.015, "stock_w": 0.35, "target_w": 0.03, "largest_l": 20.0, "temperature_c": 20.0}


@pytest.mark.parametrize(
    ("change", "kind", "words"),
    [
        ({"target_w": 0.01}, Impossible, "the bath has 1.5 % and 1 % is wanted: stock is not what it needs; thin it with water"),
        ({"target_w": 0.015}, Impossible, "the bath has the 1.5 % that is wanted: nothing is to be added"),
        ({"target_w": 0.4}, Impossible, "target strength 40 % is not below the stock's 35 %"),
        ({"largest_l": 5.0}, Impossible, "the bath is 10 L, more than the 5 L its vessel may hold"),
        ({"largest_l": float("nan")}, OutsideRange, "say how much goes in at most"),
        ({"bath_l": 0.0}, OutsideRange, "the bath is 0 mL; it must be above 0"),
        ({"stock_w": 0.9}, OutsideRange, "stock strength is 90 %; it must lie from 0 to 70 %"),
        ({"temperature_c": 70.0}, OutsideRange, "temperature is 70 °C"),
    ],
)
def test_a_top_up_that_cannot_be_is_refused_in_words(change, kind, words):
    with pytest.raises(kind, match=words):
        top_up(**(ASKED | change))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"target_w": 0.08}, "the bath has 6 % and 8 % is wanted: thinning does not get it there; top it up with stock"),
        ({"target_w": 0.06}, "nothing is to be added"),
        ({"with_w": 0.03}, "what is added has 3 %, not less than the 3 % wanted"),
        ({"largest_l": 9.0}, "more than the 9 L its vessel may hold"),
    ],
)
def test_a_thinning_that_cannot_be_is_refused_in_words(change, words):
    asked = {"bath_l": 10.0, "bath_w": 0.06, "target_w": 0.03, "largest_l": 20.0, "temperature_c": 20.0} | change
    with pytest.raises(Impossible, match=words):
        thin(**asked)


def test_a_blend_that_cannot_be_is_refused_in_words():
    with pytest.raises(Impossible, match="target strength 5 % does not lie between 1 % and 3 %"):
        blend(0.03, 0.01, 0.05, total_l=1, temperature_c=20)
    with pytest.raises(Impossible, match="no mix of the two can give it"):
        blend(0.03, 0.03, 0.03, total_l=1, temperature_c=20)
    with pytest.raises(OutsideRange, match="volume is 0 mL"):
        blend(0.35, 0.01, 0.05, total_l=0, temperature_c=20)
    with pytest.raises(OutsideRange, match="the two together is 1200 L"):
        pour_together(600, 0.35, 600, 0.0, temperature_c=20)
