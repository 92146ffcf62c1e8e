"""Colours that were measured in photos of one specimen: kept in the log, read back by setting. Light: it measures nothing."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.records.book import Reading, Writing
from bonebench.services.gather import specimen_by_tag
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.states import story_of
from bonebench.services.photos.keep import photo_named
from bonebench.shop.entries import specimen_subject
from bonebench.shop.photo_entries import ColourMeasured


@dataclass(frozen=True, slots=True)
class ColourLook:
    """One measured colour: when its photo was taken, with which phone in which light, and what came out."""

    entry: str
    at: datetime
    setting: str
    sha256: str
    lab: tuple[float, float, float]


def same_setting(one: str, other: str) -> bool:
    """Whether two settings are the same phone in the same light, as far as they were called the same."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def looks_of(tx: Reading, tag: str) -> tuple[ColourLook, ...]:
    """Return the colours measured of one specimen, oldest first; of one photo measured again in a setting the newest counts."""
    story, _ = story_of(tx, specimen_subject(specimen_by_tag(tx, tag).id))
    newest: dict[tuple[str, str], ColourLook] = {}
    for entry in sorted(story.entries, key=lambda e: (e.recorded, e.number)):
        what = entry.what
        if isinstance(what, ColourMeasured) and _can_be(what):
            look = ColourLook(entry.id, entry.when.latest, what.setting, what.sha256, (what.lightness, what.a, what.b))
            newest[what.sha256, " ".join(what.setting.split()).casefold()] = look
    return tuple(sorted(newest.values(), key=lambda look: look.at))


def _can_be(what: ColourMeasured) -> bool:
    """Whether a colour can be one; an entry from elsewhere may hold anything."""
    return 0 <= what.lightness <= 150 and max(abs(what.a), abs(what.b)) <= 200


def keep_look(tx: Writing, pen: Pen, tag: str, photo: str, what: ColourMeasured) -> Kept:
    """Write a measured colour down, at the time and about the part of its photo."""
    entry = photo_named(tx, tag, photo)
    return record(tx, [write_entry(tx, pen, what, entry.subjects, entry.when)], pen.now)
