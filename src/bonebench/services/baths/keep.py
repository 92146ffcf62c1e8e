"""Baths in an open transaction: say that one was made, and what happened to it. What happened is stored; only what cannot be
read is refused."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import ZoneInfo

import msgspec

from bonebench.errors import InputError, NotAQuantity, UnknownName
from bonebench.records import states
from bonebench.records.book import Reading, Writing
from bonebench.science import baths as science
from bonebench.services.gather import room_of, specimen_by_tag
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.times import when_of
from bonebench.services.specimens.intake import read_day
from bonebench.shop.bath import Bath
from bonebench.shop.bath_entries import (
    BathAdded,
    BathDiscarded,
    BathLooked,
    BathMade,
    BathTaken,
    BathTested,
    Clarity,
    Recipe,
    WaterChanged,
    bath_subject,
)
from bonebench.shop.entries import read_what, specimen_subject
from bonebench.shop.room import Place, Room
from bonebench.shop.steps import PlaceKind
from bonebench.shop.what import What
from bonebench.units import read_mass, read_share, read_strength, read_temperature, read_volume

ROOM_TEMPERATURE_C = 20.0
USUAL: Mapping[PlaceKind, Recipe] = {
    PlaceKind.TUB: Recipe.PEROXIDE,
    PlaceKind.POT: Recipe.DETERGENT,
    PlaceKind.RINSE: Recipe.RINSE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBath:
    """A bath as a face asks for it; text as it was typed, quantities still with their units."""

    place: str
    recipe: str | None = None
    name: str | None = None
    stock: str | None = None
    strength: str | None = None
    volume: str | None = None
    dose: str | None = None
    temperature: str | None = None
    vessel: str | None = None
    vessel_volume: str | None = None
    stock_opened: str | None = None
    at: str | None = None
    about: str | None = None


def all_baths(tx: Reading, *, live: bool | None = None) -> tuple[Bath, ...]:
    """Return the baths in the order they were made; only those that still stand there, or not."""
    found = [msgspec.convert(state, Bath) for state in states.baths(tx, live=live)]
    return tuple(sorted(found, key=lambda bath: (bath.made.timestamp() if bath.made else 0.0, bath.id)))


def find_bath(tx: Reading, text: str) -> Bath:
    """Return the bath meant: by its id or name, or the one that stands in the place named."""
    wanted = " ".join(text.split()).casefold()
    known = all_baths(tx)
    for bath in known:
        if wanted in (bath.id, bath.name.casefold()):
            return bath
    room = room_of(tx)
    places = {place.key for place in room.places if wanted in (place.key, place.name.casefold())}
    here = [bath for bath in known if bath.live and bath.place in places]
    if here:
        return here[-1]
    raise UnknownName(
        "bath.unknown", "there is no bath '{text}' in this book; name one, or the pot or tub it stands in: {known}",
        could_be=tuple(bath.name for bath in known if bath.live), text=text,
        known=", ".join(bath.name for bath in known if bath.live) or "none is written down yet",
    )  # fmt: skip


def _place(room: Room, text: str) -> Place:
    wanted = " ".join(text.split()).casefold()
    for place in room.places:
        if wanted in (place.key, place.name.casefold()):
            return place
    raise UnknownName(
        "bath.place", "'{text}' is no place of this room; there are: {known}",
        could_be=tuple(place.key for place in room.places), text=text, known=", ".join(p.key for p in room.places) or "none yet",
    )  # fmt: skip


def _recipe(text: str | None, place: Place) -> Recipe:
    if not text:
        return USUAL.get(place.kind, Recipe.OTHER)
    try:
        return Recipe(text.strip().casefold().replace("-", " "))
    except ValueError:
        raise UnknownName("bath.recipe", "'{text}' is no kind of bath here; it is one of {known}", could_be=tuple(Recipe),
                          text=text, known=", ".join(Recipe)) from None  # fmt: skip


def mass_fraction(text: str, temperature_c: float) -> float:
    """Read a strength in any notation as a mass fraction."""
    written = read_strength(text)
    return science.to_mass_fraction(written.amount, written.notation, temperature_c)


def make(tx: Writing, pen: Pen, asked: NewBath) -> Kept:
    """Store that a bath was made, under an id of its own."""
    room = room_of(tx)
    place = _place(room, asked.place)
    recipe = _recipe(asked.recipe, place)
    warm_c = read_temperature(asked.temperature) if asked.temperature else None
    mixed_at = min(max(ROOM_TEMPERATURE_C if warm_c is None else warm_c, 0.0), science.WARMEST_C)
    strength_w = mass_fraction(asked.strength, mixed_at) if asked.strength else None
    stock_w = mass_fraction(asked.stock, mixed_at) if asked.stock else None
    volume_l = read_volume(asked.volume) if asked.volume else None
    before = sum(1 for bath in all_baths(tx) if bath.place == place.key)
    what = BathMade(
        name=(asked.name or "").strip() or f"{place.name} no. {before + 1}",
        place=place.key,
        recipe=recipe,
        volume_l=volume_l,
        strength_w=strength_w,
        stock_w=stock_w,
        stock_kg=_stock_kg(stock_w, strength_w, volume_l, mixed_at),
        stock_opened=read_day(asked.stock_opened),
        dose=read_share(asked.dose, "dose of detergent") if asked.dose else None,
        temperature_c=warm_c,
        vessel=asked.vessel or None,
        vessel_l=read_volume(asked.vessel_volume) if asked.vessel_volume else place.volume_l,
    )
    when = when_of(at=asked.at, about=asked.about, now=pen.now, zone=ZoneInfo(room.zone))
    return record(tx, [write_entry(tx, pen, what, (bath_subject(pen.new_id()),), when)], pen.now)


def _stock_kg(stock_w: float | None, strength_w: float | None, volume_l: float | None, temperature_c: float) -> float | None:
    """What went in of the stock, where what was said can be a mix at all; what cannot is flagged by the fold, not refused."""
    if stock_w is None or strength_w is None or volume_l is None:
        return None
    if not 0 < strength_w <= stock_w <= science.STRONGEST_W or not 0 < volume_l <= science.LARGEST_MIX_L:
        return None
    return science.dilute(stock_w, strength_w, volume_l, temperature_c).stock_kg


# What a person calls it -> the kind of entry.
HAPPENED: Mapping[str, type[What]] = {
    "added": BathAdded,
    "taken": BathTaken,
    "tested": BathTested,
    "looked": BathLooked,
    "changed": WaterChanged,
    "discarded": BathDiscarded,
}


def _yes(text: str) -> bool:
    if text.strip().casefold() in ("yes", "true", "1"):
        return True
    if text.strip().casefold() in ("no", "false", "0"):
        return False
    raise NotAQuantity("bath.yes_no", "'{text}' is neither yes nor no", text=text)


def _count(text: str) -> int:
    if not text.strip().isdecimal():
        raise NotAQuantity("bath.count", "'{text}' is not a number of teeth; write 0, 1, 2", text=text)
    return int(text)


def _clarity(text: str) -> str:
    words = text.strip().casefold().replace("-", " ")
    if words not in tuple(Clarity):
        raise UnknownName("bath.clarity", "'{text}' is no way for water to look; it is one of {known}", could_be=tuple(Clarity),
                          text=text, known=", ".join(Clarity))  # fmt: skip
    return words


Read = Callable[[str], Any]


def _readers(bath: Bath) -> Mapping[str, tuple[str, Read]]:
    """How each value is read; a strength in another notation is turned at the bath's own temperature."""
    warm_c = ROOM_TEMPERATURE_C if bath.temperature_c is None else min(max(bath.temperature_c, 0.0), science.WARMEST_C)

    def strength(text: str) -> float:
        return mass_fraction(text, warm_c)

    return {
        "volume": ("volume_l", read_volume),
        "mass": ("mass_kg", read_mass),
        "strength": ("strength_w", strength),
        "low": ("low_w", strength),
        "high": ("high_w", strength),
        "temperature": ("temperature_c", read_temperature),
        "dose": ("dose", lambda text: read_share(text, "dose of detergent")),
        "clarity": ("clarity", _clarity),
        "sieved": ("sieved", _yes),
        "teeth": ("teeth", _count),
        **{name: (name, str.strip) for name in ("what", "how", "why", "level", "whose")},
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class Happened:
    """What happened to a bath as a face asks for it."""

    bath: str
    what: str
    values: Mapping[str, str]
    measured: Mapping[str, float] | None = None
    at: str | None = None
    about: str | None = None


def note(tx: Writing, pen: Pen, asked: Happened) -> Kept:
    """Store what happened to a bath; a change of water that found somebody's teeth is told of that specimen too."""
    bath = find_bath(tx, asked.bath)
    if asked.what not in HAPPENED:
        raise UnknownName("bath.happened", "'{text}' is nothing that happens to a bath; it was {known}", could_be=tuple(HAPPENED),
                          text=asked.what, known=", ".join(HAPPENED))  # fmt: skip
    kind = HAPPENED[asked.what]
    readers = _readers(bath)
    values: dict[str, Any] = {}
    for name, text in asked.values.items():
        field, read = readers.get(name, (name, str))
        if field not in kind.__dataclass_fields__:  # type: ignore[attr-defined]
            raise InputError("bath.value", "'{name}' is nothing to say when a bath was {what}", name=name, what=asked.what)
        values[field] = read(text)
    if asked.measured is not None:
        values["measured"] = dict(asked.measured)
    subjects = [bath_subject(bath.id)]
    if values.get("whose"):
        values["whose"] = specimen_subject(specimen_by_tag(tx, values["whose"]).id)
        subjects.append(values["whose"])
    if kind is BathTested:
        values.setdefault("how", "other")
    if kind is BathAdded:
        values.setdefault("what", "stock")
    when = when_of(at=asked.at, about=asked.about, now=pen.now, zone=ZoneInfo(room_of(tx).zone))
    return record(tx, [write_entry(tx, pen, read_what(kind.KIND, 1, values), subjects, when)], pen.now)
