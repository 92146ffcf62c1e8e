"""Engines for the two databases, and how their faults become ours.

SQLite's driver begins transactions late and so loses updates silently: we begin them ourselves, IMMEDIATE for writers. Writers
sync fully, because what was acknowledged must be on the disk.
"""

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Engine, create_engine, event
from sqlalchemy.exc import DBAPIError, OperationalError
from sqlalchemy.pool import NullPool

from bonebench.errors import BookBusy, BookDamaged, BookMissing, BookNotWritable

BUSY_MS = 5000


def is_address(where: str) -> bool:
    """Whether this names a PostgreSQL database and not a file."""
    return where.startswith(("postgresql://", "postgresql+psycopg://"))


def engine_for(where: str, *, writes: bool) -> Engine:
    """Return an engine that writes, or one that cannot."""
    if is_address(where):
        return _postgres(where, writes=writes)
    return _sqlite(where, writes=writes)


def _sqlite(path: str, *, writes: bool) -> Engine:
    engine = create_engine(f"sqlite+pysqlite:///{path}", poolclass=NullPool)

    @event.listens_for(engine, "connect")
    def connected(dbapi: Any, _record: Any) -> None:
        dbapi.isolation_level = None
        pragmas = [f"busy_timeout={BUSY_MS}", "foreign_keys=on"]
        pragmas += ["journal_mode=wal", "synchronous=full"] if writes else ["query_only=on"]
        for pragma in pragmas:
            dbapi.execute(f"pragma {pragma}")

    @event.listens_for(engine, "begin")
    def begun(connection: Any) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _postgres(address: str, *, writes: bool) -> Engine:
    url = address.replace("postgresql://", "postgresql+psycopg://", 1)
    level = "READ COMMITTED" if writes else "REPEATABLE READ"
    return create_engine(
        url, isolation_level=level, pool_size=4, pool_pre_ping=True,
        connect_args={"connect_timeout": 10, "options": "" if writes else "-c default_transaction_read_only=on"},
    )  # fmt: skip


def _sqlite_name(fault: DBAPIError) -> str:
    return str(getattr(fault.orig, "sqlite_errorname", "") or "")


@contextmanager
def our_words(where: str) -> Iterator[None]:
    """Turn what a driver says about the machine into our own errors; what is a bug stays one."""
    try:
        yield
    except DBAPIError as fault:
        raise _translated(fault, where) from fault
    except OSError as fault:
        raise _of_os(fault, where) from fault


def _of_os(fault: OSError, where: str) -> Exception:
    if fault.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return _full(where)
    if fault.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
        return _read_only(where)
    return fault


def _full(where: str) -> BookNotWritable:
    return BookNotWritable("book.full", "the disk that holds {where} is full: make room; nothing of this was stored", where=where)


def _read_only(where: str) -> BookNotWritable:
    return BookNotWritable(
        "book.read_only",
        "{where} cannot be written: allow writing to the file and its folder; nothing of this was stored",
        where=where,
    )


def _translated(fault: DBAPIError, where: str) -> Exception:  # noqa: PLR0911  one line for each thing a driver can say
    name, text = _sqlite_name(fault), str(fault.orig)
    state = str(getattr(fault.orig, "sqlstate", "") or "")
    if name.startswith("SQLITE_FULL") or state == "53100":
        return _full(where)
    if name.startswith(("SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")) or state in ("25006", "42501"):
        return _read_only(where)
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")) or state == "55P03":
        return BookBusy("book.busy", "{where} is being written by another program for too long: try again", where=where)
    if name.startswith(("SQLITE_NOTADB", "SQLITE_CORRUPT")):
        return BookDamaged("book.damaged", "{where} is damaged or no book: restore the latest backup", where=where)
    if name == "SQLITE_ERROR" and "no such table" in text:
        return BookDamaged("book.not_one", "{where} is not a Bonebench book", where=where)
    if state in ("3D000", "28P01", "28000") or (isinstance(fault, OperationalError) and state == "" and is_address(where)):
        first = text.strip().splitlines()[0] if text.strip() else "no answer"
        return BookMissing("book.no_server", "the database cannot be opened: {reason}", reason=first)
    return fault
