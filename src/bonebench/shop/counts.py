"""The last count of a place, as its entries tell it."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.shop.entries import Entry
from bonebench.shop.part_entries import Counted


@dataclass(frozen=True, slots=True)
class CountMark:
    """When a place was counted last, by whom, and what came of it."""

    at: datetime
    entry: str
    who: str | None
    found: int | None
    expected: int | None
    seen: tuple[str, ...]
    missing: tuple[str, ...]
    unknown: tuple[str, ...]


def mark_of_count(entry: Entry, what: Counted) -> CountMark:
    """Return what a count comes to."""
    return CountMark(
        entry.when.latest, entry.id, entry.who, what.found, what.expected, what.seen, what.missing, what.unknown
    )  # fmt: skip
