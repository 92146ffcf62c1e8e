"""The two faces every paper is set in, embedded, so that accents and signs come out on any printer."""

from functools import lru_cache
from importlib.resources import as_file, files

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN = "Bench"
BOLD = "BenchBold"


@lru_cache(maxsize=1)
def use_type() -> None:
    """Make the faces known to the writer of PDFs, once."""
    for name, file in ((PLAIN, "DejaVuSans.ttf"), (BOLD, "DejaVuSans-Bold.ttf")):
        with as_file(files("bonebench.papers") / "fonts" / file) as path:
            pdfmetrics.registerFont(TTFont(name, str(path)))


def unset(text: str) -> str:
    """Return the signs of a text that the faces do not have, each once; a box stands for them on paper."""
    use_type()
    known = pdfmetrics.getFont(PLAIN).face.charToGlyph
    return "".join(dict.fromkeys(sign for sign in text if not sign.isspace() and ord(sign) not in known))


def lines_of(text: str, face: str, size: float, width: float) -> list[str]:
    """Break a text into lines that fit a width; a single word that does not fit is broken."""
    found: list[str] = []
    line = ""
    for whole in text.split():
        word = whole
        longer = f"{line} {word}".strip()
        if pdfmetrics.stringWidth(longer, face, size) <= width:
            line = longer
            continue
        if line:
            found.append(line)
        while pdfmetrics.stringWidth(word, face, size) > width and len(word) > 1:
            cut = next(n for n in range(len(word), 0, -1) if pdfmetrics.stringWidth(word[:n], face, size) <= width or n == 1)
            found.append(word[:cut])
            word = word[cut:]
        line = word
    return [*found, line] if line else found


def largest(text: str, face: str, width: float, most: float, least: float = 5.0) -> float:
    """Return the largest size at which a text fits on one line of a width."""
    per_point = pdfmetrics.stringWidth(text, face, 1.0)
    return max(least, min(most, width / per_point if per_point else most))


def fitted(text: str, face: str, width: float, most: float, least: float = 5.0) -> tuple[str, float]:
    """Return a text and the size at which it stays inside a width: smaller first, and past ``least`` shortened with an ellipsis."""
    text = " ".join(text.split())
    size = largest(text, face, width, most, least)
    if pdfmetrics.stringWidth(text, face, size) <= width * 1.0001:
        return text, size
    keep = len(text)
    while keep and pdfmetrics.stringWidth(text[:keep].rstrip() + "…", face, size) > width:
        keep -= 1
    return (text[:keep].rstrip() + "…" if keep else ""), size
