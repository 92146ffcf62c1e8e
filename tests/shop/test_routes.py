"""The route of one specimen, and where on it the specimen stands. The methods are the shipped ones."""

from datetime import timedelta

import pytest

from bonebench.reference.methods import load_methods
from bonebench.shop.entries import Done, MethodChosen, Moved, PlaceSet, Received, SentBack, Skipped, specimen_subject
from bonebench.shop.methods import Size
from bonebench.shop.room import Place, Room
from bonebench.shop.routes import Facts, days_in_step, is_look_back, main_part, method_for, route_of, stand
from bonebench.shop.steps import LOOK_BACKS, STEP_KINDS, STEP_ORDER, PlaceKind, Step

from .logbook import FOX, NOON, entry, fox

METHODS = load_methods()
FACTS = Facts(Size.SMALL, 2, False)
PLACES = tuple(Place(kind.value, kind.value, kind, order) for order, kind in enumerate(PlaceKind))
ROOM = Room(places=PLACES)
CAME = entry(1, Received("K7Q-K", "red-fox"))
DAY = 24 * 60


def room(**methods):
    return Room(places=PLACES, methods={METHODS[key].step: key for key in methods.values()})


def route(*entries, facts=FACTS, at=ROOM, came=CAME):
    return route_of(fox(came, *entries), facts, at, METHODS)


def steps(legs):
    return [leg.step for leg in legs]


def standing(*entries, at=ROOM, facts=FACTS, came=CAME):
    specimen = fox(came, *entries)
    return stand(specimen, route_of(specimen, facts, at, METHODS), at)


def test_a_white_skull_goes_through_every_step_but_measuring():
    assert steps(route()) == [step for step in STEP_ORDER if step is not Step.MEASURE]


def test_it_is_measured_only_when_that_was_asked_for():
    asked = route(came=entry(1, Received("K7Q-K", "red-fox", measure=True)))
    assert steps(asked) == list(STEP_ORDER)


WHITE = {Step.WHITEN, Step.RINSE, Step.DRY_AGAIN}
# What each choice takes out of the route: the route of DESIGN, "a step left out takes what hangs on it along".
LEAVES_OUT = [
    ({"whiten": "no-whitening"}, {}, FACTS, WHITE),
    ({}, {"finish": "natural"}, FACTS, WHITE),
    ({"degrease": "no-degreasing"}, {}, FACTS, {Step.DEGREASE, Step.DRY}),
    ({}, {}, Facts(Size.SMALL, 2, True), {Step.TEETH, Step.CURE}),
    ({"freeze": "straight-to-the-box"}, {}, FACTS, {Step.FREEZE_AGAIN}),
    ({"kill": "killed-in-the-hot-pot", "degrease": "hot-pot"}, {}, FACTS, {Step.KILL}),
    ({"kill": "killed-in-the-hot-pot", "degrease": "warm-pot"}, {}, FACTS, set()),
    ({"kill": "killed-in-the-hot-pot"}, {}, FACTS, set()),
    ({"kill": "killed-in-the-hot-pot", "degrease": "no-degreasing"}, {}, FACTS, {Step.DEGREASE, Step.DRY}),
]


@pytest.mark.parametrize(("methods", "said", "facts", "out"), LEAVES_OUT)
def test_what_the_room_and_the_owner_choose_leaves_steps_out(methods, said, facts, out):
    came = entry(1, Received("K7Q-K", "red-fox", **said))
    assert steps(route(facts=facts, at=room(**methods), came=came)) == [
        step for step in STEP_ORDER if step not in out and step is not Step.MEASURE
    ]


def test_heat_kills_only_in_a_pot_that_is_hot_enough_else_the_cold_does():
    cold = next(leg for leg in route(at=room(kill="killed-in-the-hot-pot", degrease="warm-pot")) if leg.step is Step.KILL)
    assert cold.method.key == "freeze-kill"
    assert METHODS["hot-pot"].kills_insects
    assert not METHODS["warm-pot"].kills_insects


def test_a_method_nobody_has_or_of_another_step_gives_way_to_the_first_shipped_one():
    odd = Room(methods={Step.WHITEN: "moonlight", Step.DEGREASE: "three-percent"})
    assert method_for(Step.WHITEN, odd, METHODS).key == method_for(Step.WHITEN, ROOM, METHODS).key
    assert method_for(Step.DEGREASE, odd, METHODS).step is Step.DEGREASE


def test_each_leg_carries_the_days_minutes_and_longest_stay_of_its_class():
    legs = {leg.step: leg for leg in route(facts=Facts(Size.BIG, 5, False), at=room(whiten="fifteen-percent"))}
    # common practice, no source: class 5 grease takes about 90 days warm (bench 2.1); 15 % is over by four days (bench 1.8).
    assert (legs[Step.DEGREASE].span.p50, legs[Step.WHITEN].longest_days) == (90, 4)
    assert legs[Step.DEGREASE].minutes == METHODS["warm-pot"].minutes["5"]
    assert legs[Step.TRIM].longest_days is None


def test_a_leg_happens_in_the_place_of_its_method_or_of_its_step():
    for leg in route():
        assert leg.place_kind is (leg.method.place or STEP_KINDS[leg.step].place)


def test_a_specimen_that_just_came_waits_for_the_freezer():
    found = standing()
    assert (found.leg, found.next.step, found.since) == (None, Step.FROZEN_HOLD, NOON + timedelta(minutes=1))
    assert found.unrecorded == ()


def test_a_specimen_nobody_received_stands_before_everything():
    found = standing(came=entry(2, Done(Step.FINISH), subjects=()))
    assert (found.at, found.leg, found.since, found.next.step) == (-1, None, None, Step.RECEIVE)


def test_a_stay_runs_from_when_it_began():
    found = standing(entry(2, Moved("freezer", Step.FROZEN_HOLD)))
    assert (found.leg.step, found.next.step, found.since) == (Step.FROZEN_HOLD, Step.THAW, NOON + timedelta(minutes=2))
    assert days_in_step(found, NOON + timedelta(days=2, minutes=2)) == pytest.approx(2)
    assert days_in_step(found, NOON) == 0


def test_an_act_is_over_when_it_is_said_to_be_done():
    found = standing(
        entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("thaw shelf", Step.THAW)), entry(4, Done(Step.TRIM))
    )
    assert (found.leg, found.next.step, found.unrecorded) == (None, Step.FREEZE_AGAIN, ())


def test_a_stay_that_is_left_out_or_said_to_be_over_runs_no_more():
    for what in (Skipped(Step.FROZEN_HOLD), Done(Step.FROZEN_HOLD)):
        found = standing(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, what))
        assert (found.leg, found.next.step) == (None, Step.THAW)


def test_one_more_day_and_the_cure_begin_by_themselves():
    clean = standing(entry(2, Moved("beetle box", Step.BEETLES)), entry(3, Done(Step.JUDGE_CLEAN)))
    assert (clean.leg.step, clean.next.step, clean.since) == (Step.ONE_MORE_DAY, Step.OUT, NOON + timedelta(minutes=3))
    glued = standing(entry(2, Done(Step.TEETH)))
    assert (glued.leg.step, glued.next.step) == (Step.CURE, Step.WHITEN)


def test_what_was_passed_without_a_word_is_told_apart_from_what_begins_by_itself():
    found = standing(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("pot", Step.DEGREASE)))
    assert steps(found.unrecorded) == [
        Step.THAW, Step.TRIM, Step.FREEZE_AGAIN, Step.BEETLES, Step.JUDGE_CLEAN, Step.OUT, Step.KILL
    ]  # fmt: skip


def test_a_bare_move_to_the_place_of_the_very_next_stay_begins_it():
    found = standing(entry(2, Moved("freezer")))
    assert (found.leg.step, found.since) == (Step.FROZEN_HOLD, NOON + timedelta(minutes=2))
    trimmed = [entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("thaw shelf", Step.THAW)), entry(4, Moved("freezer"))]
    found = standing(*trimmed)
    assert (found.leg.step, steps(found.unrecorded)) == (Step.FREEZE_AGAIN, [Step.TRIM])


@pytest.mark.parametrize("place", ["beetle box", "shelf", "attic"])
def test_a_bare_move_anywhere_else_is_left_for_a_person_to_say(place):
    found = standing(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved(place)))
    assert found.leg.step is Step.FROZEN_HOLD


def test_a_bare_move_to_another_place_of_the_same_kind_goes_on_with_the_stay():
    second = Place("freezer-2", "Second freezer", PlaceKind.FREEZER)
    at = Room(places=(*PLACES, second))
    found = standing(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("freezer-2")), at=at)
    assert (found.leg.step, found.since) == (Step.FROZEN_HOLD, NOON + timedelta(minutes=2))


def test_a_bare_move_before_the_last_step_says_nothing_about_the_next():
    found = standing(entry(2, Moved("tub")), entry(9, Done(Step.TEETH)))
    assert found.leg.step is Step.CURE


def test_only_the_part_that_goes_the_whole_route_tells_where_it_stands():
    antlers = entry(2, Moved("freezer"), subjects=(specimen_subject(FOX, "antlers"),))
    assert standing(antlers).leg is None
    assert main_part(fox(CAME)).name == "skull"
    assert main_part(fox(entry(1, Received("K7Q-K", "red-fox", parts=("antlers", "sample"))))).name == "antlers"
    assert main_part(fox(entry(1, Received("K7Q-K", "red-fox", parts=())))) is None


WHITENED = [
    entry(2, Moved("freezer", Step.FROZEN_HOLD), minutes=1 * DAY), entry(3, Moved("thaw shelf", Step.THAW), minutes=2 * DAY),
    entry(4, Done(Step.TRIM), minutes=3 * DAY), entry(5, Moved("freezer", Step.FREEZE_AGAIN), minutes=3 * DAY + 10),
    entry(6, Moved("beetle box", Step.BEETLES), minutes=7 * DAY), entry(7, Done(Step.JUDGE_CLEAN), minutes=12 * DAY),
    entry(8, Done(Step.OUT), minutes=13 * DAY), entry(9, Moved("freezer", Step.KILL), minutes=13 * DAY + 10),
    entry(10, Moved("pot", Step.DEGREASE), minutes=21 * DAY), entry(11, Moved("rack", Step.DRY), minutes=31 * DAY),
    entry(12, Done(Step.TEETH), minutes=34 * DAY), entry(13, Moved("tub", Step.WHITEN), minutes=36 * DAY),
    entry(14, Moved("rinse water", Step.RINSE), minutes=37 * DAY),
]  # fmt: skip


@pytest.mark.parametrize("step", [Step.TRIM, Step.BEETLES, Step.DEGREASE, Step.TEETH, Step.WHITEN, Step.RINSE])
def test_what_is_sent_back_waits_for_that_step_and_is_in_no_old_stay(step):
    found = standing(*WHITENED, entry(20, SentBack(step), minutes=38 * DAY))
    assert (found.leg, found.next.step, found.next.visit) == (None, step, 2)
    # It has waited since the last thing that happened to it, not since a stay it left weeks ago.
    assert found.since >= NOON + timedelta(days=37)
    assert found.unrecorded == ()


def test_after_it_was_sent_back_the_second_visit_runs_like_the_first():
    again = [
        *WHITENED,
        entry(20, SentBack(Step.DEGREASE), minutes=38 * DAY),
        entry(21, Moved("pot", Step.DEGREASE, 2), minutes=39 * DAY),
    ]
    found = standing(*again)
    assert (found.leg.step, found.leg.visit, found.since) == (Step.DEGREASE, 2, NOON + timedelta(days=39))
    glued = standing(
        *again, entry(22, Moved("rack", Step.DRY, 2), minutes=45 * DAY), entry(23, Done(Step.TEETH, 2), minutes=48 * DAY)
    )
    assert (glued.leg.step, glued.next.step, glued.next.visit) == (Step.CURE, Step.WHITEN, 2)
    assert glued.since == NOON + timedelta(days=48)


def test_a_room_that_changes_its_methods_changes_what_is_ahead_and_keeps_what_was():
    begun = [entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("pot", Step.DEGREASE))]
    found = standing(*begun, at=room(whiten="no-whitening"))
    assert found.leg.step is Step.DEGREASE
    assert steps(found.ahead)[:4] == [Step.DRY, Step.TEETH, Step.CURE, Step.FINISH]


def test_through_every_step_nothing_is_next():
    found = standing(entry(2, Done(Step.LOOK_BACK_12)))
    assert (found.leg, found.next, found.ahead) == (None, None, ())


def test_looks_back_are_the_last_three_steps():
    assert [step for step in Step if is_look_back(step)] == list(LOOK_BACKS) == list(STEP_ORDER[-3:])
    assert [step.position for step in STEP_ORDER] == list(range(len(STEP_ORDER)))


def test_every_step_is_a_stay_with_a_place_or_an_act():
    assert set(STEP_KINDS) == set(Step)
    assert all(kind.place is not None for kind in STEP_KINDS.values() if kind.stay)


def test_settings_that_are_entries_come_to_the_same_route():
    # The room's own way in is tested in test_room; here only that a chosen method is of its own step.
    for key, method in METHODS.items():
        assert MethodChosen(method.step, key).step is method.step
    assert PlaceSet("pot", "Pot", PlaceKind.POT).open
