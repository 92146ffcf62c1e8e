"""Plain pages: words run on from page to page, nothing is cut apart that is read together, every page says which it is."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import UnknownName
from bonebench.papers.sheets import DEMO_WORDS, Box
from bonebench.papers.stocks import PAPERS_MM
from bonebench.papers.type import BOLD, PLAIN, fitted, lines_of, use_type

EDGE = 14 * mm
HEAD = 9 * mm
FOOT = 8 * mm
LEADING = 1.3
DEFER_WORDS = "Defer to local codes and licensed practice."


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph: its face and size, how far it is set in, and what stands in front of its first line."""

    text: str
    size: float = 10.0
    face: str = PLAIN
    indent: float = 0.0
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Frame:
    """What every page says: the title and a line at its head, words at its foot."""

    title: str
    line: str = ""
    foot: str = DEFER_WORDS
    demo: bool = False


def page_of(paper: str) -> tuple[float, float]:
    """Return the size of a paper in points, and say which there are where it is not one."""
    if paper not in PAPERS_MM:
        raise UnknownName(
            "stock.paper", "there is no paper called {paper}; known are {known}", paper=paper, known=", ".join(PAPERS_MM),
            could_be=tuple(PAPERS_MM),
        )  # fmt: skip
    wide, high = PAPERS_MM[paper]
    return wide * mm, high * mm


class Flow:
    """The pages while they are written; ``at`` is where the next line begins."""

    def __init__(self, canvas: Canvas, page: tuple[float, float], frame: Frame, pages: int) -> None:
        self.canvas = canvas
        self.left = EDGE
        self.width = page[0] - 2 * EDGE
        self._page = page
        self._frame = frame
        self._pages = pages
        self.number = 0
        self.at = 0.0
        self.new_page()

    @property
    def bottom(self) -> float:
        """Where the page ends for words."""
        return float(EDGE + FOOT)

    def new_page(self) -> None:
        """Begin a page."""
        if self.number:
            self.canvas.showPage()
        self.number += 1
        top = self._page[1] - EDGE
        self.canvas.setFillGray(0)
        self.canvas.setStrokeGray(0)
        of = f"page {self.number} of {self._pages}" if self._pages > 1 else ""
        right = " · ".join(words for words in (DEMO_WORDS if self._frame.demo else "", of) if words)
        wide = self.line(right, 8.5, BOLD, right=True, y=top - 12) if right else 0.0
        text, size = fitted(self._frame.title, BOLD, self.width - wide - 4 * mm, 17.0, 9.0)
        self.canvas.setFont(BOLD, size)
        self.canvas.drawString(self.left, top - 14, text)
        self.at = top - 17
        if self._frame.line:
            text, size = fitted(self._frame.line, PLAIN, self.width, 9.0, 6.0)
            self.canvas.setFont(PLAIN, size)
            self.canvas.drawString(self.left, self.at - 9, text)
            self.at -= 12
        self.rule(1.0)
        foot = (DEMO_WORDS + ". " if self._frame.demo else "") + self._frame.foot
        self.line(foot, 7.5, PLAIN, y=EDGE)
        self.at -= 3 * mm

    def line(self, text: str, size: float, face: str = PLAIN, *, right: bool = False, y: float = 0.0) -> float:
        """Draw one line at a height of the page, and return its width."""
        words, fits = fitted(text, face, self.width, size, 5.0)
        self.canvas.setFont(face, fits)
        wide = float(self.canvas.stringWidth(words, face, fits))
        self.canvas.drawString(self.left + (self.width - wide if right else 0.0), y, words)
        return wide

    def rule(self, width: float = 0.4) -> None:
        """Draw a line across."""
        self.canvas.setLineWidth(width)
        self.canvas.line(self.left, self.at - 2, self.left + self.width, self.at - 2)
        self.at -= 3

    def space(self, high: float) -> None:
        """Leave some white."""
        self.at -= high

    def needs(self, high: float) -> None:
        """Begin a page where so much has no room on this one; what is higher than a page begins one and runs on."""
        room = self._page[1] - 2 * EDGE - HEAD - FOOT
        if self.at - min(high, room) < self.bottom:
            self.new_page()

    def laid(self, words: Words, width: float | None = None) -> list[str]:
        """Return the lines a paragraph takes."""
        wide = (width if width is not None else self.width) - words.indent
        return lines_of(f"{words.mark}{words.text}", words.face, words.size, wide)

    def high(self, paragraphs: Sequence[Words], width: float | None = None) -> float:
        """Return how high paragraphs are."""
        return sum(len(self.laid(words, width)) * words.size * LEADING for words in paragraphs)

    def write(self, *paragraphs: Words, keep: float = 0.0) -> None:
        """Write paragraphs that are kept together, with so much of what follows."""
        self.needs(self.high(paragraphs) + keep)
        for words in paragraphs:
            for text in self.laid(words):
                if self.at - words.size * LEADING < self.bottom:
                    self.new_page()
                self.canvas.setFillGray(0)
                self.canvas.setFont(words.face, words.size)
                self.at -= words.size * LEADING
                self.canvas.drawString(self.left + words.indent, self.at + 0.25 * words.size, text)

    def box(self, x: float, y: float, side: float) -> None:
        """Draw a box to tick."""
        self.canvas.setLineWidth(0.9)
        self.canvas.setStrokeGray(0)
        self.canvas.rect(x, y, side, side)

    def blank(self, label: str, box: Box, size: float = 8.0) -> None:
        """Draw a label and a line to write on up to the right edge of a box; the label stands on the line."""
        text, fits = fitted(label, PLAIN, box.width * 0.8, size, 5.0)
        self.canvas.setFont(PLAIN, fits)
        self.canvas.setFillGray(0)
        self.canvas.drawString(box.left, box.bottom + 1.5, text)
        start = box.left + self.canvas.stringWidth(text, PLAIN, fits) + 1.5 * mm
        self.canvas.setLineWidth(0.4)
        self.canvas.line(start, box.bottom, box.right - 1 * mm, box.bottom)


Write = Callable[[Flow], None]


def on_pages(frame: Frame, paper: str, *writes: Write) -> bytes:
    """Return a PDF; each of ``writes`` begins a page and numbers its own. The same words give the same bytes.

    Everything is laid out once to count its pages and once to be kept.
    """
    use_type()
    page = page_of(paper)
    counted = [_written(Canvas(BytesIO(), pagesize=page), frame, page, write, 99) for write in writes]
    out = BytesIO()
    canvas = Canvas(out, pagesize=page, invariant=1, pageCompression=1)
    canvas.setTitle(frame.title)
    for write, pages in zip(writes, counted, strict=True):
        _written(canvas, frame, page, write, pages)
    canvas.save()
    return out.getvalue()


def _written(canvas: Canvas, frame: Frame, page: tuple[float, float], write: Write, pages: int) -> int:
    flow = Flow(canvas, page, frame, pages)
    write(flow)
    canvas.showPage()
    return flow.number
