"""The label of a bath: its strength as large as it goes, what it is, since when, what it does to people. Black and white."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.papers.qr import draw_qr
from bonebench.papers.type import BOLD, PLAIN, largest, lines_of, use_type

WIDTH, HEIGHT = 148 * mm, 105 * mm  # A6 on its side: one label a sheet, or four on an A4
EDGE = 7 * mm
DEFER = "Defer to local codes, the makers' safety sheets and licensed practice."


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


def bath_label(label: BathLabel) -> bytes:
    """Return one label as a PDF; the same label gives the same bytes."""
    use_type()
    out = BytesIO()
    canvas = Canvas(out, pagesize=(WIDTH, HEIGHT), invariant=1)
    canvas.setTitle(f"{label.name}: {label.what}")
    _draw(canvas, label)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _draw(canvas: Canvas, label: BathLabel) -> None:
    canvas.setLineWidth(2)
    canvas.rect(EDGE / 2, EDGE / 2, WIDTH - EDGE, HEIGHT - EDGE)
    side = 27 * mm
    draw_qr(canvas, label.code, WIDTH - EDGE - side, HEIGHT - EDGE - side, side)
    wide = WIDTH - 2 * EDGE - side - 3 * mm
    top = HEIGHT - EDGE - 5 * mm
    canvas.setFont(BOLD, largest(label.name, BOLD, wide, 15))
    canvas.drawString(EDGE, top, label.name)
    canvas.setFont(PLAIN, largest(label.what, PLAIN, wide, 12))
    canvas.drawString(EDGE, top - 6 * mm, label.what)
    big = largest(label.strength, BOLD, wide, 44)
    canvas.setFont(BOLD, big)
    canvas.drawString(EDGE, top - 9 * mm - big * 0.85, label.strength)
    at = top - 13 * mm - big * 0.85
    for line in (label.also, label.made, label.look_by):
        if line:
            canvas.setFont(PLAIN, largest(line, PLAIN, WIDTH - 2 * EDGE, 10))
            canvas.drawString(EDGE, at, line)
            at -= 4.6 * mm
    canvas.setLineWidth(1)
    canvas.line(EDGE, at + 1.5 * mm, WIDTH - EDGE, at + 1.5 * mm)
    _dangers(canvas, label, at - 3 * mm)
    canvas.setFont(PLAIN, 6.5)
    canvas.drawString(EDGE, EDGE - 0.5 * mm, DEFER)


def _dangers(canvas: Canvas, label: BathLabel, at: float) -> None:
    wide = WIDTH - 2 * EDGE
    if label.hazards:
        text = "DANGER: " + "; ".join(label.hazards)
        for line in lines_of(text, BOLD, 9, wide):
            canvas.setFont(BOLD, 9)
            canvas.drawString(EDGE, at, line)
            at -= 4 * mm
    for what, do in label.dangers:
        lines = [(face, line) for face, words in ((BOLD, what), (PLAIN, do)) for line in lines_of(words, face, 7.5, wide)]
        if at - 3.3 * mm * len(lines) < EDGE + 3 * mm:
            # What does not fit is left out whole: half a sentence of a warning is worse than a shorter list.
            break
        for face, line in lines:
            canvas.setFont(face, 7.5)
            canvas.drawString(EDGE, at, line)
            at -= 3.3 * mm
