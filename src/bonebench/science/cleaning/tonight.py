"""What may go into a box now: the least of appetite, floor and the heater's spare power, and which of them it is."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning.eating import InBox, Stretch, course
from bonebench.science.cleaning.rot import BUDGET_H, spoiling_pace

# A wet surface in a warm dry box dries by half in about two days: common practice, no source.
DRYING = Figure(3.0, 1.5, 6.0, "days", Standing.PRACTICE, "wet share falls to 37 % in so long; common practice, no source")
# Still air on a cold head, as in `thawing.FILM`.
FILM_W_M2_K = 7.7
THAWS_C = -1.0


class Limit(StrEnum):
    """What holds the number down."""

    APPETITE = "appetite"
    FLOOR = "floor"
    HEATER = "heater"
    NONE_WAITING = "none waiting"


@dataclass(frozen=True, slots=True)
class Head:
    """A head that could go in: food on it, surface, floor it takes, and how cold it is."""

    tissue_kg: float
    rate_kg_per_day: float
    area_m2: float
    floor_m2: float
    temperature_c: float = THAWS_C


@dataclass(frozen=True, slots=True)
class BoxNow:
    """A box now: its air, what the colony can eat a day (one number or one for each day), floor and heat to spare, what lies in it.

    ``used`` is the share of the rot clock that each piece inside has used.
    """

    temperature_c: float
    appetite_kg_per_day: float | Sequence[float]
    free_floor_m2: float
    spare_heat_w: float
    inside: tuple[InBox, ...] = ()
    used: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Tonight:
    """How many of the heads, in their order, may go in; how many each limit alone would let in; which is the least.

    ``worst_used`` is the highest share of a rot clock that is expected with them in: above 1 even with none, something in there
    spoils as it is.
    """

    count: int
    by: dict[Limit, int]
    limit: Limit
    worst_used: float


def thaw_load_w(head: Head, box_c: float) -> float:
    """Heat that a cold head takes from the box for hours.

    Parameters
    ----------
    head : Head
        Surface and temperature; below -1 degC it is taken at the -1 at which it thaws, where it stays longest.
    box_c : float
        Air of the box. [degC]

    Returns
    -------
    float
        Zero or more. [W]
    """
    return FILM_W_M2_K * head.area_m2 * max(0.0, box_c - max(head.temperature_c, THAWS_C))


def expected_rot(
    pieces: Sequence[InBox], used: Sequence[float], appetite_kg_per_day: float | Sequence[float], box_c: float
) -> tuple[float, ...]:
    """Share of its rot clock that each piece will have used when it is clean.

    Parameters
    ----------
    pieces : sequence of InBox, shape (n,)
        In order of entry.
    used : sequence of float, shape (n,)
        What each has used so far. [1]
    appetite_kg_per_day : float or sequence of float
        As in `eating.course`. [kg/day]
    box_c : float
        Air of the box. [degC]

    Returns
    -------
    tuple of float, shape (n,)
        At the middle of the budget; 1 is where it runs out. [1]

    Notes
    -----
    The wet share falls by itself with time (`DRYING`), for pieces already inside from now on, which is on the cautious side. The
    share left is taken in line over each stretch of the course.
    """
    left = [1.0 if p.left_kg is None else min(1.0, p.left_kg / p.tissue_kg) if p.tissue_kg > 0 else 0.0 for p in pieces]
    hours = [0.0] * len(pieces)
    for stretch in _until(course(pieces, appetite_kg_per_day), 5 * DRYING.value):
        span = stretch.end_day - stretch.begin_day
        wet = DRYING.value * (math.exp(-stretch.begin_day / DRYING.value) - math.exp(-stretch.end_day / DRYING.value))
        for k, (piece, rate) in enumerate(zip(pieces, stretch.rates_kg_per_day, strict=True)):
            then = max(0.0, left[k] - rate * span / piece.tissue_kg) if piece.tissue_kg > 0 else 0.0
            hours[k] += 24.0 * wet * 0.5 * (left[k] + then)
            left[k] = then
    pace = spoiling_pace(box_c) / BUDGET_H.value
    return tuple(before + pace * h for before, h in zip(used, hours, strict=True))


def _until(stretches: Iterable[Stretch], day: float) -> Iterator[Stretch]:
    for stretch in stretches:
        if stretch.begin_day >= day:
            return
        yield Stretch(stretch.begin_day, min(stretch.end_day, day), stretch.rates_kg_per_day)


def heads_tonight(box: BoxNow, waiting: Sequence[Head]) -> Tonight:
    """How many of the heads that wait may go in now.

    Parameters
    ----------
    box : BoxNow
        The box; its appetite should be a cautious one (the lower third of the forecast).
    waiting : sequence of Head
        In the order in which they would go in.

    Returns
    -------
    Tonight
        The number, and which limit it is.

    Raises
    ------
    OutsideRange
        If floor or heat to spare is negative.

    Notes
    -----
    By appetite a head may go in as long as, with it, every new piece is eaten or dry before its rot clock runs out. Those already
    inside eat first. An estimate on estimates: look and smell all the same.
    """
    for what, value in (("free floor", box.free_floor_m2), ("spare heat", box.spare_heat_w)):
        if not value >= 0:
            raise OutsideRange("tonight.spare", "{what} is {value}; it must be 0 or more", what=what, value=value)
    used = box.used or (0.0,) * len(box.inside)
    eats = _eats(box.appetite_kg_per_day)
    by_appetite, worst = 0, _worst(box, used, ()) if eats else 0.0
    for count in range(1, len(waiting) + 1 if eats else 1):
        shares = _shares(box, used, waiting[:count])
        if max(shares[len(box.inside) :]) >= 1.0:
            break
        by_appetite = count
    by = {
        Limit.APPETITE: by_appetite,
        Limit.FLOOR: _fitting([head.floor_m2 for head in waiting], box.free_floor_m2),
        Limit.HEATER: _fitting([thaw_load_w(head, box.temperature_c) for head in waiting], box.spare_heat_w),
    }
    least = min(by, key=lambda limit: by[limit])
    count = by[least]
    if eats and count:
        worst = _worst(box, used, waiting[:count])
    return Tonight(count, by, Limit.NONE_WAITING if count == len(waiting) else least, worst)


def _eats(appetite: float | Sequence[float]) -> bool:
    return (appetite if isinstance(appetite, int | float) else max(appetite, default=0.0)) > 0


def _shares(box: BoxNow, used: Sequence[float], heads: Sequence[Head]) -> tuple[float, ...]:
    pieces = [*box.inside, *(InBox(head.tissue_kg, head.rate_kg_per_day) for head in heads)]
    return expected_rot(pieces, [*used, *[0.0] * len(heads)], box.appetite_kg_per_day, box.temperature_c)


def _worst(box: BoxNow, used: Sequence[float], heads: Sequence[Head]) -> float:
    return max(_shares(box, used, heads), default=0.0)


def _fitting(sizes: Sequence[float], room: float) -> int:
    """How many, in their order, fit into the room there is."""
    total = 0.0
    for count, size in enumerate(sizes):
        total += size
        if total > room:
            return count
    return len(sizes)
