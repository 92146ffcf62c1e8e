"""Answers that take long: from how large a room on they are worked out beside the pages, and how the last one is kept.

One answer of each kind is kept, with what was asked, the revision of the book it was made for and its age, so that it can be shown
again; the next one takes its place.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, TypeVar

import msgspec

from bonebench.records import plans, states
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said

T = TypeVar("T")

# From so many pieces in work on an answer is long work. Measured on one of two busy cores, invented seasons, compiled plans, from
# quiet to all at once: a what-if of one change takes 0.9 to 1.7 s for 60 pieces, 1.2 to 2.7 s for 100 and 4 to 22 s for 400; a
# last day for a holiday 1.3 to 1.6 s, 1.5 to 2.5 s and 3 to 30 s.
LARGE = 100
NOW, HOURS = timedelta(minutes=1), timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer as it was kept: what was asked, the card, when, and whether nothing was written in the book since."""

    asked: dict[str, Any]
    card: dict[str, Any]
    made_at: datetime
    current: bool


def is_large(tx: Reading, now: datetime) -> bool:
    """Whether there are so many pieces in work that nobody should wait for an answer on the page."""
    del now
    return states.in_work(tx) >= LARGE


def keep_answer(tx: Writing, kind: str, asked: Mapping[str, Any], card: Any, *, work_revision: int, made_at: datetime) -> None:
    """Keep an answer in place of the one before of its kind."""
    body = {"asked": dict(asked), "card": msgspec.to_builtins(card)}
    plans.put(tx, kind, body, work_revision=work_revision, made_at=made_at)


def kept_answer(tx: Reading, kind: str) -> Answered | None:
    """Return the answer that is kept."""
    kept = plans.kept(tx, kind)
    if kept is None:
        return None
    current = plans.work_revision(tx) == kept.work_revision
    return Answered(kept.body["asked"], kept.body["card"], kept.made_at, current)


def read_back(plain: Mapping[str, Any], card: type[T]) -> T | None:
    """Read a kept card back; one that an older program kept in another form is none any more."""
    try:
        return msgspec.convert(dict(plain), card)
    except msgspec.ValidationError:
        return None


def age_words(kept: Answered, now: datetime) -> Said:
    """Say how old an answer is and whether it still stands."""
    age = now - kept.made_at
    if age < NOW:
        when = said("at_length.now", "worked out just now")
    elif age < HOURS:
        when = said("at_length.minutes", "worked out {age:minutes} ago", age=age // timedelta(minutes=1))
    else:
        when = said("at_length.days", "worked out {age:days} ago", age=age / timedelta(days=1))
    end = "nothing was written in the book since"
    if not kept.current:
        end = "the book has moved on since, so ask again before you rely on it"
    return said(f"{when.key}.{'current' if kept.current else 'moved_on'}", f"{when.template}; {end}", **when.values)
