"""Mix and convert, against the worked rows of the reference (bench.md 1.2 and 1.3). No book is needed."""

import pytest

from bonebench.errors import BonebenchError, Impossible, NotAQuantity, OutsideRange, UnknownName
from bonebench.services.baths.cards import MixCard
from bonebench.services.baths.mix import convert, mix, read_notation

# bench.md 1.2, "exact stock vol / water vol / naive v/v stock / naive gives", worked out there from the density cubic at 20 °C.
# It prints four digits of volume and 0.01 % of strength: half a step of the last digit each.
TABLE = [
    ("10 L", "3%", "35%", 0.7644, 9.240, 0.8571, 3.36), ("10 L", "3%", "30%", 0.9081, 9.096, 1.000, 3.30),
    ("10 L", "3%", "50%", 0.5064, 9.500, 0.600, 3.55), ("5 L", "10%", "35%", 1.3060, 3.700, 1.429, 10.92),
]  # fmt: skip


@pytest.mark.parametrize(("volume", "target", "stock", "stock_l", "water_l", "naive_l", "naive"), TABLE)
def test_the_pours_are_those_of_the_worked_table(volume, target, stock, stock_l, water_l, naive_l, naive):
    card = mix(stock=stock, target=target, volume=volume)
    assert (card.stock_l, card.water_l) == (pytest.approx(stock_l, abs=6e-5), pytest.approx(water_l, abs=6e-4))
    assert (card.naive_stock_l, 100 * card.naive_strength) == (pytest.approx(naive_l, abs=6e-4), pytest.approx(naive, abs=0.006))


def test_the_masses_are_those_of_the_worked_table_and_close():
    card = mix(stock="35%", target="3%", volume="10 L")
    # bench.md 1.2, first row: 0.8647 kg and 9.2235 kg; mass is kept whatever the volumes do.
    assert (card.stock_kg, card.water_kg) == (pytest.approx(0.8647, abs=6e-5), pytest.approx(9.2235, abs=6e-4))
    assert card.stock_kg + card.water_kg == pytest.approx(card.volume_l * card.density_kg_m3 / 1000, rel=1e-12)
    assert card.stock_kg * card.stock == pytest.approx((card.stock_kg + card.water_kg) * card.strength, rel=1e-12)


def test_half_and_half_of_30_per_cent_is_stronger_than_it_looks():
    # common practice, no source: 30 % w/w and water, one to one by volume, gives about 15.8 % w/w.
    card = mix(stock="30% w/w", parts="1:1", volume="10 L")
    assert (card.strength, card.naive_strength) == (pytest.approx(0.158, abs=0.0005), pytest.approx(0.15))
    assert card.flags[0].what.text == "counted by volume alone this looks like 15 %; by weight it is 15.8 %"


def test_three_per_cent_is_ten_volumes():
    card = mix(stock="35%", target="10 vol", volume="2 gal")
    # bench.md 1.3: 10 vol = 3.04 % w/v = 3.01 % w/w, printed to 0.01 %.
    assert (100 * card.strength, card.strength_w_v_percent) == (pytest.approx(3.01, abs=0.006), pytest.approx(3.04, abs=0.006))
    assert card.strength_volumes == pytest.approx(10, abs=1e-6)
    assert card.volume_l == pytest.approx(7.570823568, rel=1e-9)


@pytest.mark.parametrize(("percent", "litres_a_kg", "rise"), [("3%", 10.6, 21), ("6%", 21, 42), ("12%", 42, 84)])
def test_oxygen_and_heat_are_those_of_the_reference(percent, litres_a_kg, rise):
    card = mix(stock="35%", target=percent, volume="10 L")
    # bench.md 1.4: litres of oxygen a kg at 20 °C (three digits) and the rise if all decomposes at once (whole kelvins).
    assert card.oxygen_l / (card.stock_kg + card.water_kg) == pytest.approx(litres_a_kg, rel=0.02)
    assert card.heat_rise_k == pytest.approx(rise, abs=1.0)
    assert not card.boils or percent == "12%"


# bench.md 1.3: 10, 20, 30 and 100 vol in % w/v and % w/w; 35 % w/w is 130 vol; 30 vol is 2.678 mol/L. Half a step of the last
# printed digit, and 0.1 %: its percents go by 22.414 L a mol, the convention of the trade (x / 11.2 mol/L) by 22.4.
CONVERSIONS = [
    ("10 vol", "w/v", 3.04, 0.006, "percent"), ("20 vol", "w/w", 5.96, 0.006, "percent"), ("30 vol", "w/w", 8.84, 0.006, "percent"),
    ("30 vol", "mol/L", 2.678, 0.0006, "mol/L"), ("100 vol", "w/w", 27.56, 0.006, "percent"), ("35 % w/w", "vol", 130, 0.6, "vol"),
    ("30 % w/w", "vol", 110, 0.6, "vol"), ("9.11 % w/v", "vol", 30, 0.02, "vol"), ("3 % w/w", "w/w", 3, 1e-9, "percent"),
]  # fmt: skip


@pytest.mark.parametrize(("given", "to", "value", "close", "unit"), CONVERSIONS)
def test_every_notation_is_turned_into_every_other(given, to, value, close, unit):
    card = convert(strength=given, to=to)
    assert (card.value, card.unit) == (pytest.approx(value, abs=close + 0.001 * value), unit)
    assert card.cautions


def test_a_conversion_says_at_which_temperature_it_holds():
    card = convert(strength="10 vol", to="w/w", temperature="68 F")
    assert card.said.text == "10 vol is 3.01 % w/w at 20 °C"
    assert card.temperature_c == pytest.approx(20)


def test_a_bare_percent_is_said_to_be_read_as_by_weight():
    card = mix(stock=" 35 % ", target="3%", volume="10 L")
    assert [flag.what.text for flag in card.flags][:2] == [
        "'35 %' was read as percent by weight (w/w); read as weight in volume it would be 31.4 % by weight",
        "'3%' was read as percent by weight (w/w); read as weight in volume it would be 2.97 % by weight",
    ]  # fmt: skip
    assert card.flags[0].next.text == "look on the bottle; for percent by volume of solution write w/v, for oxygen write vol"
    stated = mix(stock="35% w/w", target="3% w/w", volume="10 L")
    assert [flag.what.key for flag in stated.flags] == ["mix.simple"]


@pytest.mark.parametrize("target", ["0.5%", "3%", "6%", "15%", "35%"])
def test_no_recipe_is_without_cautions_and_all_end_by_deferring(target):
    card = mix(stock="35%", target=target, volume="10 L")
    assert len(card.cautions) > 6
    assert card.cautions[-1].key == "defer"
    assert {"peroxide.eyes", "mix.order", "stock.specialist"} <= {caution.key for caution in card.cautions}
    assert card.basis


def test_a_stronger_bath_is_louder():
    keys = [{c.key for c in mix(stock="35%", target=t, volume="1 L").cautions} for t in ("3%", "6%", "9%", "15%")]
    gates = ["peroxide.over_5", "peroxide.over_8", "peroxide.over_12"]
    assert [next((gate for gate in gates if gate in found), None) for found in keys] == [None, *gates]


def test_the_water_goes_in_first():
    steps = [step.key for step in mix(stock="35%", target="3%", volume="10 L").steps]
    assert steps.index("mix.guard") < steps.index("mix.water") < steps.index("mix.stock") < steps.index("mix.label")


def test_a_card_without_cautions_cannot_be_made():
    whole = mix(stock="35%", target="3%", volume="10 L")
    fields = {name: getattr(whole, name) for name in MixCard.__dataclass_fields__}
    with pytest.raises(ValueError, match="a mix card must carry its cautions"):
        MixCard(**{**fields, "cautions": ()})


BAD = [
    ({"stock": "3%", "target": "6%", "volume": "10 L"}, Impossible,
     "target strength 6 % is above the stock's 3 %: a bath cannot be diluted upward"),
    ({"stock": "35%", "target": "0%", "volume": "10 L"}, Impossible,
     "target strength is 0 %: that is plain water; give the strength the bath should have"),
    ({"stock": "0%", "target": "0%", "volume": "10 L"}, Impossible,
     "stock strength is 0 %: that is plain water; read the bottle's label again"),
    ({"stock": "35%", "volume": "10 L"}, Impossible,
     "a mix needs either a target strength or parts of stock and water, one of the two"),
    ({"stock": "35%", "target": "3%", "parts": "1:1", "volume": "10 L"}, Impossible,
     "a mix needs either a target strength or parts of stock and water, one of the two"),
    ({"stock": "35%", "target": "3%", "volume": "ten buckets"}, NotAQuantity,
     "'ten buckets' is not a volume; write it like 10 L or 2 gal"),
    ({"stock": "35%", "target": "3%", "volume": "0 L"}, OutsideRange,
     "volume is 0 mL; one mix is above 0 and at most 1000 L: check the number and its unit"),
    ({"stock": "35%", "parts": "1-1", "volume": "10 L"}, NotAQuantity, "'1-1' is not two parts; write stock and water like 1:1"),
    ({"stock": "35% v/v", "target": "3%", "volume": "10 L"}, NotAQuantity,
     "'35% v/v' by volume is not a peroxide strength; look on the label for w/w, w/v or volumes"),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "kind", "words"), BAD)
def test_a_mix_that_cannot_be_is_refused_in_words(asked, kind, words):
    with pytest.raises(kind) as refused:
        mix(**asked)
    assert str(refused.value) == words


@pytest.mark.parametrize(
    "asked",
    [{"stock": "90%"}, {"stock": "35%", "temperature": "90 C"}, {"stock": "500 vol"}, {"stock": "35%", "temperature": "-5 C"}],
)
def test_what_no_table_holds_for_is_refused_and_names_its_limit(asked):
    with pytest.raises(BonebenchError, match=r"\d") as refused:
        mix(**{"target": "3%", "volume": "10 L", **asked})
    assert isinstance(refused.value, OutsideRange)


@pytest.mark.parametrize(("text", "notation"), [("w/w", "w/w"), ("%W/V", "w/v"), (" vol ", "vol"), ("mol/l", "mol/L")])
def test_the_notation_wanted_is_read(text, notation):
    assert read_notation(text) == notation


def test_a_notation_nobody_uses_is_refused_in_words():
    with pytest.raises(UnknownName) as refused:
        read_notation("proof")
    assert str(refused.value) == "'proof' is no way to write a strength; it is one of w/w, w/v, vol, mol/L"
    assert refused.value.could_be == ("w/w", "w/v", "vol", "mol/L")
