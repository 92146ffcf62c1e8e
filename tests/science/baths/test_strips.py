"""Test strips: a range between two colours, hand calculations, and what a strip cannot say."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import STRIP_FIELDS_MG_L, from_mass_fraction, strip_colours, strip_range, strip_thinning


def test_a_strip_says_a_range_and_thinning_counts():
    # 30 and 100 mg/L times 300 are 9 and 30 g/L; over 1001.4 and 1008.7 g/L (density table, 20 °C) 0.899 and 2.974 % w/w.
    assert strip_range(30, 100, 300, 20.0) == pytest.approx((0.00899, 0.02974), abs=0.00001)
    assert strip_range(0, 1, 1, 20.0)[0] == 0


@given(st.floats(0, 0.05), st.floats(0, 50))
def test_the_bath_lies_within_what_its_own_strip_says(strength, warm):
    """A known truth: a bath of known strength, thinned as told, read by eye between the colours, leads to a range that holds it."""
    times = strip_thinning(strength, warm)
    colours = strip_colours(from_mass_fraction(strength, "w/v", warm) * 1e6 / times)
    low, high = strip_range(*colours, times, warm)
    assert low - 1e-12 <= strength <= high + 1e-12


@pytest.mark.parametrize(("reading", "between"), [(0, (0, 1)), (0.4, (0, 1)), (3, (1, 10)), (20, (10, 30)), (30, (10, 100))])
def test_on_a_colour_a_strip_says_no_more_than_its_neighbours(reading, between):
    assert strip_colours(reading) == between


def test_how_often_to_thin_by_hand():
    # 3 % w/w is 30 260 mg/L: a thousand times gives 30.3, just past the last colour but one; 0.5 % gives 5.0 at 1000.
    assert strip_thinning(0.03, 20.0) == 10_000
    assert strip_thinning(0.005, 20.0) == 1000
    assert strip_thinning(0.0, 20.0) == 1


@pytest.mark.parametrize(
    ("call", "kind", "words"),
    [
        (lambda: strip_range(3, 3, 1, 20.0), Impossible, "two colours that rise; 3 and 3 mg/L do not"),
        (lambda: strip_range(0, 1, 0, 20.0), OutsideRange, "thinned 0 times; it is 1 or more"),
        (lambda: strip_range(30, 100, 1e5, 20.0), OutsideRange, "the table holds from 0"),
        (lambda: strip_colours(100), Impossible, "says only at least 100 mg/L: thin the bath ten times more and dip again"),
        (lambda: strip_colours(-1), OutsideRange, "the strip reads -1 mg/L"),
        (lambda: strip_colours(1, (1, 3)), Impossible, "a strip's scale rises from 0; 1, 3 does not"),
        (lambda: strip_thinning(0.35, 20.0, (0, 0.5, 2)), Impossible, "too fine for a bath of 35 %"),
    ],
)
def test_what_a_strip_cannot_say_is_refused_in_words(call, kind, words):
    with pytest.raises(kind, match=words):
        call()


def test_the_shipped_scale_rises():
    assert list(STRIP_FIELDS_MG_L) == sorted(set(STRIP_FIELDS_MG_L))
