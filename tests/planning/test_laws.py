"""Laws that hold for every room and order, and proof that the checker that watches them can fail."""

import random
from dataclasses import replace
from datetime import timedelta
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.planning.dispatch import dispatch
from bonebench.planning.floor import Course
from bonebench.planning.rules import RULES, best_plan
from tests.planning.checker import faults
from tests.planning.rooms import rooms
from tests.planning.test_rules import busy_room

SEEDS = st.integers(0, 2**32)


@settings(max_examples=400, deadline=None)
@given(rooms, SEEDS)
def test_every_order_of_every_room_keeps_every_rule(the_problem, seed):
    order = [piece.key for piece in the_problem.pieces]
    random.Random(seed).shuffle(order)
    assert faults(the_problem, dispatch(the_problem, order)) == []


@settings(max_examples=60, deadline=None)
@given(rooms)
def test_the_best_plan_keeps_every_rule_and_is_made_by_one_of_the_three(the_problem):
    plan = best_plan(the_problem)
    assert plan.rule in RULES
    assert faults(the_problem, plan) == []


@settings(max_examples=60, deadline=None)
@given(rooms)
def test_planning_the_same_twice_gives_the_same(the_problem):
    order = [piece.key for piece in the_problem.pieces]
    assert dispatch(the_problem, order) == dispatch(the_problem, order)


@settings(max_examples=100, deadline=None)
@given(rooms)
def test_every_limit_and_every_reason_is_said(the_problem):
    plan = dispatch(the_problem, [piece.key for piece in the_problem.pieces])
    assert all(slot.limited_by in {"ready", "hands", "place", "appetite", "wait", "closed"} for slot in plan.slots)
    assert all(str(one.why) and "{" not in str(one.why) for one in plan.unplaced)
    assert all((slot.limited_name is not None) for slot in plan.slots if slot.limited_by in {"place", "appetite", "closed"})


def moved(slot, hours):
    return replace(slot, start=slot.start + timedelta(hours=hours), end=slot.end + timedelta(hours=hours))


# Each change breaks one rule of the busy room's plan in one place; the words are part of the fault that must be found.
BREAKS = [
    ("A", "degrease", lambda slot: moved(slot, -2), "pot holds"),
    ("A", "rinse", lambda slot: moved(slot, 30), "too late"),
    ("A", "rinse", lambda slot: moved(slot, -30), "after whiten"),
    ("C", "trim", lambda slot: moved(slot, 12), "is not there for the whole"),
    ("D", "degrease", lambda slot: replace(slot, end=slot.end - timedelta(hours=1)), "too short"),
    ("E", "whiten", lambda slot: moved(slot, 1), "was moved"),
    ("B", "beetles", lambda slot: replace(slot, end=slot.end - timedelta(hours=1)), "is eaten at"),
    ("B", "beetles", lambda slot: replace(slot, place="pot"), "wrong kind"),
    ("D", "whiten", lambda slot: replace(slot, person=None), "takes 20"),
]


@pytest.mark.parametrize(("piece", "step", "change", "words"), BREAKS, ids=[f"{words} ({piece})" for piece, _, _, words in BREAKS])
def test_the_checker_finds_what_is_wrong(piece, step, change, words):
    the_problem = busy_room()
    plan = dispatch(the_problem, list("DACBE"))
    slots = tuple(change(slot) if (slot.piece, slot.step) == (piece, step) else slot for slot in plan.slots)
    assert any(words in fault for fault in faults(the_problem, replace(plan, slots=slots)))


def test_passing_over_those_who_cannot_start_changes_nothing(monkeypatch):
    # Dispatch does not ask a piece again until something changed for it; asked at every event, each plan must come out the same.
    the_problem = busy_room()
    orders = list(permutations("ABCDE"))
    plans = [dispatch(the_problem, order) for order in orders]
    monkeypatch.setattr(Course, "still_blocked", lambda course, now: False)
    assert [dispatch(the_problem, order).slots for order in orders] == [plan.slots for plan in plans]
