"""Looking for a better order: the best of the six simple rules, then small changes of it, each turned into times.

Orders are tried by the compiled dispatch (`quick`); what is handed back is made by `planned`. Effort is counted in orders
tried, never in seconds, so the same problem and seed give the same plan on every machine. A ceiling in seconds may be given from
outside (``out_of_time``); what it cut short says so.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from math import factorial
from typing import TYPE_CHECKING, NamedTuple

from bonebench.planning.dispatch import dispatch_prepared
from bonebench.planning.joining import joined
from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.rules import Order, six_plans

if TYPE_CHECKING:
    from bonebench.planning.quick import QuickRoom
    from bonebench.science.scheduling import Tables

Score = tuple[float, ...]
Heard = Callable[[int, Score], None]
OutOfTime = Callable[[], bool]

# How many orders a search tries unless told otherwise: some ten seconds of a room of a hundred pieces.
MOVES = 4000
# An order is also kept when it is no worse than the one so many turns ago; it lets the search walk over small hills.
MEMORY = 20
# Every order is tried where there are no more than this.
EVERY_ORDER = 5040


@dataclass(frozen=True, slots=True)
class Searched:
    """The best plan found, the best a simple rule gave, how many orders were tried, and whether it was cut short.

    ``proven`` is True where every order there is was tried.
    """

    plan: Plan
    best_rule: Plan
    tried: int
    cut_short: bool
    proven: bool


def search(
    problem: Problem,
    *,
    moves: int = MOVES,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: OutOfTime = lambda: False,
    progress: Heard = lambda tried, score: None,
) -> Searched:
    """Look for the best plan with so many orders tried beyond the six rules.

    ``start`` is an order to begin from beside them (yesterday's). ``out_of_time`` is asked before each try; ``progress`` hears of
    each better score.
    """
    return search_prepared(Prepared(problem), moves=moves, seed=seed, start=start, out_of_time=out_of_time, progress=progress)


def search_prepared(
    prepared: Prepared,
    *,
    moves: int = MOVES,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: OutOfTime = lambda: False,
    progress: Heard = lambda tried, score: None,
) -> Searched:
    """Search one prepared problem."""
    plans = list(six_plans(prepared))
    best_rule = plans[0]
    if start is not None:
        plans.append(planned(prepared, completed(start, prepared), "as before"))
    first = min(plans, key=lambda plan: plan.score)
    if factorial(min(len(prepared.pieces), 9)) <= min(moves, EVERY_ORDER):
        return _every_order(prepared, first, best_rule, out_of_time)
    if moves <= 0:
        return Searched(first, best_rule, 0, cut_short=False, proven=False)
    from bonebench.planning.quick import QuickRoom  # noqa: PLC0415  numba costs a third of a second

    walk = Walk(QuickRoom(prepared), first.order, random.Random(seed), out_of_time, progress)
    tried = walk.go(moves)
    found = planned(prepared, walk.best.order, "searched")
    return Searched(min(first, found, key=lambda plan: plan.score), best_rule, tried, cut_short=walk.cut_short, proven=False)


def completed(order: Sequence[str], prepared: Prepared) -> Order:
    """Return an order without pieces that are gone and with new ones where they join it (`joining`)."""
    due = {key: ready.piece.due for key, ready in prepared.pieces.items()}
    kept = [key for key in dict.fromkeys(order) if key in due]
    there = set(kept)
    return joined([(key, due[key]) for key in kept], [(key, day) for key, day in due.items() if key not in there])


def _every_order(prepared: Prepared, first: Plan, best_rule: Plan, out_of_time: OutOfTime) -> Searched:
    best, tried = first, 0
    for order in permutations(prepared.pieces):
        if out_of_time():
            return Searched(best, best_rule, tried, cut_short=True, proven=False)
        plan = dispatch_prepared(prepared, order, "every order")
        tried += 1
        if plan.score < best.score:
            best = plan
    return Searched(best, best_rule, tried, cut_short=False, proven=True)


class Stand(NamedTuple):
    """An order that was tried: what it scores, and what each piece costs by being late, by its place in the order."""

    order: Order
    score: Score
    costs: tuple[float, ...]


class Walk:
    """A walk over orders by small changes, with a short memory of what was good enough.

    ``span`` keeps the changes to the pieces from the one to before the other place of the order; the pieces before it stay put and
    those behind it too. ``tables`` stands in for the room's own.
    """

    def __init__(
        self,
        quick: "QuickRoom",
        first: Order,
        rng: random.Random,
        out_of_time: OutOfTime = lambda: False,
        progress: Heard = lambda tried, score: None,
        *,
        span: tuple[int, int] | None = None,
        tables: "Tables | None" = None,
    ) -> None:
        self._quick = quick
        self._tables = quick.tables if tables is None else tables
        self._rng = rng
        self._out_of_time = out_of_time
        self._progress = progress
        self._span = span or (0, len(first))
        self.best = self._here = self.stand(first)
        self._memory: list[Score] = [self._here.score] * MEMORY
        self._seen = {self._here.order}
        self.cut_short = False

    def stand(self, order: Order) -> Stand:
        """Try an order."""
        numbers = self._quick.order_of(order)
        times = self._quick.times(numbers, self._tables)
        weight, bound = self._quick.tables.weight, self._quick.prepared.lateness_bound
        costs = times.late_days[numbers] * weight[numbers] + bound * times.unplaced[numbers]
        return Stand(order, times.score, tuple(costs.tolist()))

    def go(self, moves: int) -> int:
        """Try so many orders; return how many were tried before nothing new was found or time was out."""
        tried = 0
        for order in self._changes():
            if tried >= moves:
                break
            if self._out_of_time():
                self.cut_short = True
                break
            tried += 1
            self._settle(self.stand(order), tried)
        return tried

    def _settle(self, stand: Stand, tried: int) -> None:
        at = tried % MEMORY
        if stand.score <= self._memory[at] or stand.score <= self._here.score:
            self._here = stand
        self._memory[at] = min(self._memory[at], self._here.score)
        if stand.score < self.best.score:
            self.best = stand
            self._progress(tried, stand.score)

    def _changes(self) -> Iterator[Order]:
        """Return orders near the one we stand at, none twice; it ends where nothing new is found any more."""
        misses = 0
        while misses < 200:
            order = self._change()
            if order in self._seen:
                misses += 1
                continue
            misses = 0
            self._seen.add(order)
            yield order

    def _change(self) -> Order:
        order, rng, (low, high) = list(self._here.order), self._rng, self._span
        costs = self._here.costs[low:high]
        dice = rng.random()
        if dice < 0.75 and any(costs):
            at = low + rng.choices(range(high - low), costs)[0]
            if at > low and dice < 0.45:
                # Not far, or anywhere: most orders are nearly right, some pieces are far from their place.
                back = min(at - low, 1 + int(rng.expovariate(1 / 6))) if dice < 0.25 else 1 + rng.randrange(at - low)
                order.insert(at - back, order.pop(at))
                return tuple(order)
            if at > low:
                # What stands before it and is early can wait for it.
                other = low + rng.randrange(at - low)
                order[at], order[other] = order[other], order[at]
                return tuple(order)
        one, other = low + rng.randrange(high - low), low + rng.randrange(high - low)
        order.insert(other, order.pop(one))
        return tuple(order)
