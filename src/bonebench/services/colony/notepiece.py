"""Write down a look at one piece, its smell or its weight, as somebody typed it."""

from zoneinfo import ZoneInfo

from bonebench.errors import InputError, NotAQuantity
from bonebench.records.book import Writing
from bonebench.services.colony.typed import read_smell
from bonebench.services.gather import room_of, specimen_by_tag
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.times import when_of
from bonebench.shop.entries import Weighed, What, specimen_subject
from bonebench.shop.piece_entries import PieceSeen
from bonebench.shop.pieces import GRADES, SMELL_WORDS
from bonebench.units import read_mass


def note_piece(
    tx: Writing, pen: Pen, tag: str, *, grade: str | None = None, smell: str | None = None, mass: str | None = None,
    at: str | None = None, about: str | None = None,
) -> Kept:  # fmt: skip
    """Store what was seen of a piece; refuses only what cannot be read."""
    found: list[What] = []
    if grade or smell:
        found.append(PieceSeen(_grade(grade) if grade else None, _smell(smell) if smell else None))
    if mass:
        found.append(Weighed(read_mass(mass)))
    if not found:
        raise InputError("piece.nothing", "nothing was written; say how it looks, how it smells or what it weighs, such as 412 g")
    specimen = specimen_by_tag(tx, tag)
    when = when_of(at=at, about=about, now=pen.now, zone=ZoneInfo(room_of(tx).zone))
    subject = (specimen_subject(specimen.id),)
    return record(tx, [write_entry(tx, pen, what, subject, when) for what in found], pen.now)


def _grade(text: str) -> str:
    name = " ".join(text.split()).casefold()
    if name not in GRADES:
        raise NotAQuantity("piece.grade", "'{text}' is no grade; they are {known}", text=text, known=", ".join(GRADES))
    return name


def _smell(text: str) -> int | None:
    name = text.strip().casefold()
    return SMELL_WORDS.index(name) if name in SMELL_WORDS else read_smell(text)
