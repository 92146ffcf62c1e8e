"""The kept states: what the folds came to, where queries find it. `book rebuild` can make all of them again."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import delete, func, insert, select

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing

State = dict[str, Any]


@dataclass(frozen=True, slots=True)
class PartRow:
    """One part and where it is."""

    part: str
    place: str | None
    since: datetime | None


def put_specimen(
    tx: Writing, *, id: str, tag: str, owner: str | None, finished: bool, state: State, parts: tuple[PartRow, ...],
    species: str | None = None,
) -> None:  # fmt: skip
    """Keep the state of one specimen and its parts, in place of what was kept before."""
    tx.connection.execute(delete(t.part_now).where(t.part_now.c.specimen == id))
    tx.connection.execute(delete(t.stay_now).where(t.stay_now.c.specimen == id))
    tx.connection.execute(delete(t.written_now).where(t.written_now.c.specimen == id))
    tx.connection.execute(delete(t.specimen_now).where(t.specimen_now.c.id == id))
    tx.connection.execute(
        insert(t.specimen_now).values(id=id, tag=tag, owner=owner, species=species, finished=finished, state=state)
    )
    if parts:
        rows = [{"specimen": id, "part": p.part, "place": p.place, "since": p.since} for p in parts]
        tx.connection.execute(insert(t.part_now), rows)


def specimen(tx: Reading, id: str) -> State | None:
    """Return the state of one specimen."""
    return tx.connection.execute(select(t.specimen_now.c.state).where(t.specimen_now.c.id == id)).scalar_one_or_none()


def specimens(tx: Reading, *, tag: str | None = None, owner: str | None = None, finished: bool | None = None) -> list[State]:
    """Return the states of the specimens that answer to all that is named."""
    query = select(t.specimen_now.c.state).order_by(t.specimen_now.c.id)
    if tag is not None:
        query = query.where(t.specimen_now.c.tag == tag)
    if owner is not None:
        query = query.where(t.specimen_now.c.owner == owner)
    if finished is not None:
        query = query.where(t.specimen_now.c.finished == finished)
    return list(tx.connection.execute(query).scalars())


def in_work(tx: Reading) -> int:
    """Return how many specimens are in work."""
    asked = select(func.count()).select_from(t.specimen_now).where(t.specimen_now.c.finished.is_(False))
    return int(tx.connection.execute(asked).scalar_one())


def sits_in(tx: Reading, place: str) -> list[tuple[str, str]]:
    """Return specimen and part of everything that sits in a place."""
    query = select(t.part_now.c.specimen, t.part_now.c.part).where(t.part_now.c.place == place)
    return [(row.specimen, row.part) for row in tx.connection.execute(query.order_by(t.part_now.c.specimen, t.part_now.c.part))]


@dataclass(frozen=True, slots=True)
class StayRow:
    """How long one stay of one specimen took."""

    step: str
    visit: int
    method: str | None
    species: str
    head_kg: float | None
    days: float


def put_stays(tx: Writing, specimen: str, stays: Iterable[StayRow]) -> None:
    """Keep how long the stays of a specimen took, in place of what was kept before."""
    tx.connection.execute(delete(t.stay_now).where(t.stay_now.c.specimen == specimen))
    rows = [{"specimen": specimen, **asdict(stay)} for stay in stays]
    if rows:
        tx.connection.execute(insert(t.stay_now), rows)


def stays(tx: Reading) -> list[StayRow]:
    """Return how long every stay took that has ended."""
    rows = tx.connection.execute(select(t.stay_now).order_by(t.stay_now.c.specimen, t.stay_now.c.step, t.stay_now.c.visit))
    return [StayRow(row.step, row.visit, row.method, row.species, row.head_kg, row.days) for row in rows]


def put_place(tx: Writing, key: str, state: State) -> None:
    """Keep the state of one place."""
    tx.connection.execute(delete(t.place_now).where(t.place_now.c.key == key))
    tx.connection.execute(insert(t.place_now).values(key=key, state=state))


def places(tx: Reading) -> dict[str, State]:
    """Return the states of the places by key."""
    return {row.key: row.state for row in tx.connection.execute(select(t.place_now))}


def put_bath(tx: Writing, id: str, *, place: str | None, live: bool, state: State) -> None:
    """Keep the state of one bath."""
    tx.connection.execute(delete(t.bath_now).where(t.bath_now.c.id == id))
    tx.connection.execute(insert(t.bath_now).values(id=id, place=place, live=live, state=state))


def baths(tx: Reading, *, live: bool | None = None) -> list[State]:
    """Return the states of the baths, or of those only that still stand there."""
    query = select(t.bath_now.c.state).order_by(t.bath_now.c.id)
    if live is not None:
        query = query.where(t.bath_now.c.live == live)
    return list(tx.connection.execute(query).scalars())


def put_room(tx: Writing, state: State) -> None:
    """Keep the state of the room."""
    tx.connection.execute(delete(t.room_now))
    tx.connection.execute(insert(t.room_now).values(one=1, state=state))


def room(tx: Reading) -> State | None:
    """Return the state of the room."""
    return tx.connection.execute(select(t.room_now.c.state)).scalar_one_or_none()


def forget(tx: Writing) -> None:
    """Throw every kept state away; the log stays."""
    for table in (t.part_now, t.stay_now, t.written_now, t.place_now, t.specimen_now, t.bath_now, t.room_now, t.plan):
        tx.connection.execute(delete(table))
