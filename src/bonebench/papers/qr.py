"""QR codes as plain squares, at the highest correction there is: a quarter of it may be dirt."""

import segno
from reportlab.pdfgen.canvas import Canvas


def draw_qr(canvas: Canvas, text: str, left: float, bottom: float, side: float) -> None:
    """Draw a code with its quiet border of four modules inside a square."""
    matrix = tuple(segno.make(text, error="h", micro=False).matrix)
    size = len(matrix) + 8
    module = side / size
    canvas.setFillGray(0)
    for row, line in enumerate(matrix):
        for column, dark in enumerate(line):
            if dark:
                canvas.rect(
                    left + (column + 4) * module, bottom + side - (row + 5) * module, module * 1.02, module * 1.02, stroke=0, fill=1
                )
