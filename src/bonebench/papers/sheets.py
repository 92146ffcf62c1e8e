"""Labels on sheets: which label goes where, starting where the last print stopped; nothing is drawn outside a label."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible, OutsideRange
from bonebench.papers.stocks import INSET_MM, ROLL_EDGE_MM, WHITE_EDGE_MM, Stock
from bonebench.papers.type import BOLD, fitted, use_type
from bonebench.units import read_length

MOST_LABELS = 3000  # a print of more is a slip of the finger, and keeps the printer busy all day
MOST_NUDGE_MM = 10.0
DEMO_WORDS = "DEMO · invented"
DEMO_LINE = 2.2 * mm
LOW_LABEL = 16 * mm


@dataclass(frozen=True, slots=True)
class Box:
    """A place to draw in, in points from the lower left corner of the page."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def top(self) -> float:
        """The upper edge."""
        return self.bottom + self.height

    @property
    def right(self) -> float:
        """The right edge."""
        return self.left + self.width

    def inside(self, by: float) -> "Box":
        """Return the box with so much taken off every side."""
        return Box(self.left + by, self.bottom + by, self.width - 2 * by, self.height - 2 * by)


Draw = Callable[[Canvas, Box], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Printing:
    """How a sheet is printed: from label ``start`` (1 is the first), nudged for a printer that feeds askew.

    ``outlines`` draws the labels' edges, to hold a print on plain paper against the labels; ``demo`` marks every label as invented.
    """

    start: int = 1
    nudge_right_mm: float = 0.0
    nudge_down_mm: float = 0.0
    outlines: bool = False
    demo: bool = False


AS_IS = Printing()


def read_nudge_mm(text: str) -> float:
    """Read a nudge as people write it, such as 1 mm or -1 mm; here a minus means something, and nothing is no nudge."""
    plain = text.strip()
    return (-1 if plain.startswith("-") else 1) * 1000 * read_length(plain.lstrip("+-")) if plain else 0.0


def label_box(stock: Stock, place: int, printing: Printing = AS_IS) -> Box:
    """Return where label number ``place`` of a sheet lies (0 is the first; they run left to right, then down)."""
    row, column = divmod(place, stock.columns)
    left, top = stock.margins_mm
    x = left + column * stock.across_mm + printing.nudge_right_mm
    y = stock.page_mm[1] - top - row * stock.down_mm - stock.height_mm - printing.nudge_down_mm
    return Box(x * mm, y * mm, stock.width_mm * mm, stock.height_mm * mm)


def printable(stock: Stock, place: int, printing: Printing = AS_IS) -> Box:
    """Return the part of a label that may be printed: away from its own edge and from the paper's."""
    box = label_box(stock, place, printing).inside(INSET_MM * mm)
    edge = (WHITE_EDGE_MM if stock.paper is not None else ROLL_EDGE_MM) * mm
    wide, high = (side * mm for side in stock.page_mm)
    left, bottom = max(box.left, edge), max(box.bottom, edge)
    return Box(left, bottom, min(box.right, wide - edge) - left, min(box.top, high - edge) - bottom)


def on_sheets(title: str, stock: Stock, draws: Sequence[Draw], printing: Printing = AS_IS) -> bytes:
    """Return a PDF with one label per drawing; the same labels give the same bytes."""
    _check(stock, len(draws), printing)
    use_type()
    out = BytesIO()
    canvas = Canvas(out, pagesize=tuple(side * mm for side in stock.page_mm), invariant=1, pageCompression=1)
    canvas.setTitle(title)
    page = 0
    for number, draw in enumerate(draws, printing.start - 1):
        if number // stock.a_sheet != page:
            canvas.showPage()
            page = number // stock.a_sheet
        _one(canvas, stock, number % stock.a_sheet, draw, printing)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def sheets_needed(stock: Stock, count: int, start: int = 1) -> int:
    """Return how many sheets, or labels of a roll, a print takes."""
    return -(-(start - 1 + count) // stock.a_sheet)


def _one(canvas: Canvas, stock: Stock, place: int, draw: Draw, printing: Printing) -> None:
    box = printable(stock, place, printing)
    if printing.outlines:
        _outline(canvas, label_box(stock, place, printing))
    if printing.demo:
        box = _mark_demo(canvas, box)
    canvas.saveState()
    draw(canvas, box)
    canvas.restoreState()


def _mark_demo(canvas: Canvas, box: Box) -> Box:
    """Mark a label as invented, along its foot or, where it is low, up its right side; return the room that is left."""
    canvas.saveState()
    canvas.setFillGray(0)
    if box.height < LOW_LABEL:
        canvas.setFont(BOLD, 5)
        canvas.translate(box.right - 0.6, box.bottom)
        canvas.rotate(90)
        canvas.drawString(0, 0, "DEMO")
        left = Box(box.left, box.bottom, box.width - DEMO_LINE, box.height)
    else:
        words, size = fitted(DEMO_WORDS, BOLD, box.width, 5, 4)
        canvas.setFont(BOLD, size)
        canvas.drawCentredString(box.left + box.width / 2, box.bottom + 1.2, words)
        left = Box(box.left, box.bottom + DEMO_LINE, box.width, box.height - DEMO_LINE)
    canvas.restoreState()
    return left


def _outline(canvas: Canvas, box: Box) -> None:
    canvas.setLineWidth(0.3)
    canvas.setStrokeGray(0.5)
    canvas.rect(box.left, box.bottom, box.width, box.height)
    canvas.setStrokeGray(0)


def _check(stock: Stock, count: int, printing: Printing) -> None:
    if not 1 <= printing.start <= stock.a_sheet:
        raise OutsideRange(
            "labels.start",
            "printing starts at label {start}, but a sheet of {title} holds {most}; count from 1, left to right and then down",
            start=printing.start, title=stock.title, most=stock.a_sheet,
        )  # fmt: skip
    if max(abs(printing.nudge_right_mm), abs(printing.nudge_down_mm)) > MOST_NUDGE_MM:
        raise OutsideRange(
            "labels.nudge",
            "the print is nudged by {most:length} or more; past that the sheet is another one: choose its own stock",
            most=MOST_NUDGE_MM / 1000,
        )
    if count == 0:
        raise Impossible("labels.none", "there is nothing to print; choose at least one label")
    if count > MOST_LABELS:
        raise OutsideRange(
            "labels.most", "{count} labels are asked for; at most {most} are printed at once", count=count, most=MOST_LABELS
        )
