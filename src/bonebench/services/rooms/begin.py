"""Set a real room up in one go: its name, how many of each place, who works when, and how it degreases and whitens."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from bonebench.errors import InputError
from bonebench.records.book import Writing
from bonebench.services.log.record import Kept, Pen
from bonebench.services.rooms.do import WORK, new_person, set_up
from bonebench.services.rooms.settings import read_hours, read_method, read_room
from bonebench.shop.entries import PersonSet, PlaceSet, What
from bonebench.shop.room import WEEKDAYS
from bonebench.shop.steps import PlaceKind
from bonebench.units import read_mass

# A room has at most so many of one kind of place; a typing slip beyond is refused.
MOST_PLACES = 40


@dataclass(frozen=True, slots=True)
class Beginning:
    """What somebody says of a new room, as it was typed."""

    name: str
    zone: str
    units: str = "metric"
    places: Mapping[str, str] = field(default_factory=dict)  # kind -> how many
    holds: Mapping[str, str] = field(default_factory=dict)  # kind -> how many pieces each takes
    eats: str = ""
    people: Sequence[tuple[str, str]] = ()  # name, hours as "mon 09:00-12:00; sat 08:00-11:00"
    methods: Sequence[str] = ()


def _count(text: str, what: str) -> int:
    try:
        count = int(text)
    except ValueError:
        raise InputError("begin.count", "'{text}' is not a number of {what}", text=text, what=what) from None
    if not 0 <= count <= MOST_PLACES:
        raise InputError("begin.many", "{text} of {what} cannot be; give 0 to {most}", text=text, what=what, most=MOST_PLACES)
    return count


def _holds(text: str, kind: PlaceKind) -> float | None:
    if not text.strip():
        return None
    try:
        holds = float(text.replace(",", "."))
    except ValueError:
        raise InputError("begin.holds", "'{text}' is not a number of pieces for a {kind}", text=text, kind=kind.value) from None
    if not 0 < holds <= 100000:
        raise InputError("begin.holds_range", "a {kind} that takes {text} pieces cannot be", text=text, kind=kind.value)
    return holds


def read_places(beginning: Beginning) -> list[PlaceSet]:
    """Return the places asked for, along the wall in the order of the work."""
    eats = read_mass(beginning.eats) if beginning.eats.strip() else None
    places: list[PlaceSet] = []
    for kind in PlaceKind:
        count = _count(beginning.places.get(kind.value, "0").strip() or "0", kind.value)
        for number in range(1, count + 1):
            name = kind.value.capitalize() + (f" {number}" if count > 1 else "")
            key = name.casefold().replace(" ", "-")
            box = kind is PlaceKind.ENCLOSURE
            holds = _holds(beginning.holds.get(kind.value, ""), kind)
            places.append(PlaceSet(key, name, kind, len(places) + 1, holds, appetite_kg_per_day=eats if box else None))
    return places


def read_hours_line(text: str) -> list[str]:
    """Split 'mon 09:00-12:00; sat 08:00-11:00', and 'mon-fri 09:00-12:00', into one stretch a line."""
    lines: list[str] = []
    for piece in (piece.strip() for piece in text.split(";") if piece.strip()):
        days, _, span = piece.partition(" ")
        begin, dash, end = days.casefold().partition("-")
        if dash and begin[:3] in WEEKDAYS and end[:3] in WEEKDAYS:
            first, last = WEEKDAYS.index(begin[:3]), WEEKDAYS.index(end[:3])
            if first > last:
                raise InputError("begin.days", "'{days}' runs backwards; write the earlier day first", days=days)
            lines += [f"{day} {span}" for day in WEEKDAYS[first : last + 1]]
        else:
            lines.append(piece)
    return lines


def begin_room(tx: Writing, pen: Pen, beginning: Beginning) -> Kept:
    """Store the room whole; what cannot be is refused before anything is stored."""
    if not beginning.name.strip():
        raise InputError("begin.name", "give the room a name")
    settings: list[What] = [read_room(beginning.name, beginning.zone, beginning.units), *read_places(beginning)]
    settings += [read_method(tx, method) for method in beginning.methods if method]
    hours = [(name, read_hours(read_hours_line(line))) for name, line in beginning.people if name.strip()]
    settings += [PersonSet(new_person(tx, pen, name), spans, WORK) for name, spans in hours]
    return set_up(tx, pen, settings)
