"""The label of a bath: its strength as large as it goes, what it is, since when, what it does to people. Black and white."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible
from bonebench.papers.ghs import draw_pictogram, pictograms_of, signal_of
from bonebench.papers.qr import GOOD_MODULE_MM, LEAST_MODULE_MM, draw_qr, least_side_mm
from bonebench.papers.sheets import AS_IS, Box, Draw, Printing, on_sheets
from bonebench.papers.stocks import Stock, stock_of
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of

ONE_A_SHEET = "roll-148x105"  # A6 on its side
DEFER = "Defer to local codes, the makers' safety sheets and licensed practice. For this room only, not for trade."
LEAST_WIDTH, LEAST_HEIGHT = 94 * mm, 60 * mm
PAD = 2.5 * mm
SIZES = (7.5, 7.0, 6.5, 6.0)  # of the cautions: the class and the first aid are larger
LEADING = 1.25
# For supply: 16 mm up to 3 litres, 23 mm up to 50 (Regulation (EC) 1272/2008, annex I, 1.2.1). # from memory
SIGN = 23 * mm


@dataclass(frozen=True, slots=True)
class BathLabel:
    """What stands on a bath's label; everything is words already, in the reader's units.

    ``hazards`` are its classes with their codes, ``dangers`` the loudest cautions, each what and what to do.
    """

    name: str
    what: str
    strength: str
    also: str
    made: str
    look_by: str
    hazards: Sequence[str]
    dangers: Sequence[tuple[str, str]]
    code: str
    first_aid: str = ""


def bath_label(label: BathLabel, *, demo: bool = False) -> bytes:
    """Return one label as a PDF of its own size; the same label gives the same bytes."""
    return bath_labels([label], stock_of(ONE_A_SHEET), Printing(demo=demo))


def bath_labels(labels: Sequence[BathLabel], stock: Stock, printing: Printing = AS_IS) -> bytes:
    """Return labels on sheets of a stock; one too small for the hazards is refused."""
    title = f"{labels[0].name}: {labels[0].what}" if len(labels) == 1 else "Baths"
    return on_sheets(title, stock, [_drawing(label) for label in labels], printing)


def _drawing(label: BathLabel) -> Draw:
    return lambda canvas, box: _turned(canvas, box, label)


def _turned(canvas: Canvas, box: Box, label: BathLabel) -> None:
    """Draw the label lengthwise: on a stock that stands upright it is turned by a quarter."""
    if box.height > box.width:
        canvas.translate(box.left, box.top)
        canvas.rotate(-90)
        box = Box(0, 0, box.height, box.width)
    if box.width < LEAST_WIDTH or box.height < LEAST_HEIGHT:
        raise _too_small(label)
    _draw(canvas, box, label)


def _too_small(label: BathLabel) -> Impossible:
    return Impossible(
        "bath_label.small",
        "the label of {name} must show its strength and all its hazards at arm's length; it needs {wide:length} by {high:length} "
        "or more: choose a larger stock",
        name=label.name, wide=LEAST_WIDTH / mm / 1000, high=LEAST_HEIGHT / mm / 1000,
    )  # fmt: skip


def _draw(canvas: Canvas, box: Box, label: BathLabel) -> None:
    canvas.setLineWidth(2)
    canvas.rect(box.left + 1, box.bottom + 1, box.width - 2, box.height - 2)
    inner = box.inside(PAD)
    at = _identity(canvas, inner, label)
    canvas.setLineWidth(1)
    canvas.line(inner.left, at, inner.right, at)
    foot = _foot(canvas, inner, label)
    _dangers(canvas, Box(inner.left, foot, inner.width, at - foot), label)


def _identity(canvas: Canvas, box: Box, label: BathLabel) -> float:
    """Draw name, strength and dates, with the code on the right, twice where that can be read; return where they end."""
    high = 0.45 * box.height
    twice = high / 2 >= GOOD_MODULE_MM / LEAST_MODULE_MM * least_side_mm(label.code) * mm
    side = high / 2 if twice else min(high, 0.3 * box.width)
    for number in range(2 if twice else 1):
        draw_qr(canvas, label.code, box.right - side, box.top - side * (number + 1), side)
    beside = box.width - side - 2 * mm
    codes_end = box.top - side * (2 if twice else 1)
    small = high / 9.5
    at = box.top
    for text, face, size in (
        (label.name, BOLD, 1.35 * small),
        (label.what, PLAIN, 1.0 * small),
        (label.strength, BOLD, 3.4 * small),
        (label.also, PLAIN, 0.82 * small),
        (label.made, PLAIN, 0.82 * small),
        (label.look_by, BOLD, 0.95 * small),
    ):
        wide = beside if at > codes_end else box.width
        at = _line(canvas, text, face, size, Box(box.left, 0, wide, at))
    return float(min(at, codes_end) - 1 * mm)


def _line(canvas: Canvas, text: str, face: str, most: float, box: Box) -> float:
    if not text:
        return box.height
    words, size = fitted(text, face, box.width, most, 6.0)
    canvas.setFillGray(0)
    canvas.setFont(face, size)
    canvas.drawString(box.left, box.top - 0.95 * size, words)
    return float(box.height - 1.2 * size)


def _foot(canvas: Canvas, box: Box, label: BathLabel) -> float:
    """Draw whom to heed and the first aid, from the foot up; return where they begin."""
    words, size = fitted(DEFER, PLAIN, box.width, 6.5, 4.5)
    canvas.setFont(PLAIN, size)
    canvas.drawString(box.left, box.bottom + 1, words)
    at = box.bottom + 1.4 * size
    if label.first_aid:
        size = 8.0 if box.height > 75 * mm else 6.5
        lines = lines_of(f"FIRST AID  {label.first_aid}", BOLD, size, box.width - 2 * mm)
        high = len(lines) * size * 1.2 + 3
        canvas.setLineWidth(0.8)
        canvas.rect(box.left, at, box.width, high)
        canvas.setFont(BOLD, size)
        for number, line in enumerate(lines, 1):
            canvas.drawString(box.left + 1 * mm, at + high - number * size * 1.2 + 0.5, line)
        at += high + 2
    return at


def _dangers(canvas: Canvas, box: Box, label: BathLabel) -> None:
    """Draw signal word, classes and signs, then as many cautions as fit whole: half a warning is worse than a shorter list."""
    at, signs_end, wide = _classes(canvas, box, label)
    if min(at, signs_end) - SIZES[-1] * LEADING * bool(label.dangers) < box.bottom:
        raise _too_small(label)
    laid = [_laid(label.dangers, size, (at, signs_end, box.bottom), (wide, box.width)) for size in SIZES]
    lines, left_out = min(laid, key=lambda one: one[1])  # the largest of those that leave out least
    if left_out:
        end, size = (lines[-1][3], lines[-1][1]) if lines else (at, SIZES[-1])
        lines = [*lines, (BOLD, size, f"{left_out} more: scan the code before you work here.", end - size * LEADING)]
    for face, size, line, foot in lines:
        canvas.setFont(face, size)
        canvas.drawString(box.left, foot + (LEADING - 1) * size, line)


_Line = tuple[str, float, str, float]  # face, size, words, foot


def _laid(
    dangers: Sequence[tuple[str, str]], size: float, ends: tuple[float, float, float], widths: tuple[float, float]
) -> tuple[list[_Line], int]:
    """Set cautions from the first down, beside the signs or below them; return the lines and how many cautions had no room."""
    at, signs_end, bottom = ends
    high = size * LEADING
    laid: list[_Line] = []
    for number, (what, do) in enumerate(dangers):
        keep = high * (number + 1 < len(dangers))  # the last line is kept for saying that there is more
        for start in (at, min(at, signs_end)):
            room = widths[0] if start > signs_end else widths[1]
            lines = [(face, line) for face, words in ((BOLD, what), (PLAIN, do)) for line in lines_of(words, face, size, room)]
            if start - high * len(lines) - keep >= bottom:
                laid += [(face, size, line, start - high * row) for row, (face, line) in enumerate(lines, 1)]
                at = start - high * len(lines)
                break
        else:
            return laid, len(dangers) - number
    return laid, 0


def _classes(canvas: Canvas, box: Box, label: BathLabel) -> tuple[float, float, float]:
    """Draw the classes and the signs; return where the words end, where the signs end, and the width beside the signs."""
    signal, signs = signal_of(label.hazards), pictograms_of(label.hazards)
    side = min(SIGN, 0.5 * box.height)
    wide = box.width - len(signs) * (side + 1 * mm)
    top = box.top - 1 * mm
    for number, sign in enumerate(signs):
        draw_pictogram(canvas, sign, box.right - (number + 1) * (side + 1 * mm) + 1 * mm, top - side, side)
    canvas.setFillGray(0)
    at = top
    size = 9.0 if box.height > 30 * mm else 7.5
    classes = "; ".join(label.hazards)
    for line in lines_of(f"{signal}: {classes}" if signal else classes, BOLD, size, wide):
        canvas.setFont(BOLD, size)
        canvas.drawString(box.left, at - size, line)
        at -= 1.25 * size
    return at, top - side if signs else at, wide
