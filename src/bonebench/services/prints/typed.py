"""A pencil sheet typed back: "3 b, 5 a, 7 c at 14:30" becomes the entries that the buttons would have stored."""

from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import cast
from zoneinfo import ZoneInfo

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, day_text, said
from bonebench.services.gather import known_of
from bonebench.services.known import Known
from bonebench.services.log.record import Pen, StoredAs, record, write_entry
from bonebench.services.log.states import story_of
from bonebench.services.log.times import whole_day
from bonebench.services.prints.cards import TypedBackCard, TypedRow, UnreadCard
from bonebench.services.prints.sheets import entry_of_sheet
from bonebench.shop.entries import Entry, When, exactly, read_what, root_of, values_of
from bonebench.shop.pencil import Clock, Unread, Written, at_odds, read_marks, row_entry_id
from bonebench.shop.sheet_entries import SheetMark, SheetPrinted, SheetRow


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The printed sheet with what its rows need to be read by."""

    entry: Entry
    what: SheetPrinted
    known: Known
    now: datetime

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.known.room.zone)

    def row(self, number: int) -> SheetRow | None:
        return next((row for row in self.what.rows if row.row == number), None)


@dataclass(frozen=True, slots=True)
class _Read:
    """One row that can be stored."""

    written: Written
    row: SheetRow
    mark: SheetMark
    when: When


def typed_back(tx: Writing, pen: Pen, number: str, text: str) -> TypedBackCard:
    """Store what a sheet's rows say; what cannot be read is listed in words, and typing it all again stores nothing twice."""
    printed = entry_of_sheet(tx, number)
    sheet = _Sheet(printed, cast(SheetPrinted, printed.what), known_of(tx), pen.now)
    written, unread = read_marks(text)
    found = [_read(one, sheet) for one in written]
    unread += [one for one in found if isinstance(one, Unread)]
    reads = [one for one in found if isinstance(one, _Read)]
    odd = set(at_odds(read.written for read in reads))
    unread += [_both(read.written, reads) for read in reads if read.written.row in odd]
    reads = [read for read in reads if read.written.row not in odd]
    entries = [(read, _standing(tx, sheet, read)) for read in reads]
    fresh = {id(read): _new(tx, pen, sheet, read) for read, there in entries if there is None}
    how = record(tx, fresh.values(), pen.now).how if fresh else {}
    return TypedBackCard(
        sheet=sheet.what.number,
        day=sheet.what.day,
        rows=tuple(
            _row(read, there or fresh[id(read)], "already stored" if there else how[fresh[id(read)].id]) for read, there in entries
        ),
        unread=tuple(UnreadCard(one.text, one.why) for one in unread),
        again="\n".join(dict.fromkeys(one.text for one in unread)),
        basis=(),
        flags=(),
        cautions=(sheet.known.defer,),
    )


def _row(read: _Read, entry: Entry, how: StoredAs) -> TypedRow:
    return TypedRow(
        read.row.row, read.mark.code, read.row.about, read.mark.label, how, entry.id, entry.when.earliest, entry.when.latest
    )


def _both(one: Written, reads: list[_Read]) -> Unread:
    letters = " and ".join(dict.fromkeys(read.written.code for read in reads if read.written.row == one.row))
    why = said(
        "sheet.both", "row {row} says {letters}; it can be one of them: type the one that holds", row=one.row, letters=letters
    )
    return Unread(one.text, why)


def _read(one: Written, sheet: _Sheet) -> _Read | Unread:
    row = sheet.row(one.row)
    if row is None:
        most = max((row.row for row in sheet.what.rows), default=0)
        return Unread(one.text, said("sheet.row", "this sheet has no row {row}; its rows are 1 to {most}", row=one.row, most=most))
    mark = next((mark for mark in row.marks if mark.code == one.code), None)
    if mark is None:
        known = ", ".join(f"{mark.code} {mark.label}" for mark in row.marks if len(mark.code) == 1)
        numbers = sum(mark.code[0] == "d" for mark in row.marks) - 1
        more = f"; behind d a number from 1 to {numbers}" if one.code[0] == "d" and numbers > 0 else ""
        words = said("sheet.letter", "row {row} has no {code}; it has {known}" + more, row=one.row, code=one.code, known=known)
        return Unread(one.text, words)
    when = when_of(one.when, sheet.what, sheet.entry.recorded, sheet.now, sheet.zone)
    return _Read(one, row, mark, when) if isinstance(when, When) else Unread(one.text, when)


def when_of(clock: Clock | None, sheet: SheetPrinted, printed: datetime, now: datetime, zone: ZoneInfo) -> When | Said:
    """Return when a row happened: as written; else on the sheet's day, after it was printed; words where it lies ahead of now."""
    day = clock.day if clock is not None and clock.day is not None else sheet.day
    if clock is not None and clock.at is not None:
        at = datetime.combine(day, clock.at, zone)
        when = When(at, at + timedelta(minutes=59, seconds=59)) if clock.hour_only else exactly(at)
    else:
        when = whole_day(day, zone)
        # Nobody can have written on a sheet before it was printed.
        if when.earliest < printed < when.latest:
            when = When(printed, when.latest)
    if when.earliest > now:
        wanted = day_text(day) + (f" {clock.at:%H:%M}" if clock is not None and clock.at is not None else "")
        return said(
            "sheet.ahead", "{wanted} is still ahead, so nothing of it is stored; write the day it was, like 3 b {day} 14:30",
            wanted=wanted, day=_yesterday(now, zone),
        )  # fmt: skip
    return When(when.earliest, min(when.latest, now))


def _yesterday(now: datetime, zone: ZoneInfo) -> str:
    return datetime.combine(now.astimezone(zone).date() - timedelta(days=1), time()).date().isoformat()


def _standing(tx: Reading, sheet: _Sheet, read: _Read) -> Entry | None:
    """The entry that says the same already: typed before, or tapped meanwhile for the same task; one taken back does not count."""
    mark = read.mark
    if not mark.subjects:
        return None
    entries = story_of(tx, root_of(mark.subjects[0]))[0].entries
    counting = {entry.id: entry for entry in entries}
    for attempt in range(len(entries) + 1):
        wanted = row_entry_id(sheet.entry.id, read.row.row, mark.code, attempt)
        if wanted in counting:
            return counting[wanted]
    if mark.task is None:
        return None
    said_so = read_what(mark.kind, 1, mark.values)
    return next(
        (e for e in entries if e.task == mark.task and e.kind == mark.kind and values_of(e.what) == values_of(said_so)), None
    )


def _new(tx: Writing, pen: Pen, sheet: _Sheet, read: _Read) -> Entry:
    attempt = 0
    while log_rows.entry(tx, row_entry_id(sheet.entry.id, read.row.row, read.mark.code, attempt)) is not None:
        attempt += 1
    entry_id = row_entry_id(sheet.entry.id, read.row.row, read.mark.code, attempt)
    what = read_what(read.mark.kind, 1, read.mark.values)
    return write_entry(tx, pen, what, read.mark.subjects, read.when, task=read.mark.task, entry_id=entry_id)
