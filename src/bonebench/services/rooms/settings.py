"""Room settings as people write them, read into entries; what cannot be is refused before anything is stored."""

from collections.abc import Sequence
from datetime import date

from bonebench.errors import InputError, UnknownName
from bonebench.records.book import Reading
from bonebench.services.gather import known_of, room_of
from bonebench.services.rooms.do import WORK
from bonebench.services.specimens.intake import read_day
from bonebench.shop.entries import ClosedOn, FeatureSet, MethodChosen, PersonSet, PlaceSet, ProfileSet, RoomDescribed, SpeciesSet
from bonebench.shop.names import find
from bonebench.shop.room import WEEKDAYS, Place
from bonebench.shop.rounds import FEATURES, ROOM_PLACE
from bonebench.shop.species import slug, species_from_values, with_overrides
from bonebench.shop.steps import PlaceKind
from bonebench.units import read_mass, read_temperature, read_volume


def read_room(name: str, zone: str, units: str) -> RoomDescribed:
    """Read what a room is called and the units its people read."""
    if units == "metric":
        return RoomDescribed(name.strip(), zone, "metric")
    if units == "us":
        return RoomDescribed(name.strip(), zone, "us")
    raise InputError("room.units", "'{units}' is no set of units; it is metric or us", units=units)


def read_place_kind(text: str) -> PlaceKind:
    """Read a kind of place."""
    for kind in PlaceKind:
        if text.strip().casefold().replace("-", " ") == kind.value:
            return kind
    raise UnknownName("room.place_kind", "'{text}' is no kind of place; there are: {kinds}", could_be=tuple(PlaceKind), text=text,
                      kinds=", ".join(PlaceKind))  # fmt: skip


def read_place(
    tx: Reading, *, key: str, kind: str, name: str | None, holds: float | None, volume: str | None, mass: str | None,
    eats: str | None, temperature: str | None, order: int | None, open: bool | None,
) -> PlaceSet:  # fmt: skip
    """Read a place; what is not said stays as it was."""
    short = slug(key)
    if not short or short == ROOM_PLACE:
        raise InputError("room.place_key", "'{key}' cannot name a place; give it a short name, such as big-pot", key=key)
    room = room_of(tx)
    wanted = read_place_kind(kind)
    was = room.place(short) or Place(short, name or key.strip(), wanted, max((p.order for p in room.places), default=0) + 1)
    if eats and wanted is not PlaceKind.ENCLOSURE:
        raise InputError("room.eats", "only a beetle box eats; {key} is a {kind}", key=short, kind=wanted.value)
    return PlaceSet(
        key=short,
        name=name or was.name,
        kind=wanted,
        order=was.order if order is None else order,
        count=was.count if holds is None else holds,
        volume_l=read_volume(volume) if volume else was.volume_l,
        mass_kg=read_mass(mass) if mass else was.mass_kg,
        open=was.open if open is None else open,
        appetite_kg_per_day=(read_mass(eats) if eats else was.appetite_kg_per_day) if wanted is PlaceKind.ENCLOSURE else None,
        temperature_c=read_temperature(temperature) if temperature else was.temperature_c,
    )


def read_hours(lines: Sequence[str]) -> dict[str, list[tuple[str, str]]]:
    """Read 'mon 09:00-12:00', one stretch a line."""
    hours: dict[str, list[tuple[str, str]]] = {}
    for line in lines:
        day, _, span = line.strip().partition(" ")
        begin, dash, end = span.strip().partition("-")
        if day[:3].casefold() not in WEEKDAYS or not dash:
            raise InputError("room.hours", "hours '{day}' cannot be read; write them like mon 09:00-12:00", day=line)
        hours.setdefault(day[:3].casefold(), []).append((begin.strip(), end.strip()))
    return hours


def read_person(person: str, hours: Sequence[str], trained: str, *, working: bool) -> PersonSet:
    """Read when somebody works and what for."""
    named = WORK if trained.strip().casefold() == "all" else tuple(w.strip() for w in trained.split(",") if w.strip())
    return PersonSet(person, read_hours(hours), named, working)


def read_method(tx: Reading, key: str) -> MethodChosen:
    """Read which method is meant."""
    methods = known_of(tx).methods
    if key not in methods:
        raise UnknownName(
            "room.method",
            "'{method}' is no method; there are: {known}",
            could_be=tuple(methods),
            method=key,
            known=", ".join(methods),
        )
    profile = room_of(tx).profile
    if not methods[key].fits(profile):
        raise InputError(
            "room.locked", "this room keeps to its {profile} profile, and {method} does not fit it: unlock the profile first",
            profile=profile, method=methods[key].name,
        )  # fmt: skip
    return MethodChosen(methods[key].step, key)


def read_profile(name: str) -> ProfileSet:
    """Read which locked profile is meant; an empty name is none."""
    if name not in ("museum", ""):
        raise UnknownName(
            "room.profile", "'{name}' is no profile; it is museum, or empty for none", could_be=("museum",), name=name
        )
    return ProfileSet("museum" if name == "museum" else None)


def read_features(names: Sequence[str]) -> FeatureSet:
    """Read what the room has."""
    odd = [name for name in names if name not in FEATURES]
    if odd:
        raise UnknownName(
            "room.feature", "'{name}' is nothing a round asks for; there are: {known}", could_be=FEATURES, name=odd[0],
            known=", ".join(FEATURES),
        )  # fmt: skip
    return FeatureSet(tuple(feature for feature in FEATURES if feature in names))


def read_closed(tx: Reading, days: Sequence[str]) -> ClosedOn:
    """Read days without work; those known before stay."""
    del tx
    read: list[date] = [day for day in (read_day(text) for text in days) if day is not None]
    return ClosedOn(tuple(read))


def read_pairs(pairs: Sequence[str]) -> dict[str, str | float | bool | None]:
    """Read 'name=value': numbers, true and false as such, everything else as text."""
    values: dict[str, str | float | bool | None] = {}
    for pair in pairs:
        name, sign, text = pair.partition("=")
        if not sign or not name.strip():
            raise InputError("pairs.shape", "'{pair}' says nothing; write it like name=value", pair=pair)
        values[name.strip()] = read_value(text.strip())
    return values


def read_value(text: str) -> str | float | bool | None:
    """Read one value: true, false, none, a whole or broken number, or text."""
    words: dict[str, bool | None] = {"true": True, "yes": True, "false": False, "no": False, "none": None}
    if text.casefold() in words:
        return words[text.casefold()]
    for number in (int, float):
        try:
            return number(text)
        except ValueError:
            continue
    return text


def read_species(tx: Reading, name: str, pairs: Sequence[str]) -> SpeciesSet:
    """Read the room's own figures for a species that is known, or a new one like a known one."""
    known = known_of(tx).species
    values = read_pairs(pairs)
    try:
        species = find(name, known)
    except UnknownName:
        if "like" not in values:
            raise
        key = slug(name)
        values.setdefault("common_name", name.strip())
        species_from_values(key, values, known)
        return SpeciesSet(key, values)
    with_overrides(species, values)
    return SpeciesSet(species.key, values)
