"""Fat through fillings: the class table, an integration by small steps, laws of changes, and when the next one is due."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.baths.degreasing import CHANGES, CLEAN_SHARE, DAYS, days_needed, speed
from bonebench.science.baths.fillings import bath, course, days_to_clean, fat_left, next_change, rhythm_days

GREASE = st.integers(1, 5)


@pytest.mark.parametrize("grease", [1, 2, 3, 4, 5])
def test_the_class_tables_days_and_changes_leave_a_twentieth(grease):
    # bench 2.1, common practice: the middle days with the middle changes.
    changes = int(CHANGES[grease].value)
    fillings = [DAYS[grease].value / changes] * changes
    assert fat_left(grease, fillings)[-1] == pytest.approx(CLEAN_SHARE)
    found = course(grease, 45.0)
    assert found.days.value == pytest.approx(DAYS[grease].value)
    assert found.changes.value == changes


@pytest.mark.parametrize("grease", [1, 2, 3, 4, 5])
def test_the_range_of_a_course_is_that_of_the_class_table(grease):
    # Through fillings of a fixed rhythm the ends of the lognormal of the table come out within a tenth (15 % for the leanest).
    found, table = course(grease, 45.0).days, days_needed(grease, 45.0)
    assert found.low == pytest.approx(table.low, rel=0.15)
    assert found.high == pytest.approx(table.high, rel=0.10)


@pytest.mark.parametrize("grease", [1, 3, 5])
def test_a_filling_is_the_exchange_between_bone_and_water_by_small_steps(grease):
    """dF/dt = -k (F - B/h), dB/dt = -dF/dt, by 20 000 Euler steps: what the closed form says to 1e-4."""
    one = bath(grease)
    bone, water, step = 1.0, 0.0, one.every_days / 20_000
    for _ in range(20_000):
        moved = one.leaves_per_day * (bone - water / one.holds) * step
        bone, water = bone - moved, water + moved
    assert fat_left(grease, [one.every_days])[0] == pytest.approx(bone, abs=1e-4)


@given(GREASE, st.floats(0.05, 30), st.floats(0.3, 3))
def test_changing_half_way_never_leaves_more_fat(grease, days, quickness):
    assert fat_left(grease, [days / 2, days / 2], quickness)[-1] <= fat_left(grease, [days], quickness)[-1] + 1e-12


@given(GREASE, st.floats(0.1, 30), st.floats(0.01, 10), st.floats(0.3, 3))
def test_longer_or_easier_never_leaves_more_fat_and_it_never_goes_below_balance(grease, days, more, quickness):
    here = fat_left(grease, [days], quickness)[0]
    assert fat_left(grease, [days + more], quickness)[0] <= here
    assert fat_left(grease, [days], quickness * 1.2)[0] <= here
    assert here >= 1 / (1 + bath(grease, quickness).holds)


@given(GREASE, st.floats(20, 90), st.floats(0.5, 8))
def test_hotter_never_takes_longer_in_the_same_rhythm(grease, temperature, more):
    assert course(grease, temperature + more, 4.0).days.value <= course(grease, temperature, 4.0).days.value + 1e-9


@given(GREASE, st.floats(0.3, 10), st.floats(0.3, 3))
def test_the_days_to_clean_leave_just_a_twentieth(grease, every, quickness):
    days, changes = days_to_clean(grease, every, quickness=quickness)
    fillings = [every] * (changes - 1) + [days - every * (changes - 1)]
    assert fat_left(grease, fillings, quickness)[-1] == pytest.approx(CLEAN_SHARE, rel=1e-6)


@given(GREASE, st.floats(0.5, 8), st.floats(0, 8))
def test_what_is_to_go_and_what_is_done_add_up(grease, every, into):
    # In the first filling: what remains after some days of it is the whole less those days.
    whole, _ = days_to_clean(grease, every)
    rest, _ = days_to_clean(grease, every, into_days=min(into, every))
    assert rest == pytest.approx(max(whole - min(into, every), 0.0), abs=1e-6)


def test_water_that_is_never_changed_never_cleans_a_greasy_skull():
    # In balance 1/(1 + h) of the fat stays, h from the table: 44 % for class 3.
    assert fat_left(3, [1000.0])[0] == pytest.approx(1 / (1 + bath(3).holds))
    assert bath(3).reaches_days(CLEAN_SHARE) == math.inf


def test_the_next_change_is_by_its_look_or_its_days():
    assert next_change(3, 45, filled_days_ago=1, looked=2).in_days == 0
    assert next_change(3, 45, filled_days_ago=1, looked=1).why == "full"
    # Class 3: 18 days in 5 changes is 3.6 days each.
    assert next_change(3, 45, filled_days_ago=1).in_days == pytest.approx(2.6)
    # At 33 °C everything takes twice as long, and after a week water goes foul (bench 2.1: 2 to 7 days, common practice).
    assert next_change(5, 33, filled_days_ago=1).in_days == pytest.approx(6.0)
    assert next_change(5, 33, filled_days_ago=1).why == "a week"
    assert next_change(3, 45, filled_days_ago=9).in_days == 0


@given(GREASE, st.floats(20, 95))
def test_no_rhythm_is_longer_than_a_week(grease, temperature):
    assert 0.5 <= rhythm_days(grease, temperature) <= 7.0
    assert speed(temperature).value > 0


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda: fat_left(3, [1, -1]), "a filling lasts 0 days or more"),
        (lambda: bath(3, 0), "a piece cannot be 0 times as quick"),
        (lambda: days_to_clean(3, 0), "water changed every 0 days is no rhythm"),
        (lambda: course(3, 10), "at 10 °C fat does not leave"),
        (lambda: next_change(3, 45, filled_days_ago=1, looked=7), "water looks 0 clear"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, words):
    with pytest.raises(OutsideRange, match=words):
        act()
