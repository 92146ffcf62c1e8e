"""The room as its settings say it is: places, people, methods, closed days. Settings are entries; this is what they come to."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from typing import Any, Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bonebench.said import said
from bonebench.shop import entries as log
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.entries import Entry
from bonebench.shop.flags import Flag
from bonebench.shop.fold import Story
from bonebench.shop.part_entries import TagsIssued
from bonebench.shop.prices import Prices, PricesSet, known_currency, prices_of, readable_price
from bonebench.shop.steps import PlaceKind, Step

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


@dataclass(frozen=True, slots=True)
class Place:
    """One place with what it holds; None is no limit known."""

    key: str
    name: str
    kind: PlaceKind
    order: int = 0
    count: float | None = None
    volume_l: float | None = None
    mass_kg: float | None = None
    open: bool = True
    appetite_kg_per_day: float | None = None
    temperature_c: float | None = None
    since: datetime | None = None
    box: BoxSet | None = None


@dataclass(frozen=True, slots=True)
class Worker:
    """When somebody works, weekday by weekday, and what they are trained for."""

    person: str
    hours: dict[str, tuple[tuple[str, str], ...]]
    trained: tuple[str, ...]

    def windows(self) -> Mapping[int, tuple[tuple[time, time], ...]]:
        """Return the wall hours by weekday number, Monday is 0; unreadable hours are left out (they were flagged)."""
        return {
            WEEKDAYS.index(day): tuple((time.fromisoformat(a), time.fromisoformat(b)) for a, b in spans)
            for day, spans in self.hours.items()
        }


@dataclass(frozen=True, slots=True)
class Acknowledged:
    """A person has said yes to the dangers of a method."""

    method: str
    person: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Roll:
    """A block of tags that was handed out: their numbers from ``first`` to ``last``."""

    name: str
    first: int
    last: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Room:
    """The whole room at one moment of its log."""

    name: str = ""
    zone: str = "UTC"
    units: Literal["metric", "us"] = "metric"
    places: tuple[Place, ...] = ()
    people: tuple[Worker, ...] = ()
    methods: dict[Step, str] = field(default_factory=dict)
    species: dict[str, dict[str, str | float | bool | None]] = field(default_factory=dict)
    closed: tuple[date, ...] = ()
    features: tuple[str, ...] = ()
    profile: Literal["museum"] | None = None
    acknowledged: tuple[Acknowledged, ...] = ()
    rolls: tuple[Roll, ...] = ()
    prices: Prices = field(default_factory=Prices)
    flags: tuple[Flag, ...] = ()

    def acknowledged_at(self, method: str, person: str | None) -> datetime | None:
        """Return when somebody last said yes to the dangers of a method."""
        return max((a.at for a in self.acknowledged if (a.method, a.person) == (method, person)), default=None)

    def place(self, key: str | None) -> Place | None:
        """Return a place by its key."""
        return next((place for place in self.places if place.key == key), None)

    def day(self, at: datetime) -> date:
        """Return the local day of an instant."""
        return at.astimezone(ZoneInfo(self.zone)).date()


class _Draft:
    def __init__(self) -> None:
        self.about: dict[str, Any] = {}
        self.places: dict[str, Place] = {}
        self.boxes: dict[str, BoxSet] = {}
        self.people: dict[str, Worker] = {}
        self.methods: dict[Step, str] = {}
        self.species: dict[str, dict[str, str | float | bool | None]] = {}
        self.closed: set[date] = set()
        self.features: tuple[str, ...] = ()
        self.profile: Literal["museum"] | None = None
        self.acknowledged: dict[tuple[str, str], Acknowledged] = {}
        self.rolls: list[Roll] = []
        self.prices: list[PricesSet] = []
        self.flags: list[Flag] = []


def known_zone(name: str) -> bool:
    """Whether this is the name of an IANA time zone."""
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return False
    return True


def _described(draft: _Draft, what: log.RoomDescribed) -> None:
    zone = what.zone
    if not known_zone(zone):
        draft.flags.append(
            Flag(
                said("flag.zone", "'{zone}' is no time zone; days are counted in UTC until it is put right", zone=zone),
                said("flag.zone.next", "set the room's zone by its IANA name, such as America/Chicago"),
            )
        )
        zone = "UTC"
    draft.about = {"name": what.name, "zone": zone, "units": what.units}


def _place(draft: _Draft, entry: Entry, what: log.PlaceSet) -> None:
    """A place set again keeps the day it was set up first; one that was out of use begins anew."""
    before = draft.places.get(what.key)
    since = before.since if before is not None and before.open else entry.when.latest
    fields = {name: getattr(what, name) for name in Place.__dataclass_fields__ if name not in ("since", "box")}
    draft.places[what.key] = Place(**fields, since=since)


def readable_hours(spans: list[tuple[str, str]]) -> bool:
    """Whether these are pairs of wall times that rise; a wall time has no zone of its own."""
    try:
        pairs = [(time.fromisoformat(a), time.fromisoformat(b)) for a, b in spans]
    except ValueError:
        return False
    return all(a.tzinfo is None and b.tzinfo is None and a < b for a, b in pairs)


def _person(draft: _Draft, what: log.PersonSet) -> None:
    if not what.working:
        draft.people.pop(what.person, None)
        return
    hours: dict[str, tuple[tuple[str, str], ...]] = {}
    for day, spans in what.hours.items():
        if day in WEEKDAYS and readable_hours(spans):
            hours[day] = tuple(spans)
        else:
            draft.flags.append(
                Flag(
                    said("flag.hours", "the hours '{day}' of somebody cannot be read", day=day, person=what.person),
                    said("flag.hours.next", "write them like mon 09:00-12:00", person=what.person),
                )
            )
    draft.people[what.person] = Worker(what.person, hours, what.trained)


def _method(draft: _Draft, what: log.MethodChosen) -> None:
    draft.methods[what.step] = what.method


def _species(draft: _Draft, what: log.SpeciesSet) -> None:
    draft.species[what.key] = {**draft.species.get(what.key, {}), **what.values}


def _box(draft: _Draft, what: BoxSet) -> None:
    draft.boxes[what.key] = what


def _closed(draft: _Draft, what: log.ClosedOn) -> None:
    draft.closed |= set(what.days)


def _features(draft: _Draft, what: log.FeatureSet) -> None:
    draft.features = what.features


def _prices(draft: _Draft, what: PricesSet) -> None:
    if not known_currency(what.currency):
        draft.flags.append(
            Flag(
                said("flag.currency", "'{currency}' is no currency; prices in it do not count", currency=what.currency),
                said("flag.currency.next", "set them again with three letters of ISO 4217, such as EUR or USD"),
            )
        )
        return
    odd = [key for key, price in what.prices.items() if price is not None and not readable_price(price)]
    for key in odd:
        draft.flags.append(
            Flag(
                said("flag.price", "the price of {what} cannot be read: '{price}'", what=key, price=what.prices[key]),
                said("flag.price.next", "set it again; until then it has none"),
            )
        )
    draft.prices.append(replace(what, prices={**what.prices, **dict.fromkeys(odd)}))


def _profile(draft: _Draft, what: log.ProfileSet) -> None:
    draft.profile = what.profile


_APPLY: dict[type[log.What], Callable[[_Draft, Any], None]] = {
    log.RoomDescribed: _described,
    BoxSet: _box,
    PricesSet: _prices,
    log.PersonSet: _person,
    log.MethodChosen: _method,
    log.SpeciesSet: _species,
    log.ClosedOn: _closed,
    log.FeatureSet: _features,
    log.ProfileSet: _profile,
}


def fold_room(story: Story) -> Room:
    """Tell the room from its settings."""
    draft = _Draft()
    for entry in story.entries:
        _tell(draft, entry)
    return Room(
        **draft.about,
        places=_places(draft),
        people=tuple(draft.people.values()),
        methods=draft.methods,
        species=draft.species,
        closed=tuple(sorted(draft.closed)),
        features=draft.features,
        profile=draft.profile,
        acknowledged=tuple(draft.acknowledged.values()),
        rolls=tuple(draft.rolls),
        prices=prices_of(draft.prices),
        flags=(*story.flags, *draft.flags),
    )


def _places(draft: _Draft) -> tuple[Place, ...]:
    """The places along the wall, each beetle box with what was said of it, whichever was said first."""
    places = (replace(place, box=draft.boxes.get(place.key)) for place in draft.places.values())
    return tuple(sorted(places, key=lambda place: (place.order, place.key)))


def _tell(draft: _Draft, entry: Entry) -> None:
    what = entry.what
    if isinstance(what, log.HazardAcknowledged):
        draft.acknowledged[what.method, what.person] = Acknowledged(what.method, what.person, entry.when.latest)
        return
    if isinstance(what, log.PlaceSet):
        _place(draft, entry, what)
        return
    if isinstance(what, TagsIssued):
        draft.rolls.append(Roll(what.roll, what.first, what.last, entry.when.latest))
        return
    apply = _APPLY.get(type(what))
    if apply is not None:
        apply(draft, what)
