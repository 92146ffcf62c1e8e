"""What a plan asks of the room, counted by hand."""

from datetime import timedelta

import pytest
from hypothesis import given

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Room, Running
from bonebench.planning.usage import Use, attended_hours, usage
from tests.planning.rooms import MORNINGS, NOW, act, at, person, piece, problem, rooms, stay


def used(the_room, *keys):
    order = [one.key for one in the_room.pieces]
    return usage(the_room, dispatch(the_room, order), keys or order)


def test_a_place_is_in_use_until_the_next_step_begins_elsewhere():
    # One bath of 2 days in the pot; the tub is taken by the first for 3 more, so the second stays in the pot till day 5.
    pieces = [piece(key, stay("degrease", "pot", 2), stay("whiten", "tub", 3)) for key in "ab"]
    found = used(problem(*pieces, places=[Room("pot", "pot", 2), Room("tub", "tub", 1)]))
    assert found.places == {"pot": Use(5.0, 1), "tub": Use(6.0, 1)}
    assert found.until == at(8)
    assert found.begun == {"degrease": 2, "whiten": 2}


def test_a_pot_that_stands_empty_between_is_taken_up_twice():
    pieces = [piece("a", stay("degrease", "pot", 1)), piece("b", stay("degrease", "pot", 1), release=at(3), received=at(3))]
    assert used(problem(*pieces, places=[Room("pot", "pot", 1)])).places["pot"] == Use(2.0, 2)


def test_what_runs_already_has_had_its_hands_and_counts_from_now():
    running = piece("a", stay("degrease", "pot", 3, minutes=20), running=Running("pot", at(-1)), place="pot")
    found = used(problem(running, places=[Room("pot", "pot", 1)], people=[person()]))
    assert (found.minutes, found.begun, found.places) == ({}, {}, {"pot": Use(2.0, 0)})


def test_minutes_are_those_of_whoever_does_them_and_only_of_the_pieces_asked_for():
    pieces = [piece(key, act("trim", minutes=30, work="trim")) for key in "abc"]
    found = used(problem(*pieces, people=[person("Ada", MORNINGS, ("trim",))]), "a", "c")
    assert found.minutes == {"Ada": 60}
    assert found.begun == {"trim": 2}


def test_hours_there_are_those_of_the_wall_until_the_last_is_through():
    # Monday 8:00; mornings 9 to 12 every day: until Wednesday 10:00 that is 3 + 3 + 1 hours; Tuesday closed leaves 4.
    the_room = problem(piece("a"), people=[person("Ada", MORNINGS)])
    until = at(2, hours=2)
    assert attended_hours(the_room, "Ada", until) == pytest.approx(7)
    tuesday = NOW.date() + timedelta(days=1)
    assert attended_hours(problem(piece("a"), people=[person("Ada", MORNINGS)], closed=frozenset([tuesday])), "Ada", until) == 4
    assert attended_hours(the_room, "Ada", None) == 0


@given(rooms)
def test_no_place_is_in_use_longer_than_the_plan_and_nothing_begins_that_is_not_planned(the_room):
    order = [one.key for one in the_room.pieces]
    plan = dispatch(the_room, order)
    found = usage(the_room, plan, order)
    ahead = max([(found.until - NOW) / timedelta(days=1), 0]) if found.until else 0
    assert all(0 <= use.days <= ahead + 1e-6 for use in found.places.values())
    assert sum(found.begun.values()) == sum(slot.start >= NOW for slot in plan.slots)
