"""The compiled dispatch gives what dispatch gives: the same times, places, hands, unplaced and score, for every room and order."""

import random
from datetime import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Room
from bonebench.planning.quick import QuickRoom, warm
from bonebench.science.scheduling.tables import END, L_HANDS, L_PLACE, LIMIT, NAME, PERSON, PLACE, START, UNSET
from tests.planning.rooms import act, eat, person, piece, problem, rooms, stay


def both(the_problem, order):
    """Return what dispatch and the compiled dispatch say, in the same words."""
    plan, quick = dispatch(the_problem, order), QuickRoom.of(the_problem)
    times = quick.times(quick.order_of(order))
    seconds, places = quick.prepared.calendar.seconds, [place.key for place in the_problem.places]
    people = [one.key for one in the_problem.people]
    slots = {(s.piece, s.step, s.visit): (seconds(s.start), seconds(s.end), s.place, s.person) for s in plan.slots}
    legs = [(key, stage.step, stage.visit) for key in quick.keys for stage in quick.prepared.pieces[key].piece.stages]
    compiled = {
        leg: (
            row[START],
            row[END],
            named(places, row[PLACE], slots.get(leg)),
            named(people, row[PERSON]),
        )
        for leg, row in zip(legs, times.time, strict=True)
        if row[START] != UNSET
    }
    return plan, slots, times, compiled, quick


def named(names, number, slot=None):
    # A place the problem does not list has no name in the tables: what runs there stays there.
    return None if number < 0 else names[number] if number < len(names) else slot[2]


@settings(max_examples=400, deadline=None)
@given(rooms, st.integers(0, 2**32))
def test_every_order_of_every_room_comes_out_the_same(the_problem, seed):
    order = [one.key for one in the_problem.pieces]
    random.Random(seed).shuffle(order)
    plan, slots, times, compiled, quick = both(the_problem, order)
    assert compiled == slots
    assert {key for key, off in zip(quick.keys, times.unplaced, strict=True) if off} == {one.piece for one in plan.unplaced}
    # Sums of the same days in another order: rounding only.
    assert times.score == pytest.approx(plan.score, rel=1e-9, abs=1e-6)
    late = {one.piece: one.days for one in plan.late}
    assert [late.get(key, 0) for key in quick.keys] == list(times.late_days)


def test_a_box_with_tied_entries_comes_out_the_same():
    # What is settled to enter later must not be put off by what would go in before it: the rarest path of dispatch.
    beetles = {"tissue_kg": 0.2, "eating_kg_per_day": 0.1}
    trim, rest = act("trim", "bench", 60, most_wait_days=2), stay("rest", "shelf", 1, most_wait_days=1)
    tied = [piece(f"T{n}", trim, rest, eat(most_wait_days=1), stay("soak", "pot", 3), **beetles) for n in range(5)]
    loose = [piece(f"L{n}", eat(), stay("soak", "pot", 2), **beetles) for n in range(5)]
    places = [Room("bench", "bench", 1), Room("shelf", "shelf", 3), Room("box", "box", 3), Room("pot", "pot", 2)]
    the_problem = problem(*tied, *loose, places=places, people=[person()], appetite={"box": 0.08})
    for seed in range(20):
        order = [one.key for one in the_problem.pieces]
        random.Random(seed).shuffle(order)
        _, slots, _, compiled, _ = both(the_problem, order)
        assert compiled == slots


def test_work_longer_than_any_one_days_hours_comes_out_the_same():
    hours = {0: ((time(9), time(14)),), 3: ((time(9), time(12)),)}
    carved = [piece(str(n), act("carve", "bench", 900)) for n in range(4)]
    the_problem = problem(*carved, places=[Room("bench", "bench", 2)], people=[person("Ada", hours)])
    _, slots, _, compiled, _ = both(the_problem, list("2013"))
    assert compiled == slots


def test_what_limits_a_start_is_named():
    the_problem = problem(*(piece(key, stay("soak", "pot", 3)) for key in "AB"), places=[Room("pot", "pot", 1)])
    quick = QuickRoom.of(the_problem)
    second = quick.times(quick.order_of("AB")).time[1]
    assert (second[LIMIT], quick.kinds[second[NAME]]) == (L_PLACE, "pot")
    the_problem = problem(*(piece(key, act("trim", None, 60, work="trim")) for key in "AB"), people=[person(trained={"trim"})])
    quick = QuickRoom.of(the_problem)
    second = quick.times(quick.order_of("AB")).time[1]
    assert (second[LIMIT], quick.works[second[NAME]]) == (L_HANDS, "trim")


def test_some_of_the_pieces_can_be_planned_alone():
    the_problem = problem(*(piece(key, stay("soak", "pot", 3)) for key in "ABC"), places=[Room("pot", "pot", 1)])
    quick = QuickRoom.of(the_problem)
    times = quick.times(quick.order_of("CA"))
    assert list(times.time[:, START]) == [3 * 86400, UNSET, 0]
    assert np.count_nonzero(times.unplaced) == 0


def test_a_room_with_nothing_in_it_comes_out_too():
    warm()
    empty = QuickRoom.of(problem())
    assert empty.times(empty.order_of(())).score == (0.0, 0.0, 0.0)
