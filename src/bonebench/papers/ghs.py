"""Which signal word and which pictogram a hazard code of the GHS brings, and our own drawings of those standard signs.

United Nations, Globally Harmonized System of Classification and Labelling of Chemicals (GHS), annexes 1 and 3. # from memory
Inside a room a black frame is common; labels for trade need a red one: these labels are not for trade.
"""

import math
import re
from collections.abc import Callable, Iterable

from reportlab.pdfgen.canvas import Canvas

# code: (signal word, pictogram); H272 and H314 also by their category, where both words exist the louder stands. # from memory
CODES = {
    "EUH031": ("", ""),
    "EUH206": ("", ""),
    "H225": ("DANGER", "flame"),
    "H226": ("WARNING", "flame"),
    "H271": ("DANGER", "flame over circle"),
    "H272": ("DANGER", "flame over circle"),
    "H302": ("WARNING", "exclamation mark"),
    "H304": ("DANGER", "health hazard"),
    "H314": ("DANGER", "corrosion"),
    "H315": ("WARNING", "exclamation mark"),
    "H317": ("WARNING", "exclamation mark"),
    "H318": ("DANGER", "corrosion"),
    "H319": ("WARNING", "exclamation mark"),
    "H332": ("WARNING", "exclamation mark"),
    "H334": ("DANGER", "health hazard"),
    "H335": ("WARNING", "exclamation mark"),
    "H336": ("WARNING", "exclamation mark"),
    "H372": ("DANGER", "health hazard"),
    "H412": ("", ""),
}
# What brings an exclamation mark for another reason than skin, eyes or a skin allergy.
_OTHER_THAN_SKIN = {"H302", "H332", "H335", "H336"}


def codes_in(hazards: Iterable[str]) -> tuple[str, ...]:
    """Return the hazard codes that stand in words such as ``Serious eye damage (H318)``."""
    return tuple(code for text in hazards for code in re.findall(r"\b(?:EU)?H\d{3}\b", text))


def signal_of(hazards: Iterable[str]) -> str:
    """Return the louder of the signal words, DANGER for a code that is not known here, none where no code stands."""
    words = {CODES.get(code, ("DANGER", ""))[0] for code in codes_in(hazards)} - {""}
    return "DANGER" if "DANGER" in words else "WARNING" if words else ""


def pictograms_of(hazards: Iterable[str]) -> tuple[str, ...]:
    """Return the pictograms, each once.

    Where corrosion stands, or the sign of health for an allergy of the lungs (H334), skin and eyes bring no exclamation
    mark beside it (GHS 1.4.10.5.3.1). # from memory
    """
    codes = set(codes_in(hazards))
    found = {CODES[code][1]: None for code in codes_in(hazards) if code in CODES and CODES[code][1]}
    if ("corrosion" in found or "H334" in codes) and not _OTHER_THAN_SKIN & codes:
        found.pop("exclamation mark", None)
    return tuple(found)


def draw_pictogram(canvas: Canvas, name: str, left: float, bottom: float, side: float) -> None:
    """Draw one pictogram, black in a black diamond, inside a square."""
    canvas.saveState()
    canvas.translate(left, bottom)
    canvas.scale(side / 100, side / 100)
    canvas.setLineWidth(5)
    canvas.setLineJoin(0)
    canvas.setStrokeGray(0)
    canvas.setFillGray(0)
    frame = canvas.beginPath()
    frame.moveTo(50, 3.6)
    frame.lineTo(96.4, 50)
    frame.lineTo(50, 96.4)
    frame.lineTo(3.6, 50)
    frame.close()
    canvas.drawPath(frame)
    _SIGNS[name](canvas)
    canvas.restoreState()


def _exclamation(canvas: Canvas) -> None:
    path = canvas.beginPath()
    path.moveTo(47.2, 38)
    path.lineTo(43.2, 70)
    path.curveTo(42.4, 82, 57.6, 82, 56.8, 70)
    path.lineTo(52.8, 38)
    path.curveTo(52, 36, 48, 36, 47.2, 38)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.circle(50, 25.5, 6.2, stroke=0, fill=1)


def _flame(canvas: Canvas, *, foot: float = 26, high: float = 50) -> None:
    """Draw a flame with three tongues, standing on ``foot``; drawn in a box 60 wide and 100 high, then scaled."""
    canvas.saveState()
    canvas.translate(50, foot)
    canvas.scale(high / 100, high / 100)
    path = canvas.beginPath()
    path.moveTo(-14, 0)
    path.curveTo(-40, 10, -44, 38, -28, 58)
    path.curveTo(-27, 48, -24, 43, -20, 40)
    path.curveTo(-22, 62, -14, 84, 6, 100)
    path.curveTo(1, 82, 8, 72, 16, 60)
    path.curveTo(20, 53, 21, 48, 20, 42)
    path.curveTo(26, 47, 29, 54, 29, 62)
    path.curveTo(44, 40, 40, 10, 14, 0)
    path.curveTo(24, 12, 22, 24, 14, 32)
    path.curveTo(14, 26, 12, 22, 8, 19)
    path.curveTo(8, 32, 4, 42, -6, 50)
    path.curveTo(-4, 38, -8, 32, -14, 26)
    path.curveTo(-20, 18, -20, 8, -14, 0)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.restoreState()


def _flame_sign(canvas: Canvas) -> None:
    _flame(canvas, foot=30, high=50)
    canvas.rect(32, 24, 36, 4, stroke=0, fill=1)


def _oxidiser(canvas: Canvas) -> None:
    canvas.setLineWidth(5)
    canvas.circle(50, 36, 11.5, stroke=1, fill=0)
    canvas.rect(39, 19, 22, 3.5, stroke=0, fill=1)
    _flame(canvas, foot=45, high=38)


def _corrosion(canvas: Canvas) -> None:
    """Draw two tubes that drip, one on a bar and one on a hand, and what the drops have eaten away."""
    canvas.translate(50 - 0.84 * 52, 50 - 0.84 * 50)
    canvas.scale(0.84, 0.84)
    for x, y in ((35.0, 68.0), (62.0, 68.0)):
        _tube(canvas, x, y, -28)
    for x, y in ((44.5, 53.0), (44.5, 44.5), (71.5, 53.0), (71.5, 44.5)):
        _drop(canvas, x, y)
    bar = canvas.beginPath()
    bar.moveTo(24, 30)
    for x, y in ((49, 30), (49, 39), (47.5, 39), (46, 35.5), (44.5, 37), (43, 34), (41, 36), (39.5, 39), (24, 39)):
        bar.lineTo(float(x), float(y))
    bar.close()
    canvas.drawPath(bar, stroke=0, fill=1)
    hand = canvas.beginPath()
    hand.moveTo(52, 27)
    hand.curveTo(56, 36, 58, 40, 63, 40)
    for x, y in ((67.5, 40), (69.5, 36), (71.5, 37.5), (73, 34.5), (75, 36)):
        hand.lineTo(float(x), float(y))
    hand.curveTo(79.5, 37, 80, 32.5, 76, 32)
    hand.lineTo(66, 31)
    hand.curveTo(64, 27, 61, 24, 57, 21)
    hand.close()
    canvas.drawPath(hand, stroke=0, fill=1)


def _health(canvas: Canvas) -> None:
    """Draw a head and shoulders in black with a white star of six points on the breast."""
    canvas.circle(50, 71.5, 8.6, stroke=0, fill=1)
    bust = canvas.beginPath()
    bust.moveTo(33, 24)
    bust.curveTo(31, 36, 29, 48, 31, 56)
    bust.curveTo(34, 62, 43, 61, 46.5, 63)
    bust.lineTo(53.5, 63)
    bust.curveTo(57, 61, 66, 62, 69, 56)
    bust.curveTo(71, 48, 69, 36, 67, 24)
    bust.close()
    canvas.drawPath(bust, stroke=0, fill=1)
    star = canvas.beginPath()
    for point in range(12):
        reach = 15.5 if point % 2 == 0 else 4.6
        x, y = 50 + reach * math.sin(point * math.pi / 6), 43 + reach * math.cos(point * math.pi / 6)
        (star.lineTo if point else star.moveTo)(x, y)
    star.close()
    canvas.setFillGray(1)
    canvas.drawPath(star, stroke=0, fill=1)


def _tube(canvas: Canvas, x: float, y: float, turn: float) -> None:
    canvas.saveState()
    canvas.translate(x, y)
    canvas.rotate(turn)
    canvas.setLineWidth(2.2)
    canvas.roundRect(-13, -4.5, 26, 9, 4, stroke=1, fill=0)
    canvas.rect(-5, -3.4, 16, 4.4, stroke=0, fill=1)
    canvas.restoreState()


def _drop(canvas: Canvas, x: float, y: float) -> None:
    path = canvas.beginPath()
    path.moveTo(x, y + 5)
    path.curveTo(x + 3.5, y + 0.5, x + 2.5, y - 2, x, y - 2)
    path.curveTo(x - 2.5, y - 2, x - 3.5, y + 0.5, x, y + 5)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


_SIGNS: dict[str, Callable[[Canvas], None]] = {
    "exclamation mark": _exclamation,
    "flame": _flame_sign,
    "flame over circle": _oxidiser,
    "corrosion": _corrosion,
    "health hazard": _health,
}
