"""The room as its settings say it is."""

from datetime import UTC, date, datetime, time

import pytest

from bonebench.shop.entries import (
    ROOM,
    ClosedOn,
    Done,
    MethodChosen,
    PersonSet,
    PlaceSet,
    RoomDescribed,
    SpeciesSet,
    Void,
)
from bonebench.shop.fold import tell
from bonebench.shop.room import Room, fold_room, known_zone, readable_hours
from bonebench.shop.steps import PlaceKind, Step

from .logbook import entry

POT = PlaceSet("pot", "Big pot", PlaceKind.POT, 5, count=2, volume_l=30)


def room(*whats, more=()):
    entries = [entry(number, what, subjects=(ROOM,)) for number, what in enumerate(whats, 1)]
    return fold_room(tell([*entries, *more], ROOM))


def words(found):
    return [(flag.what.text, flag.next.text) for flag in found.flags]


def test_a_room_that_said_nothing_counts_in_utc_and_holds_nothing():
    assert room() == Room()
    assert (room().zone, room().place("pot"), room().place(None)) == ("UTC", None, None)


def test_places_stand_in_their_order_along_the_wall_and_the_last_word_holds():
    shelf = PlaceSet("shelf", "Shelf", PlaceKind.SHELF, 2)
    found = room(POT, shelf, PlaceSet("pot", "Old pot", PlaceKind.POT, 5, open=False))
    assert [(p.key, p.name, p.open) for p in found.places] == [("shelf", "Shelf", True), ("pot", "Old pot", False)]
    assert (found.place("pot").count, found.place("pot").volume_l) == (None, None)


def test_a_setting_that_is_taken_back_does_not_count():
    assert room(POT, more=[entry(9, Void("e001"), subjects=(ROOM,))]).places == ()


def test_the_room_has_one_name_one_zone_and_one_set_of_units():
    found = room(RoomDescribed("Old", "UTC"), RoomDescribed("Prairie room", "America/Chicago", "us"))
    assert (found.name, found.zone, found.units, found.flags) == ("Prairie room", "America/Chicago", "us", ())


def test_a_zone_nobody_knows_is_kept_out_and_flagged():
    found = room(RoomDescribed("Room", "Moon/Tycho"))
    assert (found.name, found.zone) == ("Room", "UTC")
    assert words(found) == [
        (
            "'Moon/Tycho' is no time zone; days are counted in UTC until it is put right",
            "set the room's zone by its IANA name, such as America/Chicago",
        )
    ]


@pytest.mark.parametrize("name", ["", "Moon/Tycho", "../UTC", "/etc/passwd", "America", "a\0b", "x" * 500])
def test_what_is_no_zone_is_told_apart_from_one_without_raising(name):
    assert not known_zone(name)
    assert known_zone("America/Chicago")


# Chicago is five hours behind UTC in May (IANA zone data): its Monday begins at 05:00 UTC.
@pytest.mark.parametrize(("hour", "day"), [(4, date(2026, 5, 3)), (5, date(2026, 5, 4))])
def test_a_day_is_a_day_of_the_rooms_own_zone(hour, day):
    assert Room(zone="America/Chicago").day(datetime(2026, 5, 4, hour, 30, tzinfo=UTC)) == day


def test_hours_are_kept_by_weekday_and_read_as_wall_times():
    (worker,) = room(PersonSet("p1", {"mon": [("09:00", "12:00"), ("13:00", "15:30")], "sun": []}, ("teeth",))).people
    assert worker.windows() == {0: ((time(9), time(12)), (time(13), time(15, 30))), 6: ()}
    assert (worker.person, worker.trained) == ("p1", ("teeth",))


@pytest.mark.parametrize(
    ("day", "spans"),
    [("moonday", [("09:00", "12:00")]), ("mon", [("12:00", "09:00")]), ("mon", [("09:00", "09:00")]), ("mon", [("nine", "ten")]),
     ("mon", [("09:00+02:00", "12:00")]), ("mon", [("09:00+02:00", "12:00+02:00")])],
)  # fmt: skip
def test_hours_that_cannot_be_read_are_left_out_and_flagged(day, spans):
    found = room(PersonSet("p1", {day: spans, "tue": [("09:00", "10:00")]}))
    assert list(found.people[0].hours) == ["tue"]
    assert words(found) == [(f"the hours '{day}' of somebody cannot be read", "write them like mon 09:00-12:00")]


def test_readable_hours_rise_within_the_day():
    assert readable_hours([("09:00", "12:00")])
    assert not readable_hours([("23:00", "02:00")])


def test_somebody_who_left_is_not_counted_on():
    hours = {"mon": [("09:00", "12:00")]}
    assert room(PersonSet("p1", hours), PersonSet("p1", working=False)).people == ()
    assert room(PersonSet("p2", working=False)).people == ()


def test_methods_species_and_closed_days_add_up():
    found = room(
        MethodChosen(Step.WHITEN, "three-percent"), MethodChosen(Step.WHITEN, "no-whitening"),
        SpeciesSet("red-fox", {"grease_class": 2, "order": "Carnivora"}), SpeciesSet("red-fox", {"grease_class": 3}),
        ClosedOn((date(2026, 12, 25),)), ClosedOn((date(2026, 7, 4), date(2026, 12, 25))),
    )  # fmt: skip
    assert found.methods == {Step.WHITEN: "no-whitening"}
    assert found.species == {"red-fox": {"grease_class": 3, "order": "Carnivora"}}
    assert found.closed == (date(2026, 7, 4), date(2026, 12, 25))


def test_what_is_no_setting_changes_nothing_of_the_room():
    assert room(POT, Done(Step.TRIM)) == room(POT)
