"""Planning again: what can stay stays, and what moved says why."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Room, Running
from bonebench.planning.replan import Before, replan
from bonebench.said import said
from tests.planning.checker import faults
from tests.planning.rooms import NOW, at, piece, problem, stay
from tests.planning.test_search import season

POT = [Room("pot", "pot", 1)]


def soak(key, days=4, **more):
    return piece(key, stay("degrease", "pot", days), **more)


def two():
    return problem(soak("A"), soak("B"), places=POT)


def words(done):
    return {one.piece: str(one.why) for one in done.moves}


def test_the_same_day_again_moves_nothing():
    before = dispatch(two(), ["B", "A"])
    done = replan(Before.of(before), two())
    assert (done.plan.order, done.moves, done.kept_order) == (("B", "A"), (), True)


def test_a_new_piece_that_is_due_sooner_goes_first_and_is_named():
    before = dispatch(two(), ["A", "B"])
    later = replace(two(), pieces=(*two().pieces, soak("new", due=NOW.date() + timedelta(days=5))))
    done = replan(Before.of(before), later)
    assert done.plan.order == ("new", "A", "B")
    assert words(done) == {
        "A": "degrease waits for pot: new came in and goes first",
        "B": "degrease waits for pot: new came in and goes first",
    }
    assert [one.days for one in done.moves] == [4, 4]


def test_a_step_that_is_not_over_says_so_and_those_behind_it_wait():
    before = dispatch(two(), ["A", "B"])
    late = problem(soak("A", 6, running=Running("pot", NOW)), soak("B"), places=POT, now=at(5))
    done = replan(Before.of(before), late)
    assert words(done) == {
        "A": "degrease was to be over on 6 Mar 2026",
        "B": "degrease was to begin on 6 Mar 2026 and has not begun",
    }
    assert next((one.was, one.now) for one in done.moves) == (date(2026, 3, 6), date(2026, 3, 8))


def test_a_hold_and_a_pot_out_of_use_are_why_nothing_is_found():
    before = dispatch(two(), ["A", "B"])
    held = replace(two(), pieces=(soak("A", held=said("x", "it waits for a paper")), soak("B")))
    done = replan(Before.of(before), held)
    assert words(done) == {"A": "it waits for a paper", "B": "degrease can begin sooner: what it waited for is free"}
    shut = replace(two(), places=(Room("pot", "pot", 1, open=False),))
    assert words(replan(Before.of(before), shut)) == {"A": "no pot is open", "B": "no pot is open"}


def test_a_closed_day_and_another_order_are_why(monkeypatch):
    room = season(12, seed=4, tight=2)
    before = dispatch(room, tuple(piece.key for piece in room.pieces))
    done = replan(Before.of(before), room, moves=200)
    assert not done.kept_order
    assert done.saves == pytest.approx(before.score[0] - done.plan.score[0])
    assert done.moves
    assert any("goes first now" in text or "can begin sooner" in text for text in words(done).values())
    assert faults(room, done.plan) == []


def test_a_little_gain_is_not_worth_the_stir():
    # Due on day 4 the two together are 4 late days whoever goes first, less one day for the shorter first: not two.
    room = problem(soak("A", 4, due=NOW.date() + timedelta(days=4)), soak("B", 3, due=NOW.date() + timedelta(days=4)), places=POT)
    done = replan(Before(("A", "B"), dispatch(room, ["A", "B"]).slots), room, moves=10)
    assert (done.kept_order, done.saves, done.plan.order) == (True, 0.0, ("A", "B"))
