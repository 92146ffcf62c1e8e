"""Label stocks by their generic sizes: what the paper is, and where the labels sit on it.

Sizes are millimetres, as stocks are sold; a stock in inches is written in inches. A sheet whose margins are not given is centred,
as all of the common ones are. Every size here is from memory of sizes sold under many names: print one sheet with outlines on
plain paper first, and hold it against the labels.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from bonebench.errors import Impossible, UnknownName

INCH_MM = 25.4
# Printers leave the edge of a sheet white: 4.2 mm (a sixth of an inch) is common. # from memory
WHITE_EDGE_MM = 5.0
ROLL_EDGE_MM = 1.0
# Sheets feed a little askew and labels are die-cut a little off. # common practice, no source
INSET_MM = 1.5
PAPERS_MM: Mapping[str, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (8.5 * INCH_MM, 11 * INCH_MM)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One kind of label sheet, or of roll where ``paper`` is None: then each label is a page of its own.

    ``across_mm`` and ``down_mm`` run from the start of one label to the start of the next.
    """

    key: str
    title: str
    paper: str | None
    columns: int = 1
    rows: int = 1
    width_mm: float
    height_mm: float
    across_mm: float = 0.0
    down_mm: float = 0.0
    left_mm: float | None = None
    top_mm: float | None = None

    def __post_init__(self) -> None:
        if self.paper is not None and self.paper not in PAPERS_MM:
            raise UnknownName(
                "stock.paper", "there is no paper called {paper}; known are {known}", paper=self.paper, known=", ".join(PAPERS_MM)
            )
        if min(self.columns, self.rows) < 1 or min(self.width_mm, self.height_mm) <= 0:
            raise Impossible("stock.size", "label stock {title}: a sheet needs labels, and a label a size", title=self.title)
        wide, high = self.used_mm
        left, top = self.margins_mm
        if min(left, top) < -0.05 or left + wide > self.page_mm[0] + 0.05 or top + high > self.page_mm[1] + 0.05:
            raise Impossible(
                "stock.beyond",
                "label stock {title}: its labels take {wide:length} by {high:length} with their margins, more than the sheet has; "
                "measure from the start of one label to the start of the next",
                title=self.title, wide=(left + wide) / 1000, high=(top + high) / 1000,
            )  # fmt: skip
        if (self.columns > 1 and self.across_mm < self.width_mm) or (self.rows > 1 and self.down_mm < self.height_mm):
            raise Impossible(
                "stock.overlap", "label stock {title}: the next label would start before this one ends", title=self.title
            )

    @property
    def page_mm(self) -> tuple[float, float]:
        """Width and height of what goes through the printer."""
        return PAPERS_MM[self.paper] if self.paper is not None else (self.width_mm, self.height_mm)

    @property
    def used_mm(self) -> tuple[float, float]:
        """From the first label's start to the last one's end, both ways."""
        return (self.columns - 1) * self.across_mm + self.width_mm, (self.rows - 1) * self.down_mm + self.height_mm

    @property
    def margins_mm(self) -> tuple[float, float]:
        """Left of the first label and above it."""
        wide, high = self.used_mm
        return (
            (self.page_mm[0] - wide) / 2 if self.left_mm is None else self.left_mm,
            (self.page_mm[1] - high) / 2 if self.top_mm is None else self.top_mm,
        )

    @property
    def a_sheet(self) -> int:
        """How many labels a sheet holds."""
        return self.columns * self.rows


def _a4(columns: int, rows: int, width: float, height: float, *, gap: float = 0.0) -> Stock:
    size = f"{width:g} x {height:g} mm"
    return Stock(
        key=f"a4-{columns}x{rows}-{width:g}x{height:g}", title=f"A4, {columns} x {rows} of {size}", paper="a4", columns=columns,
        rows=rows, width_mm=width, height_mm=height, across_mm=width + gap, down_mm=height,
    )  # fmt: skip


def _letter(columns: int, rows: int, high: tuple[str, float], wide: tuple[str, float], gap: float = 0.0) -> Stock:
    return Stock(
        key=f"letter-{columns}x{rows}", title=f"US Letter, {high[0]} x {wide[0]} in, {columns * rows} a sheet", paper="letter",
        columns=columns, rows=rows, width_mm=wide[1] * INCH_MM, height_mm=high[1] * INCH_MM,
        across_mm=(wide[1] + gap) * INCH_MM, down_mm=high[1] * INCH_MM,
    )  # fmt: skip


def _roll(width: float, height: float) -> Stock:
    return Stock(
        key=f"roll-{width:g}x{height:g}", title=f"roll, {width:g} x {height:g} mm", paper=None, width_mm=width, height_mm=height
    )


# All sizes and gaps # from memory
STOCKS: Mapping[str, Stock] = {
    stock.key: stock
    for stock in (
        _a4(2, 2, 105, 148.5),
        _a4(1, 2, 210, 148.5),
        _a4(2, 4, 99.1, 67.7, gap=2.5),
        _a4(2, 7, 99.1, 38.1, gap=2.5),
        _a4(3, 7, 63.5, 38.1, gap=2.5),
        _a4(3, 8, 63.5, 33.9, gap=2.5),
        _a4(3, 8, 70, 37),
        _a4(4, 10, 48.5, 25.4),
        _a4(5, 13, 38.1, 21.2, gap=2.5),
        _letter(1, 2, ("5 1/2", 5.5), ("8 1/2", 8.5)),
        _letter(2, 3, ("3 1/3", 10 / 3), ("4", 4.0), 3 / 16),
        _letter(2, 5, ("2", 2.0), ("4", 4.0), 3 / 16),
        _letter(2, 10, ("1", 1.0), ("4", 4.0), 3 / 16),
        _letter(3, 10, ("1", 1.0), ("2 5/8", 2.625), 1 / 8),
        _letter(4, 20, ("1/2", 0.5), ("1 3/4", 1.75), 5 / 16),
        _roll(57, 32),
        _roll(62, 29),
        _roll(100, 50),
        _roll(148, 105),
        _roll(2.25 * INCH_MM, 1.25 * INCH_MM),
    )
}


def stock_of(key: str) -> Stock:
    """Return a stock by its key, and say which there are where it is not one."""
    if key not in STOCKS:
        raise UnknownName(
            "stock.unknown", "there is no label stock called {key}; known are {known}", key=key, known=", ".join(sorted(STOCKS))
        )
    return STOCKS[key]
