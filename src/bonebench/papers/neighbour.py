"""The sheet for whoever looks in while nobody of the room is there: one page, black on white, with room to write."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible
from bonebench.papers.sheets import DEMO_WORDS
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of, use_type

MARGIN = 13 * mm
SIZES = (10.5, 10.0, 9.5, 9.0, 8.5, 8.0)  # of what is read standing before the box; the largest that fits
SMALL = (8.0, 7.5, 7.0, 6.5)  # of the cautions
LEADING = 1.24
MOST_ROWS, LEAST_ROWS, ROW = 14, 5, 7 * mm
COLUMNS = (("day, hour", 0.16), ("thermometer", 0.15), ("damp", 0.11), ("pad wet", 0.11), ("food", 0.11), ("what I saw", 0.36))
BLANKS = (
    "Call me: ",
    "If I do not answer: ",
    "Knows the beetles: ",
    "Electrician: ",
    "Fire, doctor, poison help: ",
    "Spare key, fuse box: ",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class NeighbourSheet:
    """What stands on the sheet, in words; whom to call is left blank to be filled in by hand."""

    room: str
    when: str
    daily: tuple[str, ...]
    call: tuple[str, ...]
    never: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    defer: str
    demo: bool = False


def neighbour_sheet(sheet: NeighbourSheet, *, us_paper: bool = False) -> bytes:
    """Return the page as a PDF; the same sheet gives the same bytes. No warning is left out to make it fit."""
    use_type()
    page = letter if us_paper else A4
    size, small = _fitting(sheet, page)
    out = BytesIO()
    canvas = Canvas(out, pagesize=page, invariant=1, pageCompression=1)
    canvas.setTitle("The beetle box: for whoever looks in")
    _draw(_Pen(canvas, page), sheet, size, small)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _fitting(sheet: NeighbourSheet, page: tuple[float, float]) -> tuple[float, float]:
    """Return the largest type at which all of it and a few rows to write in fit on one page."""
    for small in SMALL:
        for size in SIZES:
            pen = _Pen(None, page)
            _draw(pen, sheet, size, small)
            if pen.rows >= LEAST_ROWS:
                return size, small
    raise Impossible(
        "neighbour.full",
        "the sheet does not fit on one page with all its warnings; print it without {count} of the lines you added",
        count=max(0, len(sheet.daily) + len(sheet.never) + len(sheet.call) - 21),
    )


class _Pen:
    """Goes down one page; without a canvas it only measures."""

    def __init__(self, canvas: Canvas | None, page: tuple[float, float]) -> None:
        self.canvas, self.left, self.right = canvas, MARGIN, page[0] - MARGIN
        self.at, self.foot = page[1] - MARGIN, MARGIN
        self.rows = 0

        self.width = float(self.right - self.left)

    def draw(self, act: Callable[[Canvas], object]) -> None:
        if self.canvas is not None:
            act(self.canvas)

    def words(self, text: str, size: float, face: str = PLAIN, indent: float = 0.0) -> None:
        """Set a text, broken into lines."""
        for line in lines_of(text, face, size, self.width - indent):
            self.at -= size * LEADING
            self._line(line, size, face, indent)

    def _line(self, line: str, size: float, face: str, indent: float) -> None:
        def put(canvas: Canvas) -> None:
            canvas.setFont(face, size)
            canvas.drawString(self.left + indent, self.at + 0.24 * size, line)

        self.draw(put)

    def rule(self, gap: float = 1.6 * mm, width: float = 0.8) -> None:
        """Draw a line across."""
        self.at -= gap / 2

        def put(canvas: Canvas) -> None:
            canvas.setLineWidth(width)
            canvas.line(self.left, self.at, self.right, self.at)

        self.draw(put)
        self.at -= gap / 2

    def head(self, text: str, size: float) -> None:
        """Begin a part."""
        self.rule()
        self.words(text, 1.12 * size, BOLD)


def _draw(pen: _Pen, sheet: NeighbourSheet, size: float, small: float) -> None:
    _title(pen, sheet)
    _blanks(pen)
    pen.head("Each time you come, in this order", size)
    _list(pen, sheet.daily, size, _box)
    pen.head("By the thermometer and what you see", size)
    _list(pen, sheet.call, size, _dot)
    pen.head("Never", size)
    _list(pen, sheet.never, size, _cross)
    foot = _cautions_height(pen, sheet, small)
    _table(pen, pen.at - pen.foot - foot)
    pen.head("What can hurt you here", small)
    for hazard, do in sheet.cautions:
        pen.words(f"{hazard} {do}", small)
    pen.words(sheet.defer, small, BOLD)


def _title(pen: _Pen, sheet: NeighbourSheet) -> None:
    if sheet.demo:
        pen.words(DEMO_WORDS, 8, BOLD)
    pen.words("The beetle box: for whoever looks in", 19, BOLD)
    words, size = fitted(" · ".join(part for part in (sheet.room, sheet.when) if part), PLAIN, pen.width, 11)
    pen.words(words, size)


def _blanks(pen: _Pen) -> None:
    """Draw a frame with lines to fill in by hand: whom to call."""
    pen.at -= 2 * mm
    high, top, half = 8 * mm, pen.at, pen.width / 2
    rows = -(-len(BLANKS) // 2)

    def put(canvas: Canvas) -> None:
        canvas.setLineWidth(1.6)
        canvas.rect(pen.left, top - rows * high - 1.5 * mm, pen.width, rows * high + 1.5 * mm)
        canvas.setLineWidth(0.6)
        canvas.setFont(BOLD, 9)
        for number, blank in enumerate(BLANKS):
            row, column = divmod(number, 2)
            left, foot = pen.left + column * half + 2 * mm, top - (row + 1) * high + 0.5 * mm
            canvas.drawString(left, foot + 0.8 * mm, blank)
            canvas.line(left + canvas.stringWidth(blank, BOLD, 9) + 1 * mm, foot, left + half - 4 * mm, foot)

    pen.draw(put)
    pen.at = top - rows * high - 2.5 * mm


Mark = Callable[[Canvas, float, float, float], object]


def _list(pen: _Pen, lines: Sequence[str], size: float, mark: Mark) -> None:
    for line in lines:
        pen.at -= 0.16 * size
        first = pen.at - size * LEADING + 0.24 * size

        def put(canvas: Canvas, foot: float = first) -> None:
            mark(canvas, pen.left + 0.5 * mm, foot, size)

        pen.draw(put)
        pen.words(line, size, indent=1.7 * size)


def _box(canvas: Canvas, left: float, foot: float, size: float) -> None:
    canvas.setLineWidth(0.9)
    canvas.rect(left, foot - 0.08 * size, 0.82 * size, 0.82 * size)


def _dot(canvas: Canvas, left: float, foot: float, size: float) -> None:
    canvas.circle(left + 0.4 * size, foot + 0.33 * size, 0.16 * size, stroke=0, fill=1)


def _cross(canvas: Canvas, left: float, foot: float, size: float) -> None:
    canvas.setLineWidth(1.5)
    side = 0.62 * size
    canvas.line(left, foot, left + side, foot + side)
    canvas.line(left, foot + side, left + side, foot)


def _cautions_height(pen: _Pen, sheet: NeighbourSheet, small: float) -> float:
    texts = [(f"{hazard} {do}", PLAIN) for hazard, do in sheet.cautions] + [(sheet.defer, BOLD)]
    lines = sum(len(lines_of(text, face, small, pen.width)) for text, face in texts)
    return float(lines * small * LEADING + 1.12 * small * LEADING + 1.6 * mm)


def _table(pen: _Pen, room: float) -> None:
    """Draw rows to write in, as many as the room left for them takes; their number is kept for who measures."""
    pen.rows = min(MOST_ROWS, int((room - 4 * mm) / ROW) - 1)
    if pen.rows < 1:
        return
    pen.at -= 2.5 * mm
    top, high = pen.at, (pen.rows + 1) * ROW

    def put(canvas: Canvas) -> None:
        canvas.setLineWidth(0.5)
        canvas.setFont(BOLD, 8)
        for row in range(pen.rows + 2):
            canvas.line(pen.left, top - row * ROW, pen.right, top - row * ROW)
        left = pen.left
        for name, share in COLUMNS:
            canvas.line(left, top, left, top - high)
            canvas.drawString(left + 1 * mm, top - ROW + 2 * mm, name)
            left += share * pen.width
        canvas.line(pen.right, top, pen.right, top - high)

    pen.draw(put)
    pen.at = top - high - 1 * mm
