"""Between the entries of the shop and the rows of the book."""

from collections.abc import Iterable

from bonebench.errors import EntryUnreadable
from bonebench.records.entries import EntryRow
from bonebench.shop.entries import Entry, When, read_what, values_of


def to_row(entry: Entry) -> EntryRow:
    """Return an entry as the book keeps it."""
    return EntryRow(
        id=entry.id,
        kind=entry.kind,
        form=entry.what.FORM,
        writer=entry.writer,
        number=entry.number,
        earliest=entry.when.earliest,
        latest=entry.when.latest,
        recorded=entry.recorded,
        who=entry.who,
        task=entry.task,
        replaces=entry.replaces,
        targets=entry.targets,
        subjects=entry.subjects,
        values=values_of(entry.what),
    )


def from_row(row: EntryRow) -> Entry:
    """Read a row back; raises EntryUnreadable where this version does not know its kind or form."""
    return Entry(
        id=row.id,
        writer=row.writer,
        number=row.number,
        when=When(row.earliest, row.latest),
        recorded=row.recorded,
        subjects=row.subjects,
        what=read_what(row.kind, row.form, row.values),
        who=row.who,
        task=row.task,
        replaces=row.replaces,
    )


def readable(rows: Iterable[EntryRow]) -> tuple[list[Entry], list[EntryRow]]:
    """Read what can be read; the rest stays in the book untouched, for a version that knows it."""
    entries: list[Entry] = []
    unread: list[EntryRow] = []
    for row in rows:
        try:
            entries.append(from_row(row))
        except EntryUnreadable:
            unread.append(row)
    return entries, unread
