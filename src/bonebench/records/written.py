"""What is written of specimens, kept as the folds are: names of lots, what a vial is for, where something is broken, notes."""

from collections.abc import Collection, Iterable
from dataclasses import asdict, dataclass

from sqlalchemy import Select, delete, func, insert, select

from bonebench.records import tables as t
from bonebench.records.book import Writing


@dataclass(frozen=True, slots=True)
class WrittenRow:
    """What one entry says of a specimen: its words in plain letters, and its note by id."""

    entry: str
    text: str
    note: str | None = None


def put_written(tx: Writing, specimen: str, rows: Iterable[WrittenRow]) -> None:
    """Keep what is written of a specimen, in place of what was kept before."""
    tx.connection.execute(delete(t.written_now).where(t.written_now.c.specimen == specimen))
    values = [{"specimen": specimen, **asdict(row)} for row in rows]
    if values:
        tx.connection.execute(insert(t.written_now), values)


def like_text(text: str) -> str:
    """Escape what LIKE reads as a sign."""
    return text.replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")


def written_with(plain: str) -> Select[tuple[str]]:
    """Ask for the specimens of which an entry has this in it, in plain letters."""
    return select(t.written_now.c.specimen).where(t.written_now.c.text.like(f"%{like_text(plain)}%", escape="\\"))


def noted_with(words: Collection[str]) -> Select[tuple[str]]:
    """Ask for the specimens that have a note with every one of these words in it; an erased one has none."""
    query = select(t.written_now.c.specimen).join(t.note, t.note.c.id == t.written_now.c.note)
    for word in words:
        query = query.where(func.lower(t.note.c.text).like(f"%{like_text(word.lower())}%", escape="\\"))
    return query
