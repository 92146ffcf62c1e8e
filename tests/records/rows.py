"""Rows for tests: short to write; and everything a book keeps, to compare."""

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Table, select

from bonebench.records import entries
from bonebench.records.book import Book, Reading
from bonebench.records.entries import EntryRow
from bonebench.records.tables import bath_now, metadata, part_now, place_now, room_now, specimen_now, stay_now, written_now

AT = datetime(2026, 5, 4, 14, 0, tzinfo=UTC)


def row(id: str = "e1", **more: Any) -> EntryRow:
    """Return an entry about one fox; a void carries its target as its kind does."""
    fields: dict[str, Any] = {
        "id": id, "kind": "noted", "form": 1, "writer": "phone", "number": 1, "earliest": AT, "latest": AT, "recorded": AT,
        "subjects": ("specimen:fox",), "values": {"note": "n"},
    }  # fmt: skip
    return EntryRow(**{**fields, **more})


def void(id: str, target: str, **more: Any) -> EntryRow:
    """Return a void of another entry."""
    fields = {"kind": "void", "subjects": (), "values": {"target": target, "why": ""}, "targets": (target,), **more}
    return row(id, **fields)


def store(book: Book, *rows: EntryRow) -> list[str]:
    """Store rows in one transaction and return how it went."""
    with book.writing() as tx:
        return [entries.store(tx, one, AT) for one in rows]


def _rows(tx: Reading, tables: Iterable[Table]) -> Mapping[str, Any]:
    return {table.name: sorted((tuple(one) for one in tx.connection.execute(select(table))), key=repr) for table in tables}


def states_in(tx: Reading) -> Mapping[str, Any]:
    """Return every state that is kept: what a rebuild must come to as well."""
    return _rows(tx, (specimen_now, part_now, stay_now, written_now, place_now, bath_now, room_now))


def kept_states(book: Book) -> Mapping[str, Any]:
    """Return every state that is kept, in a transaction of its own."""
    with book.reading() as tx:
        return states_in(tx)


def everything(book: Book) -> Mapping[str, Any]:
    """Return every row of every table."""
    with book.reading() as tx:
        return _rows(tx, metadata.sorted_tables)
