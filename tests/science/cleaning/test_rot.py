import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.cleaning import BUDGET_H, RotAdvice, WetSpell, rot_clock, spoiling_pace, warm_wet_hours

shares = st.floats(0, 1)
spells = st.lists(
    st.builds(WetSpell, hours=st.floats(0, 100), temperature_c=st.floats(-20, 35), left_share=shares, wet_share=shares)
)


def test_hours_warm_and_wet_by_hand():
    # Whole and wet 10 h at 28 C; then half eaten and half dried, 20 h: 5. At 11 C the pace is (17 / 34)^2 = a quarter: 8 h are 2.
    told = [WetSpell(10, 28), WetSpell(20, 28, 0.5, 0.5), WetSpell(8, 11)]
    assert warm_wet_hours(told) == pytest.approx(17)


def test_meat_keeps_several_times_longer_in_a_refrigerator():
    # From memory: raw meat a day or two in a warm room, most of a week or two at 4 C.
    assert 4 <= 1 / spoiling_pace(4.0) <= 15
    assert spoiling_pace(-18.0) == 0


@given(spells, shares)
def test_each_further_hour_moves_the_clock_on_and_never_back(told, share):
    assert warm_wet_hours([*told, WetSpell(5, 28, share, 1.0)]) >= warm_wet_hours(told)


def test_the_clock_runs_out_at_the_budget_and_then_it_comes_out():
    assert rot_clock([WetSpell(BUDGET_H.value, 28)]).used.value == pytest.approx(1)
    assert rot_clock([WetSpell(BUDGET_H.value + 1, 28)]).advice is RotAdvice.TAKE_OUT
    assert rot_clock([WetSpell(30, 28)]).advice is RotAdvice.LOOK
    assert rot_clock([WetSpell(5, 28)]).advice is RotAdvice.LEAVE


def test_what_is_left_of_the_clock_is_the_budget_less_the_hours():
    left = rot_clock([WetSpell(12, 28)]).hours_left
    assert left.value == pytest.approx(36)
    assert left.low == pytest.approx(BUDGET_H.low - 12, abs=0.5)
    # A millionth of the budget stands for nothing, since its logarithm is taken.
    assert rot_clock([]).hours_left.value == pytest.approx(BUDGET_H.value, rel=1e-5)


def test_a_nose_moves_the_estimate_one_way_only_at_the_ends():
    early, late = [WetSpell(8, 28)], [WetSpell(45, 28)]
    assert rot_clock(early, smell=0).used.value == rot_clock(early).used.value
    assert rot_clock(late, smell=0).used.value < rot_clock(late).used.value
    assert rot_clock(early, smell=2).used.value > rot_clock(early).used.value
    told, smelt = rot_clock(early).used, rot_clock(early, smell=2).used
    assert smelt.high / smelt.low < told.high / told.low
    assert rot_clock([WetSpell(100, 28)], smell=3).used.value == rot_clock([WetSpell(100, 28)]).used.value


def test_foul_is_out_at_once_whatever_the_hours_say():
    assert rot_clock([WetSpell(1, 28)], smell=3).advice is RotAdvice.TAKE_OUT
    assert RotAdvice.TAKE_OUT == "take out, cut muscle away, refreeze"


def test_what_cannot_be_is_refused():
    with pytest.raises(OutsideRange, match="a smell of 4; it is 0 none"):
        rot_clock([], smell=4)
    with pytest.raises(OutsideRange, match="the share left is 200 %"):
        rot_clock([WetSpell(1, 28, left_share=2)])
    with pytest.raises(OutsideRange, match="-1 hours in the box"):
        rot_clock([WetSpell(-1, 28)])
