"""The plan that is kept, with the revision it was made for."""

from datetime import datetime
from typing import Any

from sqlalchemy import delete, insert, select

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing


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
