"""Sentences with holes: what is kept, and how numbers and days are written."""

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.said import SI_FORMS, fill, number, said, write_si


def test_a_sentence_keeps_its_key_values_and_holes_beside_its_text():
    sentence = said("why.wait", "{tag} waits {days:days}", tag="K7Q-K", days=2.0)
    assert (sentence.key, sentence.text) == ("why.wait", "K7Q-K waits 2 days")
    assert (sentence.values, sentence.template) == ({"tag": "K7Q-K", "days": 2.0}, "{tag} waits {days:days}")
    assert str(sentence) == sentence.text


def test_a_day_is_kept_as_iso_text_and_written_as_people_say_it():
    sentence = said("promise", "promised for {day:day}", day=date(2026, 5, 9))
    assert sentence.text == "promised for 9 May 2026"
    assert sentence.values == {"day": "2026-05-09"}


def test_an_instant_is_refused_because_it_is_no_day_yet():
    with pytest.raises(TypeError, match="a sentence holds days, not instants"):
        said("x", "{at}", at=datetime(2026, 5, 9, tzinfo=UTC))


def test_braces_in_what_people_typed_are_only_text():
    assert said("x", "'{text}' is no tag", text="{tag} {0} {{").text == "'{tag} {0} {{' is no tag"


def test_a_hole_nobody_fills_is_a_bug_and_says_so():
    with pytest.raises(KeyError):
        said("x", "{missing}")


def test_a_kind_nobody_knows_is_a_bug_and_says_so():
    with pytest.raises(KeyError):
        said("x", "{value:furlongs}", value=1.0)


def test_a_face_fills_the_same_holes_in_its_own_way():
    sentence = said("x", "{a} and {b:mass}", a="one", b=2.0)
    assert (
        fill(sentence.template, sentence.values, lambda value, kind: f"<{kind or 'plain'}:{value}>") == "<plain:one> and <mass:2.0>"
    )


# By hand: three significant digits, half to even in the last one as Python rounds, no exponent, no zeros behind the last digit.
NUMBERS = [
    (0.0, "0"), (-0.0, "0"), (1.0, "1"), (0.9996, "1"), (0.9994, "0.999"), (1.004, "1"), (1.006, "1.01"), (-1.5, "-1.5"),
    (999.4, "999"), (999.6, "1000"), (123456.0, "123000"), (100.0, "100"), (1e6, "1000000"),
    (0.001, "0.001"), (0.0000123, "0.0000123"), (-0.0000123, "-0.0000123"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "text"), NUMBERS)
def test_numbers_have_three_digits_and_no_exponent(value, text):
    assert number(value) == text


@given(st.floats(1e-12, 1e12))
def test_a_number_that_is_not_zero_is_never_written_as_zero_and_keeps_three_digits(value):
    text = number(value)
    assert "e" not in text
    # Half a step of the third digit is 0.5 % at most.
    assert float(text) == pytest.approx(value, rel=0.0051)


# By hand from the rule of each kind: the unit changes where people change it.
WRITTEN = [
    ("temperature", 26.5, "26.5 °C"), ("temperature", 1e-14, "0 °C"), ("warming", 21.0, "21 K"), ("strength", 0.03, "3 %"),
    ("strength", 0.158, "15.8 %"), ("volume", 0.0999, "99.9 mL"), ("volume", 0.1, "0.1 L"), ("volume", 0.0, "0 mL"),
    ("volume", 10.0, "10 L"), ("mass", 0.999, "999 g"), ("mass", 1.0, "1 kg"), ("mass", 0.0, "0 g"), ("length", 0.0254, "25.4 mm"),
    ("length", 1.0, "1 m"), ("density", 1131.24, "1131.2 kg/m³"), ("days", 0.25, "6 h"), ("days", 0.0, "0 h"),
    ("days", 1.0, "1 day"), ("days", 1.0000001, "1 day"), ("days", 1.5, "1.5 days"), ("days", 12.4, "12 days"),
    ("days", 365.0, "365 days"),
    ("minutes", 25.0, "25 min"), ("minutes", 90.0, "1.5 h"), ("day", "2026-05-09", "9 May 2026"), ("feeding", 0.22, "220 g a day"),
    ("percent", 0.123, "12 %"), ("power", 120.0, "120 W"), ("power", 1500.0, "1.5 kW"), ("energy", 0.6977, "0.698 kWh"),
    ("area", 0.07, "0.07 m²"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "value", "text"), WRITTEN)
def test_each_kind_is_written_in_the_unit_people_use(kind, value, text):
    assert write_si(value, kind) == text


def test_every_kind_is_covered_above():
    assert {kind for kind, _, _ in WRITTEN} == set(SI_FORMS)


@pytest.mark.parametrize(("value", "text"), [(2.0, "2"), (0.1 + 0.2, "0.3"), (3, "3"), (True, "True"), (None, "None"), ("x", "x")])
def test_a_plain_number_leaves_out_what_binary_adds(value, text):
    assert write_si(value, "") == text
