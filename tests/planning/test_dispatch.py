"""Dispatch on rooms small enough to work out by hand: every expected instant is counted in the comment beside it.

Now is Monday 2 March 2026, 8:00 in the room. Instants are whole seconds, so they are compared as equal.
"""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Load, Room, Running
from bonebench.said import said
from tests.planning.checker import faults
from tests.planning.rooms import CHICAGO, MORNINGS, NOW, act, at, person, piece, problem, stay


def plan_of(the_problem, *order):
    plan = dispatch(the_problem, order or [one.key for one in the_problem.pieces])
    assert faults(the_problem, plan) == []
    return plan


def times(plan, key):
    return [(slot.step, slot.start, slot.end) for slot in plan.slots if slot.piece == key]


def limits(plan, key):
    return [(slot.limited_by, slot.limited_name) for slot in plan.slots if slot.piece == key]


def local(day, hour, minute=0):
    return datetime(2026, 3, day, hour, minute, tzinfo=CHICAGO)


def test_an_empty_room_has_an_empty_plan():
    plan = plan_of(problem())
    assert (plan.slots, plan.late, plan.unplaced, plan.score) == ((), (), (), (0, 0, 0))


def test_a_piece_with_nothing_left_to_do_is_not_planned_and_takes_no_room():
    room = problem(piece("A", place="pot 1"), piece("B", stay("degrease", "pot", 1)), places=[Room("pot 1", "pot", 1)])
    assert times(plan_of(room), "B") == [("degrease", at(0), at(1))]


def test_stages_follow_one_another_with_the_least_wait_between():
    room = problem(piece("A", stay("dry", None, 1.5, least_wait_days=0.25), stay("cure", None, 1)))
    plan = plan_of(room)
    assert times(plan, "A") == [("dry", at(0), at(1.5)), ("cure", at(1.75), at(2.75))]
    assert limits(plan, "A") == [("ready", None), ("wait", None)]


def test_nothing_begins_before_its_release():
    assert times(plan_of(problem(piece("A", stay("dry", None, 1), release=at(2)))), "A") == [("dry", at(2), at(3))]


def test_the_order_says_who_gets_the_only_pot():
    room = problem(*(piece(key, stay("degrease", "pot", 2)) for key in "AB"), places=[Room("pot 1", "pot", 1)])
    plan = plan_of(room, "B", "A")
    assert times(plan, "B") == [("degrease", at(0), at(2))]
    assert times(plan, "A") == [("degrease", at(2), at(4))]
    assert limits(plan, "A") == [("place", "pot")]


@pytest.mark.parametrize("limit", [{"count": 3}, {"volume_l": 30}, {"mass_kg": 3}])
def test_a_pot_takes_as_many_as_its_narrowest_limit_lets_in(limit):
    # Each counts as one, takes 10 L and weighs 1 kg: three go in, the fourth waits the day out.
    pieces = [piece(key, stay("degrease", "pot", 1), load=Load(1, 10, 1)) for key in "ABCD"]
    plan = plan_of(problem(*pieces, places=[Room("pot 1", "pot", **limit)]))
    assert [slot.start for slot in plan.slots] == [at(0), at(0), at(0), at(1)]


def test_the_first_place_of_a_kind_with_room_is_taken():
    places = [Room("shut", "pot", open=False), Room("small", "pot", volume_l=1), Room("one", "pot", 1), Room("two", "pot", 1)]
    room = problem(*(piece(key, stay("degrease", "pot", 1), load=Load(1, 5)) for key in "AB"), places=places)
    assert [slot.place for slot in plan_of(room).slots] == ["one", "two"]


def test_a_piece_blocks_its_place_until_the_next_one_has_room():
    # B has dried the rack's only room until day 5; A is out of the pot on day 1 but cannot leave it, so C waits for both.
    places = [Room("pot 1", "pot", 1), Room("rack 1", "rack", 1)]
    room = problem(
        piece("A", stay("degrease", "pot", 1), stay("dry", "rack", 1)),
        piece("B", stay("dry", "rack", 5)),
        piece("C", stay("degrease", "pot", 1)),
        places=places,
    )
    plan = plan_of(room)
    assert times(plan, "A")[1] == ("dry", at(5), at(6))
    assert times(plan, "C") == [("degrease", at(5), at(6))]


def test_stages_in_the_same_kind_of_place_keep_the_same_place():
    places = [Room("rack 1", "rack", 1), Room("rack 2", "rack", 1)]
    room = problem(piece("A", stay("dry", "rack", 1), stay("cure", "rack", 1), place="rack 2"), places=places)
    assert [slot.place for slot in plan_of(room).slots] == ["rack 2", "rack 2"]


def test_a_head_taken_out_to_thaw_keeps_its_room_in_the_freezer():
    # The freezer holds one: without the room kept, B would be in it when A comes back on day 1.
    route = (stay("thaw", "shelf", 1, keeps_place=True), act("trim", "bench", keeps_place=True), stay("freeze", "freezer", 2))
    places = [Room("freezer 1", "freezer", 1), Room("shelf 1", "shelf", 1), Room("bench 1", "bench", 1)]
    room = problem(piece("A", *route, place="freezer 1"), piece("B", stay("hold", "freezer", 1)), places=places)
    plan = plan_of(room)
    assert times(plan, "A")[2] == ("freeze", at(1), at(3))
    assert times(plan, "B") == [("hold", at(3), at(4))]


def test_a_bench_is_taken_for_the_minutes_only():
    # Two people, one bench: B begins when A's half hour is over.
    pieces = [piece(key, act("trim", "bench", 30), stay("dry", None, 5)) for key in "AB"]
    plan = plan_of(problem(*pieces, places=[Room("bench 1", "bench", 1)], people=[person("Ada"), person("Ben")]))
    assert [slot.start for slot in plan.slots if slot.step == "trim"] == [at(0), at(minutes=30)]
    assert limits(plan, "B")[0] == ("place", "bench")


def test_a_place_that_history_overfilled_lets_nothing_in_until_there_is_room():
    # Three sit in a tub for two, all out on day 1; the fourth goes in then, not when the first gap would be thinkable.
    since = Running("tub 1", NOW)
    there = [piece(key, stay("whiten", "tub", days), running=since) for key, days in (("A", 1), ("B", 2), ("C", 3))]
    plan = plan_of(problem(*there, piece("D", stay("whiten", "tub", 1)), places=[Room("tub 1", "tub", 2)]))
    assert times(plan, "D") == [("whiten", at(2), at(3))]


def test_what_is_running_stays_where_and_when_it_began():
    running = Running("pot 1", at(-1.5))
    room = problem(
        piece("A", stay("degrease", "pot", 2), stay("dry", None, 1), running=running), places=[Room("pot 1", "pot", 1, open=False)]
    )
    assert times(plan_of(room), "A") == [("degrease", at(-1.5), at(0.5)), ("dry", at(0.5), at(1.5))]


def test_what_should_have_ended_already_is_ready_now():
    running = Running("pot 1", at(-9))
    room = problem(piece("A", stay("degrease", "pot", 2), stay("dry", None, 1), running=running), places=[Room("pot 1", "pot", 1)])
    assert times(plan_of(room), "A") == [("degrease", at(-9), at(-7)), ("dry", at(0), at(1))]


def test_a_held_piece_is_not_planned_but_still_fills_its_place():
    why = said("paper", "its papers are missing")
    held = piece("A", stay("degrease", "pot", 1), place="pot 1", held=why)
    plan = plan_of(problem(held, piece("B", stay("degrease", "pot", 1)), places=[Room("pot 1", "pot", 1)], horizon_days=9))
    assert [(one.piece, str(one.why)) for one in plan.unplaced] == [
        ("A", "its papers are missing"),
        ("B", "pot 1 holds 1 and is not free for it within 9 days"),
    ]


# Hands


def test_work_is_done_one_after_the_other_inside_the_hours():
    # Mornings 9:00 to 12:00, 100 minutes each: one on Monday from 9:00, the second would end at 12:20, so Tuesday.
    pieces = [piece(key, act("trim", None, 100)) for key in "AB"]
    plan = plan_of(problem(*pieces, people=[person(hours=MORNINGS)]))
    assert [slot.start for slot in plan.slots] == [local(2, 9), local(3, 9)]
    assert limits(plan, "A") == [("hands", None)]


def test_only_the_trained_do_the_work():
    people = [person("Ada"), person("Ben", MORNINGS, trained={"baths"})]
    plan = plan_of(problem(piece("A", act("mix", None, 10, work="baths")), people=people))
    assert [(slot.person, slot.start, slot.limited_name) for slot in plan.slots] == [("Ben", local(2, 9), "baths")]


def test_of_two_who_could_begin_at_once_the_first_in_the_list_does():
    people = [person("Ada", MORNINGS), person("Ben"), person("Cy")]
    assert plan_of(problem(piece("A", act("trim", None, 10)), people=people)).slots[0].person == "Ben"


def test_hands_at_the_start_of_a_stay_count_inside_it():
    room = problem(piece("A", stay("degrease", None, 1, minutes=30)), people=[person()])
    assert times(plan_of(room), "A") == [("degrease", at(0), at(1))]


def test_no_one_works_on_a_closed_day_but_a_stay_goes_on():
    # Closed on Monday and Tuesday: the hands come on Wednesday at 9:00, while the stay that needs none ends on Tuesday.
    room = problem(
        piece("A", act("trim", None, 10)),
        piece("B", stay("dry", None, 1)),
        people=[person(hours=MORNINGS)],
        closed=frozenset({date(2026, 3, 2), date(2026, 3, 3)}),
    )
    plan = plan_of(room)
    assert times(plan, "A")[0][1] == local(4, 9)
    assert limits(plan, "A") == [("closed", "2026-03-02")]
    assert times(plan, "B") == [("dry", at(0), at(1))]


@pytest.mark.parametrize(("minutes", "begins"), [(90, local(8, 1, 30)), (91, local(15, 1, 30))])
def test_the_hour_lost_to_summer_time_cannot_be_worked(minutes, begins):
    # Sunday 8 March 2026: the clock jumps from 2:00 to 3:00 (tz database, America/Chicago), so 1:30 to 4:00 is 90 minutes.
    sundays = person(hours={6: ((time(1, 30), time(4)),)})
    assert plan_of(problem(piece("A", act("trim", None, minutes)), people=[sundays])).slots[0].start == begins


def test_the_hour_gained_in_autumn_can_be_worked():
    # Sunday 25 October 2026, Europe/Berlin: 3:00 becomes 2:00 (tz database), so 1:30 to 4:00 is 210 minutes.
    berlin = ZoneInfo("Europe/Berlin")
    now = datetime(2026, 10, 24, 12, tzinfo=berlin)
    late = person(hours={5: ((time(23), time(0)),), 6: ((time(1, 30), time(4)),)})
    pieces = [piece(key, act("trim", None, 105), release=now, received=now) for key in "AB"]
    plan = plan_of(problem(*pieces, people=[late], now=now, zone=berlin))
    begin = datetime(2026, 10, 24, 23, 30, tzinfo=ZoneInfo("UTC"))  # 1:30 summer time
    assert [slot.start for slot in plan.slots] == [begin, begin + timedelta(minutes=105)]


def test_hours_that_end_at_midnight_last_until_midnight():
    evening = person(hours={0: ((time(22), time(0)),)})
    assert plan_of(problem(piece("A", act("trim", None, 120)), people=[evening])).slots[0].end == local(3, 0)


def test_work_too_long_for_anyones_hours_goes_on_in_the_next_ones():
    # 400 minutes in mornings of 180: Monday, Tuesday, and 40 minutes of Wednesday from 9:00.
    plan = plan_of(problem(piece("A", act("articulate", None, 400)), people=[person(hours=MORNINGS)]))
    assert times(plan, "A") == [("articulate", local(2, 9), local(4, 9, 40))]


# Ties


def tied(most, days=2):
    return piece("A", stay("whiten", "tub", days, minutes=10, most_wait_days=most), stay("rinse", "water", 1, minutes=10))


BATHS = (Room("tub 1", "tub", 1), Room("water 1", "water", 1))


def test_whitening_begins_only_when_the_rinse_can_be_had_in_time():
    # Ada comes on Mondays and Thursdays at 9:00. Whitening of 2 days from Monday would end on Wednesday, a day before anyone
    # can rinse; it may wait a quarter of a day only. From Thursday it would end on Saturday, two days before. No day will do...
    hours = {0: MORNINGS[0], 3: MORNINGS[0]}
    plan = plan_of(problem(tied(0.25), places=BATHS, people=[person(hours=hours)], horizon_days=60))
    assert [str(one.why) for one in plan.unplaced] == [
        "whiten must be followed by rinse within 6 h, and no one who may do this has 10 min free at that time within 60 days"
    ]


def test_a_bath_that_may_be_stretched_is_begun_for_the_day_the_rinse_can_be_had():
    # ...but with a whole day's grace Monday works: out on Wednesday at 9:00 by the clock, rinsed on Thursday at 9:00.
    hours = {0: MORNINGS[0], 3: MORNINGS[0]}
    plan = plan_of(problem(tied(1), places=BATHS, people=[person(hours=hours)]))
    assert times(plan, "A") == [("whiten", local(2, 9), local(4, 9)), ("rinse", local(5, 9), local(6, 9))]


def test_the_start_of_a_chain_is_put_off_to_meet_its_end():
    # Whitening takes 3 days and may wait 1; the rinse is Ben's, on Mondays from 9:00. Begun now it would be over on Thursday;
    # for next Monday it must not be over before Sunday 9:00, so it is begun on Thursday at 8:00 (Sunday lacks an hour).
    whiten = stay("whiten", "tub", 3, minutes=10, most_wait_days=1)
    rinse = stay("rinse", "water", 1, minutes=10, work="rinse")
    people = [person("Ada"), person("Ben", {0: MORNINGS[0]}, trained={"rinse"})]
    plan = plan_of(problem(piece("A", whiten, rinse), places=BATHS, people=people))
    assert times(plan, "A") == [("whiten", local(5, 8), local(8, 9)), ("rinse", local(9, 9), local(10, 9))]
    assert limits(plan, "A")[0] == ("hands", "rinse")


def test_the_rinse_that_was_settled_is_not_taken_by_another():
    # A's rinse is settled for day 2 to 3. B needs the water for 3 days; it is first asked when A has already begun, and must wait.
    room = problem(tied(0), piece("B", stay("soak", "water", 3)), places=BATHS, people=[person()])
    plan = plan_of(room)
    assert times(plan, "A")[1] == ("rinse", at(2), at(3))
    assert times(plan, "B") == [("soak", at(3), at(6))]


def test_chains_may_be_longer_than_two():
    # Trim, then straight into the box within an hour, both by one person in the mornings: 60 minutes, then at once.
    route = (
        act("trim", "bench", 60, most_wait_days=0.04),
        stay("pin", "rack", 0.5, minutes=5, most_wait_days=0),
        act("look", None, 10),
    )
    places = [Room("bench 1", "bench", 1), Room("rack 1", "rack", 1)]
    # The look must be 12 h after pinning: 21:00 to 23:00 by Ben, so pinning from 9:00 to 11:00 and trimming an hour before.
    people = [
        person("Ada", {day: ((time(6), time(12)),) for day in range(7)}),
        person("Ben", {day: ((time(21), time(23)),) for day in range(7)}),
    ]
    plan = plan_of(problem(piece("A", *route), places=places, people=people))
    assert [(slot.start, slot.person) for slot in plan.slots] == [
        (local(2, 8, 0), "Ada"),
        (local(2, 9), "Ada"),
        (local(2, 21), "Ben"),
    ]


def test_what_must_follow_a_running_bath_is_settled_before_anything_else():
    # A is in peroxide since yesterday and is due out tomorrow; B stands first in the order and would take the water for 9 days.
    running = Running("tub 1", at(-1))
    a = piece("A", stay("whiten", "tub", 2, most_wait_days=0.5), stay("rinse", "water", 1), running=running)
    plan = plan_of(problem(piece("B", stay("soak", "water", 9)), a, places=BATHS), "B", "A")
    assert times(plan, "A")[1] == ("rinse", at(1), at(2))
    assert times(plan, "B") == [("soak", at(2), at(11))]


# Lateness and score


def test_late_days_are_counted_in_days_of_the_room():
    # Ends on Wednesday 4 March at 8:00; due on Monday 2 March: two days late, at weight 3 six.
    plan = plan_of(problem(piece("A", stay("dry", None, 2), due=date(2026, 3, 2), weight=3)))
    assert [(one.piece, one.days, one.ends) for one in plan.late] == [("A", 2, date(2026, 3, 4))]
    assert plan.score == (6, 6, 0)


def test_one_full_pot_is_tidier_than_two():
    two = problem(
        *(piece(key, stay("degrease", "pot", 1)) for key in "AB"), places=[Room("pot 1", "pot", 2), Room("pot 2", "pot", 1)]
    )
    one_each = problem(*two.pieces, places=[Room("pot 1", "pot", 1), Room("pot 2", "pot", 1)])
    assert (plan_of(two).score[2], plan_of(one_each).score[2]) == (1, 2)


def test_a_piece_that_finds_no_time_weighs_more_than_all_lateness():
    late = piece("A", stay("degrease", "pot", 300), due=date(2020, 1, 1), weight=50)
    placed = problem(late, piece("B", stay("dry", None, 1)), places=[Room("pot 1", "pot")])
    assert plan_of(placed).score < plan_of(problem(*placed.pieces)).score


def test_the_same_problem_and_order_give_the_same_plan():
    room = problem(tied(1), piece("B", stay("soak", "water", 3)), places=BATHS, people=[person(hours=MORNINGS)])
    assert dispatch(room, ("B", "A"), "mine") == dispatch(room, ("B", "A"), "mine")
