"""People, and the notes about them: outside the log, so that they can be erased."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import insert, select, update

from bonebench.records import tables as t
from bonebench.records.book import Reading, Writing


@dataclass(frozen=True, slots=True)
class Person:
    """One person; every field but the id is blank once erased."""

    id: str
    name: str | None
    contact: str | None
    note: str | None
    erased_at: datetime | None


def add(tx: Writing, id: str, name: str, contact: str | None = None) -> None:
    """Keep a person."""
    tx.connection.execute(insert(t.person).values(id=id, name=name, contact=contact))


def listed(tx: Reading) -> list[Person]:
    """Return everybody, in the order of their names."""
    rows = tx.connection.execute(select(t.person).order_by(t.person.c.name, t.person.c.id))
    return [Person(row.id, row.name, row.contact, row.note, row.erased_at) for row in rows]


def add_note(tx: Writing, id: str, person: str | None, text: str) -> None:
    """Keep a note; the log holds its id only."""
    tx.connection.execute(insert(t.note).values(id=id, person=person, text=text))


def note_text(tx: Reading, id: str) -> str | None:
    """Return the text of a note; None once erased."""
    return tx.connection.execute(select(t.note.c.text).where(t.note.c.id == id)).scalar_one_or_none()


def known(tx: Reading, id: str) -> bool:
    """Whether there is such a person, erased or not."""
    return tx.connection.execute(select(t.person.c.id).where(t.person.c.id == id)).first() is not None


def has_note(tx: Reading, id: str) -> bool:
    """Whether there is such a note, erased or not."""
    return tx.connection.execute(select(t.note.c.id).where(t.note.c.id == id)).first() is not None


def note_texts(tx: Reading) -> dict[str, str]:
    """Return the texts of all notes that were not erased."""
    return {row.id: row.text for row in tx.connection.execute(select(t.note.c.id, t.note.c.text)) if row.text is not None}


def erase(tx: Writing, id: str, now: datetime) -> int:
    """Blank a person and the notes about them; return how many rows that were. The log keeps only the id."""
    blank = update(t.person).where(t.person.c.id == id, t.person.c.erased_at.is_(None))
    people = tx.connection.execute(blank.values(name=None, contact=None, note=None, erased_at=now)).rowcount
    notes = update(t.note).where(t.note.c.person == id, t.note.c.erased_at.is_(None))
    return people + tx.connection.execute(notes.values(text=None, erased_at=now)).rowcount
