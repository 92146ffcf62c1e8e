"""Finding specimens by what people remember of them: one query for each word, by indexes, never through the states."""

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import ColumnElement, func, or_, select

from bonebench.records import tables as t
from bonebench.records.book import Reading

# One or two letters are in the name of every part.
LEAST_LETTERS = 3


@dataclass(frozen=True, slots=True)
class Word:
    """One word that was asked for, with what it may mean: species, owners, places by key, and specimens it is written of."""

    text: str
    species: Collection[str]
    owners: Collection[str]
    places: Collection[str]
    written: Collection[str] = ()


@dataclass(frozen=True, slots=True)
class FoundRow:
    """One specimen that answers."""

    id: str
    tag: str
    species: str | None
    owner: str | None
    finished: bool


def like_text(text: str) -> str:
    """Escape what LIKE reads as a sign."""
    return text.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")


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
    if word.written:
        ways.append(specimen.id.in_(list(word.written)))
    return or_(*ways)


def _part_named(text: str) -> ColumnElement[bool]:
    return func.lower(t.part_now.c.part).like(f"%{like_text(text.lower())}%", escape="\\")


def find(tx: Reading, words: Collection[Word], *, also: Collection[str] = (), most: int = 50) -> list[FoundRow]:
    """Return the specimens that answer to every word, or are named in ``also``: those in work first, the newest first."""
    specimen = t.specimen_now.c
    answers = select(specimen.id)
    for word in words:
        answers = answers.where(_means(word))
    query = (
        select(specimen.id, specimen.tag, specimen.species, specimen.owner, specimen.finished)
        .where(or_(specimen.id.in_(answers), specimen.id.in_(list(also))))
        .order_by(specimen.finished, specimen.id.desc())
        .limit(most)
    )
    return [FoundRow(row.id, row.tag, row.species, row.owner, row.finished) for row in tx.connection.execute(query)]


def noted(tx: Reading, words: Collection[str], kinds: Collection[str], most: int = 50) -> set[str]:
    """Return the roots of what has a note, in an entry of these kinds, with every one of these words in it."""
    query = select(t.note.c.id).where(t.note.c.text.is_not(None))
    for word in words:
        query = query.where(func.lower(t.note.c.text).like(f"%{like_text(word.lower())}%", escape="\\"))
    notes = list(tx.connection.execute(query.limit(most)).scalars())
    if not notes:
        return set()
    held = t.entry.c.content["note"].as_string()
    rows = select(t.entry_subject.c.root).join(t.entry, t.entry.c.seq == t.entry_subject.c.seq)
    rows = rows.where(t.entry.c.kind.in_(kinds), held.in_(notes))
    return set(tx.connection.execute(rows).scalars())


def tags(tx: Reading) -> list[str]:
    """Return every tag that was ever tied to something here."""
    return list(tx.connection.execute(select(t.specimen_now.c.tag)).scalars())


def retagged(tx: Reading) -> set[str]:
    """Return the roots of what ever got another tag."""
    rows = select(t.entry_subject.c.root).join(t.entry, t.entry.c.seq == t.entry_subject.c.seq)
    return set(tx.connection.execute(rows.where(t.entry.c.kind == "retagged")).scalars())
