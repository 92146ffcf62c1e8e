"""Engines for the two databases, and how their faults become ours.

SQLite's driver begins transactions late and so loses updates silently: we begin them ourselves, IMMEDIATE for writers. Writers
sync fully, because what was acknowledged must be on the disk.
"""

import errno
import importlib.util
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.pool import NullPool

from bonebench.errors import BookBusy, BookDamaged, BookError, BookMissing, BookNotWritable, SetUpError

BUSY_MS = 5000


def is_address(where: str) -> bool:
    """Whether this names a PostgreSQL database and not a file."""
    return where.startswith(("postgresql://", "postgresql+psycopg://"))


def shown(where: str) -> str:
    """Return a book's place as it may be shown: an address without its password."""
    return _url(where).render_as_string(hide_password=True) if is_address(where) else where


def database_of(address: str) -> str:
    """Return the name of a database on a server."""
    return _url(address).database or "bonebench"


def _url(address: str) -> URL:
    try:
        return make_url(address)
    except (ArgumentError, ValueError):
        # Not shown: it may hold a password where no rule finds it.
        raise BookMissing(
            "book.address", "the address of the book cannot be read: write it like postgresql://name@host:5432/database"
        ) from None


def engine_for(where: str, *, writes: bool) -> Engine:
    """Return an engine that writes, or one that cannot."""
    if is_address(where):
        return _postgres(where, writes=writes)
    return sqlite_engine(where, WRITER if writes else READER, begin="BEGIN IMMEDIATE" if writes else "BEGIN")


# secure_delete: what is erased of a person is overwritten in the file too.
WRITER = ("foreign_keys=on", "journal_mode=wal", "synchronous=full", "secure_delete=on")
READER = ("foreign_keys=on", "query_only=on")


def sqlite_engine(path: str, pragmas: tuple[str, ...], *, begin: str) -> Engine:
    """Return an engine for a file, with these settings on every connection and this way to begin."""
    # As a URI, because a path may hold '?' and '%', and because mode=rw makes no empty file where the book has gone.
    address = URL.create("sqlite+pysqlite", database=Path(path).resolve().as_uri(), query={"mode": "rw", "uri": "true"})
    engine = create_engine(address, poolclass=NullPool)

    @event.listens_for(engine, "connect")
    def connected(dbapi: Any, _record: Any) -> None:
        dbapi.isolation_level = None
        for pragma in (f"busy_timeout={BUSY_MS}", *pragmas):
            dbapi.execute(f"pragma {pragma}")

    @event.listens_for(engine, "begin")
    def begun(connection: Any) -> None:
        connection.exec_driver_sql(begin)

    return engine


def keep_log_beside(path: str) -> None:
    """Turn a finished file over to SQLite's write-ahead log, so that its first writer need not wait for its readers."""
    with closing(sqlite3.connect(path)) as file:
        file.execute("pragma journal_mode=wal")


def _postgres(address: str, *, writes: bool) -> Engine:
    url = _url(address).set(drivername="postgresql+psycopg")
    if importlib.util.find_spec("psycopg") is None:
        raise SetUpError(
            "book.no_driver",
            "{where} is a database on a server, and the driver for it is missing: pip install 'bonebench[postgres]'",
            where=shown(address),
        )
    level = "READ COMMITTED" if writes else "REPEATABLE READ"
    options = f"-c lock_timeout={BUSY_MS}" if writes else "-c default_transaction_read_only=on"
    return create_engine(
        url, isolation_level=level, pool_size=4, pool_pre_ping=True,
        connect_args={"connect_timeout": 10, "options": options},
    )  # fmt: skip


@contextmanager
def driver_words(where: str) -> Iterator[None]:
    """Turn what a driver says about the machine into our own errors; what is a bug stays one."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as fault:
        ours = _translated(fault.orig if isinstance(fault, DBAPIError) else fault, shown(where))
        if ours is None:
            raise
        raise ours from fault


@contextmanager
def our_words(where: str) -> Iterator[None]:
    """Do the same where we handle a book's file ourselves; a transaction does not, so that another file's fault keeps its name."""
    try:
        with driver_words(where):
            yield
    except OSError as fault:
        raise _of_os(fault, shown(where)) from fault


def _of_os(fault: OSError, where: str) -> Exception:
    if fault.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return _full(where)
    if fault.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return read_only(where)
    return fault


def _full(where: str) -> BookNotWritable:
    return BookNotWritable("book.full", "the disk that holds {where} is full: make room; nothing of this was stored", where=where)


def read_only(where: str) -> BookNotWritable:
    """Say that a book takes no writing here."""
    return BookNotWritable(
        "book.read_only",
        "{where} cannot be written: allow writing to the file and its folder; nothing of this was stored",
        where=where,
    )


def no_book(where: str) -> BookMissing:
    """Say that there is no book where one was looked for."""
    return BookMissing(
        "book.missing", "there is no book at {where}: name one with --book, or make one with `bonebench book new`",
        where=str(Path(where).resolve()),
    )  # fmt: skip


def _lost(fault: BaseException | None) -> bool:
    """Whether a driver says that it has no server to talk to."""
    return any(kind.__name__ == "OperationalError" for kind in type(fault).__mro__)


def _translated(fault: BaseException | None, where: str) -> BookError | None:  # noqa: PLR0911  one line for each thing a driver can say
    name, text = str(getattr(fault, "sqlite_errorname", "") or ""), str(fault)
    state = str(getattr(fault, "sqlstate", "") or "")
    if name.startswith("SQLITE_FULL") or state == "53100":
        return _full(where)
    if name.startswith("SQLITE_CANTOPEN") and not Path(where).exists():
        return no_book(where)
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")) or state in ("25006", "42501"):
        return read_only(where)
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")) or state == "55P03":
        return BookBusy("book.busy", "{where} is being written by another program for too long: try again", where=where)
    if name.startswith(("SQLITE_NOTADB", "SQLITE_CORRUPT")):
        return BookDamaged("book.damaged", "{where} is damaged or no book: restore the latest backup", where=where)
    if name == "SQLITE_ERROR" and "no such table" in text:
        return BookDamaged("book.not_one", "{where} is not a Bonebench book", where=where)
    if name.startswith("SQLITE_IOERR"):
        return BookNotWritable(
            "book.disk_failed", "the disk that holds {where} failed: see that it has room and is whole; nothing of this was stored",
            where=where,
        )  # fmt: skip
    # 08: the connection failed; 57P: the server is being stopped or started.
    if is_address(where) and (
        state in ("3D000", "28P01", "28000") or state.startswith(("08", "57P")) or (not state and _lost(fault))
    ):
        first = text.strip().splitlines()[0] if text.strip() else "no answer"
        return BookMissing("book.no_server", "the database cannot be opened: {reason}", reason=first)
    return None
