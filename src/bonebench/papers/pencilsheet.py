"""The pencil sheet: numbered rows, lettered columns, a box in each; what is circled is typed back as "3 b, 5 a at 14:30"."""

from collections.abc import Sequence

from reportlab.lib.units import mm

from bonebench.papers.flow import LEADING, Flow, Frame, Words, on_pages
from bonebench.papers.qr import draw_qr
from bonebench.papers.sheets import Box
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of
from bonebench.said import day_text
from bonebench.services.prints.cards import SheetCard
from bonebench.services.prints.scan import code_of_sheet
from bonebench.services.prints.sheets import COLUMNS
from bonebench.services.today.cards import TaskCard
from bonebench.shop.cautions import Level
from bonebench.shop.sheet_entries import SheetMark, SheetRow
from bonebench.shop.words import PROBLEMS
from bonebench.units import Reader, say

NUMBER_WIDE = 9 * mm
CELL_WIDE = 15 * mm
TIME_WIDE = 14 * mm
LEAST_HIGH = 11 * mm
CODE = 22 * mm
HOW = (
    "Circle a letter in each row that you did, and write the time. Problem: write the number behind the d. "
    "Nothing circled stores nothing."
)
BACK = "To type it back, on Print, Type a sheet back: the number of this sheet, then the rows: 3 b, 5 d4, 7 a at 14:30"


def pencil_sheet_pdf(card: SheetCard, tasks: Sequence[TaskCard], reader: Reader, paper: str = "a4", *, demo: bool = False) -> bytes:
    """Return a kept sheet as pages; ``tasks`` are those its rows were made from, for gloves and what stops the hand."""
    title = f"Pencil sheet {card.number} · {card.day:%A} {day_text(card.day)}"
    by_row = dict(enumerate(tasks, 1))
    frame = Frame(title, "Filled in by ______________________", demo=demo)

    def write(flow: Flow) -> None:
        _head(flow, card)
        page = 0
        for row in card.rows:
            task = by_row.get(row.row)
            lines = _lines(flow, row, task, reader)
            gloves = [Words(say(task.gloves, reader), 9, BOLD)] if task is not None and task.gloves is not None else []
            place = [Words(task.place_name, 10, BOLD)] if task is not None and _new_place(by_row, row.row) else []
            high = max(LEAST_HIGH, sum(size * LEADING for _, size, _ in lines) + 2 * mm)
            above = flow.high([*place, *gloves])
            flow.needs(high + above + 2.5 * mm + (6 * mm if page != flow.number else 0.0))
            if page != flow.number:
                _columns(flow)
                page = flow.number
            flow.space(1.5 * mm if place else 0)
            flow.write(*place, *gloves)
            flow.space(1 * mm if place or gloves else 0)
            _row(flow, row, lines, high)
        _problems(flow)
        _anything_else(flow)

    return on_pages(frame, paper, write)


def _new_place(by_row: dict[int, TaskCard], row: int) -> bool:
    return row - 1 not in by_row or by_row[row].place_name != by_row[row - 1].place_name


def _head(flow: Flow, card: SheetCard) -> None:
    """Say how it is filled in and typed back, beside the code that opens the page for it."""
    draw_qr(flow.canvas, code_of_sheet(card.number), flow.left + flow.width - CODE, flow.at - CODE, CODE)
    top = flow.at
    for words in (Words(HOW, 9.5), Words(BACK, 9.5, BOLD)):
        for text in lines_of(words.text, words.face, words.size, flow.width - CODE - 4 * mm):
            flow.at -= words.size * LEADING
            flow.canvas.setFont(words.face, words.size)
            flow.canvas.drawString(flow.left, flow.at + 2, text)
    flow.at = min(flow.at, top - CODE) - 1 * mm


def _cells(flow: Flow) -> list[tuple[str, Box]]:
    """Return where the columns lie: the letters, then the time."""
    start = flow.left + flow.width - TIME_WIDE - CELL_WIDE * len(COLUMNS)
    found = [(letter, Box(start + n * CELL_WIDE, 0, CELL_WIDE, 0)) for n, (letter, _) in enumerate(COLUMNS)]
    return [*found, ("", Box(flow.left + flow.width - TIME_WIDE, 0, TIME_WIDE, 0))]


def _columns(flow: Flow) -> None:
    flow.at -= 4 * mm
    for (letter, box), words in zip(_cells(flow), [*(name for _, name in COLUMNS), "time"], strict=True):
        text, size = fitted(f"{letter} {words}".strip(), BOLD, box.width - 4, 7.5, 5.0)
        flow.canvas.setFont(BOLD, size)
        flow.canvas.drawString(box.left + 1, flow.at + 1.5, text)
    flow.rule(0.8)


_Line = tuple[str, float, str]  # face, size, words


def _lines(flow: Flow, row: SheetRow, task: TaskCard | None, reader: Reader) -> list[_Line]:
    wide = flow.width - NUMBER_WIDE - CELL_WIDE * len(COLUMNS) - TIME_WIDE - 2 * mm
    about = say(task.action, reader) if task is not None and (task.members or task.specimen) else row.about
    species = f" · {task.species.common}" if task is not None and task.specimen is not None and task.species is not None else ""
    lines: list[_Line] = [(BOLD, 9.0, part) for part in lines_of(about + species, BOLD, 9.0, wide)]
    if task is not None and task.members:
        lines += [(PLAIN, 7.5, part) for part in lines_of(", ".join(m.tag for m in task.members), PLAIN, 7.5, wide)]
    also = _also(row)
    lines += [(PLAIN, 7.5, part) for part in lines_of(also, PLAIN, 7.5, wide)] if also else []
    stops = [c for c in task.cautions if c.level is Level.STOP] if task is not None else []
    for caution in stops:
        lines += [
            (BOLD, 7.0, p) for p in lines_of(f"STOP. {say(caution.hazard, reader)} {say(caution.do, reader)}", BOLD, 7.0, wide)
        ]
    return lines


def _also(row: SheetRow) -> str:
    """The letters beyond the columns, and what is behind the d of a round: those of pieces stand once at the foot."""
    heads = {letter for letter, _ in COLUMNS}
    numbers = [mark for mark in row.marks if mark.code[0] == "d" and mark.code[1:] and mark.kind != "problem"]
    more = [mark for mark in row.marks if mark.code not in heads and mark.code[0] != "d"]
    return " · ".join(f"{mark.code} {mark.label}" for mark in (*numbers, *more))


def _row(flow: Flow, row: SheetRow, lines: list[_Line], high: float) -> None:
    top, canvas = flow.at, flow.canvas
    bottom = top - high
    canvas.setFillGray(0)
    canvas.setFont(BOLD, 12)
    canvas.drawString(flow.left, top - 13, str(row.row))
    at = top - 1 * mm
    for face, size, text in lines:
        at -= size * LEADING
        canvas.setFont(face, size)
        canvas.drawString(flow.left + NUMBER_WIDE, at + 2, text)
    marks = {mark.code: mark for mark in row.marks}
    for letter, box in _cells(flow):
        canvas.setLineWidth(0.3)
        canvas.line(box.left - 0.5, bottom, box.left - 0.5, top)
        if letter in marks:
            _cell(flow, Box(box.left, bottom, box.width, high), letter, marks[letter])
    canvas.setLineWidth(0.5)
    canvas.line(flow.left, bottom, flow.left + flow.width, bottom)
    flow.at = bottom


def _cell(flow: Flow, box: Box, letter: str, mark: SheetMark) -> None:
    """A letter to circle, and under it what it means in this row where the column's head does not say it."""
    canvas = flow.canvas
    canvas.setFont(BOLD, 12)
    canvas.drawCentredString(box.left + box.width / 2 - (5 if letter == "d" else 0), box.top - 13, letter)
    if letter == "d":
        canvas.setLineWidth(0.4)
        canvas.line(box.left + box.width / 2 + 1, box.top - 14, box.right - 4, box.top - 14)
    if letter == "a" or (letter == "b" and mark.label != "Not yet"):
        at = box.top - 16
        for text in lines_of(mark.label, PLAIN, 6.2, box.width - 3)[:3]:
            at -= 7
            canvas.setFont(PLAIN, 6.2)
            canvas.drawCentredString(box.left + box.width / 2, at + 1, text)


def _problems(flow: Flow) -> None:
    flow.space(2 * mm)
    numbers = " · ".join(f"d{number} {label}" for number, (_, label) in enumerate(PROBLEMS, 1))
    flow.write(Words("Behind the d of a piece:", 8.5, BOLD), Words(numbers, 8.5))


def _anything_else(flow: Flow) -> None:
    flow.space(2 * mm)
    flow.write(Words("Anything else (tag, what happened, when); typed in on its own page:", 8.5, BOLD), keep=24 * mm)
    for _ in range(3):
        flow.at -= 8 * mm
        flow.canvas.setLineWidth(0.4)
        flow.canvas.line(flow.left, flow.at, flow.left + flow.width, flow.at)
