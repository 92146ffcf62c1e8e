"""The plan that is kept, and other answers of long work, each with the revision it was made for."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import delete, insert, select

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept under a kind: its body, the revision of the book it was made for, and when."""

    body: dict[str, Any]
    work_revision: int
    made_at: datetime


def work_revision(tx: Reading) -> int:
    """Return how many changes of entries or settings the book has seen."""
    return int(tx.connection.execute(select(t.book.c.work_revision)).scalar_one())


def keep(tx: Writing, kind: str, body: dict[str, Any], *, work_revision: int, made_at: datetime) -> bool:
    """Keep a plan in place of the one before; False, and nothing kept, where the book has moved on since."""
    if tx.connection.execute(select(t.book.c.work_revision)).scalar_one() != work_revision:
        return False
    put(tx, kind, body, work_revision=work_revision, made_at=made_at)
    return True


def put(tx: Writing, kind: str, body: dict[str, Any], *, work_revision: int, made_at: datetime) -> None:
    """Keep a plan in place of the one before, whatever the book has come to since."""
    tx.connection.execute(delete(t.plan).where(t.plan.c.kind == kind))
    tx.connection.execute(insert(t.plan).values(kind=kind, work_revision=work_revision, made_at=made_at, body=body))


def latest(tx: Reading, kind: str) -> dict[str, Any] | None:
    """Return the plan that is kept."""
    return tx.connection.execute(select(t.plan.c.body).where(t.plan.c.kind == kind)).scalar_one_or_none()


def kept(tx: Reading, kind: str) -> Kept | None:
    """Return what is kept under a kind, with its revision and time."""
    asked = select(t.plan.c.body, t.plan.c.work_revision, t.plan.c.made_at).where(t.plan.c.kind == kind)
    row = tx.connection.execute(asked).one_or_none()
    return None if row is None else Kept(row.body, row.work_revision, row.made_at)
