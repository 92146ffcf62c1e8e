"""Strips to punch, drawn to scale: lay one on plastic and punch through its black discs; and the page that says how to read it."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible, OutsideRange, UnknownName
from bonebench.papers.advice import PUNCH_ADVICE
from bonebench.papers.punch import CHARACTERS, Cell, cell_of, holes_in_words, pattern_of
from bonebench.papers.qr import draw_qr
from bonebench.papers.sheets import DEMO_WORDS, MOST_LABELS, Box
from bonebench.papers.stocks import PAPERS_MM
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of, use_type
from bonebench.shop.identity import read_tag
from bonebench.units import Reader, say


@dataclass(frozen=True, slots=True)
class Holes:
    """How large the holes are and how far apart their middles: ``pitch_mm`` in a cell, ``step_mm`` from one cell to the next."""

    hole_mm: float
    pitch_mm: float
    step_mm: float


# Braille sets its dots 2.34 mm apart in the cell (US Library of Congress, NLS specification 800, 2008, 3.2.3) for trained, bare
# fingers; a fingertip tells bars 0.94 mm wide apart (Van Boven and Johnson 1994, Neurology 44:2361). Bare but untrained, wet and
# cold: three times braille. Gloved: an office punch's 6 mm hole, with as much plastic left between two. # the factors: an estimate
BARE = Holes(hole_mm=3.0, pitch_mm=7.0, step_mm=11.0)
GLOVED = Holes(hole_mm=6.0, pitch_mm=11.0, step_mm=16.0)

EDGE_MM = 6.0  # plastic left between a hole's edge and the strip's: less tears. # common practice, no source
CORD_MM = 6.0
NOTCH_MM = 2.0
CODE_MM = 20.0
TEXT_MM = 6.0
PAGE_EDGE_MM = 8.0
RULER_MM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One tag to punch, with its species where that is known."""

    tag: str
    species: str = ""


def hole_middles_mm(tag: str, holes: Holes) -> list[tuple[float, float]]:
    """Return the middles of a tag's holes, right and down from the place in the top row of the column in front."""
    pattern = pattern_of(tag)
    found = [(0.0, (row - 1) * holes.pitch_mm) for row in sorted(pattern.start)]
    for number, cell in enumerate(pattern.cells):
        left = holes.step_mm + number * (holes.step_mm + holes.pitch_mm)
        found += [(left + holes.pitch_mm * (place > 3), (place - 1) % 3 * holes.pitch_mm) for place in sorted(cell)]
    behind = holes.step_mm + len(pattern.cells) * (holes.step_mm + holes.pitch_mm)
    return found + [(behind, (row - 1) * holes.pitch_mm) for row in sorted(pattern.end)]


def strip_size_mm(tag: str, holes: Holes) -> tuple[float, float]:
    """Return the width and height of the part that is punched: the holes, the plastic round them, the words above."""
    cells = len(read_tag(tag)) - 1
    wide = holes.step_mm + cells * (holes.step_mm + holes.pitch_mm) + holes.hole_mm + 2 * EDGE_MM
    return wide + CORD_MM + EDGE_MM, 2 * holes.pitch_mm + holes.hole_mm + 2 * EDGE_MM + TEXT_MM


def punch_strips(strips: Sequence[Strip], paper: str = "a4", holes: Holes = BARE, *, demo: bool = False) -> bytes:
    """Return strips with their codes on sheets of plain paper, to cut and to punch through; the same strips give the same bytes."""
    if not strips:
        raise Impossible("labels.none", "there is nothing to print; choose at least one label")
    if len(strips) > MOST_LABELS:
        raise OutsideRange(
            "labels.most", "{count} labels are asked for; at most {most} are printed at once", count=len(strips), most=MOST_LABELS
        )
    use_type()
    out = BytesIO()
    page = _page(paper)
    canvas = Canvas(out, pagesize=page, invariant=1)
    canvas.setTitle("Strips to punch")
    edge = PAGE_EDGE_MM * mm
    at = 0.0
    for number, strip in enumerate(strips):
        wide, high = (side * mm for side in strip_size_mm(strip.tag, holes))
        code = min(CODE_MM * mm, high)
        if code + wide > page[0] - 2 * edge:
            raise Impossible(
                "punch.wide",
                "the strip of {tag} is {wide:length} wide with its code, more than the paper has; choose smaller holes",
                tag=strip.tag, wide=(code + wide) / mm / 1000,
            )  # fmt: skip
        if number == 0 or at - high < edge:
            if number:
                canvas.showPage()
            at = _head(canvas, page, demo)
        _strip(canvas, Box(edge, at - high, code + wide, high), strip, holes, code)
        at -= high + 3 * mm
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _page(paper: str) -> tuple[float, float]:
    if paper not in PAPERS_MM:
        raise UnknownName(
            "stock.paper", "there is no paper called {paper}; known are {known}", paper=paper, known=", ".join(PAPERS_MM)
        )
    wide, high = PAPERS_MM[paper]
    return wide * mm, high * mm


def _head(canvas: Canvas, page: tuple[float, float], demo: bool) -> float:
    """Draw the ruler and say what to check; return where the strips begin."""
    left, top = PAGE_EDGE_MM * mm, page[1] - PAGE_EDGE_MM * mm
    canvas.setFillGray(0)
    canvas.setLineWidth(0.8)
    foot = top - 5 * mm
    canvas.line(left, foot, left + RULER_MM * mm, foot)
    for tick in range(int(RULER_MM) + 1):
        canvas.line(left + tick * mm, foot, left + tick * mm, foot + (3 if tick % 10 == 0 else 1.6) * mm)
    words = f"{RULER_MM:g} mm: measure it. Print at full size, never fitted to the page. Cut along the line, punch the black discs."
    text, size = fitted(f"{DEMO_WORDS}   {words}" if demo else words, PLAIN, page[0] - 2 * left - (RULER_MM + 4) * mm, 8)
    canvas.setFont(PLAIN, size)
    canvas.drawString(left + (RULER_MM + 4) * mm, foot + 1 * mm, text)
    return float(foot - 4 * mm)


def _strip(canvas: Canvas, box: Box, strip: Strip, holes: Holes, code: float) -> None:
    tag = read_tag(strip.tag)
    draw_qr(canvas, tag, box.left, box.top - code, code)
    _line(canvas, tag, BOLD, Box(box.left, box.bottom + 0.5 * mm, code, box.height - code - 1 * mm), 14)
    left = box.left + code
    _outline(canvas, Box(left, box.bottom, box.width - code, box.height))
    words = Box(left + 4 * mm, box.top - TEXT_MM * mm, box.width - code - 6 * mm, TEXT_MM * mm - 1 * mm)
    _line(canvas, tag, BOLD, Box(words.left, words.bottom, 26 * mm, words.height), 15)
    beside = f"{holes_in_words(tag)}   {strip.species}".strip()
    _line(canvas, beside, PLAIN, Box(words.left + 27 * mm, words.bottom, words.width - 27 * mm, words.height), 9)
    middle = box.bottom + (box.height - TEXT_MM * mm) / 2
    _cord_hole(canvas, left + (EDGE_MM / 2 + CORD_MM / 2) * mm, middle)
    x = left + (CORD_MM + 1.5 * EDGE_MM + holes.hole_mm / 2) * mm
    y = middle + holes.pitch_mm * mm
    _grid(canvas, x, y, len(tag) - 1, holes)
    _notches(canvas, x, box.bottom, len(tag) - 1, holes)
    canvas.setFillGray(0)
    for right, down in hole_middles_mm(tag, holes):
        canvas.circle(x + right * mm, y - down * mm, holes.hole_mm / 2 * mm, stroke=0, fill=1)


def _line(canvas: Canvas, text: str, face: str, box: Box, most: float) -> None:
    if box.height < 2 * mm or not text:
        return
    words, size = fitted(text, face, box.width, min(most, box.height * 1.2))
    canvas.setFont(face, size)
    canvas.setFillGray(0)
    canvas.drawString(box.left, box.bottom + (box.height - 0.73 * size) / 2, words)


def _outline(canvas: Canvas, box: Box) -> None:
    """Draw the cutting line; the upper corner in front is cut off, so that the strip has a way up even in the dark."""
    cut = 4 * mm
    path = canvas.beginPath()
    path.moveTo(box.left, box.top - cut)
    path.lineTo(box.left + cut, box.top)
    for x, y in ((box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)):
        path.lineTo(x, y)
    path.close()
    canvas.setLineWidth(0.6)
    canvas.drawPath(path)


def _cord_hole(canvas: Canvas, x: float, y: float) -> None:
    canvas.setLineWidth(0.8)
    canvas.circle(x, y, CORD_MM / 2 * mm)
    canvas.setFont(PLAIN, 5)
    canvas.drawCentredString(x, y - 1.8, "cord")


def _grid(canvas: Canvas, x: float, y: float, cells: int, holes: Holes) -> None:
    """Mark the places that have no hole with a grey point."""
    canvas.setFillGray(0.6)
    for cell in range(cells):
        left = holes.step_mm + cell * (holes.step_mm + holes.pitch_mm)
        for right in (left, left + holes.pitch_mm):
            for row in range(3):
                canvas.circle(x + right * mm, y - row * holes.pitch_mm * mm, 0.35 * mm, stroke=0, fill=1)


def _notches(canvas: Canvas, x: float, edge: float, cells: int, holes: Holes) -> None:
    """Draw half a hole on the lower edge between the blocks: the thumb counts along it while the finger feels the block above."""
    canvas.setFillGray(0)
    radius = min(holes.hole_mm / 2, NOTCH_MM) * mm
    for number in range(cells + 1):
        middle = x + (holes.step_mm / 2 + number * (holes.step_mm + holes.pitch_mm)) * mm
        canvas.wedge(middle - radius, edge - radius, middle + radius, edge + radius, 0, 180, stroke=0, fill=1)


def punch_guide(paper: str = "a4", reader: Reader = Reader(), *, demo: bool = False) -> bytes:  # noqa: B008
    """Return the page that hangs on the wall: every character's holes, how to read a strip, what to mind."""
    use_type()
    out = BytesIO()
    page = _page(paper)
    canvas = Canvas(out, pagesize=page, invariant=1)
    canvas.setTitle("How to read the holes")
    left, wide = 14 * mm, page[0] - 28 * mm
    at = page[1] - 20 * mm
    canvas.setFont(BOLD, 22)
    canvas.drawString(left, at, "How to read the holes")
    if demo:
        canvas.setFont(BOLD, 9)
        canvas.drawRightString(left + wide, at, DEMO_WORDS)
    at = _paragraphs(canvas, _HOW, Box(left, 0, wide, at - 5 * mm), 10.5)
    at = _chart(canvas, Box(left, 0, wide, at - 2 * mm))
    at = _paragraphs(canvas, tuple(say(line, reader) for line in PUNCH_ADVICE), Box(left, 0, wide, at - 4 * mm), 9.5, "☐ ")
    canvas.setFont(PLAIN, 8)
    canvas.drawString(left, at - 4 * mm, "This is no braille. The last character checks the others (ISO 7064 MOD 37-2).")
    canvas.showPage()
    canvas.save()
    return out.getvalue()


_HOW = (
    "Hold the strip with the cut corner and the hole for the cord on the left, the cut corner up. First come three holes in a "
    "column, at the far end one alone in the top row. If you feel it otherwise, turn the strip over or round.",
    "Between them each character is a block, two holes wide and three high; half a hole in the lower edge parts one block from "
    "the next. The places of a block are numbered 1, 2, 3 down the left side and 4, 5, 6 down the right. Write down the numbers "
    "of the holes you feel, a space after each block, and type that in; or find the block on this chart.",
    "Count first: a block has one, three or five holes. Two or four means that one is torn or closed.",
)


def _paragraphs(canvas: Canvas, lines: Sequence[str], box: Box, size: float, mark: str = "") -> float:
    canvas.setFillGray(0)
    at = box.top
    for line in lines:
        for part in lines_of(mark + line, PLAIN, size, box.width):
            at -= size * 1.35
            canvas.setFont(PLAIN, size)
            canvas.drawString(box.left, at, part)
        at -= size * 0.5
    return at


def _chart(canvas: Canvas, box: Box) -> float:
    """Draw all characters, eight in a row, over their holes; return where it ends."""
    across, down = box.width / 8, 29 * mm
    for number, character in enumerate(CHARACTERS):
        row, column = divmod(number, 8)
        x, y = box.left + column * across, box.top - row * down
        canvas.setStrokeGray(0.6)
        canvas.setLineWidth(0.4)
        canvas.rect(x, y - 27 * mm, across - 1 * mm, down - 1.5 * mm)
        canvas.setFont(BOLD, 18)
        canvas.setFillGray(0)
        canvas.drawString(x + 1.5 * mm, y - 14 * mm, character)
        canvas.setFont(PLAIN, 7.5)
        canvas.drawCentredString(x + 15.5 * mm, y - 25 * mm, "".join(str(place) for place in sorted(cell_of(character))))
        _block(canvas, x + 12 * mm, y - 5 * mm, cell_of(character))
    return float(box.top - 4 * down)


def _block(canvas: Canvas, x: float, y: float, cell: Cell) -> None:
    for place in range(1, 7):
        middle = x + (place > 3) * BARE.pitch_mm * mm, y - (place - 1) % 3 * BARE.pitch_mm * mm
        if place in cell:
            canvas.setFillGray(0)
            canvas.circle(*middle, BARE.hole_mm / 2 * mm, stroke=0, fill=1)
        else:
            canvas.setFillGray(0.6)
            canvas.circle(*middle, 0.35 * mm, stroke=0, fill=1)
