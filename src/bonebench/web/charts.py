"""Charts as plain drawings: lines and bands on ruled paper, made on the server, readable without scripts and on paper.

A chart is never the only place of a number: `table` holds what it shows, and the page prints it in a fold under the drawing.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.said import number

WIDTH, HEIGHT = 720.0, 280.0
# To the right there is room for half of the last label, in the larger letters of a phone.
LEFT, RIGHT, TOP, BOTTOM = 64.0, 30.0, 14.0, 40.0


@dataclass(frozen=True, slots=True)
class Series:
    """One thing drawn: a line through ``y``, or a band from ``low`` to ``y``. ``mark`` is its look: plain, warm, faint, harm."""

    name: str
    y: Sequence[float]
    low: Sequence[float] | None = None
    mark: str = "plain"


@dataclass(frozen=True, slots=True)
class Tick:
    """One label of an axis and where it stands."""

    at: float
    text: str


@dataclass(frozen=True, slots=True)
class Shape:
    """One path of the drawing."""

    name: str
    d: str
    mark: str
    band: bool


@dataclass(frozen=True, slots=True)
class Chart:
    """A drawing ready for a page; all positions are in its own units, ``width`` by ``height``."""

    title: str
    what: str
    y_label: str
    x_label: str
    shapes: tuple[Shape, ...]
    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    head: tuple[str, ...]
    table: tuple[tuple[str, ...], ...]
    width: float = WIDTH
    height: float = HEIGHT
    left: float = LEFT
    right: float = WIDTH - RIGHT
    top: float = TOP
    bottom: float = HEIGHT - BOTTOM


def nice_ticks(low: float, high: float, about: int = 5) -> list[float]:
    """Return round values that cover a range: steps of 1, 2 or 5 times a power of ten."""
    span = max(high - low, 1e-9)
    raw = span / about
    power = 10 ** math.floor(math.log10(raw))
    step = next(m * power for m in (1, 2, 5, 10) if m * power >= raw - 1e-12)
    first = math.floor(low / step + 1e-9) * step
    count = max(1, math.ceil((high - first) / step - 1e-9))
    return [round(first + n * step, 12) for n in range(count + 1)]


def _path(points: Sequence[tuple[float, float]]) -> str:
    """Return the path through points; one that is not a number breaks the line."""
    words: list[str] = []
    begun = False
    for x, y in points:
        if not (math.isfinite(x) and math.isfinite(y)):
            begun = False
            continue
        words.append(f"{'L' if begun else 'M'}{x:.1f} {y:.1f}")
        begun = True
    return "".join(words)


def chart(
    title: str, what: str, x: Sequence[float], series: Sequence[Series], *, x_label: str, y_label: str,
    x_names: Sequence[str] | None = None, floor: float | None = None, rows: int = 14,
) -> Chart:  # fmt: skip
    """Draw series over a shared x.

    ``x_names`` names each x (months); otherwise round numbers are set under the axis. ``floor`` pulls the low end of y down.
    """
    if not x or any(len(s.y) != len(x) or (s.low is not None and len(s.low) != len(x)) for s in series):
        raise ValueError("a chart needs points, and every series as many as there are x")
    values = [v for s in series for v in (*s.y, *(s.low or ())) if math.isfinite(v)] or [0.0]
    ys = nice_ticks(min(values) if floor is None else min(floor, *values), max(values))
    x0, x1 = min(x), max(x) if max(x) > min(x) else min(x) + 1.0
    y0, y1 = ys[0], max(ys[-1], ys[0] + 1e-9)

    def px(v: float) -> float:
        return LEFT + (v - x0) / (x1 - x0) * (WIDTH - LEFT - RIGHT)

    def py(v: float) -> float:
        return HEIGHT - BOTTOM - (v - y0) / (y1 - y0) * (HEIGHT - TOP - BOTTOM)

    shapes = []
    for s in series:
        upper = [(px(a), py(b)) for a, b in zip(x, s.y, strict=True)]
        if s.low is None:
            shapes.append(Shape(s.name, _path(upper), s.mark, band=False))
        else:
            lower = [(px(a), py(b)) for a, b in zip(x, s.low, strict=True)]
            shapes.append(Shape(s.name, _path([*upper, *reversed(lower)]) + "Z", s.mark, band=True))
    named = x_names is not None
    ticks = (
        [Tick(px(v), str(n)) for v, n in zip(x, x_names or (), strict=True)]
        if named
        else [Tick(px(v), number(v)) for v in nice_ticks(x0, x1, 7) if x0 - 1e-9 <= v <= x1 + 1e-9]
    )
    return Chart(
        title=title,
        what=what,
        y_label=y_label,
        x_label=x_label,
        shapes=tuple(shapes),
        x_ticks=tuple(ticks),
        y_ticks=tuple(Tick(py(v), number(v)) for v in ys),
        head=(x_label, *(name for s in series for name in ([s.name] if s.low is None else [f"{s.name}, low", f"{s.name}, high"]))),
        table=_table(x, series, x_names, rows),
    )


def _table(x: Sequence[float], series: Sequence[Series], x_names: Sequence[str] | None, rows: int) -> tuple[tuple[str, ...], ...]:
    """Return at most so many rows of the numbers, evenly taken, the first and the last among them."""
    count = len(x)
    places = range(count) if count <= rows else sorted({round(n * (count - 1) / (rows - 1)) for n in range(rows)})
    return tuple(
        (
            str(x_names[at]) if x_names is not None else number(x[at]),
            *(number(v) for s in series for v in ([s.y[at]] if s.low is None else [s.low[at], s.y[at]])),
        )
        for at in places
    )
