"""Who eats how much in one box, in arrays: each day's appetite goes to the pieces in order of entry, each up to its own rate."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from math import ceil

from bonebench.science.kernel import bare, bare_inside
from bonebench.science.scheduling.tables import (
    DAY,
    E_BOX,
    E_COUNT,
    E_END,
    E_FIRST,
    E_FIXED,
    E_OWNED,
    E_START,
    NEVER,
    RATE,
    TAIL,
    TAIL_RATE,
    TISSUE,
    Floats,
    Ints,
    State,
    Tables,
)

CRUMB_KG = 1e-9


@bare_inside
def day_of(day_start: Ints, seconds: int) -> int:
    """Which local day from today an instant at or after now falls on."""
    low, high = 0, day_start.size
    while high - low > 1:
        middle = (low + high) >> 1
        if day_start[middle] <= seconds:
            low = middle
        else:
            high = middle
    return low


@bare_inside
def days_for(food: Floats, left: float, kg: float) -> float:
    """How long a piece alone would take for the next kg, when so much is left."""
    quick = min(kg, max(0.0, left - food[TAIL]))
    return float(quick / food[RATE] + (kg - quick) / food[TAIL_RATE])


@bare_inside
def _most_in(food: Floats, left: float, days: float) -> float:
    quick = max(0.0, left - food[TAIL])
    if quick >= food[RATE] * days:
        return float(food[RATE] * days)
    return float(min(left, quick + (days - quick / food[RATE]) * food[TAIL_RATE]))


@bare
def eat(
    day_start: Ints, appetite: Floats, eaten: Floats, horizon: int, food: Floats, start: int, takes: Floats
) -> tuple[int, int, int]:
    """Let one piece eat what is free from start on: its end, the first day it takes from and how many days."""
    left, at = food[TISSUE], max(0, start)
    if left <= CRUMB_KG:
        return at, 0, 0
    if food[RATE] <= 0:
        return NEVER, 0, 0
    day = day_of(day_start, at)
    first = day
    while at <= horizon:
        midnight = day_start[day + 1]
        days = (midnight - at) / DAY
        whole = appetite[day]
        # Beetles do not save up: who comes late in the day finds only the rest of the day's appetite.
        free = min(max(0.0, whole - eaten[day]), whole * ((midnight - at) / (midnight - day_start[day])))
        taken = min(_most_in(food, left, days), free)
        takes[day - first] = taken if taken > 0 else 0.0
        if left - taken <= CRUMB_KG:
            spent = max(days_for(food, left, left), days * left / free)
            return at + min(ceil(spent * DAY - 1e-6), midnight - at), first, day - first + 1
        left, at, day = left - taken, midnight, day + 1
    return NEVER, first, day - first


@bare_inside
def _take(eaten: Floats, takes: Floats, first: int, count: int, sign: float) -> None:
    for day in range(count):
        eaten[first + day] += sign * takes[day]


@bare_inside
def _behind(s: State, box: int, start: int, number: int) -> int:
    """Where in a box's line one who enters then would stand."""
    at = s.line_count[box]
    while at > 0:
        other = s.line[box, at - 1]
        if s.eater[other, E_START] < start or (s.eater[other, E_START] == start and other < number):
            break
        at -= 1
    return int(at)


@bare
def _rethink(t: Tables, s: State, box: int, number: int, start: int, at: int) -> tuple[int, int]:
    """Let a newcomer eat first and those behind it after: its end, and until when it must wait so as to put nobody off.

    ``takes_new`` and ``told`` take what each would take and its end; what is eaten is left as it was.
    """
    eaten, new, told = s.eaten[box], s.takes_new, s.told
    for day in range(eaten.size):
        s.eaten_before[day] = eaten[day]
    last = s.line_count[box]
    for place in range(at, last):
        other = s.line[box, place]
        _take(eaten, s.takes[other], s.eater[other, E_FIRST], s.eater[other, E_COUNT], -1.0)
    end, first, count = eat(t.day_start, t.appetite[box], eaten, t.horizon, t.food[s.order[number]], start, s.takes[number])
    s.eater[number, E_FIRST], s.eater[number, E_COUNT] = first, count
    _take(eaten, s.takes[number], first, count, 1.0)
    until = 0
    for place in range(at, last):
        other, row = s.line[box, place], place - at
        was, fixed, entered = s.eater[other, E_END], s.eater[other, E_FIXED], s.eater[other, E_START]
        then, first, count = eat(t.day_start, t.appetite[box], eaten, t.horizon, t.food[s.order[other]], entered, new[row])
        _take(eaten, new[row], first, count, 1.0)
        if fixed and abs(then - was) <= 1:
            then = was
        told[row, 0], told[row, 1], told[row, 2] = then, first, count
        if then == NEVER or (fixed and then != was):
            until = max(until, entered + 1)
    for day in range(eaten.size):
        eaten[day] = s.eaten_before[day]
    return end, until


@bare_inside
def offer(t: Tables, s: State, box: int, number: int, start: int) -> tuple[int, int]:
    """What would happen if a piece entered then: its end, and until when it must wait so as to put nobody settled off."""
    at = _behind(s, box, start, number)
    if at == s.line_count[box]:
        end, first, count = eat(
            t.day_start, t.appetite[box], s.eaten[box], t.horizon, t.food[s.order[number]], start, s.takes[number]
        )
        s.eater[number, E_FIRST], s.eater[number, E_COUNT] = first, count
        return end, 0
    return _rethink(t, s, box, number, start, at)


@bare
def accept(t: Tables, s: State, box: int, number: int, start: int, fixed: bool, owned: bool) -> int:
    """Let a piece in; write those whose end has moved by it into the first column of ``told`` and return how many."""
    at = _behind(s, box, start, number)
    more, movers = s.line_count[box] - at, 0
    end, _ = _rethink(t, s, box, number, start, at)
    eaten, new, told = s.eaten[box], s.takes_new, s.told
    for row in range(more):
        other = s.line[box, at + row]
        _take(eaten, s.takes[other], s.eater[other, E_FIRST], s.eater[other, E_COUNT], -1.0)
        _take(eaten, new[row], told[row, 1], told[row, 2], 1.0)
        was, now = s.eater[other, E_END], told[row, 0]
        s.eater[other, E_END], s.eater[other, E_FIRST], s.eater[other, E_COUNT] = now, told[row, 1], told[row, 2]
        for day in range(told[row, 2]):
            s.takes[other, day] = new[row, day]
        if now != was:
            told[movers, 0] = other
            movers += 1
    _take(eaten, s.takes[number], s.eater[number, E_FIRST], s.eater[number, E_COUNT], 1.0)
    s.eater[number, E_START], s.eater[number, E_END], s.eater[number, E_BOX] = start, end, box
    s.eater[number, E_FIXED], s.eater[number, E_OWNED] = int(fixed), int(owned)
    for place in range(s.line_count[box], at, -1):
        s.line[box, place] = s.line[box, place - 1]
    s.line[box, at] = number
    s.line_count[box] += 1
    return movers
