"""The book itself: what it says of itself, whether it is whole, folding it again."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.records import people
from bonebench.records.book import Reading, Writing, about
from bonebench.said import said
from bonebench.services.cards import Basis, Caution, Flag
from bonebench.services.log.states import rebuild as fold_again
from bonebench.shop.fold import FOLD_VERSION


@dataclass(frozen=True, slots=True)
class BookCard:
    """What a book says of itself; ``faults`` is empty where it is whole."""

    where: str
    book_id: str
    kind: str
    made_at: datetime
    entries: int
    work_revision: int
    demo_day: date | None
    whole: bool
    faults: tuple[str, ...]
    counts: dict[str, int]
    folded: int | None = None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "book.check/1"


def card(tx: Reading, where: str, faults: tuple[str, ...], counts: dict[str, int], folded: int | None = None) -> BookCard:
    """Return what a book says of itself."""
    said = about(tx)
    return BookCard(
        where=where, book_id=said.book_id, kind=said.kind, made_at=said.made_at, entries=said.entries,
        work_revision=said.work_revision, demo_day=said.demo_day, whole=not faults, faults=faults, counts=counts, folded=folded,
    )  # fmt: skip


def identity(tx: Reading) -> str:
    """Return the name no other book has."""
    return about(tx).book_id


def erased(tx: Reading) -> int:
    """Return how many people were erased from this book."""
    return sum(1 for person in people.listed(tx) if person.erased_at is not None)


def flags_of_copies(erased: int) -> tuple[Flag, ...]:
    """Say what a copy cannot undo: copies made before somebody was erased still hold the name."""
    if not erased:
        return ()
    return (
        Flag(
            said(
                "backup.erased", "{count} people were erased from this book; copies made before that still hold them", count=erased
            ),
            said("backup.erased.next", "delete the older copies, or keep them where nobody reads them"),
        ),
    )


def flags_of_lost(names: tuple[str, ...]) -> tuple[Flag, ...]:
    """Say which files could not go into a copy."""
    if not names:
        return ()
    listed = ", ".join(names[:5]) + (", ..." if len(names) > 5 else "")
    return (
        Flag(
            said("backup.lost", "{count} photos are not in the copy, because they are missing or damaged: {names}",
                 count=len(names), names=listed),
            said("backup.lost.next", "look for them in an older copy of the book's folder"),
        ),
    )  # fmt: skip


def fold_is_current(tx: Reading) -> bool:
    """Whether the kept states are of the fold of this version."""
    return about(tx).fold_version == FOLD_VERSION


def rebuild(tx: Writing) -> int:
    """Fold the whole log again; return how many subjects that were."""
    return fold_again(tx)
