"""The walk along a bath's history: nothing gets lost, and in constant conditions it is the closed form."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import history
from bonebench.science.baths.decay import rate_per_day, strength_after
from bonebench.science.baths.history import Poured, Section, Taken, strip, titrated, walk
from bonebench.science.baths.spread import Z90


def usual(_place, section):
    return rate_per_day(section.load, section.usable_c).value * section.days


def as_written(_place, poured):
    return poured.strength_w


SECTIONS = st.builds(Section, st.floats(0, 20), st.floats(0, 50), st.sampled_from(["clean", "bone", "tissue"]))
POURS = st.builds(Poured, st.floats(0.1, 20), st.floats(0, 0.7))
SCOOPS = st.builds(Taken, st.floats(0.01, 0.09))
HISTORIES = st.lists(st.one_of(SECTIONS, POURS, SCOOPS), max_size=20)


@given(HISTORIES)
def test_peroxide_put_in_is_what_is_left_decayed_and_taken(events):
    walked = walk([Poured(2.0, 0.03), *events], usual, as_written)
    # The balance: to rounding.
    assert walked.left_kg + walked.decayed_kg + walked.taken_kg == pytest.approx(walked.put_in_kg, rel=1e-12)
    assert min(walked.left_kg, walked.decayed_kg, walked.taken_kg) >= 0


@given(st.lists(st.floats(0, 10), min_size=1, max_size=10), st.floats(0, 50))
def test_in_constant_conditions_the_walk_is_the_closed_form(pieces, temperature):
    walked = walk([Poured(10, 0.03), *(Section(days, temperature, "bone") for days in pieces)], usual, as_written)
    closed = strength_after(0.03, math.fsum(pieces), rate_per_day("bone", temperature)).value
    assert walked.strength_w == pytest.approx(closed, rel=1e-9)


def test_a_week_by_hand():
    # 10 kg of 3 %: 300 g. Two days clean: e^-0.06 leaves 282.53 g. A test sees 2.825 %. 1 kg of 30 % adds 300 g: 582.53 g in 11 kg.
    # Four days with bone: e^-0.6 leaves 319.70 g. 2 of 11 kg scooped out take 58.13 g; 261.57 g in 9 kg are 2.906 %.
    events = [Poured(10, 0.03), Section(2, 20, "clean"), titrated(0.028), Poured(1, 0.3), Section(4, 20, "bone"), Taken(2)]
    walked = walk(events, usual, as_written)
    assert walked.at_tests_w == (pytest.approx(0.028253, abs=1e-6),)
    assert walked.left_kg == pytest.approx(0.26157, abs=1e-5)
    assert walked.strength_w == pytest.approx(0.02906, abs=1e-5)
    assert walked.mass_kg == pytest.approx(9.0)


def test_water_only_thins():
    walked = walk([Poured(5, 0.06), Poured(5, 0.0)], usual, as_written)
    assert (walked.strength_w, walked.decayed_kg) == (pytest.approx(0.03), 0)


def test_a_titration_is_off_by_three_in_a_hundred_and_by_a_drop_in_a_weak_bath():
    # At 3 % a drop (0.01 %) is 0.33 %; ln 1.03 = 2.956 % rules: 1.2816 * 0.33 % adds as a square to 2.99 %.
    assert titrated(0.03).high_w == pytest.approx(0.03 * math.exp(math.hypot(math.log(1.03), Z90 / 300)))
    # At 0.1 % the drop is a tenth.
    assert titrated(0.001).log_spread == pytest.approx(math.hypot(math.log(1.03) / Z90, 0.1))


def test_a_strip_is_a_range_and_no_colour_is_not_nothing():
    between = strip(0.01, 0.04)
    assert (between.low_w, between.strength_w, between.high_w) == pytest.approx((0.01, 0.02, 0.04))
    assert strip(0, 0.004).low_w == pytest.approx(0.001)
    assert titrated(0.0).high_w == pytest.approx(0.0005)
    assert titrated(0.0).strength_w > 0


def test_history_outside_the_rule_is_kept_at_its_nearer_end():
    assert (Section(1, 60, "bone").usable_c, Section(1, -5, "clean").usable_c) == (50, 0)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (lambda: walk([], usual, as_written), "begins with the day it was made"),
        (lambda: walk([Section(1, 20, "clean")], usual, as_written), "begins with the day it was made"),
        (lambda: walk([Poured(5, 0.0)], usual, as_written), "begins with the day it was made"),
        (lambda: walk([Poured(5, 0.03), Taken(5)], usual, as_written), "5 kg cannot be scooped out of a bath of 5 kg"),
        (lambda: Poured(0, 0.03), "what was poured is 0 g; it must be above 0"),
        (lambda: Poured(1, 0.8), "strength of what was poured is 80 %"),
        (lambda: Poured(1, 0.03, off=1), "a strength off by 100 % says nothing"),
        (lambda: Section(-1, 20, "bone"), "a bath that stood -1 days"),
        (lambda: Section(1, 20, "wool"), "'wool' is no load"),
        (lambda: history.Tested(0.02, 0.03, 0.04, "strip"), "a test of 2 %, 3 % to 4 %, cannot be"),
        (lambda: strip(0.0, 0.0), "cannot be: it must lie between its ends"),
    ],
)
def test_what_cannot_be_is_refused_in_words(wrong, words):
    with pytest.raises((OutsideRange, Impossible), match=words):
        wrong()
