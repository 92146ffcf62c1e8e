"""The cards of printing: what a label or a paper holds, what was printed, what was typed back, what a code opens."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from bonebench.services.cards import Basis, Caution, Fact, Flag, Said
from bonebench.shop.sheet_entries import SheetRow


@dataclass(frozen=True)
class Labelled:
    """What may stand on the label of one specimen; ``owner`` is initials, ``teeth`` how many are expected, None if nobody knows."""

    tag: str
    species: str
    owner: str
    parts: tuple[str, ...]
    teeth: int | None


@dataclass(frozen=True)
class PlaceLabelled:
    """What stands on the label of a place; ``peroxide`` where a bath of it stands there or may."""

    key: str
    name: str
    kind: str
    peroxide: bool


@dataclass(frozen=True)
class PrintedCard:
    """What was printed: how many pages and labels, and where a half-used sheet goes on; ``sheet`` is a pencil sheet's number."""

    what: str
    file: str | None
    pages: int
    labels: int
    stock: str | None
    starts_at: int | None
    next_start: int | None
    tags: tuple[str, ...]
    sheet: str | None
    demo: bool
    advice: tuple[Said, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "print/1"


@dataclass(frozen=True)
class SheetCard:
    """A pencil sheet as it was printed: its number, its day, and what each letter of each row stores."""

    number: str
    day: date
    printed: datetime
    rows: tuple[SheetRow, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "sheet/1"


@dataclass(frozen=True)
class SheetLine:
    """One sheet in the list of the last ones."""

    number: str
    day: date
    rows: int


@dataclass(frozen=True)
class TypedRow:
    """One row that was read: what it stored, and when that was."""

    row: int
    code: str
    about: str
    label: str
    stored: Literal["stored", "already stored", "clash"]
    entry_id: str
    earliest: datetime
    latest: datetime


@dataclass(frozen=True)
class UnreadCard:
    """Words that could not be used, and why."""

    text: str
    why: Said


@dataclass(frozen=True)
class TypedBackCard:
    """What came of typing a sheet back; ``again`` is what is left to put right, as it was typed."""

    sheet: str
    day: date
    rows: tuple[TypedRow, ...]
    unread: tuple[UnreadCard, ...]
    again: str
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "typed-back/1"


@dataclass(frozen=True)
class FoundCode:
    """One code that was read, and what it is; ``name`` is what a person calls it, ``key`` how its page is found."""

    text: str
    kind: Literal["specimen", "place", "bath", "sheet", "unknown"]
    key: str
    name: str


@dataclass(frozen=True)
class ScanCard:
    """What was found in a picture or typed beside it, each code once; ``teach`` says what to try where there was none."""

    found: tuple[FoundCode, ...]
    teach: tuple[Said, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "scan/1"


@dataclass(frozen=True)
class CareCard:
    """What the owner takes home: what it is, what was done to it, with which glue, and what to look for."""

    tag: str
    species: str
    scientific: str
    owner: str
    room: str
    zone: str
    received: datetime | None
    handed_over: datetime | None
    finish: str
    permit: str | None
    done: tuple[Fact, ...]
    glued: bool
    glues: tuple[Said, ...]
    fragile: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class AskedCard:
    """One question at the door, and what to do where the answer is yes or nobody knows."""

    text: str
    must_ask: bool
    if_yes: Said
    if_unknown: Said


@dataclass(frozen=True)
class IntakeFormCard:
    """What stands on the form that is filled in by pencil at the door."""

    room: str
    questions: tuple[AskedCard, ...]
    cautions: tuple[Caution, ...]
