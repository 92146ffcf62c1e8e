"""QR codes (ISO/IEC 18004) as plain squares, at the highest correction there is: level H restores about 30 % of the codewords."""

import hashlib
from functools import lru_cache
from itertools import groupby

import segno
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible

QUIET = 4  # modules of white all round, as the standard asks
# Below this a phone must come so near that it cannot focus, and a speck covers whole modules. # common practice, no source
LEAST_MODULE_MM = 0.33
GOOD_MODULE_MM = 0.4  # read from a hand's breadth with something to spare. # common practice, no source

Matrix = tuple[tuple[bool, ...], ...]


@lru_cache(maxsize=256)
def matrix_of(text: str) -> Matrix:
    """Return the modules of a code, True where dark."""
    return tuple(tuple(bool(dark) for dark in line) for line in segno.make(text, error="h", micro=False, boost_error=False).matrix)


def least_side_mm(text: str) -> float:
    """Return the smallest square, with its white border, in which a code of this text may be printed."""
    return (len(matrix_of(text)) + 2 * QUIET) * LEAST_MODULE_MM


def draw_qr(canvas: Canvas, text: str, left: float, bottom: float, side: float) -> None:
    """Draw a code with its quiet border of four modules inside a square; a square too small to be read is refused."""
    matrix = matrix_of(text)
    module = side / (len(matrix) + 2 * QUIET)
    if module < LEAST_MODULE_MM * mm * 0.999:
        raise Impossible(
            "labels.code_small",
            "the code of {text} has no room: it needs a square of {least:length} and has {side:length}; choose a larger label",
            text=text, least=least_side_mm(text) / 1000, side=side / mm / 1000,
        )  # fmt: skip
    canvas.saveState()
    canvas.translate(left + QUIET * module, bottom + QUIET * module)
    canvas.scale(module, module)
    # The code is kept once in the file and put wherever it stands: a sheet of labels is a quarter as large and as long to write.
    name = f"code-{hashlib.sha256(text.encode()).hexdigest()[:24]}"
    if not canvas.hasForm(name):
        _draw_modules(canvas, matrix, name)
    canvas.doForm(name)
    canvas.restoreState()


def _draw_modules(canvas: Canvas, matrix: Matrix, name: str) -> None:
    """Draw the modules one point wide, each run of dark ones as one bar."""
    side = len(matrix)
    canvas.beginForm(name, 0, 0, side, side + 0.02)
    canvas.setFillGray(0)
    for row, line in enumerate(matrix):
        at = 0
        for dark, run in groupby(line):
            length = len(list(run))
            if dark:
                # A hair of overlap, so that no printer leaves a white line between the rows.
                canvas.rect(at, side - row - 1, length, 1.02, stroke=0, fill=1)
            at += length
    canvas.endForm()
