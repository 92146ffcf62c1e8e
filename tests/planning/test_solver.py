"""The solver as a proposer: its bound holds for every order, its answer is kept where dispatch agrees, and it is not needed."""

import random
from dataclasses import replace
from datetime import time, timedelta
from itertools import permutations

import pytest

from bonebench.errors import SetUpError
from bonebench.planning import solver
from bonebench.planning.better import better_plan
from bonebench.planning.clash import why_nothing_fits
from bonebench.planning.dispatch import dispatch
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Room
from bonebench.said import said
from tests.planning.checker import faults
from tests.planning.rooms import NOW, act, eat, person, piece, problem, room_of, stay
from tests.planning.test_rules import busy_room
from tests.planning.test_search import season

needs_solver = pytest.mark.skipif(not solver.available(), reason="OR-Tools is not installed")
POT = [Room("pot", "pot", 1)]


def due(days):
    return NOW.date() + timedelta(days=days)


@needs_solver
@pytest.mark.parametrize("seed", range(12))
def test_no_order_of_a_room_by_chance_is_less_late_than_the_bound(seed):
    room = room_of(random.Random(seed))
    room = replace(room, pieces=tuple(replace(one, held=None) for one in room.pieces[:5]))
    plans = [dispatch(room, order) for order in permutations(one.key for one in room.pieces)]
    placed = [
        one.key for one in room.pieces if all(one.key not in {u.piece for u in plan.unplaced} for plan in plans) and one.stages
    ]
    found = solver.solve(Prepared(room), keys=placed, effort=2)
    weights = {one.key: one.weight for one in room.pieces}
    late = [sum(weights[one.piece] * one.days for one in plan.late if one.piece in placed) for plan in plans]
    assert found.status in ("optimal", "found")
    assert found.bound <= min(late) + 1e-6


@needs_solver
@pytest.mark.parametrize("seed", range(4))
def test_one_pot_is_solved_as_well_as_by_trying_every_order(seed):
    # One stage each in one pot: times read as an order lose nothing, so the least lateness of all orders is the optimum.
    rng = random.Random(seed)
    pieces = [
        piece(str(n), stay("degrease", "pot", rng.randint(1, 6)), due=due(rng.randint(2, 15)), weight=rng.choice((1, 2, 5)))
        for n in range(6)
    ]
    room = problem(*pieces, places=POT)
    best = min(dispatch(room, order).score[0] for order in permutations("012345"))
    found = solver.solve(Prepared(room), effort=10)
    assert (found.status, found.value) == ("optimal", best)
    assert min(dispatch(room, order).score[0] for order in found.orders()) == best


@needs_solver
def test_the_same_effort_and_seed_give_the_same_answer():
    prepared = Prepared(season(12, seed=3, tight=2))
    assert solver.solve(prepared, effort=0.5, seed=4) == solver.solve(prepared, effort=0.5, seed=4)


@needs_solver
def test_a_better_plan_is_never_worse_than_search_keeps_every_rule_and_gives_a_bound():
    room = season(14, seed=4, tight=2)
    better = better_plan(room, moves=40, effort=0.1)
    assert better.plan.score <= better.best_rule.score
    assert faults(room, better.plan) == []
    assert 0 <= better.bound <= better.plan.score[0]
    assert better.notes == ()


@needs_solver
def test_a_large_room_is_thought_over_in_stretches():
    room = season(40, seed=6, tight=3)
    alone = better_plan(room, moves=30, stretches=0)
    helped = better_plan(room, moves=30, stretches=6, effort=0.3)
    assert helped.plan.score < alone.plan.score
    assert faults(room, helped.plan) == []


def test_a_tiny_room_is_optimal_without_the_solver():
    better = better_plan(busy_room())
    assert better.status == "optimal"
    assert better.plan.score == min(dispatch(busy_room(), order).score for order in permutations("ABCDE"))


def test_without_or_tools_it_still_plans_and_says_so(monkeypatch):
    monkeypatch.setattr(solver, "available", lambda: False)
    better = better_plan(season(12, seed=1, tight=2), moves=20)
    assert better.plan.slots
    assert [str(note) for note in better.notes] == ["OR-Tools is not installed: the plan is from rules and search alone"]
    with pytest.raises(SetUpError, match="OR-Tools is not installed"):
        solver.RoomModel(Prepared(busy_room()), ["A"], solver.Busy())


def test_what_the_ceiling_cut_short_is_said():
    better = better_plan(season(14, seed=4, tight=2), moves=500, out_of_time=lambda: True)
    assert [note.key for note in better.notes] == ["plan.cut_short"]


# Why nothing fits


def words(room, keys=None):
    return [str(one) for one in why_nothing_fits(room, keys)]


def test_a_piece_whose_own_steps_take_too_long_is_named_alone():
    room = problem(piece("A", stay("degrease", "pot", 19), due=due(9)), places=POT)
    assert words(room) == ["A must be through on 11 Mar 2026, but it can begin on 2 Mar 2026 and its steps need at least 19 days"]


def test_what_finds_no_time_at_all_is_said_first():
    room = problem(piece("A", stay("degrease", "vat", 1), due=due(9)), places=POT)
    assert words(room) == ["A: there is no vat in this room"]


@needs_solver
def test_two_promises_and_one_pot_clash_and_nothing_else_is_named():
    # Two soaks of three days in one pot end on day 6 at the soonest; both are due on day 4. C has nothing to do with it.
    pieces = [piece(key, stay("degrease", "pot", 3), due=due(4)) for key in "AB"]
    other = piece("C", act("trim", None, 60, work="trim"), due=due(9))
    room = problem(*pieces, other, places=POT, people=[person(trained={"trim"})])
    assert sorted(words(room)) == [
        "A must be through on 6 Mar 2026",
        "B must be through on 6 Mar 2026",
        "there is only so much room in pot: pot",
    ]
    assert words(replace(room, places=(*POT, Room("second", "pot", 1)))) == []


@needs_solver
def test_hands_that_are_there_for_an_hour_a_week_are_named():
    people = [person("Ada", {0: ((time(9), time(10)),)}, trained={"trim"})]
    pieces = [piece(key, act("trim", None, 50, work="trim"), due=due(3)) for key in "AB"]
    found = words(problem(*pieces, people=people))
    assert "there are only so many hours of hands for trim" in found
    assert len(found) == 3


@needs_solver
def test_a_room_where_everything_fits_has_no_clash():
    eaten = piece("E", eat(), tissue_kg=0.1, eating_kg_per_day=0.1, due=due(30), held=None)
    held = piece("H", stay("degrease", "pot", 3), due=due(1), held=said("x", "it waits"))
    assert words(problem(eaten, held, places=[*POT, Room("box", "box", 1)], appetite={"box": 1}), ["E"]) == []


@needs_solver
def test_in_a_large_room_the_soonest_promises_are_asked_about_and_the_rest_left_out():
    # As above, with a hundred pieces beside the two that want the pot's room another way.
    pieces = [piece(key, stay("degrease", "pot", 3), due=due(4)) for key in "AB"]
    crowd = [piece(f"C{number}", stay("dry", "rack", 1)) for number in range(100)]
    room = problem(*crowd, *pieces, places=[*POT, Room("rack", "rack", None)])
    assert sorted(words(room)) == [
        "A must be through on 6 Mar 2026",
        "B must be through on 6 Mar 2026",
        "there is only so much room in pot: pot",
    ]
