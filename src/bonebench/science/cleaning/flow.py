"""Appetite through time, and what is left of it for a piece that lies beside others: rates that hold until they turn."""

import bisect
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from bonebench.errors import OutsideRange
from bonebench.science.cleaning.eating import TAIL_SHARE, TAIL_SLOWNESS


@dataclass(frozen=True, slots=True)
class Flow:
    """A rate that holds from one turn to the next: ``rates[k]`` up to ``ends[k]``, the last for good. Days, kg/day."""

    ends: tuple[float, ...]
    rates: tuple[float, ...]

    def at(self, day: float) -> float:
        """Return the rate on a day; at a turn, the one that begins there."""
        return self.rates[min(bisect.bisect_right(self.ends, day), len(self.rates) - 1)]

    def shifted(self, days: float) -> "Flow":
        """Return the same flow on a clock that reads ``days`` less."""
        return Flow(tuple(end - days for end in self.ends), self.rates)


def steady(rate_kg_per_day: float) -> Flow:
    """A rate that never turns.

    Parameters
    ----------
    rate_kg_per_day : float
        Zero or more; infinite where there are always enough beetles. [kg/day]

    Returns
    -------
    Flow
        That rate for good.
    """
    return Flow((math.inf,), (rate_kg_per_day,))


def by_day(before_kg_per_day: float, ahead_kg_per_day: Sequence[float], today: float = 0.0) -> Flow:
    """A rate up to today, then one for each day, the last of which holds from then on.

    Parameters
    ----------
    before_kg_per_day : float
        Up to ``today``, zero or more. [kg/day]
    ahead_kg_per_day : sequence of float, shape (n,)
        For each day from ``today`` on, at least one. [kg/day]
    today : float, optional
        When those days begin. [days]

    Returns
    -------
    Flow
        All of them.

    Raises
    ------
    OutsideRange
        If a rate is negative or none is given.
    """
    rates = (before_kg_per_day, *ahead_kg_per_day)
    if len(rates) < 2 or not all(rate >= 0 for rate in rates):
        raise OutsideRange("cleaning.flow", "an appetite by the day is one number or more, each 0 g a day or more")
    return Flow((*(today + k for k in range(len(rates) - 1)), math.inf), rates)


@dataclass(frozen=True, slots=True)
class Meal:
    """How one piece is eaten: what went a day, what is left at each turn, and the day nothing is left (infinite: never)."""

    begin_day: float
    eaten: Flow
    turns: tuple[tuple[float, float], ...]
    clean_day: float

    def left_kg(self, day: float) -> float:
        """Return what is left on a day, in line between turns."""
        if day <= self.begin_day:
            return self.turns[0][1]
        for (then, before), (end, after) in pairwise(self.turns):
            if day <= end:
                return after if end == math.inf else before + (after - before) * (day - then) / (end - then)
        return self.turns[-1][1]


def eat(tissue_kg: float, rate_kg_per_day: float, most: Flow, begin_day: float = 0.0) -> Meal:
    """Eat one piece at the least of what its surface gives and what the colony has for it.

    Parameters
    ----------
    tissue_kg : float
        Tissue it goes in with, zero or more. [kg]
    rate_kg_per_day : float
        The most that can be eaten from its surface, zero or more; a third of it in the last part. [kg/day]
    most : Flow
        What the colony has for it. [kg/day]
    begin_day : float, optional
        When it goes in, on the clock of ``most``. [days]

    Returns
    -------
    Meal
        How it goes.

    Raises
    ------
    OutsideRange
        If the tissue or the rate is negative.
    """
    if not (0 <= tissue_kg < math.inf and rate_kg_per_day >= 0):
        raise OutsideRange(
            "cleaning.eat", "{mass:mass} of tissue at {rate:feeding}; each must be 0 or more", mass=tissue_kg, rate=rate_kg_per_day
        )
    day, left, tail = begin_day, tissue_kg, TAIL_SHARE * tissue_kg
    turns, ends, rates = [(day, left)], [begin_day], [0.0]
    for end, has in zip(most.ends, most.rates, strict=True):
        while day < end and left > 0:
            whole = left > tail
            rate = min(rate_kg_per_day if whole else rate_kg_per_day / TAIL_SLOWNESS, has)
            part = left - tail if whole else left
            done = day + part / rate if rate > 0 else math.inf
            if rate > 0 and done <= end:
                left, day = (tail if whole and tail > 0 else 0.0), done
            else:
                left, day = (left if rate == 0 else left - rate * (end - day)), end
            turns.append((day, left))
            ends.append(day)
            rates.append(rate)
    clean = day if left <= 0 else math.inf
    return Meal(begin_day, Flow((*ends, math.inf), (*rates, 0.0)), tuple(turns), clean)


def left_over(most: Flow, eaten: Flow) -> Flow:
    """What a colony still has for those that come after a piece.

    Parameters
    ----------
    most, eaten : Flow
        What it had, and what the piece takes. [kg/day]

    Returns
    -------
    Flow
        The difference, nowhere below 0.
    """
    ends = sorted({*most.ends, *eaten.ends})
    begins = [-math.inf, *ends[:-1]]
    rates = [max(0.0, most.at(begin) - eaten.at(begin)) for begin in begins]
    return Flow(tuple(ends), tuple(rates))


@dataclass(frozen=True, slots=True)
class Lying:
    """A piece in the box beside others: when it went in, what was on it and what its surface gives a day."""

    begin_day: float
    tissue_kg: float
    rate_kg_per_day: float


def for_the_last(most: Flow, before: Iterable[Lying]) -> Flow:
    """What a colony has for a piece when those that went in before it eat first.

    Parameters
    ----------
    most : Flow
        What the colony can eat. [kg/day]
    before : iterable of Lying
        Those that went in earlier, in order of entry.

    Returns
    -------
    Flow
        What is left over. [kg/day]

    Notes
    -----
    Pieces that lay there and are out again are not in it: where they ate along, more is left on this one than it says.
    """
    for piece in before:
        most = left_over(most, eat(piece.tissue_kg, piece.rate_kg_per_day, most, piece.begin_day).eaten)
    return most
