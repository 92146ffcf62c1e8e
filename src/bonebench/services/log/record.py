"""Put entries into the book: stored once, kept aside where they clash, folded, and the work revision moved on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from bonebench.records import entries as log_rows
from bonebench.records.book import Writing, bump_work
from bonebench.services.log.rows import to_row
from bonebench.services.log.states import refold
from bonebench.shop.entries import Entry, What, When
from bonebench.shop.identity import NewId

StoredAs = Literal["stored", "already stored", "clash"]


@dataclass(frozen=True, slots=True)
class Pen:
    """Who writes: the device and the person, with the ids it makes."""

    writer: str
    who: str | None
    new_id: NewId
    now: datetime


@dataclass(frozen=True, slots=True)
class Kept:
    """How each entry of one record went."""

    entries: tuple[Entry, ...]
    how: dict[str, StoredAs] = field(default_factory=dict)


def write_entry(
    tx: Writing, pen: Pen, what: What, subjects: Sequence[str], when: When, *, task: str | None = None,
    replaces: str | None = None, entry_id: str | None = None,
) -> Entry:  # fmt: skip
    """Make an entry with the writer's next running number; it is not stored yet."""
    return Entry(
        id=entry_id or pen.new_id(),
        writer=pen.writer,
        number=log_rows.next_number(tx, pen.writer),
        when=when,
        recorded=pen.now,
        subjects=tuple(subjects),
        what=what,
        who=pen.who,
        task=task,
        replaces=replaces,
    )


def record(tx: Writing, entries: Iterable[Entry], now: datetime) -> Kept:
    """Store entries and fold what they touch. The same entry twice does nothing; other content under its id is kept aside."""
    entries = tuple(entries)
    how: dict[str, StoredAs] = {}
    fresh: list[Entry] = []
    for entry in entries:
        outcome = log_rows.store(tx, to_row(entry), now)
        how.setdefault(entry.id, outcome)
        fresh += [entry] if outcome == "stored" else []
    if fresh:
        refold(tx, _touched(tx, fresh))
        bump_work(tx)
    return Kept(entries, how)


def _touched(tx: Writing, entries: Iterable[Entry]) -> set[str]:
    """Everything an entry is about, and everything that what it strikes is about, down the chain."""
    touched: set[str] = set()
    seen: set[str] = set()
    ahead = [(entry.subjects, entry.targets) for entry in entries]
    while ahead:
        subjects, targets = ahead.pop()
        touched |= set(subjects)
        for target in set(targets) - seen:
            seen.add(target)
            row = log_rows.entry(tx, target)
            if row is not None:
                ahead.append((row.subjects, row.targets))
    return touched
