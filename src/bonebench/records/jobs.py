"""Long work as rows: begun, heard of, ended. Rows of work long ended are cleared away when new work begins."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import delete, insert, select, update

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing

KEPT = 20  # ended rows of a kind that stay


def begin(tx: Writing, job: str, kind: str, asked: Mapping[str, Any], at: datetime) -> None:
    """Write down that work was asked for."""
    ended = select(t.job.c.id).where(t.job.c.kind == kind, t.job.c.ended_at.is_not(None)).order_by(t.job.c.begun_at.desc())
    old = [row.id for row in tx.connection.execute(ended.offset(KEPT))]
    if old:
        tx.connection.execute(delete(t.job).where(t.job.c.id.in_(old)))
    row = {"id": job, "kind": kind, "state": "waiting", "asked": dict(asked), "share": 0.0, "stop": False}
    tx.connection.execute(insert(t.job).values(**row, begun_at=at, heard_at=at))


def heard(tx: Writing, job: str, *, state: str, share: float, words: Mapping[str, Any] | None, at: datetime) -> bool:
    """Write down how far it is; returns whether somebody asked for it to stop."""
    values: dict[str, Any] = {"state": state, "share": share, "heard_at": at}
    if words is not None:
        values["words"] = dict(words)
    tx.connection.execute(update(t.job).where(t.job.c.id == job).values(**values))
    return bool(tx.connection.execute(select(t.job.c.stop).where(t.job.c.id == job)).scalar_one_or_none())


def still_waiting(tx: Writing, waiting: Sequence[str], at: datetime) -> list[str]:
    """Write down that these still wait for their turn; returns those somebody asked to stop."""
    tx.connection.execute(update(t.job).where(t.job.c.id.in_(waiting)).values(heard_at=at))
    asked = select(t.job.c.id).where(t.job.c.id.in_(waiting), t.job.c.stop.is_(True))
    return list(tx.connection.execute(asked).scalars())


def end(
    tx: Writing, job: str, *, state: str, words: Mapping[str, Any] | None, result: Mapping[str, Any] | None, at: datetime
) -> None:  # fmt: skip
    """Write down how it ended."""
    values: dict[str, Any] = {"state": state, "ended_at": at, "heard_at": at, "result": None if result is None else dict(result)}
    if state == "done":
        values["share"] = 1.0
    if words is not None:
        values["words"] = dict(words)
    tx.connection.execute(update(t.job).where(t.job.c.id == job).values(**values))


def ask_to_stop(tx: Writing, job: str) -> None:
    """Let whoever does it know that it should stop."""
    tx.connection.execute(update(t.job).where(t.job.c.id == job, t.job.c.ended_at.is_(None)).values(stop=True))


def of(tx: Reading, job: str) -> dict[str, Any] | None:
    """Return one row."""
    row = tx.connection.execute(select(t.job).where(t.job.c.id == job)).mappings().one_or_none()
    return None if row is None else dict(row)


def newest(tx: Reading, kind: str | None = None, most: int = KEPT) -> list[dict[str, Any]]:
    """Return the newest rows, of one kind if it is named."""
    asked = select(t.job).order_by(t.job.c.begun_at.desc(), t.job.c.id.desc()).limit(most)
    if kind is not None:
        asked = asked.where(t.job.c.kind == kind)
    return [dict(row) for row in tx.connection.execute(asked).mappings()]
