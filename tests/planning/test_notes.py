"""Odd input is said in words; the rest is still planned, and what finds no time is listed with why."""

from bonebench.planning.dispatch import dispatch
from bonebench.planning.notes import notes
from bonebench.planning.problem import Room
from bonebench.said import said
from tests.planning.checker import faults
from tests.planning.rooms import NOW, at, piece, problem, stay

POT = Room("pot", "pot", 1)


def odd(*pieces, places=(POT,), **more):
    """Plan odd pieces beside a plain one, which must always get its time."""
    room = problem(*pieces, piece("plain", stay("degrease", "pot", 2)), places=places, **more)
    plan = dispatch(room, [one.key for one in room.pieces])
    assert any(slot.piece == "plain" for slot in plan.slots)
    return [str(one) for one in notes(room)], {one.piece: str(one.why) for one in plan.unplaced}, plan, room


def test_a_due_date_before_arrival_is_planned_and_late():
    said_, unplaced, plan, room = odd(piece("A", stay("degrease", "pot", 2), release=at(10), received=at(10), due=NOW.date()))
    assert said_ == [
        "A is promised for 2 Mar 2026, before it comes in on 12 Mar 2026: mend one of the two; it is planned, and late"
    ]
    assert (unplaced, [late.piece for late in plan.late]) == ({}, ["A"])
    assert faults(room, plan) == []


def test_a_place_with_no_capacity_takes_nothing():
    said_, unplaced, _, _ = odd(piece("A", stay("whiten", "tub", 2)), places=(POT, Room("tub", "tub", 0)))
    assert said_ == ["tub holds nothing: say how much goes in, or close it; nothing is planned into it"]
    assert unplaced == {"A": "it does not fit in any tub, not even an empty one: tub holds 0 and it counts as 1"}


def test_a_route_that_comes_back_to_itself_is_left_out():
    again = [stay("degrease", "pot", 1), stay("dry", None, 1), stay("degrease", "pot", 1)]
    said_, unplaced, plan, _ = odd(piece("A", *again))
    why = "its route comes back to degrease (visit 1) and has no end: mend the route; it is left out of the plan"
    assert (said_, unplaced) == ([f"A: {why}"], {"A": why})
    # Nobody's lateness: it is not planned, as if it were on hold.
    assert plan.score[0] == 0


def test_a_hold_without_an_end_is_left_out_until_it_is_lifted():
    said_, unplaced, _, _ = odd(piece("A", stay("degrease", "pot", 1), held=said("x", "it is on hold: {why}", why="no permit")))
    assert said_ == ["A is on hold with no day named (no permit): it is left out of the plan until the hold is lifted"]
    assert unplaced == {"A": "it is on hold: no permit"}


def test_a_horizon_shorter_than_the_longest_step():
    said_, unplaced, _, _ = odd(piece("A", stay("degrease", "pot", 60)), horizon_days=30)
    assert said_ == ["the plan looks 30 days ahead, but degrease of A takes 60 days: look further ahead"]
    assert unplaced == {"A": "degrease would not end within the 30 days this plan looks ahead"}


def test_a_kind_of_place_the_room_does_not_have():
    said_, unplaced, _, _ = odd(piece("A", stay("whiten", "tub", 2)))
    assert said_ == ["there is no tub in this room: what needs one finds no time"]
    assert unplaced == {"A": "there is no tub in this room"}


def test_a_room_with_nothing_odd_has_no_notes():
    assert odd()[0] == []
