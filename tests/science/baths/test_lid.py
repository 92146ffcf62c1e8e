"""A closed lid: Boyle by hand, scipy on the same gas, and the laws."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths import closed_lid, closed_lid_bar
from bonebench.science.baths.decay import K20
from bonebench.science.baths.lid import LID_BAR


def test_a_tight_lid_bursts_by_boyles_law():
    # A litre of gas more in a litre of space is one atmosphere more: 1.01325 bar.
    assert closed_lid_bar(1.0, 1.0, 1.0) == pytest.approx(1.01325)
    assert closed_lid_bar(2.0, 4.0, 3.0) == pytest.approx(1.51988, abs=1e-5)
    with pytest.raises(OutsideRange, match="free space above 0"):
        closed_lid_bar(1.0, 0.0, 1.0)


def test_ten_kilograms_of_three_percent_under_five_litres_by_hand():
    # 1 kg of 3 % gives 10.6 L of oxygen (derived, 20 °C): 106 L into 5 L are 21.5 bar in the end. At 0.15 a day 13.9 % comes in
    # a day: 2.99 bar; 0.1 bar after -ln(1 - 0.1 / 21.5) / 0.15 days = 0.75 h; one filling, 5 L, after 7.7 h.
    found = closed_lid(strength_w=0.03, mass_kg=10, rate=K20["bone"], headspace_l=5)
    assert K20["bone"].value == 0.15
    assert found.bar_at_end == pytest.approx(21.5, abs=0.05)
    assert found.bar_after_day.value == pytest.approx(2.99, abs=0.02)
    assert found.hours_to_give.value == pytest.approx(0.75, abs=0.01)
    assert found.hours_to_fill.value == pytest.approx(7.7, abs=0.1)
    assert found.hours_to_give.standing is Standing.ESTIMATE


def test_the_hours_are_those_scipy_finds():
    rate = Figure(1.2, 0.5, 3.0, "1/day", Standing.PRACTICE, "made up")
    found = closed_lid(strength_w=0.06, mass_kg=4, rate=rate, headspace_l=10)

    def slope(_, state):
        left = state[0]  # mol
        return [-rate.value / 24 * left, rate.value / 24 * left / 2 * 24.055 / 10 * 1.01325]

    def gives(_, state):
        return state[1] - LID_BAR.value

    gives.terminal = True
    run = solve_ivp(slope, (0, 100), [4000 * 0.06 / 34.0147, 0.0], events=gives, rtol=1e-9, atol=1e-12)
    assert found.hours_to_give.value == pytest.approx(run.t_events[0][0], rel=1e-6)


def test_little_peroxide_under_much_space_never_lifts_the_lid():
    # 0.1 kg of 0.1 %: 0.035 L of oxygen in 10 L is 0.0036 bar, below even the weakest lid.
    found = closed_lid(strength_w=0.001, mass_kg=0.1, rate=K20["clean"], headspace_l=10)
    assert found.hours_to_give.low == math.inf
    assert found.bar_at_end == pytest.approx(0.0036, abs=0.0001)


@given(st.floats(0.001, 0.5), st.floats(0.1, 50), st.floats(0.5, 50))
def test_less_space_gives_sooner_and_no_pressure_passes_the_end(strength, mass, space):
    wide = closed_lid(strength_w=strength, mass_kg=mass, rate=K20["tissue"], headspace_l=space)
    tight = closed_lid(strength_w=strength, mass_kg=mass, rate=K20["tissue"], headspace_l=space / 2)
    assert tight.hours_to_give.value <= wide.hours_to_give.value
    assert tight.bar_at_end == pytest.approx(2 * wide.bar_at_end)
    assert wide.bar_after_day.high < wide.bar_at_end
    assert wide.hours_to_give.low <= wide.hours_to_fill.high


def test_a_lid_over_nothing_is_refused():
    with pytest.raises(OutsideRange, match="free space, a bath and a rate of loss above 0"):
        closed_lid(strength_w=0.03, mass_kg=10, rate=K20["bone"], headspace_l=0)
