"""The room in an open transaction: show it, set it up, find its people."""

from collections.abc import Sequence
from datetime import datetime

from bonebench.errors import InputError, UnknownName
from bonebench.records import people
from bonebench.records.book import Reading, Writing
from bonebench.services.baths.keep import all_baths
from bonebench.services.gather import everything_in_work, known_of, names_of_people, room_of, surroundings
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.rooms.cards import RoomCard
from bonebench.services.rooms.show import room_card
from bonebench.shop.entries import ROOM, MethodChosen, PersonSet, PlaceSet, RoomDescribed, What, exactly
from bonebench.shop.room import WEEKDAYS, known_zone, readable_hours
from bonebench.shop.steps import PlaceKind

__all__ = ["names_of_people", "person_named", "room_of", "set_up", "show", "starter_places"]

WORK = ("raw heads", "beetles", "hot baths", "peroxide", "teeth")


def show(tx: Reading, now: datetime, *, demo: bool) -> RoomCard:
    """Return the room as it stands."""
    known = known_of(tx)
    return room_card(everything_in_work(tx, known), surroundings(tx, known, now), demo=demo, baths=all_baths(tx, live=True))


def names_of_workers(tx: Reading) -> dict[str, str]:
    """Return those who work here by id; everybody the book knows while nobody's hours are set."""
    names, workers = names_of_people(tx), {worker.person for worker in room_of(tx).people}
    return {person: name for person, name in names.items() if person in workers} or names


def person_named(tx: Reading, name: str) -> str:
    """Return the id of a person by name."""
    names = names_of_people(tx)
    wanted = name.casefold().strip()
    whole = [person for person, known in names.items() if wanted in (known.casefold(), person)]
    found = whole or [person for person, known in names.items() if wanted in known.casefold().split()]
    if len(found) != 1:
        raise UnknownName(
            "person.unknown", "'{name}' is nobody this book knows by that name alone; known are: {known}",
            could_be=tuple(names.values()), name=name, known=", ".join(names.values()) or "nobody yet",
        )  # fmt: skip
    return found[0]


def erase(tx: Writing, name: str, now: datetime) -> int:
    """Blank a person and the notes about them."""
    return people.erase(tx, person_named(tx, name), now)


def starter_places() -> tuple[PlaceSet, ...]:
    """One place of each kind, for a room that has said nothing yet; what each holds is left open."""
    return tuple(
        PlaceSet(kind.value.replace(" ", "-"), kind.value.capitalize(), kind, order) for order, kind in enumerate(PlaceKind, 1)
    )


def checked_setting(what: What, known_methods: Sequence[str]) -> What:
    """Refuse a setting that cannot be: a zone nobody knows, hours that do not rise, a method that is not there."""
    if isinstance(what, RoomDescribed) and not known_zone(what.zone):
        raise InputError("room.zone", "'{zone}' is no time zone; write its IANA name, such as America/Chicago", zone=what.zone)
    if isinstance(what, PlaceSet):
        for name in ("count", "volume_l", "mass_kg", "appetite_kg_per_day"):
            value = getattr(what, name)
            if value is not None and value < 0:
                raise InputError("room.negative", "{name} of {place} is {value}; it cannot be below 0",
                                 name=name.replace("_", " "), place=what.name, value=value)  # fmt: skip
    if isinstance(what, PersonSet):
        for day, spans in what.hours.items():
            if day not in WEEKDAYS or not readable_hours(spans):
                raise InputError("room.hours", "hours '{day}' cannot be read; write them like mon 09:00-12:00", day=day)
        odd = [work for work in what.trained if work not in WORK]
        if odd:
            raise InputError("room.training", "'{work}' is no kind of work; there are: {known}", work=odd[0], known=", ".join(WORK))
    if isinstance(what, MethodChosen) and what.method not in known_methods:
        raise UnknownName(
            "room.method", "'{method}' is no method; `room` lists them", could_be=tuple(known_methods), method=what.method
        )
    return what


def set_up(tx: Writing, pen: Pen, settings: Sequence[What]) -> Kept:
    """Store room settings as entries; what cannot be is refused before anything is stored."""
    known = known_of(tx)
    checked = [checked_setting(what, tuple(known.methods)) for what in settings]
    return record(tx, [write_entry(tx, pen, what, (ROOM,), exactly(pen.now)) for what in checked], pen.now)


def new_person(tx: Writing, pen: Pen, name: str) -> str:
    """Return the id of a person by name, kept from now on if new."""
    wanted = " ".join(name.split())
    if not wanted:
        raise InputError("person.name", "a person needs a name")
    for person, known in names_of_people(tx).items():
        if known.casefold() == wanted.casefold():
            return person
    person = pen.new_id()
    people.add(tx, person, wanted)
    return person
