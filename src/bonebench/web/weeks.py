"""The weeks ahead as a drawing: a line for each place, the days from left to right, a bar for each piece that stands there.

A place that holds many at once is drawn as counts, one for each day. What is drawn stands in words below the drawing too.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from bonebench.services.calendar.cards import DayCard, PlanCard, RowCard, SlotCard

NAME, LANE, PAD, TOP = 118.0, 24.0, 6.0, 34.0
MOST_LANES = 6
DAY_S = 86400.0
LETTER = 9.5  # about the width of a letter of a tag at the size it is drawn in


@dataclass(frozen=True, slots=True)
class Bar:
    """One piece in a place; ``text`` is empty where the bar is too short for its tag."""

    x: float
    y: float
    width: float
    text: str
    what: str
    running: bool
    late: bool


@dataclass(frozen=True, slots=True)
class Count:
    """How many stand in a place on one day."""

    x: float
    text: str


@dataclass(frozen=True, slots=True)
class Line:
    """One place."""

    name: str
    y: float
    height: float
    bars: tuple[Bar, ...]
    counts: tuple[Count, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """One day; ``text`` is empty where there is no room for each."""

    x: float
    width: float
    text: str
    closed: bool
    monday: bool


@dataclass(frozen=True, slots=True)
class Weeks:
    """The drawing; all positions are in its own units."""

    what: str
    width: float
    height: float
    name_width: float
    columns: tuple[Column, ...]
    lines: tuple[Line, ...]


class _Ruler:
    """Where a moment stands, by local days: a day is as wide as any other, whatever the clocks do."""

    def __init__(self, first: date, days: int, width: float, zone: ZoneInfo) -> None:
        self.first, self.days, self._zone = first, days, zone
        self.day_width = (width - NAME) / days

    def x(self, at: datetime) -> float:
        local = at.astimezone(self._zone)
        midnight = datetime.combine(local.date(), time(), self._zone)
        share = min((local - midnight).total_seconds() / DAY_S, 1.0)
        return NAME + self.day_width * min(max((local.date() - self.first).days + share, 0.0), float(self.days))


def weeks(card: PlanCard, zone: ZoneInfo, *, days: int, width: float) -> Weeks:
    """Draw so many days of a plan."""
    days = min(days, len(card.days))
    ruler = _Ruler(card.first, days, width, zone)
    late = {one.id for one in card.late}
    lines: list[Line] = []
    y = TOP
    for row in card.places:
        line = _line(row, ruler, late, y)
        if line is not None:
            lines.append(line)
            y += line.height
    what = f"What stands in each place from {card.first:%d %b} for {days} days; the same in words below"
    return Weeks(what, width, y + PAD, NAME, tuple(_column(card, n, ruler) for n in range(days)), tuple(lines))


def _column(card: PlanCard, n: int, ruler: _Ruler) -> Column:
    day = card.days[n]
    each = ruler.days <= 14
    text = f"{day.day:%a}"[:2] + f" {day.day.day}" if each else (f"{day.day.day} {day.day:%b}" if day.day.weekday() == 0 else "")
    return Column(NAME + n * ruler.day_width, ruler.day_width, text, day.closed, day.day.weekday() == 0)


def _line(row: RowCard, ruler: _Ruler, late: set[str], y: float) -> Line | None:
    stays = [(stay, ruler.x(stay.start), ruler.x(stay.end)) for stay in row.stays]
    stays = [one for one in stays if one[2] > one[1]]
    if not stays:
        return None
    lanes = _lanes(stays)
    count = max(lanes, default=0) + 1
    if count > MOST_LANES:
        return Line(row.name, y, LANE + 2 * PAD, (), tuple(_counts([(a, b) for _, a, b in stays], ruler)))
    bars = tuple(_bar(stay, a, b, y + PAD + lane * LANE, late) for (stay, a, b), lane in zip(stays, lanes, strict=True))
    return Line(row.name, y, count * LANE + 2 * PAD, bars, ())


def _lanes(stays: Sequence[tuple[SlotCard, float, float]]) -> list[int]:
    """Return which lane each takes: the first that is free by then."""
    free: list[float] = []
    found = []
    for _, a, b in stays:
        lane = next((n for n, until in enumerate(free) if until <= a + 1e-6), len(free))
        if lane == len(free):
            free.append(b)
        free[lane] = b
        found.append(lane)
    return found


def _counts(spans: Sequence[tuple[float, float]], ruler: _Ruler) -> list[Count]:
    """Return how many stand there at each noon."""
    found = []
    for n in range(ruler.days):
        noon = NAME + (n + 0.5) * ruler.day_width
        there = sum(1 for a, b in spans if a <= noon < b)
        found.append(Count(noon, str(there) if there else ""))
    return found


def _bar(stay: SlotCard, a: float, b: float, y: float, late: set[str]) -> Bar:
    text = stay.specimen if b - a >= LETTER * len(stay.specimen) else ""
    what = f"{stay.specimen} {stay.species}, {stay.step}"
    return Bar(a, y, b - a, text, what, stay.running, stay.id in late)


def by_week(card: PlanCard) -> list[tuple[date, list[int]]]:
    """Return the Mondays of a plan with the places of their days in it."""
    found: dict[date, list[int]] = {}
    for n, day in enumerate(card.days):
        found.setdefault(day.day - timedelta(days=day.day.weekday()), []).append(n)
    return list(found.items())


@dataclass(frozen=True, slots=True)
class Together:
    """The same step in the same place on one day."""

    step: str
    place: str | None
    people: tuple[str, ...]
    tasks: tuple[SlotCard, ...]


def together(day: DayCard) -> list[Together]:
    """Return what begins on a day, joined by step and place, in the order in which the first of each begins."""
    found: dict[tuple[str, str | None], list[SlotCard]] = {}
    for task in day.begins:
        found.setdefault((task.step, task.place_name), []).append(task)
    return [
        Together(step, place, tuple(dict.fromkeys(t.person for t in tasks if t.person)), tuple(tasks))
        for (step, place), tasks in found.items()
    ]
