"""Eating: each day's appetite is given in order of entry, each piece up to its own rate, the last part slowly.

Now is Monday 8:00, so two thirds of the first day are still ahead. Ends are whole seconds, rounded up: hence two seconds.
"""

from datetime import date, timedelta

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Room, Running
from bonebench.said import said
from tests.planning.checker import faults
from tests.planning.rooms import NOW, act, at, eat, person, piece, problem, stay

BOX = Room("box 1", "box")
NO_TAIL = {"tail_share": 0.0, "places": [BOX]}


def ends(the_problem, step="beetles"):
    plan = dispatch(the_problem, [one.key for one in the_problem.pieces])
    assert faults(the_problem, plan) == []
    return {slot.piece: (slot.end - NOW) / timedelta(days=1) for slot in plan.slots if slot.step == step}


def days(value):
    return pytest.approx(value, abs=2 / 86400)


def head(key, tissue=0.1, rate=0.1, *more, **fields):
    return piece(key, eat(), *more, tissue_kg=tissue, eating_kg_per_day=rate, **fields)


def test_a_piece_alone_goes_at_its_own_rate():
    assert ends(problem(head("A", 0.25), appetite={"box 1": 9}, **NO_TAIL)) == {"A": days(2.5)}


def test_the_last_part_goes_slowly():
    # 88 g at 100 g a day, then 12 g at a third of that: 0.88 + 0.36 days.
    assert ends(problem(head("A"), appetite={"box 1": 9}, places=[BOX])) == {"A": days(1.24)}


def test_the_tail_is_a_share_of_what_was_there_before_the_beetles_began():
    # 20 g left of 100 g: 8 g quickly and 12 g slowly, 0.08 + 0.36 days.
    left = head("A", 0.02, whole_tissue_kg=0.1, running=Running("box 1", at(-3)))
    assert ends(problem(left, appetite={"box 1": 9}, places=[BOX])) == {"A": days(0.44)}


def test_a_small_appetite_sets_the_pace():
    # 100 g at 50 g a day, spread evenly over days of which the first has two thirds left: 2 days.
    assert ends(problem(head("A"), appetite={"box 1": 0.05}, **NO_TAIL)) == {"A": days(2)}


def test_who_entered_first_eats_first_and_the_rest_wait():
    # 120 g a day. Monday has 80 g left: A takes 67 g, B 13 g. On Tuesday A takes its last 33 g by 8:00; B gets 87 g, its rest,
    # and needs the whole of the day's remaining appetite for it: until midnight, 40 h from now.
    room = problem(head("A"), head("B"), appetite={"box 1": 0.12}, **NO_TAIL)
    assert ends(room) == {"A": days(1), "B": days(40 / 24)}


def test_a_day_without_appetite_is_waited_out():
    # 67 g on Monday, nothing on Tuesday, the last 33 g by 8:00 on Wednesday.
    none = {"box 1": {date(2026, 3, 3): 0.0}}
    assert ends(problem(head("A"), appetite={"box 1": 9}, appetite_kg_per_day=none, **NO_TAIL)) == {"A": days(2)}


def test_what_follows_slow_eating_says_it_was_the_appetite():
    room = problem(head("A", 0.1, 0.1, act("look", "box")), appetite={"box 1": 0.05}, **NO_TAIL)
    slots = dispatch(room, ["A"]).slots
    assert [(slot.step, slot.limited_by, slot.limited_name) for slot in slots][1] == ("look", "appetite", "box 1")


def test_a_held_piece_in_the_box_still_eats_its_share():
    # A is held and not planned, but takes 100 of 120 g a day until it is clean on Tuesday at 8:00: B ends as if A were planned.
    held = head("A", running=Running("box 1", NOW), held=said("paper", "its papers are missing"))
    assert ends(problem(held, head("B"), appetite={"box 1": 0.12}, **NO_TAIL)) == {"B": days(40 / 24)}


def test_a_piece_goes_to_the_first_box_that_can_finish_it():
    room = problem(head("A"), appetite={"box 2": 1}, tail_share=0.0, places=[BOX, Room("box 2", "box")])
    assert [slot.place for slot in dispatch(room, ["A"]).slots] == ["box 2"]


def thawing(key, *more):
    return piece(key, stay("thaw", None, 0.5, most_wait_days=0), *more, tissue_kg=0.01, eating_kg_per_day=0.1)


def test_a_piece_that_enters_earlier_puts_off_one_that_was_settled_to_enter_later():
    # A thaws for half a day and is then tied to the box. B, later in the order, may go in at once and so eats first: of the
    # 16 g left of Monday's 24 g its 14 g, in 14 h. A enters at 20:00 and gets the other 2 g (alone: 4 g in its 4 h); the 8 g it
    # still has take 8 h of Tuesday: until 8:00, a day from now (alone: until 6:00).
    room = problem(thawing("A", eat()), head("B", 0.014), appetite={"box 1": 0.024}, **NO_TAIL)
    assert ends(room) == {"A": days(1), "B": days(14 / 24)}
    assert ends(problem(thawing("A", eat()), appetite={"box 1": 0.024}, **NO_TAIL)) == {"A": days(22 / 24)}


def test_a_piece_may_not_put_off_one_whose_next_steps_are_settled_on_its_end():
    # As above, but A's look is tied to its end: B may not go in before A, and enters a second after it.
    a = thawing("A", eat(most_wait_days=0), act("look", "box", 5))
    room = problem(a, head("B", 0.014), appetite={"box 1": 0.024}, people=[person()], **NO_TAIL)
    plan = dispatch(room, ["A", "B"])
    b = next(slot for slot in plan.slots if slot.piece == "B")
    assert (b.start, b.limited_by) == (at(0.5) + timedelta(seconds=1), "appetite")
    assert faults(room, plan) == []
