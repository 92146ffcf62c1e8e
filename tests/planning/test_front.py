"""The front of the route: thawing on a shelf, freezing again, and the cold outdoors."""

from datetime import date

import pytest

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing
from bonebench.planning.dispatch import dispatch
from bonebench.planning.front import on_the_shelf, outdoors
from bonebench.planning.problem import Room
from tests.planning.checker import faults
from tests.planning.rooms import person, piece, problem

MONDAY = date(2026, 1, 12)


def head(kg):
    return Figure(kg, 0.8 * kg, 1.25 * kg, "kg", Standing.ESTIMATE, "a head on the scales")


def test_a_heavier_head_and_a_colder_shelf_take_longer():
    small, big = on_the_shelf(head(0.5), 10), on_the_shelf(head(5), 10)
    assert small.thaw.value < big.thaw.value
    assert on_the_shelf(head(5), 4).thaw.value > big.thaw.value
    assert small.freeze.value < big.freeze.value


def test_thaw_trim_and_freeze_again_are_a_route_that_keeps_its_room_in_the_freezer():
    the_piece = piece("A", *on_the_shelf(head(1), 6).stages(), place="freezer")
    places = [Room("freezer", "freezer", 1), Room("shelf", "thaw shelf", 1), Room("bench", "trim bench", 1)]
    the_problem = problem(the_piece, places=places, people=[person(trained={"raw heads"})])
    plan = dispatch(the_problem, ["A"])
    assert faults(the_problem, plan) == []
    assert [slot.place for slot in plan.slots] == ["shelf", "bench", "freezer"]


def test_a_big_head_in_a_warm_room_is_to_be_looked_at_before_it_is_soft():
    assert on_the_shelf(head(12), 22).caution is not None
    assert "its outside may be warm enough to spoil" in str(on_the_shelf(head(12), 22).caution)


def test_outdoors_is_a_freezer_until_the_first_day_that_is_not_cold_all_through():
    # Common practice, no source: below -5 degC all through. Monday to Wednesday are; Thursday is not.
    found = outdoors(MONDAY, [-12, -9, -5.5, -5, -20])
    assert (found.last_day, found.bring_in) == (date(2026, 1, 14), date(2026, 1, 15))
    assert str(found.words).startswith("Bring them in on Thursday 15 Jan 2026, before it warms (-5 °C is forecast)")
    assert "no animal opens" in str(found.words)


def test_a_forecast_that_is_cold_to_its_end_says_no_more_than_that():
    found = outdoors(MONDAY, [-12, -9])
    assert (found.last_day, found.bring_in) == (date(2026, 1, 13), None)
    assert "look at the forecast again" in str(found.words)


def test_a_mild_today_and_an_empty_forecast():
    assert outdoors(MONDAY, [-3, -20]).last_day is None
    with pytest.raises(Impossible, match="a forecast without a day says nothing"):
        outdoors(MONDAY, [])
