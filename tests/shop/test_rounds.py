"""When rounds are due, what a place's log comes to, and the card at the door."""

import itertools
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.figures import Standing
from bonebench.reference.cautions import load_cautions
from bonebench.reference.rounds import load_rounds
from bonebench.shop.entries import (
    KINDS,
    FeatureSet,
    HazardAcknowledged,
    Left,
    PlaceSet,
    ProfileSet,
    RoomDescribed,
    RoundDone,
    Seen,
    Void,
    read_what,
    values_of,
)
from bonebench.shop.fold import tell
from bonebench.shop.identity import task_id
from bonebench.shop.leaving import MOST_TICKS, leaving_card, left_ok, missing_alarms
from bonebench.shop.room import Place
from bonebench.shop.rounds import (
    FEATURES,
    History,
    PlaceLog,
    Round,
    Wrong,
    due,
    fold_place,
    open_wrongs,
    place_subject,
    round_cautions,
    set_up_on,
)
from bonebench.shop.steps import PlaceKind
from bonebench.shop.telling import told

from .logbook import NOON, entry

DAY = date(2026, 5, 4)
BOX = Place("box", "the big box", PlaceKind.ENCLOSURE, 3)
POT = Place("pot", "the warm pot", PlaceKind.POT, 4)
TUB = Place("tub", "the grey tub", PlaceKind.TUB, 5)
FREEZER = Place("cold", "the chest freezer", PlaceKind.FREEZER, 1)
WALL = (FREEZER, BOX, POT, TUB)


def a_round(key: str = "water", **changes: object) -> Round:
    fields: dict[str, object] = {
        "key": key, "name": key.capitalize(), "about": PlaceKind.ENCLOSURE, "days": (1, 2), "turn": None, "first_days": 0,
        "minutes": 1.0, "work": "", "do": "Water {place}", "look": "dry?", "why": "they drink {much:volume}",
        "wrongs": (Wrong("mould", "Mould", "take it out of {place}"), Wrong("fire", "Fire", "out", danger=True)),
        "needs": None, "in_use": False, "cautions": (), "source": "us", "standing": Standing.PRACTICE, "values": {"much": 0.5},
    }  # fmt: skip
    return Round(**{**fields, **changes})  # type: ignore[arg-type]


SPRING = a_round("tape", days=None, turn={"north": (4, 15), "south": (10, 15)})


def ask(*rounds: Round, today: date = DAY, done: Mapping[tuple[str, str], date] | None = None, **more):
    given_ = {"places": (BOX,), "features": (), **more}
    return due({one.key: one for one in rounds}, done=done or {}, today=today, **given_)


def test_a_round_is_due_from_its_earliest_day_and_late_after_its_latest():
    last = {("water", "box"): DAY}
    assert ask(a_round(), done=last) == ()
    first, second, fourth = (ask(a_round(), done=last, today=DAY + timedelta(days=n))[0] for n in (1, 2, 4))
    assert (first.due_from, first.due_by) == (DAY + timedelta(days=1), DAY + timedelta(days=2))
    assert [one.late_days for one in (first, second, fourth)] == [0, 0, 2]
    assert not first.never_done


def test_the_task_keeps_its_id_until_it_is_done():
    days = [ask(a_round(), done={("water", "box"): DAY}, today=DAY + timedelta(days=n))[0] for n in (1, 2, 30)]
    assert {one.task for one in days} == {task_id("round:water@box", "2026-05-06", 1)}


def test_a_round_says_what_to_do_in_this_place_with_its_values():
    one = ask(a_round())[0]
    assert (one.do.text, one.look.text, one.why.text) == ("Water the big box", "dry?", "they drink 0.5 L")
    assert (one.do.key, one.never_done, one.wrong) == ("round.water.do", True, False)


def test_a_round_never_done_is_due_so_many_days_after_the_place_was_set_up_and_stays_that_day():
    later = a_round(first_days=3)
    since = History(since={"box": DAY})
    assert ask(later, today=DAY + timedelta(days=2), history=since) == ()
    third, tenth = (ask(later, today=DAY + timedelta(days=n), history=since)[0] for n in (3, 10))
    assert third.task == tenth.task
    assert (third.late_days, tenth.late_days) == (0, 7)


def test_a_round_never_done_is_due_today_where_nobody_knows_when_the_place_was_set_up():
    assert ask(a_round(first_days=3))[0].due_by == DAY


def test_what_was_done_before_a_place_was_opened_again_does_not_count():
    opened = History(since={"box": DAY})
    old = {("water", "box"): DAY - timedelta(days=300)}
    assert ask(a_round(), done=old, history=opened)[0].late_days == 0


def test_a_day_ahead_of_today_is_a_wrong_clock_and_hides_no_round():
    assert ask(a_round(), done={("water", "box"): date(2036, 1, 1)})[0].due_by == DAY


def test_a_pot_is_looked_at_only_while_it_holds_something_and_is_never_late_for_the_empty_days():
    look = a_round("pot", about=PlaceKind.POT, days=(1, 1), in_use=True)
    old = {("pot", "pot"): DAY - timedelta(days=20)}
    assert ask(look, places=(POT,), done=old, history=History(in_use={})) == ()
    filled = ask(look, places=(POT,), done=old, history=History(in_use={"pot": DAY}))
    assert [one.late_days for one in filled] == [0]
    assert ask(look, places=(POT,), done=old)[0].late_days == 19  # nobody says what it holds: asked for all the same


def test_a_round_is_asked_where_it_belongs_and_only_for_what_the_room_has():
    flame = a_round("flame", about=None, needs="gas heater")
    closed = replace(BOX, key="old", open=False)
    assert [one.place for one in ask(a_round(), places=(FREEZER, closed, BOX))] == ["box"]
    assert ask(flame) == ()
    assert [(one.place, one.do.text) for one in ask(flame, features=("gas heater",))] == [("room", "Water the room")]


def test_rounds_come_by_due_day_then_along_the_wall_with_the_room_last():
    other = Place("a-box", "the small box", PlaceKind.ENCLOSURE, 9)
    order = ask(a_round(), a_round("room", about=None), places=(other, BOX), done={("room", "room"): DAY - timedelta(days=5)})
    assert [(one.round.key, one.place) for one in order] == [("room", "room"), ("water", "box"), ("water", "a-box")]


def test_what_was_wrong_is_looked_at_again_the_next_day():
    monthly = a_round(days=(25, 31))
    found = {("water", "box"): DAY}
    wrong = History(wrong={("water", "box")})
    assert ask(monthly, done=found, history=wrong) == ()
    assert ask(monthly, done=found, history=wrong, today=DAY + timedelta(days=1))[0].wrong


@pytest.mark.parametrize(
    ("hemisphere", "today", "asked"),
    [
        ("north", date(2026, 4, 14), False), ("north", date(2026, 4, 15), True), ("north", date(2026, 8, 13), True),
        ("north", date(2026, 8, 14), False),  # 120 days on: by then winter tape would come next
        ("south", date(2026, 4, 15), False), ("south", date(2026, 10, 15), True), ("south", date(2027, 1, 10), True),
    ],
)  # fmt: skip
def test_a_season_change_is_asked_for_in_its_season(hemisphere, today, asked):
    assert bool(ask(SPRING, today=today, hemisphere=hemisphere)) is asked


@pytest.mark.parametrize(
    ("last", "asked"),
    [
        (date(2025, 4, 20), True), (date(2026, 2, 28), True), (date(2026, 3, 1), False), (date(2026, 4, 16), False),
        (date(2036, 4, 16), True),
    ],
)  # fmt: skip
def test_a_season_change_counts_when_it_was_done_up_to_45_days_early(last, asked):
    assert bool(ask(SPRING, today=date(2026, 5, 1), done={("tape", "box"): last})) is asked


def test_a_season_change_from_before_the_place_was_set_up_is_not_asked_for():
    assert ask(SPRING, history=History(since={"box": date(2026, 4, 16)})) == ()
    one = ask(SPRING, history=History(since={"box": date(2026, 4, 15)}))[0]
    assert (one.due_from, one.due_by, one.late_days) == (date(2026, 4, 15), date(2026, 4, 29), 5)


def test_a_season_change_put_off_is_asked_again_but_not_after_its_season():
    put_off = {"done": {("tape", "box"): date(2026, 4, 16)}, "history": History(wrong={("tape", "box")})}
    assert ask(SPRING, today=date(2026, 4, 17), **put_off)[0].due_by == date(2026, 4, 17)
    assert ask(SPRING, today=date(2026, 11, 1), **put_off) == ()


@given(st.integers(1, 60), st.integers(0, 60), st.integers(0, 400), st.integers(0, 400))
def test_nothing_is_asked_before_its_day_and_once_late_it_stays_late(least, more, gap, later):
    once = a_round(days=(least, least + more))
    found = [ask(once, done={("water", "box"): DAY}, today=DAY + timedelta(days=n)) for n in (gap, gap + later)]
    assert bool(found[0]) is (gap >= least)
    if found[0]:
        assert found[1][0].task == found[0][0].task
        assert found[1][0].late_days >= found[0][0].late_days == max(0, gap - least - more)


def first_weeks(days: int) -> list[tuple[int, float]]:
    """How many rounds and minutes each day brings in a new room that has everything, when each is done on its last day."""
    rounds, done, load = load_rounds(), {}, []
    known = History(since=dict.fromkeys(("room", *(place.key for place in WALL)), DAY))
    for today in (DAY + timedelta(days=n) for n in range(days)):
        asked = due(rounds, places=WALL, features=FEATURES, done=done, today=today, history=known)
        now = [one for one in asked if one.due_by <= today]
        done |= {(one.round.key, one.place): today for one in now}
        load.append((len(now), sum(one.round.minutes for one in now)))
    return load


def test_a_new_room_is_not_greeted_with_everything_at_once():
    # Our own choice: what keeps people and beetles alive on the first day, the rest spread; 21 rounds are not season changes.
    load = first_weeks(56)
    assert load[0][0] == 7
    assert max(count for count, _ in load) <= 12
    assert sum(minutes for _, minutes in load) / 56 <= 15  # a quarter of an hour a day for the whole room


def test_nothing_waits_for_ever_and_every_round_of_a_full_room_is_met_in_a_month():
    rounds, met = load_rounds(), Counter()
    known = History(since=dict.fromkeys(("room", *(place.key for place in WALL)), DAY))
    for today in (DAY + timedelta(days=n) for n in range(30)):
        met.update(one.round.key for one in due(rounds, places=WALL, features=FEATURES, done={}, today=today, history=known))
    assert set(met) == {key for key, one in rounds.items() if one.turn is None}


def test_the_cautions_of_a_round_come_loudest_first_and_end_by_deferring():
    found = round_cautions(a_round(cautions=("box.dust", "box.fire", "solvent.acetone")), load_cautions())
    assert [one.key for one in found] == ["solvent.acetone", "box.fire", "box.dust", "defer"]


# ---- what a place's log comes to


def place_log(*what, key: str = "box", writers: tuple[str, ...] = ("phone", "desk")) -> PlaceLog:
    entries = [
        entry(number, one, subjects=(place_subject(key),), writer=writer)
        for number, (one, writer) in enumerate(zip(what, itertools.cycle(writers), strict=False), start=1)
    ]
    return fold_place(key, tell(entries, place_subject(key)))


def test_the_last_answer_of_each_round_stands_with_its_day():
    log = place_log(RoundDone("water"), RoundDone("dead", DAY), RoundDone("water", DAY))
    assert log.done(lambda at: at.date()) == {("water", "box"): NOON.date(), ("dead", "box"): NOON.date()}
    assert (log.rounds["water"].entry, log.rounds["water"].due, log.rounds["water"].wrong) == ("e003", DAY, None)


def test_a_round_taken_back_does_not_count():
    log = fold_place(
        "box",
        tell([entry(1, RoundDone("water"), subjects=("place:box",)), entry(2, Void("e001"), subjects=())], "place:box"),
    )
    assert log.rounds == {}


def test_seeing_and_leaving_are_kept():
    log = place_log(Seen("box"), Left(("lid", "door")), key="room")
    assert log.seen == entry(1, Seen("box")).when.latest
    assert log.left is not None
    assert (log.left.entry, log.left.ticks) == ("e002", ("lid", "door"))


def test_done_from_another_phone_does_not_undo_what_was_found_wrong_for_the_same_day():
    log = place_log(RoundDone("water", DAY, "mould"), RoundDone("water", DAY))
    assert log.wrong() == {("water", "box")}
    assert [(flag.what.text, flag.next.text) for flag in log.flags] == [
        (
            "water, 4 May 2026: one answer says mould, another says done",
            "look again; tap Done the next time it is due if all is well",
        )
    ]


def test_who_found_it_wrong_may_say_that_it_is_put_right_after_the_other_said_done():
    log = place_log(RoundDone("water", DAY, "mould"), *[RoundDone("water", DAY)] * 3)
    assert log.wrong() == frozenset()
    assert len(log.flags) == 1


def test_the_one_who_only_said_done_cannot_say_it_twice_to_undo_it():
    log = place_log(RoundDone("water", DAY, "mould"), *[RoundDone("water", DAY)] * 2, writers=("phone", "desk", "desk"))
    assert log.wrong() == {("water", "box")}


@pytest.mark.parametrize(
    ("later", "writers"),
    [
        (RoundDone("water", DAY + timedelta(days=1)), ("phone", "desk")),  # the next day's task
        (RoundDone("water"), ("phone", "desk")),  # answers no task
        (RoundDone("water", DAY), ("phone",)),  # the same phone said both
    ],
)
def test_a_later_answer_puts_it_right(later, writers):
    log = place_log(RoundDone("water", DAY, "mould"), later, writers=writers)
    assert log.wrong() == frozenset()
    assert log.flags == ()


def test_what_is_wrong_is_said_in_the_words_of_its_round_dangers_first():
    log = place_log(RoundDone("water", DAY, "mould"), RoundDone("air", DAY, "fire"))
    found = open_wrongs(log, {"water": a_round(), "air": a_round("air")}, "the big box")
    assert [(one.flag.what.text, one.flag.next.text, one.danger) for one in found] == [
        ("Air, the big box: Fire", "out", True),
        ("Water, the big box: Mould", "take it out of the big box", False),
    ]


@pytest.mark.parametrize("rounds", [{}, {"water": a_round(wrongs=())}])
def test_what_is_wrong_by_another_version_is_not_dropped(rounds):
    found = open_wrongs(place_log(RoundDone("water", DAY, "leak"), RoundDone("dead")), rounds, "the big box")
    assert found[0].flag.what.text.casefold() == "water, the big box: leak"
    assert found[0].flag.next.text == "this version has no such round or answer; look at the place and put it right"


def test_a_place_counts_from_the_day_it_was_set_up_changed_its_kind_or_opened_again():
    def put(number: int, days: int, **more):
        what = PlaceSet(**{"key": "box", "name": "Box", "kind": PlaceKind.ENCLOSURE, **more})
        return entry(number, what, subjects=("room",), minutes=days * 1440)

    first = entry(1, RoomDescribed("Shed", "UTC"), subjects=("room",), minutes=1)
    told_ = [first, put(2, 1), put(3, 2, name="The box"), put(4, 3, open=False)]
    start = NOON.date()

    def since(*entries):
        return set_up_on(tell(entries, "room"), lambda at: at.date())

    assert since(*told_) == {"room": start, "box": start + timedelta(days=1)}
    assert since(*told_, put(5, 4))["box"] == start + timedelta(days=4)
    assert since(*told_[:3], put(5, 5, kind=PlaceKind.POT))["box"] == start + timedelta(days=5)


# ---- leaving the room


def test_the_leaving_card_has_at_most_six_ticks_and_asks_only_for_what_is_there():
    assert [tick.key for tick in leaving_card(FEATURES)] == ["lid", "heater", "fence", "gas", "alarm", "door"]
    assert len(leaving_card(FEATURES)) == MOST_TICKS
    assert [tick.key for tick in leaving_card(())] == ["lid", "heater", "door"]
    assert "alarm" in [tick.key for tick in leaving_card(("co alarm",))]


def test_every_tick_is_short_and_says_why_and_what_to_do_if_not():
    for tick in leaving_card(FEATURES):
        assert len(tick.tap.text) <= 60
        assert tick.why.text.endswith(".")
        assert tick.if_not.text.endswith(".")
    gas = next(tick for tick in leaving_card(FEATURES) if tick.key == "gas")
    assert "shut it off at the cylinder" in gas.if_not.text
    assert "touch no switch, everybody out, call from outside" in gas.if_not.text


def test_what_was_not_ticked_is_flagged_with_what_to_do_and_what_is_not_asked_is_not():
    found = left_ok(("lid", "heater", "fence"), leaving_card(()))
    assert [(flag.what.text, flag.next.text) for flag in found] == [
        ("left without a tick at: Door shut and locked", "Go back and lock it; look whether anybody went in.")
    ]
    assert left_ok(("lid", "heater", "door"), leaving_card(())) == ()
    assert len(left_ok((), leaving_card(FEATURES))) == MOST_TICKS


def test_a_room_that_burns_gas_without_a_co_alarm_is_told_so():
    assert [flag.what.text for flag in missing_alarms(("gas heater",))] == [
        "this room burns gas, and no CO alarm is written down",
        "no smoke alarm is written down, and the box is heated day and night",
    ]
    assert list(missing_alarms(("gas heater", "co alarm", "smoke alarm"))) == []
    gas, smoke = missing_alarms(("gas heater",))
    assert "hang a listed CO alarm in this room before the flame is lit again" in gas.next.text
    assert "ask the local code and a gas fitter" in gas.next.text
    assert smoke.next.text.startswith("hang one that can be heard")


# ---- the entries


NAMES = {"water": "Water for the beetles", "box": "the big box", "hot-pot": "the hot pot", "anna": "Anna"}
TOLD = [
    (RoundDone("water", DAY), "Water for the beetles: done"),
    (RoundDone("water", DAY, "mould"), "Water for the beetles: something is wrong, mould"),
    (Left(("lid", "door")), "left the room; ticked: lid, door"),
    (Left(), "left the room; ticked: nothing"),
    (Seen("box"), "seen in the big box"),
    (HazardAcknowledged("hot-pot", "anna"), "Anna has read the dangers of the hot pot"),
    (ProfileSet("museum"), "the room keeps to the museum profile from now on"),
    (ProfileSet(), "the room keeps to no profile from now on"),
    (FeatureSet(("gas heater", "co alarm")), "the room has: gas heater, co alarm"),
    (FeatureSet(), "the room has: nothing that is asked about"),
]


@pytest.mark.parametrize(("what", "words"), TOLD)
def test_the_entries_of_rounds_go_into_the_book_and_back_and_are_told(what, words):
    assert KINDS[what.KIND] is type(what)
    assert read_what(what.KIND, 1, values_of(what)) == what
    assert told(entry(1, what), NAMES).text == words
