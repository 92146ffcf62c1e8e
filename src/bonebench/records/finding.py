"""Finding specimens by what people remember of them: one query for each word, by indexes, never through the states."""

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, func, or_, select

from bonebench.records import tables as t
from bonebench.records.book import Reading
from bonebench.records.written import like_text, noted_with, written_with

# One or two letters are in the name of every part.
LEAST_LETTERS = 3


@dataclass(frozen=True, slots=True)
class Word:
    """One word that was asked for, with what it may mean: species, owners, places by key, specimens that once had it as a tag."""

    text: str
    species: Collection[str]
    owners: Collection[str]
    places: Collection[str]
    carried: Collection[str] = ()
    plain: str = ""  # in plain letters, as what is written is kept; empty for signs alone


@dataclass(frozen=True, slots=True)
class FoundRow:
    """One specimen that answers."""

    id: str
    tag: str
    species: str | None
    owner: str | None
    finished: bool


def _means(word: Word) -> ColumnElement[bool]:
    specimen = t.specimen_now.c
    plain = word.text.replace("-", "").upper()
    ways: list[ColumnElement[bool]] = [func.replace(specimen.tag, "-", "").like(f"{like_text(plain)}%", escape="\\")]
    if word.species:
        ways.append(specimen.species.in_(word.species))
    if word.owners:
        ways.append(specimen.owner.in_(word.owners))
    if word.places:
        ways.append(specimen.id.in_(select(t.part_now.c.specimen).where(t.part_now.c.place.in_(word.places))))
    if len(word.text) >= LEAST_LETTERS:
        ways.append(specimen.id.in_(select(t.part_now.c.specimen).where(_part_named(word.text))))
    if word.plain:
        ways.append(specimen.id.in_(written_with(word.plain)))
    if word.carried:
        ways.append(specimen.id.in_(word.carried))
    return or_(*ways)


def _part_named(text: str) -> ColumnElement[bool]:
    return func.lower(t.part_now.c.part).like(f"%{like_text(text.lower())}%", escape="\\")


def find(tx: Reading, words: Collection[Word], *, most: int = 50) -> list[FoundRow]:
    """Return the specimens that answer to every word, or have a note with all of them: those in work first, the newest first."""
    specimen = t.specimen_now.c
    answers = select(specimen.id)
    for word in words:
        answers = answers.where(_means(word))
    query = (
        select(specimen.id, specimen.tag, specimen.species, specimen.owner, specimen.finished)
        .where(or_(specimen.id.in_(answers), specimen.id.in_(noted_with([word.text for word in words]))))
        .order_by(specimen.finished, specimen.id.desc())
        .limit(most)
    )
    return [FoundRow(row.id, row.tag, row.species, row.owner, row.finished) for row in tx.connection.execute(query)]


def tags(tx: Reading) -> list[str]:
    """Return every tag that was ever tied to something here."""
    return list(tx.connection.execute(select(t.specimen_now.c.tag)).scalars())


def retagged(tx: Reading) -> list[dict[str, Any]]:
    """Return the states of the specimens that ever got another tag, in the order of their ids."""
    specimen, root = t.specimen_now.c, t.entry_subject.c.root
    roots = select(root).join(t.entry, t.entry.c.seq == t.entry_subject.c.seq).where(t.entry.c.kind == "retagged")
    query = select(specimen.state).where(("specimen:" + specimen.id).in_(roots)).order_by(specimen.id)
    return list(tx.connection.execute(query).scalars())
