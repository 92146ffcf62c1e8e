"""What a plan is refused for, in words; what merely happened is never refused."""

from datetime import datetime, time

import pytest

from bonebench.errors import Impossible, InputError, OutsideRange, UnknownName
from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Hands, Room, Running
from tests.planning.rooms import NOW, act, at, piece, problem, stay

NAIVE = datetime(2026, 3, 2, 8)  # noqa: DTZ001  the very thing that is refused
DRY = stay("dry", None, 1)

REFUSED = [
    (problem(now=NAIVE), "now of the plan is 2026-03-02 08:00 without a time zone: say which zone it was read in"),
    (
        problem(piece("A", DRY, release=NAIVE)),
        "the release of A is 2026-03-02 08:00 without a time zone: say which zone it was read in",
    ),
    (problem(piece("A"), piece("A")), "piece A stands twice in the plan's input: give each its own name"),
    (problem(places=[Room("pot", "pot")] * 2), "place pot stands twice in the plan's input: give each its own name"),
    (problem(piece("A", stay("dry", None, -1))), "the length in days of dry of A is -1; it must be 0 or more"),
    (problem(piece("A", act("trim", None, float("nan")))), "the work in minutes of trim of A is nan; it must be 0 or more"),
    (problem(piece("A", DRY, tissue_kg=-0.1)), "the tissue in kg of A is -0.1; it must be 0 or more"),
    (problem(piece("A", DRY, weight=float("inf"))), "the weight of a late day of A is inf; it must be 0 or more"),
    (problem(appetite={"box 1": -1}), "the appetite in kg a day of box 1 is -1; it must be 0 or more"),
    (problem(places=[Room("pot", "pot", count=-1)]), "what it holds of pot is -1; it must be 0 or more"),
    (problem(horizon_days=-1), "the horizon in days of the plan is -1; it must be 0 or more"),
    (
        problem(piece("A", stay("dry", None, 1, least_wait_days=3, most_wait_days=2))),
        "dry of A must wait at least 3 days and at most 2 days: mend one of them",
    ),
    (
        problem(people=[Hands("Ada", {0: ((time(17), time(9)),)}, frozenset())]),
        "the hours of Ada run from 17:00 to 09:00: they must end later the same day (0:00 is midnight)",
    ),
    (
        problem(tail_share=1.5),
        "a tail of 150 % that goes 3 times slower cannot be: give a share up to 100 %, and 1 or more times",
    ),
]


@pytest.mark.parametrize(("the_problem", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_a_problem_that_cannot_be_is_refused_in_words(the_problem, words):
    with pytest.raises((Impossible, OutsideRange)) as caught:
        dispatch(the_problem, [one.key for one in the_problem.pieces])
    assert str(caught.value) == words


@pytest.mark.parametrize(
    ("order", "kind", "words"),
    [
        ("ABX", UnknownName, "the order names X, which is not among the pieces to plan: leave it out or add the piece"),
        ("ABA", Impossible, "the order names A twice: name each piece once"),
        ("B", Impossible, "the order leaves out A: name every piece once"),
    ],
)
def test_an_order_must_name_every_piece_once(order, kind, words):
    with pytest.raises(kind) as caught:
        dispatch(problem(piece("A"), piece("B")), list(order))
    assert str(caught.value) == words
    assert isinstance(caught.value, InputError)


def test_a_step_that_a_wrong_clock_began_in_the_future_is_still_planned():
    room = problem(piece("A", stay("degrease", "pot", 1), DRY, running=Running("pot 1", at(2))), places=[Room("pot 1", "pot", 1)])
    assert [slot.start for slot in dispatch(room, ["A"]).slots] == [at(2), at(3)]


def test_a_place_nobody_knows_any_more_does_no_harm():
    room = problem(piece("A", stay("degrease", "pot", 1), running=Running("old pot", NOW)), piece("B", DRY, place="gone"))
    plan = dispatch(room, ["A", "B"])
    assert [(slot.piece, slot.place) for slot in plan.slots] == [("A", "old pot"), ("B", None)]
