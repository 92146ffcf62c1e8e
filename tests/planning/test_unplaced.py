"""Every reason a piece finds no time, in words."""

from datetime import date

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Load, Room
from tests.planning.checker import faults
from tests.planning.rooms import ALL_DAY, act, at, eat, person, piece, problem, stay

POT = stay("degrease", "pot", 1)


def why(one, **more):
    the_problem = problem(one, **({"horizon_days": 30} | more))
    plan = dispatch(the_problem, [one.key])
    assert faults(the_problem, plan) == []
    return [(found.step, str(found.why)) for found in plan.unplaced]


REASONS = [
    (piece("A", POT), {}, "there is no pot in this room"),
    (piece("A", POT), {"places": [Room("pot 1", "pot", open=False)]}, "no pot is open"),
    (
        piece("A", POT),
        {"places": [Room("pot 1", "pot", 0)]},
        "it does not fit in any pot, not even an empty one: pot 1 holds 0 and it counts as 1",
    ),
    (
        piece("A", POT, load=Load(1, 50)),
        {"places": [Room("pot 1", "pot", volume_l=20)]},
        "it does not fit in any pot, not even an empty one: pot 1 holds 20 L and it takes 50 L",
    ),
    (
        piece("A", POT, load=Load(1, 0, 9)),
        {"places": [Room("pot 1", "pot", mass_kg=4)]},
        "it does not fit in any pot, not even an empty one: pot 1 holds 4 kg and it weighs 9 kg",
    ),
    (piece("A", act("mix", None, 5, work="peroxide")), {"people": [person()]}, "no one is trained for peroxide"),
    (piece("A", act("trim", None, 5)), {"people": []}, "no one is trained for this"),
    (piece("A", act("trim", None, 5)), {"people": [person(hours={})]}, "no one who may do this has working hours"),
    (
        piece("A", act("trim", None, 60)),
        {"people": [person()], "horizon_days": 0, "closed": frozenset({date(2026, 3, 2), date(2026, 3, 3)})},
        "no one who may do this has 60 min free within 0 h",
    ),
    (piece("A", stay("dry", None, 31)), {}, "dry would not end within the 30 days this plan looks ahead"),
    (piece("A", stay("dry", None, 1), release=at(90)), {}, "it may not begin before 31 May 2026, after the plan's last day"),
    (
        piece("A", eat(), tissue_kg=0.2, eating_kg_per_day=0.1),
        {"places": [Room("box 1", "box")]},
        "the beetles do not get through 200 g of tissue within 30 days",
    ),
    (
        piece("A", eat(), tissue_kg=0.2),
        {"places": [Room("box 1", "box")], "appetite": {"box 1": 1}},
        "nothing says how fast the beetles can eat it: give it an eating rate",
    ),
    (
        piece("A", stay("whiten", None, 1, most_wait_days=0.5), stay("rinse", "water", 1)),
        {},
        "whiten must be followed by rinse within 12 h, and there is no water in this room",
    ),
]


@pytest.mark.parametrize(("one", "room", "words"), REASONS, ids=[words for _, _, words in REASONS])
def test_a_piece_that_finds_no_time_says_why(one, room, words):
    assert why(one, **room) == [(one.stages[0].step, words)]


def test_the_steps_before_the_one_without_a_time_are_still_planned():
    the_problem = problem(piece("A", stay("dry", None, 1), POT))
    plan = dispatch(the_problem, ["A"])
    assert [slot.step for slot in plan.slots] == ["dry"]
    assert [(one.step, str(one.why)) for one in plan.unplaced] == [("degrease", "there is no pot in this room")]


def test_several_full_places_are_not_counted_up():
    fill = [piece(key, stay("soak", "pot", 29)) for key in "AB"]
    the_problem = problem(
        *fill, piece("C", stay("degrease", "pot", 9)), places=[Room("p", "pot", 1), Room("q", "pot", 1)], horizon_days=30
    )
    assert [str(one.why) for one in dispatch(the_problem, list("ABC")).unplaced] == ["no pot is free for it within 30 days"]


def test_all_the_hours_there_are_may_be_taken():
    # Whole days to the horizon on Monday the 9th: Tuesday to Saturday. Sunday has only 23 hours, the clocks go forward.
    pieces = [piece(str(number), act("carve", None, 1440)) for number in range(6)]
    the_problem = problem(*pieces, people=[person(hours=ALL_DAY)], horizon_days=7)
    plan = dispatch(the_problem, [one.key for one in pieces])
    assert faults(the_problem, plan) == []
    assert [(one.piece, str(one.why)) for one in plan.unplaced] == [("5", "no one who may do this has 24 h free within 7 days")]
