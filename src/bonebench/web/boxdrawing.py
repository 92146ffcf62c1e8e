"""The box drawn from its side: walls, what is in it, its openings at their heights with the air through them, no script needed."""

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from bonebench.services.enclosure.cards import Opening, Seen
from bonebench.units import Reader, write

WIDTH, HEIGHT = 720.0, 380.0
MOST_WIDE, MOST_HIGH = 400.0, 250.0
LEFT, FLOOR = 150.0, 330.0
LONGEST = 70.0
LEAST_ARROW = 14.0
AIR_KG_M3 = 1.2


@dataclass(frozen=True, slots=True)
class Mark:
    """One opening as drawn: its middle, half its height, its arrow from tail to tip, its letter, and its words below."""

    x: float
    y: float
    half: float
    tail: float
    tip: float
    letter: str
    label: str
    side: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything the template sets down; positions in its own units."""

    what: str
    x: float
    y: float
    w: float
    h: float
    wall: float
    marks: tuple[Mark, ...]
    heater: tuple[float, float] | None
    pavers: tuple[float, float] | None
    jug: tuple[float, float] | None
    window: bool
    width: float = WIDTH
    height: float = HEIGHT


@dataclass(frozen=True, slots=True)
class _Paper:
    """Where the outer faces stand, how much of the paper a metre takes, and the strongest flow, which gets the longest arrow."""

    left: float
    right: float
    per_m: float
    strongest_kg_s: float
    reader: Reader


def drawn(seen: Seen, reader: Reader) -> Drawing:
    """Draw a box to scale: holes on the left, the duct with its fan on the right."""
    per_m = min(MOST_WIDE / seen.length_m, MOST_HIGH / seen.height_m)
    w, h = seen.length_m * per_m, seen.height_m * per_m
    wall = min(max(seen.wall_m * per_m, 5.0), 30.0)
    x, y = (WIDTH - w) / 2, FLOOR - h
    strongest = max((abs(o.outward_kg_s) for o in seen.openings), default=0.0)
    paper = _Paper(x - wall, x + w + wall, per_m, strongest, reader)
    marks = [_mark(letter, opening, paper) for letter, opening in zip(ascii_uppercase, seen.openings, strict=False)]
    return Drawing(
        what=_words(seen, marks, reader),
        x=x, y=y, w=w, h=h, wall=wall, marks=tuple(marks),
        heater=(x + 0.5 * w, y + 0.18 * h) if seen.heater_w else None,
        pavers=(x + 0.5 * w, FLOOR - 0.16 * h) if seen.pavers_kg else None,
        jug=(x + 0.84 * w, FLOOR - 0.22 * h) if seen.water_l else None,
        window=seen.window,
    )  # fmt: skip


def _mark(letter: str, opening: Opening, paper: _Paper) -> Mark:
    """An arrow points away from the box where air goes out, and at it where air comes in; its length goes with the flow."""
    right = opening.kind == "duct"
    x, away = (paper.right, 1) if right else (paper.left, -1)
    share = abs(opening.outward_kg_s) / paper.strongest_kg_s if paper.strongest_kg_s > 0 else 0.0
    long = LEAST_ARROW + share * (LONGEST - LEAST_ARROW) if share > 0 else 0.0
    near, far = x + away * 10, x + away * (10 + long)
    tail, tip = (near, far) if opening.outward_kg_s > 0 else (far, near)
    half = max(4.0, opening.width_m * paper.per_m / 2)
    y = FLOOR - opening.height_m * paper.per_m
    return Mark(x, y, half, tail, tip, letter, f"{_name(opening, paper.reader)}: {_flow(opening)}", "right" if right else "left")


def _name(opening: Opening, reader: Reader) -> str:
    holes = f"{opening.count} open holes" if opening.count > 1 else "one open hole"
    return f"{'the duct' if opening.kind == 'duct' else holes} at {write(opening.height_m, 'length', reader)}"


def _flow(opening: Opening) -> str:
    litres = abs(opening.outward_kg_s) / AIR_KG_M3 * 1000
    if litres < 0.005:
        return "hardly any air"
    return f"{litres:.2g} litres a second {'out' if opening.outward_kg_s > 0 else 'in'}"


def _words(seen: Seen, marks: Sequence[Mark], reader: Reader) -> str:
    parts = [f"Side view of the box, {write(seen.length_m, 'length', reader)} by {write(seen.height_m, 'length', reader)} inside"]
    if seen.heater_w:
        parts.append(f"a heater of {seen.heater_w:.0f} W under the lid")
    parts += [mark.label for mark in marks]
    return "; ".join(parts)
