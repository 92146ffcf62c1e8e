"""Copies of a book, and whether a book is whole."""

import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import func, select

from bonebench.errors import BookDamaged, BookNotWritable, InputError
from bonebench.records.book import Book, remove_file
from bonebench.records.engines import is_address, our_words
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
    return Checked(tuple(faults), counts)


def _files_only(where: str) -> None:
    if is_address(where):
        raise InputError("backup.database", "this book is a database on a server: copy and restore it with pg_dump and pg_restore")


def backup(book: Book, to: Path) -> None:
    """Copy a book while others may be writing it, check the copy, and put it in place only if it is whole."""
    _files_only(book.where)
    if to.exists():
        raise BookNotWritable("backup.there", "there is already something at {where}: name another file", where=str(to))
    copy_file(book.where, to)


def copy_file(where: str, to: Path) -> None:
    """Copy a SQLite book whole, through a file beside the target that is renamed when it has been checked."""
    building = to.with_name(f".{to.name}.building")
    with our_words(str(to)):
        try:
            try:
                # pages=-1: in one go. Page by page it never ends while somebody writes.
                with closing(sqlite3.connect(where)) as source, closing(sqlite3.connect(building)) as target:
                    source.backup(target, pages=-1)
                    whole = target.execute("pragma integrity_check").fetchone()[0] == "ok"
            except sqlite3.OperationalError as fault:
                raise BookNotWritable(
                    "backup.failed", "the copy to {where} failed: {fault}", where=str(to), fault=str(fault)
                ) from fault
            if not whole:
                raise BookDamaged("backup.damaged", "the copy of {where} is not whole; the book may be damaged", where=where)
            building.replace(to)
        finally:
            remove_file(str(building))


def restore(copy: Path, to: Path, *, over: bool = False) -> None:
    """Put a copy back as the book; the book it replaces is kept beside it."""
    _files_only(str(to))
    if to.exists() and not over:
        raise BookNotWritable(
            "restore.there", "there is a book at {where}: say --over to replace it (it is kept beside, as {kept})",
            where=str(to), kept=f"{to.name}.replaced",
        )  # fmt: skip
    Book.open(copy).close()
    if to.exists():
        copy_file(str(to), to.with_name(f"{to.name}.replaced"))
        remove_file(str(to))
    copy_file(str(copy), to)
