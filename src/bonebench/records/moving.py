"""Carry a whole book to another address: from a file to a server, or back."""

from datetime import datetime

from sqlalchemy import insert, select, text

from bonebench.records import attached, files
from bonebench.records import tables as t
from bonebench.records.book import Book, Reading, Writing

# Rows carried at once; enough to be quick, small enough for any driver's limit on values in one statement.
AT_ONCE = 500


def move_book(book: Book, to: str, *, now: datetime, book_id: str, fold_version: int) -> dict[str, int]:
    """Make a new book elsewhere with every row and file of this one; the old one stays as it is. Returns the rows of each table."""
    target = Book.create(to, kind=book.kind, book_id=book_id, now=now, fold_version=fold_version)
    try:
        with book.reading() as tx:
            names = files.listed(tx)
        # Files first, so that no row arrives before what it names; one that comes in meanwhile is caught up with below.
        attached.carry(book.files, target.files, names)
        with book.reading() as source, target.writing() as sink:
            counts, names = _carry(source, sink), files.listed(source)
        attached.carry(book.files, target.files, names)
        return counts
    finally:
        target.close()


def _carry(source: Reading, sink: Writing) -> dict[str, int]:
    counts: dict[str, int] = {}
    sink.connection.execute(t.book.delete())
    for table in t.metadata.sorted_tables:
        rows = [dict(row._mapping) for row in source.connection.execute(select(table))]
        for begin in range(0, len(rows), AT_ONCE):
            sink.connection.execute(insert(table), rows[begin : begin + AT_ONCE])
        counts[table.name] = len(rows)
    if sink.connection.dialect.name == "postgresql":
        # The server numbers new rows by itself: let it go on after the ones that were carried.
        for name in ("entry", "entry_aside"):
            last = f"coalesce((select max(seq) from {name}), 0) + 1"
            sink.connection.execute(text(f"select setval(pg_get_serial_sequence('{name}', 'seq'), {last}, false)"))
    return counts
