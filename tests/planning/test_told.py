"""The plan of a large room, told from compiled times, is the plan dispatch makes: every slot, every limit and every word."""

import random
import subprocess
import sys
from dataclasses import replace
from datetime import time, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import Impossible
from bonebench.planning import planned as module
from bonebench.planning.dispatch import dispatch_prepared
from bonebench.planning.planned import LARGE, planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Room
from bonebench.planning.quick import MOST_KINDS, QuickRoom, warm
from bonebench.planning.told import told_plan
from bonebench.science.scheduling import is_at_hand
from tests.planning.rooms import act, eat, person, piece, problem, room_of, rooms, stay
from tests.planning.test_unplaced import REASONS

ROOT = Path(__file__).parents[2]


def shuffled(the_problem, seed):
    order = [one.key for one in the_problem.pieces]
    random.Random(seed).shuffle(order)
    return order


def check_same(the_problem, order):
    """Hold both plans equal, word for word; return the plan."""
    prepared = Prepared(the_problem)
    plan, told = dispatch_prepared(prepared, order, "mine"), told_plan(QuickRoom(prepared), order, "mine")
    assert told.slots == plan.slots
    assert [(one.piece, one.step, str(one.why)) for one in told.unplaced] == [
        (one.piece, one.step, str(one.why)) for one in plan.unplaced
    ]
    assert told == plan
    return plan


@settings(max_examples=500, deadline=None)
@given(rooms, st.integers(0, 2**32))
def test_every_order_of_every_room_is_told_the_same(the_problem, seed):
    check_same(the_problem, shuffled(the_problem, seed))


def test_fixed_rooms_are_told_the_same_and_leave_out_no_word():
    # The same seeds always: between them they come to every reason but the two with a case of their own below.
    keys, limits = set(), set()
    for seed in range(1500):
        the_problem = room_of(random.Random(seed))
        plan = check_same(the_problem, shuffled(the_problem, seed))
        keys |= {one.why.key for one in plan.unplaced}
        limits |= {slot.limited_by for slot in plan.slots}
    reasons = "none not_open too_big untrained no_time full not_eaten horizon"
    assert {f"plan.why.{reason}" for reason in reasons.split()} <= keys
    assert "test.held" in keys
    assert limits == {"ready", "hands", "place", "appetite", "wait", "closed"}


@pytest.mark.parametrize("seed", range(20))
def test_tied_pieces_round_two_boxes_are_told_the_same(seed):
    beetles = {"tissue_kg": 0.2, "eating_kg_per_day": 0.1}
    trim, rest = act("trim", "bench", 60, most_wait_days=2), stay("rest", "shelf", 1, most_wait_days=1)
    tied = [piece(f"T{n}", trim, rest, eat(most_wait_days=1), stay("soak", "pot", 3), **beetles) for n in range(5)]
    loose = [piece(f"L{n}", eat(), stay("soak", "pot", 2), **beetles) for n in range(5)]
    kinds = (("bench", 1), ("shelf", 3), ("pot", 2))
    places = [*(Room(kind, kind, count) for kind, count in kinds), Room("box 1", "box", 2), Room("box 2", "box", 3)]
    the_problem = problem(*tied, *loose, places=places, people=[person()], appetite={"box 1": 0.08, "box 2": 0.03})
    check_same(the_problem, shuffled(the_problem, seed))
    check_same(replace(the_problem, horizon_days=9), shuffled(the_problem, seed))


def test_work_over_several_days_and_closed_ones_is_told_the_same():
    hours = {0: ((time(9), time(14)),), 3: ((time(9), time(12)),)}
    carved = [piece(str(n), act("carve", "bench", 900)) for n in range(4)]
    the_problem = problem(*carved, places=[Room("bench", "bench", 2)], people=[person("Ada", hours)])
    closed = frozenset({the_problem.now.date(), the_problem.now.date() + timedelta(days=3)})
    check_same(the_problem, list("2013"))
    assert "closed" in {slot.limited_by for slot in check_same(replace(the_problem, closed=closed), list("2013")).slots}


@pytest.mark.parametrize(("one", "room"), [(one, room) for one, room, _ in REASONS], ids=[words for _, _, words in REASONS])
def test_each_reason_is_told_in_the_same_words(one, room):
    assert check_same(problem(one, **({"horizon_days": 30} | room)), [one.key]).unplaced


def test_steps_that_never_find_time_together_are_told_the_same():
    # Ada works mornings and Bo afternoons, and Bo's step must follow hers at once; the rest before leaves them the whole year.
    ada = person("Ada", {day: ((time(9), time(10)),) for day in range(7)}, {"trim"})
    bo = person("Bo", {day: ((time(14), time(15)),) for day in range(7)}, {"glue"})
    rest = stay("rest", None, 1, most_wait_days=390)
    never = piece("A", rest, act("trim", None, 30, work="trim", most_wait_days=0), act("glue", None, 30, work="glue"))
    assert [one.why.key for one in check_same(problem(never, people=[ada, bo]), ["A"]).unplaced] == ["plan.why.tied"]


def test_what_begins_after_the_last_day_is_told_the_same():
    late = piece("A", stay("soak", "pot", 3))
    the_problem = problem(replace(late, release=late.release + timedelta(days=50)), places=[Room("pot", "pot", 1)], horizon_days=30)
    assert [one.why.key for one in check_same(the_problem, ["A"]).unplaced] == ["plan.why.release"]


def many(count, rng):
    """Return a room of so many pieces through two boxes, with ties, a held piece and more work than the horizon has room for."""
    steps = (act("trim", "bench", 30, work="trim", most_wait_days=1), eat(), stay("soak", "pot", 4, minutes=5))
    beetles = {"tissue_kg": 0.2, "eating_kg_per_day": 0.1}
    pieces = [piece(f"P{n}", *steps[rng.randint(0, 2) :], **beetles) for n in range(count)]
    places = [Room("bench", "bench", 1), Room("box 1", "box", 9), Room("box 2", "box", 9), Room("pot", "pot", 4)]
    crew = [person("Ada", trained={"trim"}), person("Bo")]
    return problem(*pieces, places=places, people=crew, appetite={"box 1": 0.5, "box 2": 0.2}, horizon_days=90)


def test_a_large_room_is_planned_by_the_compiled_dispatch_to_the_same_plan(monkeypatch):
    the_problem = many(LARGE, random.Random(1))
    order = shuffled(the_problem, 1)
    expected = dispatch_prepared(Prepared(the_problem), order, "mine")
    assert expected.unplaced

    warm()

    def no_dispatch(*_):
        raise AssertionError("a large room went through the slow dispatch")

    monkeypatch.setattr(module, "dispatch_prepared", no_dispatch)
    assert planned(Prepared(the_problem), order, "mine") == expected


def test_a_room_with_more_kinds_of_place_than_the_tables_watch_is_planned_all_the_same():
    kinds = [f"kind {n}" for n in range(MOST_KINDS + 1)]
    pieces = [piece(f"P{n}", stay("soak", kinds[n % len(kinds)], 1)) for n in range(LARGE)]
    prepared = Prepared(problem(*pieces, places=[Room(kind, kind, 1) for kind in kinds]))
    order = tuple(prepared.pieces)
    assert planned(prepared, order) == dispatch_prepared(prepared, order)


def test_a_large_room_does_not_wait_for_a_compiler(monkeypatch):
    # A folder that cannot be written keeps nothing: every command would compile again.
    monkeypatch.setattr("bonebench.science.scheduling.is_at_hand", lambda: False)
    monkeypatch.setattr(module, "dispatch_prepared", lambda *_: "by dispatch")
    prepared = Prepared(many(LARGE, random.Random(1)))
    assert planned(prepared, tuple(prepared.pieces)) == "by dispatch"


def test_what_has_been_called_is_at_hand():
    warm()
    assert is_at_hand()


def test_a_wrong_order_is_refused_in_a_large_room_too():
    prepared = Prepared(many(LARGE, random.Random(1)))
    order = tuple(prepared.pieces)
    with pytest.raises(Impossible, match="twice"):
        planned(prepared, (*order[:-1], order[0]))


def test_a_usual_room_is_planned_without_numba():
    # numba alone takes a third of a second to import, and `bonebench today` must have begun by then.
    code = """
import sys
from tests.planning.rooms import piece, problem, stay
from bonebench.planning.rules import best_plan
assert best_plan(problem(*(piece(str(n), stay("soak", None, 1)) for n in range(20)))).slots
print([name for name in ("numba", "numpy") if name in sys.modules])
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.strip() == "[]"
