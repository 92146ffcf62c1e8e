"""The log's rows: stored once, kept aside where they clash, found by what they are about and by what they strike out."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields
from datetime import UTC, datetime
from typing import Any, Literal

from sqlalchemy import Row, insert, select, update

from bonebench.errors import EntryUnreadable
from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing


@dataclass(frozen=True, slots=True)
class EntryRow:
    """One entry as the book keeps it: plain values only."""

    id: str
    kind: str
    form: int
    writer: str
    number: int
    earliest: datetime
    latest: datetime
    recorded: datetime
    subjects: tuple[str, ...]
    values: dict[str, Any]
    who: str | None = None
    task: str | None = None
    replaces: str | None = None
    targets: tuple[str, ...] = field(default=())


def content_of(row: EntryRow) -> dict[str, Any]:
    """Return everything an entry says, as JSON that is the same for the same entry."""
    content: dict[str, Any] = {}
    for name in (f.name for f in fields(row) if f.name != "targets"):
        value = getattr(row, name)
        content[name] = value.astimezone(UTC).isoformat() if isinstance(value, datetime) else value
    content["subjects"] = list(row.subjects)
    return content


def fingerprint(row: EntryRow) -> str:
    """Return what tells two entries with one id apart: all they say, but not when this book got to know them."""
    content = {name: value for name, value in content_of(row).items() if name != "recorded"}
    return hashlib.sha256(json.dumps(content, sort_keys=True, ensure_ascii=False).encode("utf-8", "surrogatepass")).hexdigest()


def root(subject: str) -> str:
    """Return what a subject is indexed by: a part by its specimen."""
    return subject.split("/", 1)[0]


def store(tx: Writing, row: EntryRow, now: datetime) -> Literal["stored", "already stored", "clash"]:
    """Store an entry once. The same again does nothing; other content under its id is kept aside, once."""
    _refuse_nothing_character(row)
    mark = fingerprint(row)
    known = tx.connection.execute(select(t.entry.c.fingerprint).where(t.entry.c.id == row.id)).scalar_one_or_none()
    if known == mark:
        return "already stored"
    if known is not None:
        _aside(tx, row, mark, now)
        return "clash"
    seq = tx.connection.execute(
        insert(t.entry).returning(t.entry.c.seq),
        {
            "id": row.id, "kind": row.kind, "form": row.form, "writer": row.writer, "number": row.number, "earliest": row.earliest,
            "latest": row.latest, "recorded": row.recorded, "who": row.who, "task": row.task, "replaces": row.replaces,
            "subjects": list(row.subjects), "content": row.values, "fingerprint": mark,
        },
    ).scalar_one()  # fmt: skip
    for about in sorted({root(subject) for subject in row.subjects}):
        tx.connection.execute(insert(t.entry_subject).values(root=about, seq=seq))
    for target in sorted(set(row.targets)):
        tx.connection.execute(insert(t.entry_target).values(target=target, seq=seq))
    _raise_number(tx, row.writer, row.number)
    return "stored"


def _refuse_nothing_character(row: EntryRow) -> None:
    """PostgreSQL keeps no text with the character number 0 in it; refused on both, so that a book can be carried across."""
    for name in (one.name for one in fields(row)):
        if any("\0" in text for text in _texts(getattr(row, name))):
            raise EntryUnreadable(
                "entry.nothing_character", "an entry holds the character number 0 in its {name}; no text has that", name=name
            )


def _texts(value: object) -> Iterator[str]:
    """Every text in a value, the names in it too."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        yield from _texts([*value.keys(), *value.values()])
    elif isinstance(value, list | tuple):
        for one in value:
            yield from _texts(one)


def _aside(tx: Writing, row: EntryRow, mark: str, now: datetime) -> None:
    again = select(t.entry_aside.c.seq).where(t.entry_aside.c.id == row.id, t.entry_aside.c.fingerprint == mark)
    if tx.connection.execute(again).first() is None:
        values = {"id": row.id, "fingerprint": mark, "content": content_of(row), "received_at": now}
        tx.connection.execute(insert(t.entry_aside), values)


@dataclass(frozen=True, slots=True)
class Aside:
    """An entry that came under an id that was taken, with other content."""

    id: str
    content: dict[str, Any]
    received_at: datetime


def asides(tx: Reading) -> tuple[Aside, ...]:
    """Return the clashes that nobody has settled."""
    rows = tx.connection.execute(select(t.entry_aside).where(t.entry_aside.c.settled_at.is_(None)).order_by(t.entry_aside.c.seq))
    return tuple(Aside(row.id, row.content, row.received_at) for row in rows)


def settle_aside(tx: Writing, entry_id: str, now: datetime) -> int:
    """Say that somebody looked at the clashes under this id; return how many there were."""
    open_ones = update(t.entry_aside).where(t.entry_aside.c.id == entry_id, t.entry_aside.c.settled_at.is_(None))
    return tx.connection.execute(open_ones.values(settled_at=now)).rowcount


def next_number(tx: Writing, writer: str) -> int:
    """Return the writer's next running number, and count it as used."""
    last = tx.connection.execute(select(t.writer.c.last_number).where(t.writer.c.name == writer)).scalar_one_or_none() or 0
    _raise_number(tx, writer, last + 1)
    return last + 1


def _raise_number(tx: Writing, writer: str, number: int) -> None:
    last = tx.connection.execute(select(t.writer.c.last_number).where(t.writer.c.name == writer)).scalar_one_or_none()
    if last is None:
        tx.connection.execute(insert(t.writer).values(name=writer, last_number=number))
    elif number > last:
        tx.connection.execute(update(t.writer).where(t.writer.c.name == writer).values(last_number=number))


def _entry(row: Row[Any]) -> EntryRow:
    targets = (row.content["target"],) if row.kind == "void" and "target" in row.content else ()
    return EntryRow(
        id=row.id, kind=row.kind, form=row.form, writer=row.writer, number=row.number, earliest=row.earliest, latest=row.latest,
        recorded=row.recorded, subjects=tuple(row.subjects), values=row.content, who=row.who, task=row.task, replaces=row.replaces,
        targets=targets + ((row.replaces,) if row.replaces else ()),
    )  # fmt: skip


def entry(tx: Reading, entry_id: str) -> EntryRow | None:
    """Return one entry by its id."""
    row = tx.connection.execute(select(t.entry).where(t.entry.c.id == entry_id)).one_or_none()
    return None if row is None else _entry(row)


def entries_of(tx: Reading, subject: str) -> list[EntryRow]:
    """Return the entries about a subject or its parts, and down the chain everything that strikes any of them out."""
    # By the database, not id by id from here: a statement takes 32,766 values on SQLite and 65,535 on PostgreSQL, and the log of
    # a room grows past both. UNION drops what was found before, so a ring ends.
    found = select(t.entry_subject.c.seq).where(t.entry_subject.c.root == root(subject)).cte("found", recursive=True)
    struck = t.entry.alias("struck")
    striking = (
        select(t.entry_target.c.seq).join(struck, struck.c.id == t.entry_target.c.target).join(found, found.c.seq == struck.c.seq)
    )
    found = found.union(striking)
    rows = tx.connection.execute(select(t.entry).where(t.entry.c.seq.in_(select(found.c.seq))).order_by(t.entry.c.seq))
    return [_entry(row) for row in rows]


def all_subjects(tx: Reading, prefix: str) -> list[str]:
    """Return every subject of the log that begins so."""
    subjects = select(t.entry_subject.c.root).where(t.entry_subject.c.root.startswith(prefix, autoescape=True)).distinct()
    # LIKE does not tell capitals apart on SQLite, and does on PostgreSQL.
    return sorted(s for s in tx.connection.execute(subjects).scalars() if s.startswith(prefix))


def subjects_of_writer(tx: Reading, writer: str) -> list[str]:
    """Return every subject that a writer wrote about."""
    wrote = select(t.entry.c.seq).where(t.entry.c.writer == writer)
    subjects = select(t.entry_subject.c.root).where(t.entry_subject.c.seq.in_(wrote)).distinct()
    return sorted(tx.connection.execute(subjects).scalars())


def of_kind_since(tx: Reading, kind: str, since: datetime) -> list[EntryRow]:
    """Return the entries of one kind that can have happened at or after an instant, in the order they were stored."""
    query = select(t.entry).where(t.entry.c.kind == kind, t.entry.c.latest >= since).order_by(t.entry.c.seq)
    return [_entry(row) for row in tx.connection.execute(query)]


def all_entries(tx: Reading) -> Iterable[EntryRow]:
    """Return the whole log in the order it was stored."""
    return [_entry(row) for row in tx.connection.execute(select(t.entry).order_by(t.entry.c.seq))]
