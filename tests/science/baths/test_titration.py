"""Testing a bath: published titrations, the arithmetic that is shown, and what is odd."""

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import Readings, from_mass_fraction, strip_range, titrate
from bonebench.science.baths.titration import GUIDE

from .test_blend import rows


@pytest.mark.parametrize("row", rows("titration"), ids=lambda row: f"{row['case']} {row['output']}")
def test_the_worked_examples_come_out(row):
    found = titrate(Readings(**json.loads(row["inputs_json"])), 20.0)
    value = getattr(found, row["output"])
    assert (value if isinstance(value, float) else value.value) == pytest.approx(float(row["expected"]), abs=float(row["abs_tol"]))


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


@given(st.floats(0.0005, 0.3), st.floats(0.5, 50), st.floats(0.02, 0.5), st.floats(1, 100), st.floats(0, 50))
def test_a_bath_that_is_titrated_gives_its_own_strength_back(strength, sample, normality, dilution, warm):
    """A law: what a bath of known strength would use, by the reaction, leads back to that strength."""
    grams_per_ml = from_mass_fraction(strength, "w/v", warm)
    used = grams_per_ml * 1000 * sample / dilution / (normality * 34.0147 / 2)
    if used > 1000:
        return
    found = titrate(Readings(sample_ml=sample, used_ml=used, normality=normality, dilution=dilution), warm)
    assert found.strength_w.value == pytest.approx(strength, rel=1e-6)
    assert found.strength_w.low <= strength <= found.strength_w.high


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
        (Readings(sample_ml=10, used_ml=2, normality=0.1), 0.35, "titration.flag.little"),
    ],
)
def test_an_odd_titration_is_worked_out_and_flagged(readings, stock, key):
    found = titrate(readings, 20.0, stock_w=stock)
    assert key in [flag.key for flag in found.flags]
    assert found.strength_w.value >= 0


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


def test_a_strip_says_a_range_and_thinning_counts():
    # 100 to 300 times thinner than 3 % w/v: 100 mg/L x 300 = 30 g/L = 3 % w/v = 2.97 % w/w (density 1.0088).
    low, high = strip_range(30, 100, 300, 20.0)
    assert (low, high) == pytest.approx((0.00899, 0.0297), abs=0.0002)
    assert strip_range(0, 1, 1, 20.0)[0] == 0
    with pytest.raises(Impossible, match="two colours that rise"):
        strip_range(3, 3, 1, 20.0)
    with pytest.raises(OutsideRange, match="thinned 0 times"):
        strip_range(0, 1, 0, 20.0)


def test_both_guides_begin_with_what_protects():
    for steps in GUIDE.values():
        assert steps[0].startswith("Goggles")
