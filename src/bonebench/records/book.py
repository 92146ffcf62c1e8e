"""Open a book, make one, and its two kinds of transaction."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Literal

from sqlalchemy import Connection, Engine, func, inspect, select, text, update

from bonebench.errors import BookBusy, BookDamaged, BookTooNew
from bonebench.records import tables as t
from bonebench.records.attached import folder_of
from bonebench.records.engines import driver_words, engine_for, is_address, no_book, our_words, read_only, shown

# The form of the newest migration; a row in the book is compared with it, so that opening one does not need Alembic.
FORM = "0005"
KNOWN_FORMS = ("0001", "0002", "0003", "0004", "0005")
FIRST_TAG = 1000

Kind = Literal["room", "demo"]


@dataclass(frozen=True, slots=True)
class Reading:
    """An open transaction that sees one moment of the book."""

    connection: Connection


@dataclass(frozen=True, slots=True)
class Writing(Reading):
    """An open transaction that may write; it alone does so while it is open."""


class Book:
    """One book, open. It holds the engines; every use is a transaction of its own."""

    def __init__(self, where: str, kind: Kind) -> None:
        self.where = shown(where)
        self.kind = kind
        self.files = folder_of(where)
        self._writer = engine_for(where, writes=True)
        self._reader = engine_for(where, writes=False)

    @property
    def demo(self) -> bool:
        """Whether this is the invented room."""
        return self.kind == "demo"

    @classmethod
    def open(cls, where: str | Path) -> "Book":
        """Open a book that is there; an older one is brought to today's form, after a copy was made beside it."""
        where = str(where)
        form, kind = form_and_kind(where)
        if form != FORM:
            _bring_up_to_date(where)
        return cls(where, kind)

    @classmethod
    def create(cls, where: str | Path, *, kind: Kind, book_id: str, now: datetime, fold_version: int) -> "Book":
        """Make a new book; refuses where one is, and leaves nothing half-made."""
        from bonebench.records.making import create_at

        create_at(str(where), kind=kind, book_id=book_id, now=now, fold_version=fold_version)
        return cls(str(where), kind)

    @contextmanager
    def reading(self) -> Iterator[Reading]:
        """Open a transaction that sees one moment of the book and cannot write."""
        with driver_words(self.where), self._reader.begin() as connection:
            yield Reading(connection)

    @contextmanager
    def writing(self) -> Iterator[Writing]:
        """Open a write transaction; it is committed on leaving, and undone whole if anything fails."""
        with driver_words(self.where):
            connection = self._begin_once_more()
            try:
                yield Writing(connection)
                connection.commit()
            finally:
                connection.close()

    def _begin_once_more(self) -> Connection:
        """Begin, and once more if another program holds the book longer than the driver waits."""
        try:
            return _begun(self._writer, self.where)
        except BookBusy:
            return _begun(self._writer, self.where)

    def close(self) -> None:
        """Let the database go."""
        self._writer.dispose()
        self._reader.dispose()


def _begun(engine: Engine, where: str) -> Connection:
    if not is_address(where) and Path(where).exists() and not os.access(where, os.W_OK):
        # SQLite would begin all the same and refuse only the first change.
        raise read_only(where)
    with our_words(where):
        connection = engine.connect()
        try:
            connection.begin()
            if connection.dialect.name == "postgresql":
                # Writers queue here, as SQLite's do at BEGIN IMMEDIATE: the revision is then what it will be at the commit.
                connection.execute(select(t.book.c.one).with_for_update()).all()
        except BaseException:
            connection.close()
            raise
        return connection


def form_and_kind(where: str) -> tuple[str, Kind]:
    """Look at a book without changing it; refuses what is none, and one that is newer than this program."""
    if not is_address(where) and not Path(where).is_file():
        raise no_book(where)
    with our_words(where):
        form, kind = _read_form_and_kind(where)
    if form not in KNOWN_FORMS:
        raise BookTooNew(
            "book.too_new",
            "{where} was made by a newer Bonebench (form {form}; this one knows up to {known}): install the newer one",
            where=shown(where), form=form, known=FORM,
        )  # fmt: skip
    return form, kind


def _read_form_and_kind(where: str) -> tuple[str, Kind]:
    engine = engine_for(where, writes=False)
    try:
        with engine.begin() as connection:
            if not inspect(connection).has_table("alembic_version") or not inspect(connection).has_table("book"):
                raise BookDamaged("book.not_one", "{where} is not a Bonebench book", where=shown(where))
            form = connection.execute(text("select version_num from alembic_version")).scalar_one_or_none()
            kind = connection.execute(select(t.book.c.kind)).scalar_one_or_none() if form in KNOWN_FORMS else "room"
    finally:
        engine.dispose()
    if form is None or kind not in ("room", "demo"):
        raise BookDamaged(
            "book.unfinished", "{where} was never finished: make it again with `bonebench book new`", where=shown(where)
        )
    return str(form), "demo" if kind == "demo" else "room"


def _bring_up_to_date(where: str) -> None:
    from bonebench.records.making import migrate

    if not is_address(where):
        copy = Path(where).with_name(f"{Path(where).name}.before-{FORM}")
        if not copy.exists():
            from bonebench.records.backup import copy_file

            copy_file(where, copy)
    migrate(where, FORM)


@dataclass(frozen=True, slots=True)
class About:
    """What a book says of itself."""

    book_id: str
    kind: Kind
    made_at: datetime
    fold_version: int
    work_revision: int
    readings_revision: int
    demo_day: date | None
    demo_entries: int | None
    entries: int


def about(tx: Reading) -> About:
    """Return what the book says of itself."""
    row = tx.connection.execute(select(t.book)).one()
    count = tx.connection.execute(select(func.count()).select_from(t.entry)).scalar_one()
    return About(
        row.book_id, row.kind, row.made_at, row.fold_version, row.work_revision, row.readings_revision, row.demo_day,
        row.demo_entries, count,
    )  # fmt: skip


def bump_work(tx: Writing) -> None:
    """Count one more change of entries or settings."""
    tx.connection.execute(update(t.book).values(work_revision=t.book.c.work_revision + 1))


def set_fold_version(tx: Writing, version: int) -> None:
    """Say which fold the kept states are of."""
    tx.connection.execute(update(t.book).values(fold_version=version))


def set_demo(tx: Writing, day: date, entries: int) -> None:
    """Say for which day the demo was made, and how many entries it has by itself."""
    tx.connection.execute(update(t.book).values(demo_day=day, demo_entries=entries))


def beside(where: str) -> tuple[Path, Path, Path]:
    """Return a book's file and what SQLite keeps beside it."""
    return Path(where), Path(f"{where}-wal"), Path(f"{where}-shm")


def move_file(where: str, to: str) -> None:
    """Give a book's file another name, and what SQLite keeps beside it: entries may still be in there."""
    for old, new in zip(beside(where), beside(to), strict=True):
        if old.exists():
            old.rename(new)


def remove_file(where: str) -> None:
    """Remove a book's file and what SQLite keeps beside it."""
    for path in beside(where):
        path.unlink(missing_ok=True)
