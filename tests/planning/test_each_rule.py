"""Each rule of a problem alone: dispatch and the compiled dispatch keep it, and the checker sees it broken."""

from dataclasses import replace
from datetime import time, timedelta

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Load, Room, Running
from tests.planning.checker import faults
from tests.planning.rooms import NOW, act, at, eat, person, piece, problem, stay
from tests.planning.test_quick import both

POT = Room("pot", "pot", 4)
MONDAYS_AND_THURSDAYS = {0: ((time(9), time(12)),), 3: ((time(9), time(12)),)}


def later(hours):
    return lambda slot: replace(slot, start=slot.start + timedelta(hours=hours), end=slot.end + timedelta(hours=hours))


def by(name):
    return lambda slot: replace(slot, person=name)


def at_once(slot):
    return replace(slot, start=NOW, end=NOW + (slot.end - slot.start))


# A lot of three counts as three, and its litres and kilograms as all of theirs.
LOTS = problem(
    piece("lot", stay("degrease", "pot", 4), load=Load(3, 9, 3)), piece("A", stay("degrease", "pot", 4), load=Load(1, 2, 1)),
    piece("B", stay("degrease", "pot", 4), load=Load(1, 2, 1)), places=[POT],
)  # fmt: skip
TRAINED = problem(
    piece("A", act("trim", None, 30, work="trim")),
    people=[person("new", {0: ((time(0), time(0)),)}), person("Ada", trained={"trim"})],
)
CLOSED = problem(
    piece("A", act("trim", None, 30)), people=[person("Ada", MONDAYS_AND_THURSDAYS)], closed=frozenset({NOW.date()})
)  # fmt: skip
RELEASED = problem(piece("A", stay("degrease", "pot", 2), release=at(3), received=at(3)), places=[POT])
LEAST_WAIT = problem(piece("A", stay("glue", None, 1, least_wait_days=2), stay("dry", None, 1)))
MOST_WAIT = problem(
    piece("A", stay("whiten", "tub", 1, most_wait_days=0), stay("rinse", "water", 1)), piece("B", stay("rinse", "water", 3)),
    places=[Room("tub", "tub", 1), Room("water", "water", 1)],
)  # fmt: skip
RUNS = problem(
    piece("A", stay("degrease", "pot", 4), running=Running("pot", at(-1))), piece("B", stay("degrease", "pot", 1)), places=[POT]
)
APPETITE = problem(
    *(piece(key, eat(), tissue_kg=0.2, eating_kg_per_day=0.1) for key in "AB"), places=[Room("box", "box")], appetite={"box": 0.1}
)

# name: (room, order, piece and step to break, how, words of the fault that must be seen)
RULES = {
    "a lot counts as all its pieces": (LOTS, ["lot", "A", "B"], ("B", "degrease"), at_once, "pot holds 5"),
    "only who is trained": (TRAINED, ["A"], ("A", "trim"), by("new"), "not trained for trim"),
    "not on a closed day": (CLOSED, ["A"], ("A", "trim"), at_once, "is not there for the whole"),
    "not before it comes": (RELEASED, ["A"], ("A", "degrease"), at_once, "starts before it may"),
    "the least wait": (LEAST_WAIT, ["A"], ("A", "dry"), later(-3), "after glue"),
    "the longest wait, none": (MOST_WAIT, ["B", "A"], ("A", "rinse"), later(1), "too late"),
    "what runs cannot move": (RUNS, ["B", "A"], ("A", "degrease"), later(2), "was moved"),
    "the beetles eat no more than they can": (APPETITE, ["A", "B"], ("B", "beetles"), later(-1), "is eaten at"),
}


@pytest.mark.parametrize("name", RULES)
def test_the_rule_is_kept_by_both_dispatches_and_seen_when_broken(name):
    room, order, (key, step), change, words = RULES[name]
    plan, slots, _, compiled, _ = both(room, order)
    assert faults(room, plan) == []
    assert compiled == slots
    broken = tuple(change(slot) if (slot.piece, slot.step) == (key, step) else slot for slot in plan.slots)
    assert any(words in fault for fault in faults(room, replace(plan, slots=broken)))


def test_a_lot_that_shares_a_bath_starts_once_and_that_is_tidier():
    # Three pieces begun in one pot on one day are one start; the score's last number counts starts.
    room = problem(*(piece(key, stay("degrease", "pot", 4)) for key in "ABC"), places=[POT])
    assert dispatch(room, "ABC").score[2] == 1
    apart = replace(room, pieces=tuple(replace(one, release=at(n), received=at(n)) for n, one in enumerate(room.pieces)))
    assert dispatch(apart, "ABC").score[2] == 3
