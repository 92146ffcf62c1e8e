"""What every card is made of. A card is frozen, holds SI values and sentences, and goes into JSON as it is."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

import msgspec

from bonebench.figures import Basis
from bonebench.said import Plain, Said
from bonebench.shop.cautions import Caution, Cautioned
from bonebench.shop.entries import read_what
from bonebench.shop.flags import Flag

__all__ = ["Alert", "Answer", "Basis", "Caution", "EntryCard", "Fact", "Flag", "Ready", "Said", "SpeciesName", "Worked", "as_json"]


@dataclass(frozen=True)
class Alert:
    """Something that comes before the day's work; ``level`` is "look" or "act"."""

    level: str
    what: Said
    why: Said


@dataclass(frozen=True)
class Answer:
    """One large button: tapping it stores one entry of this kind with these values about these subjects.

    ``about`` says when it happened where that is not now. A button whose entry could not be read back cannot be made.
    """

    key: str
    label: Said
    kind: str
    subjects: tuple[str, ...]
    values: dict[str, Any]
    task: str | None = None
    about: str | None = None

    def __post_init__(self) -> None:
        read_what(self.kind, 1, self.values)


@dataclass(frozen=True)
class SpeciesName:
    """A species as a page names it."""

    key: str
    common: str
    scientific: str


@dataclass(frozen=True)
class EntryCard:
    """One line of the log as it is shown; ``counts`` is False once it was taken back."""

    id: str
    kind: str
    what: Said
    earliest: datetime
    latest: datetime
    recorded: datetime
    who: str | None
    writer: str
    counts: bool
    can_undo: bool


@dataclass(frozen=True)
class Ready:
    """When a specimen will be ready.

    ``planned`` comes from the day's plan with working durations; ``if_quick`` and ``if_slow`` from the same order with every step
    quick (one in ten) or slow (nine in ten). ``p50``, ``p80`` and ``p95`` are a promise, and stay empty until one was worked out;
    ``promise_made`` says when, ``sentence`` is for the owner. ``checked`` is False while the durations are nobody's measurements in
    this room.
    """

    planned: date | None
    if_quick: date | None
    if_slow: date | None
    p50: date | None
    p80: date | None
    p95: date | None
    checked: bool
    why_not: Said | None = None
    promise_made: datetime | None = None
    sentence: Said | None = None


@dataclass(frozen=True)
class Fact:
    """One line of a result: what it is, and its value in words with quantities."""

    label: Said
    value: Said


@dataclass(frozen=True, kw_only=True)
class Worked(Cautioned):
    """What every calculation's card holds beside its own numbers: what to do in order, the result by line, what it rests on."""

    title: Said
    facts: tuple[Fact, ...]
    steps: tuple[Said, ...] = ()
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()


def as_json(card: Any) -> dict[str, Plain]:
    """Return a card as plain JSON values: days and instants as ISO text, instants in UTC with Z."""
    plain: dict[str, Plain] = msgspec.to_builtins(card)
    return plain
