"""What was seen of a piece while it is cleaned: looks, smells and weighings in their order, and what is odd about them."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from bonebench.said import said
from bonebench.shop.entries import Entry, Weighed
from bonebench.shop.flags import Flag
from bonebench.shop.piece_entries import PieceSeen

GRADES = ("hardly touched", "eaten into", "half gone", "crevices left", "bare")
SMELL_WORDS = ("none", "faint", "strong", "foul")


@dataclass(frozen=True, slots=True)
class Sight:
    """One look, smell or weighing, at the middle of when it can have been."""

    at: datetime
    entry: str
    grade: str | None = None
    smell: int | None = None
    mass_kg: float | None = None


def sight_of(entry: Entry) -> Sight:
    """Return what an entry says was seen of a piece."""
    at, what = entry.when.earliest + (entry.when.latest - entry.when.earliest) / 2, entry.what
    if isinstance(what, PieceSeen):
        return Sight(at, entry.id, what.grade, what.smell)
    return Sight(at, entry.id, mass_kg=what.mass_kg if isinstance(what, Weighed) else None)


def odd_sights(sights: tuple[Sight, ...], since: datetime | None) -> Iterator[Flag]:
    """Say what is odd about what was seen: words nobody knows, more flesh than before, a weight that rises."""
    inside = [one for one in sights if since is not None and one.at >= since]
    for one in sights:
        yield from _unreadable(one)
    yield from _grows(inside)
    yield from _heavier(inside)


def _unreadable(one: Sight) -> Iterator[Flag]:
    day = one.at.date()
    if one.grade is not None and one.grade not in GRADES:
        yield Flag(
            said("flag.piece.grade", "a look of {day:day} says '{grade}', which is no grade; it is left out",
                 day=day, grade=one.grade, entry=one.entry),
            said("flag.piece.grade.next", "look again and tap one of: {known}", known=", ".join(GRADES), entry=one.entry),
        )  # fmt: skip
    if one.smell is not None and not 0 <= one.smell < len(SMELL_WORDS):
        yield Flag(
            said("flag.piece.smell", "a smell of {smell} on {day:day} is none of 0 to 3; it is left out",
                 day=day, smell=one.smell, entry=one.entry),
            said("flag.piece.smell.next", "smell again: 0 none, 1 faint, 2 strong, 3 foul", entry=one.entry),
        )  # fmt: skip
    if one.mass_kg is not None and not one.mass_kg > 0:
        yield Flag(
            said("flag.piece.mass", "a weighing of {day:day} says {mass:mass}; it is left out",
                 day=day, mass=one.mass_kg, entry=one.entry),
            said("flag.piece.mass.next", "weigh it again, or take the entry back", entry=one.entry),
        )  # fmt: skip


def _grows(inside: list[Sight]) -> Iterator[Flag]:
    """Flesh does not grow back: a later look that says more is left is kept and said."""
    known = [one for one in inside if one.grade in GRADES]
    for before, after in pairwise(known):
        if GRADES.index(after.grade or "") < GRADES.index(before.grade or ""):
            yield Flag(
                said("flag.piece.grows", "{after} on {day:day}, but {before} before that",
                     after=after.grade, before=before.grade, day=after.at.date(), entry=after.entry),
                said("flag.piece.grows.next", "look at the tag: it may be another piece; take the wrong look back",
                     entry=after.entry),
            )  # fmt: skip


def _heavier(inside: list[Sight]) -> Iterator[Flag]:
    scale = [one for one in inside if one.mass_kg is not None and one.mass_kg > 0]
    for before, after in pairwise(scale):
        if (after.mass_kg or 0.0) > (before.mass_kg or 0.0):
            yield Flag(
                said("flag.piece.heavier", "it weighed {after:mass} on {day:day}, more than the {before:mass} before",
                     after=after.mass_kg, before=before.mass_kg, day=after.at.date(), entry=after.entry),
                said("flag.piece.heavier.next", "weigh it again without bedding and beetles on it", entry=after.entry),
            )  # fmt: skip
