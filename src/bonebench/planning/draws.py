"""What might come: durations, the colony, and who comes in, drawn anew for each replay from its number and the seed alone."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from math import log
from statistics import NormalDist, median
from typing import NamedTuple
from zlib import crc32

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.planning.calendars import DAY, Calendar
from bonebench.planning.prepared import Leg, Prepared, Ready
from bonebench.planning.problem import Piece, Problem, Spread
from bonebench.planning.quick import QuickRoom
from bonebench.science.scheduling import Tables
from bonebench.science.scheduling.tables import EATS, HELD, LAST_DAY, LENGTH, NEVER, RATE, RELEASE, TAIL_RATE, Floats, Ints

_NORMAL = NormalDist()
# Durations are taken as lognormal on each side of their middle: one in ten below p10, one in ten above p90.
Z90 = _NORMAL.inv_cdf(0.9)
# More arrivals than were ever likely are not drawn: so many times what is expected, and a few.
MOST_ARRIVALS = 2.0


@dataclass(frozen=True, slots=True)
class Arrivals:
    """Who may come in meanwhile: kinds of piece, drawn evenly, and how many are expected in each month (1 to 12).

    ``ahead_days`` says of each kind how many days after it came such a piece was promised for, None where no day was given; left
    out, nobody is promised anything. Those who come join the order as new pieces do in the room (`joining`): by that day.
    """

    kinds: tuple[Piece, ...]
    per_month: Mapping[int, float]
    days: int = 365
    ahead_days: tuple[int | None, ...] = ()

    def __post_init__(self) -> None:
        if self.ahead_days and len(self.ahead_days) != len(self.kinds):
            raise OutsideRange(
                "promise.ahead",
                "{days} promised days were given for {kinds} kinds of piece: give one for each, or none at all",
                days=len(self.ahead_days),
                kinds=len(self.kinds),
            )

    @property
    def usual_ahead_days(self) -> float | None:
        """How many days after it came a piece is promised for as a rule: the median of those that were; None where none was."""
        known = [days for days in self.ahead_days if days is not None]
        return median(known) if known else None


@dataclass(frozen=True, slots=True)
class Uncertain:
    """What is not known besides the steps' own spread.

    One season in ten the colony eats less than ``appetite_low`` times what the problem says, one in ten more than
    ``appetite_high`` times. ``appetite_paths`` gives whole paths instead (kg on each day from today, from the colony's own draws):
    a replay takes one of them for the season, the same number in every box.
    """

    appetite_low: float = 1.0
    appetite_high: float = 1.0
    appetite_paths: Mapping[str, tuple[tuple[float, ...], ...]] = field(default_factory=dict)
    arrivals: Arrivals | None = None
    seed: int = 1

    def __post_init__(self) -> None:
        if not 0 < self.appetite_low <= 1 <= self.appetite_high:
            raise OutsideRange(
                "promise.appetite",
                "an appetite from {low} to {high} times the expected cannot be: give a share up to 1 and one from 1",
                low=self.appetite_low,
                high=self.appetite_high,
            )


class Drawn(NamedTuple):
    """One draw: the tables as they might turn out, and the order with those who came where they join it."""

    tables: Tables
    order: Ints


class Draws:
    """The draws of one problem; ``quick`` is its room with everyone who could come in it."""

    def __init__(self, problem: Problem, uncertain: Uncertain, order: Sequence[str]) -> None:
        self._uncertain = uncertain
        self._pool = _pool(problem, uncertain.arrivals)
        self.quick = QuickRoom(Prepared(replace(problem, pieces=(*problem.pieces, *self._pool))))
        self._order = self.quick.order_of([*order, *(piece.key for piece in self._pool)])
        self._ahead = _ahead(uncertain.arrivals, len(self._pool))
        self._rates = _rates(uncertain.arrivals, self.quick.prepared.calendar)
        self._due = self.quick.tables.piece[self._order[: len(order)], LAST_DAY]
        ready = list(self.quick.prepared.pieces.values())
        legs = [(one, leg, at) for one in ready for at, leg in enumerate(one.legs)]
        self._errors = [_Error.of(one, leg, at) for one, leg, at in legs]
        self._owners = np.array([self.quick.number[one.piece.key] for one, _, _ in legs], np.int64)
        names = sorted({error.shared for error in self._errors if error.shared})
        number = {name: at for at, name in enumerate(names)}
        self._shared = _Shared(uncertain.seed, names)
        self._low = np.array([error.low for error in self._errors])
        self._high = np.array([error.high for error in self._errors])
        self._group = np.array([number.get(error.shared, len(names)) for error in self._errors], np.int64)
        part = np.array([error.part if error.shared else 0.0 for error in self._errors])
        self._of_group, self._of_own = np.sqrt(part), np.sqrt(1 - part)
        self._over = [(at, error.over) for at, error in enumerate(self._errors) if error.over is not None]

    def draw(self, number: int) -> Drawn:
        """Return draw number so-and-so: always the same for the same problem and seed."""
        rng = np.random.default_rng([self._uncertain.seed, number])
        base = self.quick.tables
        factors = self._factors(number, rng)
        leg = base.leg.copy()
        leg[:, LENGTH] = np.round(base.leg[:, LENGTH] * factors)
        food = base.food.copy()
        eats = base.leg[:, EATS] > 0
        food[self._owners[eats], RATE] /= factors[eats]
        food[self._owners[eats], TAIL_RATE] /= factors[eats]
        tables = base._replace(leg=leg, food=food, appetite=self._appetite(number))
        if not self._pool:
            return Drawn(tables, self._order)
        return self._with_arrivals(tables, rng)

    def _factors(self, number: int, rng: np.random.Generator) -> Floats:
        """How many times its working days each leg takes in this draw."""
        shared = np.append(self._shared.of(number), 0.0)[self._group]
        z = self._of_group * shared + self._of_own * rng.standard_normal(len(self._errors))
        for at, over in self._over:
            # It has lasted so long already and is not over: what is left of the distribution is drawn from.
            z[at] = _beyond(z[at], over)
        factors: Floats = np.exp(np.where(z < 0, self._low, self._high) * z)
        return factors

    def _appetite(self, number: int) -> Floats:
        base, told = self.quick.tables.appetite, self._uncertain
        z = np.random.default_rng([told.seed, number, crc32(b"the colony")]).standard_normal()
        factor = np.exp((log(told.appetite_high) if z > 0 else -log(told.appetite_low)) * z / Z90)
        appetite = base * factor
        for at, place in enumerate(self.quick.prepared.problem.places):
            paths = told.appetite_paths.get(place.key)
            if paths:
                path = paths[number % len(paths)]
                days = min(len(path), appetite.shape[1])
                appetite[at, :days] = path[:days]
                # What lies beyond a path goes on as its last day.
                appetite[at, days:] = path[-1]
        return np.asarray(appetite, np.float64)

    def _with_arrivals(self, tables: Tables, rng: np.random.Generator) -> Drawn:
        arrivals = self._uncertain.arrivals
        assert arrivals is not None
        piece = tables.piece.copy()
        known = len(self._due)
        pool = self._order[known:]
        came = np.repeat(np.arange(arrivals.days), rng.poisson(self._rates))[: len(pool)]
        drawn = rng.permutation(pool)
        piece[pool, HELD] = 1
        chosen = drawn[: len(came)]
        piece[chosen, HELD] = 0
        piece[chosen, RELEASE] = np.maximum(0, came * DAY)
        due = np.full(len(pool), NEVER, np.int64)
        due[: len(came)] = np.minimum(came + self._ahead[chosen - pool[0]], NEVER)
        return Drawn(tables._replace(piece=piece), _joined(self._order[:known], self._due, drawn, due))


class _Shared:
    """What errs together: each name has one draw for each replay, by its own stream, whatever other names there are."""

    def __init__(self, seed: int, names: Sequence[str]) -> None:
        self._seeds = [[seed, crc32(name.encode())] for name in names]
        self._drawn: Floats = np.empty((len(names), 0))

    def of(self, number: int) -> Floats:
        """Return the draws of one replay, by name."""
        if number >= self._drawn.shape[1]:
            # A longer row begins as the shorter one did. To make a stream costs more than a hundred of its draws.
            count = max(256, 2 * number)
            rows = [np.random.default_rng(seed).standard_normal(count) for seed in self._seeds]
            self._drawn = np.array(rows).reshape(len(rows), count)
        column: Floats = self._drawn[:, number]
        return column


def _rates(arrivals: Arrivals | None, calendar: Calendar) -> Floats:
    """How many are expected to come on each day from today."""
    if arrivals is None:
        return np.empty(0)
    return np.array([arrivals.per_month.get(calendar.date_of(day).month, 0.0) / 30.44 for day in range(arrivals.days)])


class _Error(NamedTuple):
    """How far a leg may be off, in logarithms for one standard deviation below and above; ``over``: of which z it is already."""

    low: float
    high: float
    shared: str
    part: float
    over: float | None

    @classmethod
    def of(cls, ready: Ready, leg: Leg, at: int) -> "_Error":
        spread = leg.stage.spread
        middle = _own_days(ready, leg)
        if spread is None or middle <= 0 or middle == float("inf"):
            return cls(0.0, 0.0, "", 0.0, None)
        low, high = _logs(spread, middle, leg.stage.step)
        over = None
        if at == 0 and ready.piece.running is not None and leg.stay and ready.elapsed > 0 and not leg.eats:
            ratio = log(ready.elapsed / DAY / middle)
            side = high if ratio > 0 else low
            over = ratio / side if side else (6.0 if ratio > 0 else None)
        return cls(low, high, spread.shared, spread.shared_part, over)


def _own_days(ready: Ready, leg: Leg) -> float:
    if not leg.eats:
        return leg.length / DAY
    food = ready.food
    return food.days_for(food.tissue_kg, food.tissue_kg) if food.rate > 0 else float("inf")


def _logs(spread: Spread, middle: float, step: str) -> tuple[float, float]:
    if not 0 < spread.p10_days <= middle * (1 + 1e-9) or spread.p90_days < middle * (1 - 1e-9) or not 0 <= spread.shared_part <= 1:
        raise OutsideRange(
            "promise.spread",
            "{step} takes {middle:days}, one in ten under {p10:days} and one in ten over {p90:days}: these must rise from above 0",
            step=step,
            middle=middle,
            p10=spread.p10_days,
            p90=spread.p90_days,
        )
    return -log(min(1.0, spread.p10_days / middle)) / Z90, log(max(1.0, spread.p90_days / middle)) / Z90


def _beyond(z: float, over: float) -> float:
    """Return the z of the same rank among those above ``over``."""
    rank = _NORMAL.cdf(over) + _NORMAL.cdf(z) * (1 - _NORMAL.cdf(over))
    return max(over, _NORMAL.inv_cdf(min(rank, 1 - 1e-12)))


def _ahead(arrivals: Arrivals | None, count: int) -> Ints:
    """Return for each piece that may come how many days after it comes it is promised for; `NEVER` where no day is given."""
    if arrivals is None or not arrivals.ahead_days:
        return np.full(count, NEVER, np.int64)
    of_kinds = [NEVER if days is None else days for days in arrivals.ahead_days]
    return np.resize(np.array(of_kinds, np.int64), count)  # kinds in turn, as the pool has them


def _pool(problem: Problem, arrivals: Arrivals | None) -> tuple[Piece, ...]:
    """Return pieces that may come: enough of each kind for all but the rarest of draws."""
    if arrivals is None or not arrivals.kinds:
        return ()
    days = (problem.now.date() + timedelta(days=day) for day in range(arrivals.days))
    expected = sum(arrivals.per_month.get(day.month, 0.0) / 30.44 for day in days)
    count = int(MOST_ARRIVALS * expected) + 5
    kinds = arrivals.kinds
    return tuple(
        replace(kinds[at % len(kinds)], key=f"comes {at + 1}", release=problem.now, received=problem.now, running=None, place=None)
        for at in range(count)
    )


def _joined(kept: Ints, due: Ints, new: Ints, new_due: Ints) -> Ints:
    """Return an order of numbers with new ones in it, as `joining.joined` does with keys; days are counted, `NEVER` for none."""
    sooner = np.minimum.accumulate(due[::-1])[::-1]
    places = np.searchsorted(sooner, new_due, side="right")
    # Those who join before the same one of the order stand together in front of it.
    slots = np.concatenate([2 * np.arange(len(kept)) + 1, 2 * places])
    by = np.lexsort((np.concatenate([np.zeros_like(due), new_due]), slots))
    order: Ints = np.concatenate([kept, new])[by]
    return order
