"""The list of the files beside the book: which there are, how large, and which were erased."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import insert, select, update

from bonebench.records import tables as t
from bonebench.records.attached import Named
from bonebench.records.book import Reading, Writing


@dataclass(frozen=True, slots=True)
class FileRow:
    """One file as the book lists it; ``sent_sha256`` is of the bytes as they came in, before anything was taken off them."""

    sha256: str
    media_type: str
    size_bytes: int
    width_px: int | None
    height_px: int | None
    sent_sha256: str | None
    added_at: datetime
    erased_at: datetime | None = None

    @property
    def named(self) -> Named:
        """What the folder knows of it."""
        return Named(self.sha256, self.media_type, self.size_bytes)


def add(tx: Writing, row: FileRow) -> None:
    """List a file once; one that was erased and comes again is there again."""
    there = tx.connection.execute(select(t.file.c.erased_at).where(t.file.c.sha256 == row.sha256)).one_or_none()
    if there is None:
        values = {name: getattr(row, name) for name in FileRow.__dataclass_fields__}
        tx.connection.execute(insert(t.file).values(**values))
    elif there.erased_at is not None:
        tx.connection.execute(update(t.file).where(t.file.c.sha256 == row.sha256).values(erased_at=None, added_at=row.added_at))


def one(tx: Reading, sha256: str) -> FileRow | None:
    """Return a file by its hash."""
    row = tx.connection.execute(select(t.file).where(t.file.c.sha256 == sha256)).one_or_none()
    return None if row is None else FileRow(**row._mapping)


def sent_before(tx: Reading, sent_sha256: str) -> FileRow | None:
    """Return the file that was made from the same bytes before, if it was not erased."""
    query = select(t.file).where(t.file.c.sent_sha256 == sent_sha256, t.file.c.erased_at.is_(None)).order_by(t.file.c.added_at)
    row = tx.connection.execute(query).first()
    return None if row is None else FileRow(**row._mapping)


def listed(tx: Reading) -> list[Named]:
    """Return every file that should be in the folder."""
    query = select(t.file.c.sha256, t.file.c.media_type, t.file.c.size_bytes).where(t.file.c.erased_at.is_(None))
    return [Named(*row) for row in tx.connection.execute(query.order_by(t.file.c.sha256))]


def erased(tx: Reading) -> list[Named]:
    """Return every file that was erased on purpose."""
    query = select(t.file.c.sha256, t.file.c.media_type, t.file.c.size_bytes).where(t.file.c.erased_at.is_not(None))
    return [Named(*row) for row in tx.connection.execute(query.order_by(t.file.c.sha256))]


def set_erased(tx: Writing, sha256: str, now: datetime) -> None:
    """Say that a file was erased on purpose; its name stays, so that nobody looks for it."""
    tx.connection.execute(update(t.file).where(t.file.c.sha256 == sha256).values(erased_at=now))
