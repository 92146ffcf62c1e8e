"""Write down what was seen of a colony. Light: it loads no model, and refuses only what cannot be read."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from bonebench.errors import InputError, NotAQuantity, UnknownName
from bonebench.records.book import Reading, Writing
from bonebench.science.colony.observed import GRADES
from bonebench.services.colony.typed import read_smell, yes
from bonebench.services.gather import room_of
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.times import when_of
from bonebench.shop.colony import HUNGERS
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.pests import pests_written
from bonebench.shop.room import Place
from bonebench.shop.rounds import place_subject
from bonebench.shop.steps import PlaceKind
from bonebench.units import read_mass, read_number, read_share, read_temperature, read_volume

SITES_PER_L = 150.0  # see `science.colony.model.sites_in`


@dataclass(frozen=True, kw_only=True)
class Look:
    """A look into a box as it was typed; what was not looked at is left out."""

    place: str = ""
    counted: str | None = None
    part: str | None = None
    grade: str | None = None
    pupae: str | None = None
    pupae_part: str | None = None
    sites: str | None = None
    fed: str | None = None
    dried: str | None = None
    temperature: str | None = None
    humidity: str | None = None
    smell: str | None = None
    pests: str | None = None
    beetles: str | None = None
    hunger: str | None = None
    at: str | None = None
    about: str | None = None


def box_of(tx: Reading, text: str) -> Place:
    """Return the beetle box that was named; the only one needs no name."""
    boxes = [place for place in room_of(tx).places if place.kind is PlaceKind.ENCLOSURE]
    wanted = text.strip().casefold()
    found = [place for place in boxes if wanted in (place.key.casefold(), place.name.casefold())] if wanted else boxes
    if len(found) == 1:
        return found[0]
    names = tuple(place.key for place in boxes)
    if not boxes:
        raise UnknownName("colony.no_box", "this room has no beetle box; set one up as a place first")
    raise UnknownName("colony.which_box", "which box? They are {known}", could_be=names, known=", ".join(names))


def note_look(tx: Writing, pen: Pen, look: Look) -> Kept:
    """Store a look. A count of none, and more pupae than sites, are stored like any other; the page says what to check."""
    place, what = box_of(tx, look.place), seen_of(look)
    if what == ColonySeen():
        raise InputError("colony.nothing", "nothing was written; say what you counted, saw, fed or read")
    when = when_of(at=look.at, about=look.about, now=pen.now, zone=ZoneInfo(room_of(tx).zone))
    return record(tx, [write_entry(tx, pen, what, [place_subject(place.key)], when)], pen.now)


def seen_of(look: Look) -> ColonySeen:
    """Read what was typed."""
    return ColonySeen(
        counted=read_number(look.counted, "count") if look.counted else None,
        part=read_share(look.part, "share of the bedding") if look.part else None,
        grade=_grade(look.grade) if look.grade else None,
        pupae=read_number(look.pupae, "number of pupae") if look.pupae else None,
        pupae_part=read_share(look.pupae_part, "share of the blocks") if look.pupae_part else None,
        sites=read_sites(look.sites) if look.sites else None,
        fed_kg=read_mass(look.fed) if look.fed else None,
        dried=yes(look.dried) if look.fed else None,
        temperature_c=read_temperature(look.temperature) if look.temperature else None,
        humidity=read_share(look.humidity, "humidity") if look.humidity else None,
        smell=read_smell(look.smell),
        pests=pests_written(look.pests),
        beetles=look.beetles or None,
        hunger=_hunger(look.hunger) if look.hunger else None,
    )


def _grade(text: str) -> str:
    name = text.strip().casefold()
    if name not in GRADES:
        raise NotAQuantity(
            "colony.grade_text", "'{text}' is no grade; they are {known}", text=text, known=", ".join(GRADES)
        )  # fmt: skip
    return name


def _hunger(text: str) -> str:
    name = text.strip().casefold()
    if name not in HUNGERS:
        raise NotAQuantity(
            "colony.hunger_text", "'{text}' is not how hungry they look; it is {known}", text=text, known=", ".join(HUNGERS)
        )
    return name


def read_sites(text: str) -> float:
    """Read pupation sites: a number of them, or the volume of the blocks."""
    try:
        return read_number(text, "number of pupation sites")
    except NotAQuantity:
        return read_volume(text) * SITES_PER_L
