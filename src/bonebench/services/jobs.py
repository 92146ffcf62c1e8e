"""Long work as people see it: what it is about, how far it is, how it ended."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Literal

import msgspec

from bonebench.errors import UnknownName
from bonebench.records import jobs
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said

State = Literal["waiting", "running", "done", "stopped", "refused", "broken"]
# Whoever does long work is heard of every few seconds; after so much silence the program that did it is gone.
SILENCE = timedelta(seconds=60)
NO_WORDS: Mapping[str, str] = {"waiting": "it waits for its turn: other work is being done", "running": "it has begun"}


@dataclass(frozen=True)
class JobCard:
    """One piece of long work. ``share`` is 0 to 1; ``result`` is small and depends on the kind, and is None until it ended."""

    id: str
    kind: str
    state: State
    share: float
    words: Said
    asked: dict[str, Any]
    begun: datetime
    ended: datetime | None
    result: dict[str, Any] | None
    schema: str = "job/1"

    @property
    def live(self) -> bool:
        """Whether it is still to come."""
        return self.state in ("waiting", "running")


@dataclass(frozen=True)
class JobsCard:
    """The newest pieces of long work."""

    jobs: tuple[JobCard, ...]
    schema: str = "job.list/1"


def job_card(row: Mapping[str, Any], now: datetime) -> JobCard:
    """Return a row as it is shown; one nobody has heard of for long was broken off."""
    state: State = row["state"]
    words = msgspec.convert(row["words"], Said) if row["words"] is not None else said(f"job.{state}", NO_WORDS.get(state, state))
    if state in ("waiting", "running") and now - row["heard_at"] > SILENCE:
        state, words = "broken", said("job.silent", "it was broken off: the program that did it has ended; ask again")
    return JobCard(
        row["id"], row["kind"], state, row["share"], words, dict(row["asked"]), row["begun_at"], row["ended_at"], row["result"]
    )


def job(tx: Reading, job_id: str, now: datetime) -> JobCard:
    """Return one piece of long work."""
    row = jobs.of(tx, job_id)
    if row is None:
        raise UnknownName("job.unknown", "there is no work {job} in this book; what ended long ago is cleared away", job=job_id)
    return job_card(row, now)


def newest(tx: Reading, now: datetime, kind: str | None = None) -> JobsCard:
    """Return the newest pieces of long work, of one kind if it is named."""
    return JobsCard(tuple(job_card(row, now) for row in jobs.newest(tx, kind)))


def live(tx: Reading, now: datetime, kind: str) -> JobCard | None:
    """Return the work of a kind that is going on now, if any."""
    return next((card for card in newest(tx, now, kind).jobs if card.live), None)


def begin(tx: Writing, job_id: str, kind: str, asked: Mapping[str, Any], now: datetime) -> None:
    """Write down that work was asked for."""
    jobs.begin(tx, job_id, kind, asked, now)


def heard(tx: Writing, job_id: str, share: float, words: Said | None, now: datetime) -> bool:
    """Write down how far it is; returns whether somebody asked for it to stop."""
    plain = None if words is None else msgspec.to_builtins(words)
    return jobs.heard(tx, job_id, state="running", share=min(max(share, 0.0), 1.0), words=plain, at=now)


def still_waiting(tx: Writing, waiting: Sequence[str], now: datetime) -> list[str]:
    """Write down that these still wait for their turn; returns those somebody asked to stop."""
    return jobs.still_waiting(tx, waiting, now)


def end(tx: Writing, job_id: str, state: State, words: Said, result: Mapping[str, Any] | None = None, *, now: datetime) -> None:
    """Write down how it ended."""
    jobs.end(tx, job_id, state=state, words=msgspec.to_builtins(words), result=result, at=now)


def ask_to_stop(tx: Writing, job_id: str, now: datetime) -> JobCard:
    """Ask whoever does it to stop; what ended already stays as it is."""
    card = job(tx, job_id, now)
    jobs.ask_to_stop(tx, job_id)
    return card
