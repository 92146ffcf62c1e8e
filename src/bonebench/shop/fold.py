"""The order-free part of reading the log: which entries count, and in which order they are told.

The same entries give the same story whatever order they arrived in, however often they were sent. Nothing here raises on what a
book may hold.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from bonebench.said import said
from bonebench.shop.entries import ClockCorrected, Entry, Void, When, root_of
from bonebench.shop.flags import Flag

# Raised whenever a fold would give another state for the same entries; a book with another version is folded again on opening.
FOLD_VERSION = 6

CLOCK_SLACK = timedelta(minutes=10)


@dataclass(frozen=True, slots=True)
class Story:
    """The entries about one subject that count, in the order they are told, and what is odd about them."""

    entries: tuple[Entry, ...]
    voided: frozenset[str]
    flags: tuple[Flag, ...]


def _strikes(entry: Entry, subject: str) -> bool:
    """Whether this entry, if it counts, takes its target out for this exact subject: a void may name some subjects only."""
    if not isinstance(entry.what, Void) or not entry.subjects:
        return True
    return subject in entry.subjects or root_of(subject) in entry.subjects


def _loops(voiders: Mapping[str, set[str]], undecided: set[str]) -> set[str]:
    """Return the undecided entries that void each other in a ring which nothing outside it decides."""
    ancestors: dict[str, set[str]] = {}
    for entry in undecided:
        seen: set[str] = set()
        fresh = {entry}
        while fresh:
            fresh = {v for e in fresh for v in voiders.get(e, ()) if v in undecided} - seen
            seen |= fresh
        ancestors[entry] = seen
    return {e for e in undecided if e in ancestors[e] and all(e in ancestors[a] for a in ancestors[e])}


def counting_strikes(voiders: Mapping[str, set[str]], striking: Iterable[str]) -> tuple[set[str], set[str]]:
    """Decide which striking entries count: one counts unless a counting one strikes it; a ring counts for nothing.

    Returns the counting ones and those in a ring. ``voiders`` maps an entry to those that strike it.
    """
    undecided = set(striking)
    counting: set[str] = set()
    rings: set[str] = set()
    while undecided:
        struck = {e for e in undecided if voiders.get(e, set()) & counting}
        free = {e for e in undecided - struck if not voiders.get(e, set()) & undecided}
        if struck or free:
            counting |= free
            undecided -= struck | free
        else:
            ring = _loops(voiders, undecided)
            rings |= ring
            undecided -= ring
    return counting, rings


def _corrected(entry: Entry, corrections: Iterable[ClockCorrected]) -> Entry:
    shift = sum(c.offset_seconds for c in corrections if c.writer == entry.writer and c.first <= entry.number <= c.last)
    if not shift:
        return entry
    by = timedelta(seconds=shift)
    try:
        return replace(entry, when=When(entry.when.earliest + by, entry.when.latest + by))
    except OverflowError:
        return entry


def telling_order(entry: Entry) -> tuple[datetime, int, str]:
    """Sort by the latest it can have happened, then the writer's own running number, then id."""
    return entry.when.latest, entry.number, entry.id


def _struck_for(known: Mapping[str, Entry], subject: str) -> tuple[set[str], set[str]]:
    """Return the entries struck out for one exact subject, and those in a ring."""
    voiders: dict[str, set[str]] = {}
    for entry in known.values():
        if _strikes(entry, subject):
            for target in entry.targets:
                voiders.setdefault(target, set()).add(entry.id)
    counting, rings = counting_strikes(voiders, (entry.id for entry in known.values() if entry.targets))
    return {target for target, by in voiders.items() if by & counting}, rings


def tell(entries: Iterable[Entry], root: str, corrections: Iterable[ClockCorrected] = ()) -> Story:
    """Work out which of these entries count for one subject with its parts, and put them in order.

    ``entries`` are those about the subject together with everything that strikes any of them, in any order, repeats and all.
    """
    known = {entry.id: entry for entry in entries}
    corrections = tuple(corrections)
    standing: dict[str, list[str]] = {}
    rings: set[str] = set()
    about = {entry.id: [s for s in entry.subjects if root_of(s) == root] for entry in known.values()}
    for subject in {s for subjects in about.values() for s in subjects}:
        struck, ringed = _struck_for(known, subject)
        rings |= ringed
        for entry, subjects in about.items():
            if subject in subjects and entry not in struck and not isinstance(known[entry].what, Void):
                standing.setdefault(entry, []).append(subject)
    told = sorted(
        (
            _corrected(replace(known[entry], subjects=tuple(s for s in about[entry] if s in subjects)), corrections)
            for entry, subjects in standing.items()
        ),
        key=telling_order,
    )
    voided = frozenset(
        entry for entry, subjects in about.items() if subjects and entry not in standing and not isinstance(known[entry].what, Void)
    )
    return Story(tuple(told), voided, (*_ring_flags(sorted(rings)), *_clock_flags(told)))


def _ring_flags(rings: Iterable[str]) -> Iterable[Flag]:
    for entry in rings:
        yield Flag(
            said("flag.ring", "an entry was taken back by one that it takes back itself, so neither counts", entry=entry),
            said("flag.ring.next", "read the entries and take back the wrong one once more", entry=entry),
        )


def _clock_flags(told: Iterable[Entry]) -> Iterable[Flag]:
    for entry in told:
        if entry.when.latest > entry.recorded + CLOCK_SLACK:
            day = entry.when.latest.date()
            yield Flag(
                said("flag.future", "an entry says it happened on {day:day}, after it was written", day=day, entry=entry.id),
                said("flag.future.next", "check the clock of {writer}, then correct it", writer=entry.writer, entry=entry.id),
            )
