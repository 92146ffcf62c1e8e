"""Make a new book and bring an old one to today's form. Alembic is imported here only, when it is needed."""

import os
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, func, insert, inspect, select

from bonebench.errors import BookDamaged, BookNotWritable
from bonebench.records import tables as t
from bonebench.records.book import FIRST_TAG, FORM, Kind, beside, remove_file
from bonebench.records.engines import engine_for, is_address, keep_log_beside, our_words, sqlite_engine

SCRIPTS = Path(__file__).parent / "migrations"
# Any number, the same in every Bonebench.
_LOCK = 8437
_ONE_AT_A_TIME = threading.Lock()
PRAGMAS = ("foreign_keys=off", "synchronous=full")


@contextmanager
def migrating(where: str) -> Iterator[Connection]:
    """Open one transaction for changes of form.

    On SQLite foreign keys are off before it begins, because a batch change drops and refills tables; they are all checked before
    it is committed. PostgreSQL does this by itself.
    """
    in_file = not is_address(where)
    engine = sqlite_engine(where, PRAGMAS, begin="BEGIN IMMEDIATE") if in_file else engine_for(where, writes=True)
    try:
        # Alembic keeps what it works on in a global: one change at a time in this program, and one at a time in a database.
        with _ONE_AT_A_TIME, engine.begin() as connection:
            if connection.dialect.name == "postgresql":
                connection.execute(select(func.pg_advisory_xact_lock(_LOCK)))
            yield connection
            if connection.dialect.name == "sqlite":
                orphans = connection.exec_driver_sql("pragma foreign_key_check").all()
                if orphans:
                    raise BookDamaged(
                        "book.orphans",
                        "bringing the book to a new form would lose {count} rows; nothing was changed",
                        count=len(orphans),
                    )
    finally:
        engine.dispose()


def _config(connection: Connection, scripts: Path) -> Config:
    config = Config()
    config.set_main_option("script_location", str(scripts).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


def migrate(where: str, form: str = FORM, *, scripts: Path = SCRIPTS) -> None:
    """Bring a book up to a form."""
    with our_words(where), migrating(where) as connection:
        command.upgrade(_config(connection, scripts), form)


def take_back(where: str, form: str, *, scripts: Path = SCRIPTS) -> None:
    """Bring a book down to an earlier form."""
    with our_words(where), migrating(where) as connection:
        command.downgrade(_config(connection, scripts), form)


def create_at(where: str, *, kind: Kind, book_id: str, now: datetime, fold_version: int) -> None:
    """Make a new book; a failure leaves nothing behind."""
    if is_address(where):
        _create_in_database(where, kind, book_id, now, fold_version)
        return
    target = Path(where)
    for path in beside(where):
        # A log left over from another book would be read into the new one.
        if path.exists():
            raise _there_already(str(path))
    if not target.parent.is_dir():
        raise BookNotWritable(
            "book.no_folder", "there is no folder {folder} to put a book in: make it first", folder=str(target.parent)
        )
    with our_words(where):
        handle, building = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".building", dir=target.parent)
        os.close(handle)
        try:
            # Only now the log beside it: a disk that fills up while one is emptied would leave the new file without its end.
            _fill(building, kind, book_id, now, fold_version)
            keep_log_beside(building)
            _put_in_place(building, target)
        finally:
            remove_file(building)


def _there_already(where: str) -> BookNotWritable:
    return BookNotWritable("book.there", "there is already something at {where}: name another file, or open that one", where=where)


def _in_use(there: set[str]) -> BookNotWritable:
    if t.book.name in there:
        return BookNotWritable("book.there_already", "this database already holds a book: use another database")
    return BookNotWritable("book.others_there", "this database already holds something else: use an empty one")


def _fill(where: str, kind: Kind, book_id: str, now: datetime, fold_version: int) -> None:
    with migrating(where) as connection:
        # Looked at under the lock: another program may have made its book a moment ago.
        there = set(inspect(connection).get_table_names())
        if there and is_address(where):
            raise _in_use(there)
        command.upgrade(_config(connection, SCRIPTS), FORM)
        connection.execute(
            insert(t.book).values(
                one=1, book_id=book_id, kind=kind, made_at=now, fold_version=fold_version, work_revision=0, readings_revision=0,
                next_tag=FIRST_TAG,
            )
        )  # fmt: skip


def _put_in_place(building: str, target: Path) -> None:
    """Rename without ever writing over a file that came in between."""
    try:
        os.link(building, target)
    except FileExistsError:
        raise _there_already(str(target)) from None
    except OSError:
        # A disk without hard links: an ordinary rename, after a last look.
        if target.exists():
            raise _there_already(str(target)) from None
        Path(building).replace(target)


def _create_in_database(where: str, kind: Kind, book_id: str, now: datetime, fold_version: int) -> None:
    with our_words(where):
        _fill(where, kind, book_id, now, fold_version)
