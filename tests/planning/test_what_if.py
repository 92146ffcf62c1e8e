"""What would be otherwise, side by side."""

from datetime import time, timedelta

import pytest

from bonebench.errors import OutsideRange, UnknownName
from bonebench.planning.problem import Room, Running
from bonebench.planning.what_if import helper, hungrier, longer_hours, more_of, refuse_until, side_by_side, without
from tests.planning.rooms import NOW, act, at, eat, person, piece, problem, stay


def room(**more):
    due = NOW.date() + timedelta(days=6)
    pieces = [
        piece(str(n), stay("degrease", "pot", 4), stay("whiten", "tub", 2), due=due, release=at(n), received=at(n))
        for n in range(4)
    ]
    return problem(*pieces, places=[Room("pot", "pot", 1), Room("tub", "tub", 1)], **more)


def sides(the_room, **changes):
    return {side.name: side for side in side_by_side(the_room, changes, moves=30)}


def test_one_more_pot_makes_it_sooner_and_the_room_itself_is_not_changed():
    # By hand: one pot is through with the four after 16 days, and 2 in the tub; two pots wait for
    # the tub: it takes them from day 4 on, two days each, and is through after 12.
    the_room = room()
    found = sides(the_room, pot=more_of("pot"), tub=more_of("tub"))
    assert found["as it is"].last_through == NOW.date() + timedelta(days=18)
    assert found["pot"].last_through == NOW.date() + timedelta(days=12)
    assert found["pot"].weighted_late_days < found["as it is"].weighted_late_days
    assert found["tub"].weighted_late_days == found["as it is"].weighted_late_days  # the tub is not what limits
    assert len(the_room.places) == 2


def test_no_whitening_leaves_its_steps_out_but_not_what_is_running():
    found = sides(room(), plain=without("whiten"))
    assert found["plain"].last_through == NOW.date() + timedelta(days=16)
    assert {slot.step for slot in found["plain"].plan.slots} == {"degrease"}


def test_refusing_new_work_leaves_out_what_would_come_before():
    found = sides(room(), refused=refuse_until(NOW.date() + timedelta(days=3)))
    # Those of day 0 and day 3 are left.
    assert set(found["refused"].ends) == {"0", "3"}


def test_a_hungrier_colony_and_another_pair_of_hands():
    fed = [piece(str(n), act("trim", None, 170, work="trim"), eat(), tissue_kg=0.3, eating_kg_per_day=0.2) for n in range(4)]
    hours = {0: ((time(9), time(12)),)}
    the_room = problem(*fed, places=[Room("box", "box")], people=[person("Ada", hours, {"trim"})], appetite={"box": 5})
    found = sides(the_room, help=helper("Bo", range(7), time(9), time(12), ["trim"]), longer=longer_hours("Ada", 180))
    assert found["help"].mean_days < found["longer"].mean_days < found["as it is"].mean_days
    hungry = problem(
        piece("A", eat(), tissue_kg=0.3, eating_kg_per_day=0.2), places=[Room("box", "box")], appetite={"box": 0.05}, tail_share=0.0
    )
    # 300 g at 50 g a day are 6 days, at 100 g a day 3; the clocks change on one.
    found = sides(hungry, warm=hungrier(2))
    assert (found["as it is"].mean_days, found["warm"].mean_days) == (pytest.approx(6, rel=0.01), pytest.approx(3, rel=0.01))


def test_a_second_box_eats_like_the_first():
    fed = [piece(str(n), eat(), tissue_kg=0.3, eating_kg_per_day=0.2) for n in range(4)]
    found = sides(problem(*fed, places=[Room("box", "box", 2)], appetite={"box": 0.05}), second=more_of("box"))
    assert found["second"].mean_days < 0.7 * found["as it is"].mean_days


def test_bad_input_is_refused_in_words():
    with pytest.raises(UnknownName, match="there is no open vat in the room"):
        more_of("vat")(room())
    with pytest.raises(UnknownName, match="nobody is called Cy"):
        longer_hours("Cy", 60)(room())
    with pytest.raises(OutsideRange, match="0 times the appetite"):
        hungrier(0)


def test_what_lies_in_the_first_of_the_steps_keeps_all_of_them():
    # A piece in peroxide is rinsed whatever is decided today; one that waits for the tub skips both.
    inside = piece("in", stay("whiten", "tub", 2), stay("rinse", "rinse", 1), running=Running("tub", at(-1)))
    ahead = piece("ahead", stay("whiten", "tub", 2), stay("rinse", "rinse", 1))
    rinsing = piece("rinsing", stay("rinse", "rinse", 1))
    changed = without("whiten", "rinse")(problem(inside, ahead, rinsing)).pieces
    assert [[stage.step for stage in one.stages] for one in changed] == [["whiten", "rinse"], [], ["rinse"]]
