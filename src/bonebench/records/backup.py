"""Copies of a book, and whether a book is whole."""

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from itertools import chain, count
from pathlib import Path

from sqlalchemy import func, select

from bonebench.errors import BookDamaged, BookNotWritable, InputError
from bonebench.records import attached, files
from bonebench.records.book import Book, form_and_kind, move_file, remove_file
from bonebench.records.engines import keep_log_beside, our_words
from bonebench.records.tables import metadata


@dataclass(frozen=True, slots=True)
class Checked:
    """Whether a book is whole, and how many rows each table holds."""

    faults: tuple[str, ...]
    counts: dict[str, int]


def check(book: Book) -> Checked:
    """Look through the whole book."""
    with book.reading() as tx:
        faults: list[str] = []
        if tx.connection.dialect.name == "sqlite":
            faults += [row[0] for row in tx.connection.exec_driver_sql("pragma integrity_check") if row[0] != "ok"]
            faults += [
                f"{row[0]}: a row without what it belongs to" for row in tx.connection.exec_driver_sql("pragma foreign_key_check")
            ]
        counts = {
            table.name: tx.connection.execute(select(func.count()).select_from(table)).scalar_one()
            for table in metadata.sorted_tables
        }
        there, gone = files.listed(tx), files.erased(tx)
    # Outside the transaction: reading through some thousand photos takes its time.
    return Checked((*faults, *attached.faults(book.files, there, gone)), counts)


def _files_only(where: str) -> None:
    # A path that was made of an address has lost one of its slashes.
    if where.startswith(("postgresql:", "postgresql+psycopg:")):
        raise InputError(
            "backup.database",
            "this book is a database on a server: copy and restore it with pg_dump and pg_restore, and its folder of photos (see "
            "BONEBENCH_FILES) like any folder",
        )


def backup(book: Book, to: Path) -> tuple[str, ...]:
    """Copy a book with its files while others may be writing it, check the copy, and put it in place only if it is whole.

    Returns the names of the files that could not be copied, because they are missing or damaged where they lie.
    """
    _files_only(book.where)
    _files_only(str(to))
    if to.exists():
        raise BookNotWritable("backup.there", "there is already something at {where}: name another file", where=str(to))
    with copied(book.where, to) as building:
        # By the copy's own list: a photo that comes in meanwhile is in neither.
        lost = _carry_files(building, book.files, attached.folder_of(str(to)))
        building.replace(to)
    return lost


def _carry_files(copy: Path, source: Path, to: Path) -> tuple[str, ...]:
    """Copy the files that a copied book lists."""
    with closing(sqlite3.connect(copy)) as file:
        if not file.execute("select 1 from sqlite_master where name = 'file'").fetchone():
            return ()
        rows = file.execute("select sha256, media_type, size_bytes from file where erased_at is null").fetchall()
    return attached.carry(source, to, [attached.Named(*row) for row in rows])


def copy_file(where: str, to: Path) -> None:
    """Copy a SQLite book whole, through a file beside the target that is renamed when it has been checked."""
    with copied(where, to) as building:
        building.replace(to)


@contextmanager
def copied(where: str, target: Path) -> Iterator[Path]:
    """Make a checked copy beside a target; what is left of it at the end is removed."""
    if not target.parent.is_dir():
        raise BookNotWritable(
            "backup.no_folder", "there is no folder {folder} to put a copy in: make it first", folder=str(target.parent)
        )
    with our_words(str(target)):
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".building", dir=target.parent)
        os.close(handle)
        try:
            _copy(where, name)
            yield Path(name)
        finally:
            remove_file(name)


def _copy(where: str, to: str) -> None:
    source_uri = f"{Path(where).resolve().as_uri()}?mode=rw"
    try:
        with closing(sqlite3.connect(source_uri, uri=True)) as source, closing(sqlite3.connect(to)) as target:
            # pages=-1: in one go. Page by page it never ends while somebody writes.
            source.backup(target, pages=-1)
            # One file, so that it can be read where nothing can be written; the first writer turns the log beside it on again.
            target.execute("pragma journal_mode=delete")
            whole = target.execute("pragma integrity_check").fetchone()[0] == "ok"
    except sqlite3.DatabaseError as fault:
        if fault.sqlite_errorname.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB")):
            raise _not_whole(where) from fault
        raise
    if not whole:
        raise _not_whole(where)


def _not_whole(where: str) -> BookDamaged:
    return BookDamaged("backup.damaged", "the copy of {where} is not whole; the book may be damaged", where=where)


def restore(copy: Path, to: Path, *, over: bool = False) -> None:
    """Put a copy back as the book, with its files; the book it replaces is kept beside it, damaged as it may be.

    Files of the book that is replaced stay in the folder: they are named by what they hold, so none can be mistaken for another.
    """
    _files_only(str(to))
    kept = _free_name(to)
    if to.exists() and not over:
        raise BookNotWritable(
            "restore.there", "there is a book at {where}: say --over to replace it (it is kept beside, as {kept})",
            where=str(to), kept=kept.name,
        )  # fmt: skip
    form_and_kind(str(copy))
    # The new book is made whole before the old one is touched.
    with copied(str(copy), to) as building:
        keep_log_beside(str(building))
        # What is missing from the copy's folder may still lie in the book's own; `check` names what is in neither.
        _carry_files(building, attached.folder_of(str(copy)), attached.folder_of(str(to)))
        move_file(str(to), str(kept))
        building.replace(to)


def _free_name(to: Path) -> Path:
    names = (to.with_name(f"{to.name}.replaced{number}") for number in chain([""], (f"-{n}" for n in count(2))))
    return next(path for path in names if not path.exists())
