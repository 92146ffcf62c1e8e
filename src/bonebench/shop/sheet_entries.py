"""A pencil sheet that was printed: its rows and what each letter stores, kept in the log so that it can be typed back any day."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any, ClassVar

from bonebench.shop.what import What


@dataclass(frozen=True)
class SheetMark:
    """What one letter of a row stores when it is typed back: exactly the entry that a button would have stored that day."""

    code: str
    label: str
    kind: str
    subjects: tuple[str, ...]
    values: dict[str, Any] = field(default_factory=dict)
    task: str | None = None


@dataclass(frozen=True)
class SheetRow:
    """One numbered row: what it is about, and its letters."""

    row: int
    about: str
    marks: tuple[SheetMark, ...] = ()


@dataclass(frozen=True)
class SheetPrinted(What):
    """A pencil sheet was printed for a day."""

    KIND: ClassVar[str] = "sheet-printed"
    number: str
    day: date
    rows: tuple[SheetRow, ...] = ()


SHEET = "sheet:"


def sheet_subject(number: str) -> str:
    """Name a printed sheet as a subject."""
    return f"{SHEET}{number}"


SHEET_KINDS: tuple[type[What], ...] = (SheetPrinted,)
