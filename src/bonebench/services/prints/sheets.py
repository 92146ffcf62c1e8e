"""A pencil sheet: its rows from the day's work, kept in the book so that they can be typed back any day."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from bonebench.errors import Impossible, UnknownName
from bonebench.records import entries as log_rows
from bonebench.records.book import Reading, Writing
from bonebench.services.cards import Answer
from bonebench.services.log.record import Pen, write_entry
from bonebench.services.log.rows import readable, to_row
from bonebench.services.prints.cards import SheetCard, SheetLine
from bonebench.services.today.cards import TaskCard
from bonebench.shop.entries import Entry, exactly, specimen_subject
from bonebench.shop.pencil import read_sheet_number, sheet_number
from bonebench.shop.sheet_entries import SHEET, SheetMark, SheetPrinted, SheetRow, sheet_subject
from bonebench.shop.words import PROBLEMS

# The columns are the same on every sheet, so that a hand learns them.
COLUMNS = (("a", "done"), ("b", "not yet"), ("c", "left out"), ("d", "problem"), ("e", "not here"))
ALSO = "fghjkm"  # further buttons of a row; i and l look like ones
NOT_SAID = "not said which"
MOST_ROWS = 200
MOST_SHEETS = 60


def rows_of(tasks: Iterable[TaskCard]) -> tuple[SheetRow, ...]:
    """Return one numbered row for each task, with the letters that can answer it."""
    return tuple(SheetRow(number, _about(task), tuple(_marks(task))) for number, task in enumerate(tasks, 1))


def _about(task: TaskCard) -> str:
    named = task.members or task.specimen is not None
    return task.action.text if named else f"{task.about.text}: {task.action.text}"


def _marks(task: TaskCard) -> list[SheetMark]:
    wrongs = [a for a in task.answers if a.kind == "round-done" and "wrong" in a.values]
    looks = [a for a in task.answers if a.kind == "looked" and a.values.get("found") == "not yet"]
    plain = [a for a in task.answers if a not in wrongs and a not in looks]
    marks = [_mark("a", plain[0])] if plain else []
    marks += [_mark("b", looks[0])] if looks else []
    whole = tuple(specimen_subject(m.specimen_id) for m in task.members) or (
        (specimen_subject(task.specimen_id),) if task.specimen_id is not None else ()
    )
    if whole:
        marks += _of_specimens(task, whole, looked=bool(looks))
    if wrongs:
        first = wrongs[0]
        marks.append(
            SheetMark("d", "Something is wrong", first.kind, first.subjects, {**first.values, "wrong": NOT_SAID}, first.task)
        )
        marks += [_mark(f"d{number}", answer) for number, answer in enumerate(wrongs, 1)]
    marks += [_mark(letter, answer) for letter, answer in zip(ALSO, plain[1:], strict=False)]
    return sorted(marks, key=lambda mark: (mark.code[0], int(mark.code[1:] or 0)))


def _mark(code: str, answer: Answer) -> SheetMark:
    return SheetMark(code, answer.label.text, answer.kind, answer.subjects, dict(answer.values), answer.task)


def _of_specimens(task: TaskCard, whole: tuple[str, ...], *, looked: bool) -> list[SheetMark]:
    """What can be said of any piece: not yet, left out, a problem, not here."""
    step: dict[str, Any] = next(
        ({"step": a.values["step"], "visit": a.values.get("visit", 1)} for a in task.answers if a.values.get("step")), {}
    )
    marks = []
    if step and not looked:
        marks.append(SheetMark("b", "Not yet", "looked", whole, {**step, "found": "not yet"}))
    if step:
        marks.append(SheetMark("c", "Left out", "skipped", whole, dict(step)))
    marks.append(SheetMark("d", "Problem", "problem", whole, {"what": NOT_SAID}))
    marks += [SheetMark(f"d{n}", label, "problem", whole, {"what": key}) for n, (key, label) in enumerate(PROBLEMS, 1)]
    marks.append(SheetMark("e", "Not here", "gone", whole, {"why": "not found"}))
    return marks


def keep_sheet(tx: Writing, pen: Pen, day: date, tasks: Sequence[TaskCard]) -> SheetCard:
    """Keep a sheet of these rows and give it a number; the same rows on the same day are the same sheet.

    It changes nothing that is planned, so no new plan is made for it.
    """
    rows = rows_of(tasks[:MOST_ROWS])
    if not rows:
        raise Impossible("sheet.empty", "nothing is to be done on {day:day}, so there is no sheet to print", day=day.isoformat())
    for nth in range(MOST_SHEETS):
        number = sheet_number(day, nth)
        if number is None:
            continue
        found = [entry for entry in _printed(tx, number) if _sheet(entry).day == day]
        if not found:
            what = SheetPrinted(number, day, rows)
            entry = write_entry(tx, pen, what, (sheet_subject(number),), exactly(pen.now))
            log_rows.store(tx, to_row(entry), pen.now)
            return _card(entry)
        if _sheet(found[-1]).rows == rows:
            return _card(found[-1])
    raise Impossible("sheet.most", "{count} sheets were printed for that day; use one of them", count=MOST_SHEETS)


def _printed(tx: Reading, number: str) -> list[Entry]:
    entries, _ = readable(log_rows.entries_of(tx, sheet_subject(number)))
    return sorted((e for e in entries if isinstance(e.what, SheetPrinted) and e.what.number == number), key=lambda e: _sheet(e).day)


def _sheet(entry: Entry) -> SheetPrinted:
    assert isinstance(entry.what, SheetPrinted)
    return entry.what


def _card(entry: Entry) -> SheetCard:
    sheet = _sheet(entry)
    return SheetCard(sheet.number, sheet.day, entry.recorded, sheet.rows)


def entry_of_sheet(tx: Reading, text: str) -> Entry:
    """Return the entry of a sheet by its number, of the newest where two years had the same."""
    number = read_sheet_number(text)
    found = _printed(tx, number)
    if not found:
        could_be = tuple(line.number for line in last_sheets(tx))
        raise UnknownName(
            "sheet.unknown", "no sheet {number} was printed from this book; a sheet is typed back into the book it came from",
            could_be=could_be, number=number,
        )  # fmt: skip
    return found[-1]


def sheet_card(tx: Reading, text: str) -> SheetCard:
    """Return a sheet as it was printed."""
    return _card(entry_of_sheet(tx, text))


def last_sheets(tx: Reading, most: int = 6) -> tuple[SheetLine, ...]:
    """Return the sheets printed last, the newest first."""
    entries = (e for subject in log_rows.all_subjects(tx, SHEET) for e in _printed(tx, subject.removeprefix(SHEET)))
    newest = sorted(entries, key=lambda e: (e.recorded, e.number), reverse=True)[:most]
    return tuple(SheetLine(s.number, s.day, len(s.rows)) for s in map(_sheet, newest))
