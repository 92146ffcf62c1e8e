"""Testing a bath: published titrations, the arithmetic that is shown, and what is odd."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure
from bonebench.science.baths import Readings, density, from_mass_fraction, most_used_ml, times_thinned, titrate
from bonebench.science.baths.titration import GUIDE

from .examples import agrees, examples


@pytest.mark.parametrize("example", [*examples("titration"), *examples("iodometric")], ids=str)
def test_the_worked_titrations_come_out(example):
    by = "iodometric" if example.kind == "iodometric" else "permanganate"
    value = getattr(titrate(Readings(**example.inputs), 20.0, by=by), example.output)
    assert agrees(example, value.value if isinstance(value, Figure) else value)


def test_every_notation_says_the_same():
    found = titrate(Readings(sample_ml=25, dilution=25, used_ml=17.85, normality=0.1), 20.0)
    # 3.036 % w/v over 1.0088 g/mL (bench 1.1, 3 % at 20 °C) is 3.01 % w/w; 10 volumes are 3.035 % w/v (R22).
    assert found.strength_w.value == pytest.approx(0.0301, abs=0.0001)
    assert found.volumes == pytest.approx(10.0, abs=0.05)
    assert found.mol_per_l == pytest.approx(30.36 / 34.0147, rel=1e-3)


def test_iodine_takes_the_same_equivalents():
    readings = Readings(sample_ml=5, used_ml=12.3, normality=0.1, blank_ml=0.2)
    assert titrate(readings, 20.0, by="iodometric").w_v_percent.value == titrate(readings, 20.0).w_v_percent.value


def test_the_arithmetic_is_shown_and_ends_at_the_result():
    found = titrate(Readings(sample_ml=25, dilution=25, used_ml=18.05, blank_ml=0.2, normality=0.1), 20.0)
    words = [line.text for line in found.lines]
    assert words[0] == "used less blank: 18.05 mL - 0.2 mL = 17.85 mL"
    assert words[1] == "peroxide in the part titrated: 17.85 mL x 0.1 N x 17.007 mg = 30.358 mg"
    assert "25 mL of that is 1 mL of bath" in words[2]
    assert float(re.search(r"that is ([\d.]+) % w/v", words[3])[1]) == pytest.approx(found.w_v_percent.value, rel=1e-4)
    # 3.0358 / 1.0089 (3 % at 20 °C, density table 1008.82) and 30.358 / 34.0147, times 11.2.
    assert words[4] == "by weight: 3.0358 % w/v / 1.0089 kg/L at 20 °C = 3.0092 % w/w"
    assert words[5] == "in a litre: 3.0358 x 10 g / 34.015 g/mol = 0.8925 mol"
    assert words[6] == "volumes of oxygen: 0.8925 mol/L x 11.2 = 9.996"


@given(st.floats(0.5, 50), st.floats(0.1, 40), st.floats(0, 5), st.floats(0.02, 0.5), st.floats(1, 30))
def test_every_line_shown_is_true(sample, used, blank, normality, dilution):
    """Each line is worked out again from the numbers that stand in it; they have five digits, so it closes to a few in 10 000."""
    lines = titrate(
        Readings(sample_ml=sample, used_ml=used + blank, blank_ml=blank, normality=normality, dilution=dilution), 20.0
    ).lines
    shown = {line.key: {name: float(value) for name, value in line.values.items()} for line in lines}
    net, mg, gram = shown["titration.net"], shown["titration.mg"], shown["titration.gram"]
    assert net["used"] - net["blank"] == pytest.approx(net["net"], abs=2e-3)
    assert mg["net"] * mg["normality"] * mg["each"] == pytest.approx(mg["mg"], rel=3e-4)
    assert gram["mg"] * gram["times"] / gram["sample"] / 10 == pytest.approx(gram["grams"], rel=3e-4)
    if "titration.weight" in shown:
        weight = shown["titration.weight"]
        assert weight["grams"] / weight["density"] == pytest.approx(weight["percent"], rel=3e-4)


@given(st.floats(0.0005, 0.69), st.floats(0.5, 50), st.floats(0.02, 0.5), st.floats(1, 100), st.floats(0, 50))
def test_a_bath_that_is_titrated_gives_its_own_strength_back(strength, sample, normality, dilution, warm):
    """A law: what a bath of known strength would use, by the reaction, leads back to that strength."""
    grams_per_ml = from_mass_fraction(strength, "w/v", warm)
    used = grams_per_ml * 1000 * sample / dilution / (normality * 34.0147 / 2)
    if used > 1000:
        return
    readings = Readings(sample_ml=sample, used_ml=used, normality=normality, dilution=dilution)
    found = titrate(readings, warm)
    assert most_used_ml(readings, strength, warm) == pytest.approx(used, rel=1e-9)
    assert found.strength_w.value == pytest.approx(strength, rel=1e-6)
    assert found.strength_w.low <= strength <= found.strength_w.high


@pytest.mark.parametrize(("strength", "low"), [(0.69, 0.6805), (0.698, 0.6884)])
def test_a_strong_stock_keeps_its_strength_and_its_range(strength, low):
    # 1.735 % of % w/v; near 70 % density rises by 480 kg/m3 for each unit (table: 50 and 70 %), so 1.735 / (1 + 0.69 x 480 / 1283)
    # = 1.38 % of w/w. The range may touch the end of the table at 70 % but never move the middle.
    grams_per_ml = from_mass_fraction(strength, "w/v", 20)
    used = grams_per_ml * 1000 * 250 / 1000 / (0.1 * 34.0147 / 2)
    found = titrate(Readings(sample_ml=250, used_ml=used, normality=0.1, dilution=1000), 20.0, stock_w=0.70).strength_w
    assert found.value == pytest.approx(strength, rel=1e-6)
    assert found.low == pytest.approx(low, abs=0.0005)
    assert strength < found.high <= 0.70


def test_the_range_is_the_squares_of_its_parts_added_by_hand():
    # 17.85 mL: drop 0.05/17.85 = 0.28 %; normality, pipette and thinning 1 % each (common practice, no source): together 1.755 %.
    found = titrate(Readings(sample_ml=25, dilution=25, used_ml=17.85, normality=0.1), 20.0).w_v_percent
    assert (found.high - found.value) / found.value == pytest.approx(0.01755, abs=1e-5)
    assert found.value - found.low == pytest.approx(found.high - found.value)


def test_by_weight_is_by_volume_over_the_density():
    found = titrate(Readings(sample_ml=1, used_ml=30, normality=0.5), 35.0)
    grams_per_ml = found.w_v_percent.value / 100
    assert found.strength_w.value * density(found.strength_w.value, 35.0) / 1000 == pytest.approx(grams_per_ml, rel=1e-9)


def test_small_readings_are_less_sure():
    little = titrate(Readings(sample_ml=1, used_ml=1, normality=0.1), 20.0).strength_w
    much = titrate(Readings(sample_ml=20, used_ml=20, normality=0.1), 20.0).strength_w
    assert (little.high - little.low) / little.value > 2 * (much.high - much.low) / much.value


@pytest.mark.parametrize(
    ("readings", "stock", "key"),
    [
        (Readings(sample_ml=10, used_ml=1, normality=0.1, blank_ml=2), None, "titration.flag.blank"),
        (Readings(sample_ml=1, used_ml=40, normality=0.1), 0.03, "titration.flag.stock"),
        (Readings(sample_ml=0.1, used_ml=900, normality=0.5), 0.35, "titration.flag.too_much"),
        (Readings(sample_ml=0.1, used_ml=900, normality=0.5), 0.35, "titration.flag.stock"),
        (Readings(sample_ml=10, used_ml=2, normality=0.1), 0.35, "titration.flag.little"),
        (Readings(sample_ml=10, used_ml=55, normality=0.1), 0.35, "titration.flag.much"),
        (Readings(sample_ml=10, used_ml=0, normality=0.1), 0.35, "titration.flag.none"),
    ],
)
def test_an_odd_titration_is_worked_out_and_flagged(readings, stock, key):
    found = titrate(readings, 20.0, stock_w=stock)
    assert key in [flag.key for flag in found.flags]
    assert found.strength_w.value >= 0


def test_more_than_the_stock_could_use_is_said_in_millilitres():
    # By hand: 3 % w/w at 20 °C is 30.26 mg/mL, over 0.1 x 17.007 mg that is 17.8 mL for a sample of 1 mL.
    found = titrate(Readings(sample_ml=1, used_ml=40, normality=0.1), 20.0, stock_w=0.03)
    flag = next(flag for flag in found.flags if flag.key == "titration.flag.stock")
    assert flag.text.startswith("40 mL were used, and the undiluted 3 % stock itself would use only 17.8 mL")
    # A bath as strong as its stock is not odd: it lies within the range.
    assert not titrate(Readings(sample_ml=1, used_ml=17.9, normality=0.1), 20.0, stock_w=0.03).flags


def test_what_the_range_leaves_out_is_said():
    plain = titrate(Readings(sample_ml=1, used_ml=20, normality=0.1), 20.0)
    assert [note.key for note in plain.notes] == ["titration.note.range", "titration.note.no_blank"]
    blank = titrate(Readings(sample_ml=1, used_ml=20, blank_ml=1, normality=0.1), 20.0)
    iodine = titrate(Readings(sample_ml=1, used_ml=20, normality=0.1), 20.0, by="iodometric")
    assert [note.key for note in (*blank.notes, *iodine.notes)] == ["titration.note.range"] * 2


def test_ten_millilitres_made_up_to_250_are_thinned_25_times():
    assert times_thinned(10, 250) == 25
    assert times_thinned(10, 10) == 1
    with pytest.raises(OutsideRange, match="300 mL made up to 250 mL cannot be"):
        times_thinned(300, 250)


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (Readings(sample_ml=0, used_ml=1, normality=0.1), "the sample is 0 mL; it must be above 0"),
        (Readings(sample_ml=1, used_ml=-1, normality=0.1), "the volume used is -1 mL; it must be 0 or more"),
        (Readings(sample_ml=1, used_ml=1, normality=0), "the normality is 0 N; it must be above 0"),
        (Readings(sample_ml=1, used_ml=1, normality=0.1, dilution=0.5), "the bath was thinned 0.5 times"),
        (Readings(sample_ml=1, used_ml=1, normality=0.1, blank_ml=-1), "the blank is -1 mL"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_in_words(readings, words):
    with pytest.raises(OutsideRange, match=words):
        titrate(readings, 20.0)


def test_an_unknown_titration_is_refused():
    with pytest.raises(Impossible, match="'guess' is no titration known here"):
        titrate(Readings(sample_ml=1, used_ml=1, normality=0.1), 20.0, by="guess")


def test_both_guides_begin_with_what_protects():
    for steps in GUIDE.values():
        assert steps[0].startswith("Goggles")
