"""Looking for a better order: the best of the simple rules, then small changes of it, each turned into times by dispatch.

Effort is counted in orders tried, never in seconds, so the same problem and seed give the same plan on every machine. A ceiling in
seconds may be given from outside; what it cut short says so.
"""

import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from math import exp, factorial, inf

from bonebench.planning.calendars import DAY
from bonebench.planning.dispatch import dispatch_prepared
from bonebench.planning.prepared import Prepared, Ready
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.rules import RULES, Order, Rule, work_days

Score = tuple[float, ...]
Tried = Callable[[int, Plan], None]

# How many orders a search tries unless told otherwise: a minute or so of a room of a hundred pieces.
MOVES = 600
# An order is also kept when it is no worse than the one so many turns ago; it lets the search walk over small hills.
MEMORY = 12
# How many average steps ahead the cost of waiting looks (2 is usual; from memory).
LOOK_AHEAD = 2.0


def _slack(ready: Ready, prepared: Prepared) -> float:
    """Days left over until its due day if it never waited; what is not promised has all the time there is."""
    if ready.piece.due is None:
        return inf
    return (ready.piece.due - prepared.calendar.local_date(0)).days - work_days(ready)


def _by(prepared: Prepared, key: Callable[[Ready], tuple[float, ...]]) -> Order:
    return tuple(one.piece.key for one in sorted(prepared.pieces.values(), key=key))


def least_slack(prepared: Prepared) -> Order:
    """What has the least time to spare goes first."""
    return _by(prepared, lambda ready: (_slack(ready, prepared), work_days(ready)))


def cost_of_waiting(prepared: Prepared) -> Order:
    """What costs most by waiting goes first: its weight a day of work, less the more time it has to spare.

    References
    ----------
    .. [1] A. P. J. Vepsalainen, T. E. Morton (1987), "Priority rules for job shops with weighted tardiness costs", Management
       Science 33, 1035-1047 (apparent tardiness cost; from memory).
    """
    days = [work_days(one) for one in prepared.pieces.values() if work_days(one) < inf]
    mean = sum(days) / len(days) if days else 1.0

    def cost(ready: Ready) -> tuple[float, ...]:
        work = max(work_days(ready), 1 / DAY)
        spare = max(0.0, _slack(ready, prepared))
        return (-(ready.piece.weight / work) * (exp(-spare / (LOOK_AHEAD * mean)) if spare < inf else 0.0), work)

    return _by(prepared, cost)


def longest_first(prepared: Prepared) -> Order:
    """What takes the most work goes first, so that it is not what everybody waits for at the end."""
    return _by(prepared, lambda ready: (-work_days(ready),))


SIX_RULES: dict[str, Rule] = {
    **RULES,
    "least slack": least_slack,
    "cost of waiting": cost_of_waiting,
    "longest first": longest_first,
}


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


def six_plans(prepared: Prepared) -> tuple[Plan, ...]:
    """Return what each of the six simple rules gives, the best first; of equals the rule named first."""
    return tuple(
        sorted((dispatch_prepared(prepared, rule(prepared), name) for name, rule in SIX_RULES.items()), key=lambda p: p.score)
    )


def search(
    problem: Problem,
    *,
    moves: int = MOVES,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: Callable[[], bool] = lambda: False,
    progress: Tried = lambda tried, best: None,
) -> Searched:
    """Look for the best plan with so many orders tried beyond the six rules.

    ``start`` is an order to begin from beside them (yesterday's). ``out_of_time`` is asked before each try; ``progress`` hears of
    each better plan.
    """
    prepared = Prepared(problem)
    plans = list(six_plans(prepared))
    best_rule = plans[0]
    if start is not None:
        plans.append(dispatch_prepared(prepared, _completed(start, prepared), "as before"))
    first = min(plans, key=lambda plan: plan.score)
    if factorial(min(len(prepared.pieces), 9)) <= moves:
        return _every_order(prepared, first, best_rule, out_of_time)
    return _Walk(prepared, first, random.Random(seed), out_of_time, progress).go(moves, best_rule)


def _completed(order: Sequence[str], prepared: Prepared) -> Order:
    """Return an order without pieces that are gone and with new ones at its end."""
    kept = [key for key in dict.fromkeys(order) if key in prepared.pieces]
    return (*kept, *(key for key in prepared.pieces if key not in set(kept)))


def _every_order(prepared: Prepared, first: Plan, best_rule: Plan, out_of_time: Callable[[], bool]) -> Searched:
    best, tried = first, 0
    for order in permutations(prepared.pieces):
        if out_of_time():
            return Searched(best, best_rule, tried, cut_short=True, proven=False)
        plan = dispatch_prepared(prepared, order, "every order")
        tried += 1
        if plan.score < best.score:
            best = plan
    return Searched(best, best_rule, tried, cut_short=False, proven=True)


class _Walk:
    """A walk over orders by small changes, with a short memory of what was good enough."""

    def __init__(
        self, prepared: Prepared, first: Plan, rng: random.Random, out_of_time: Callable[[], bool], progress: Tried
    ) -> None:
        self._prepared = prepared
        self._rng = rng
        self._out_of_time = out_of_time
        self._progress = progress
        self._best = self._here = first
        self._memory: list[Score] = [first.score] * MEMORY
        self._seen = {first.order}

    def go(self, moves: int, best_rule: Plan) -> Searched:
        """Try so many orders."""
        tried = 0
        for order in self._changes():
            if tried >= moves or self._out_of_time():
                break
            plan = dispatch_prepared(self._prepared, order, "searched")
            tried += 1
            self._settle(plan, tried)
        return Searched(self._best, best_rule, tried, cut_short=tried < moves, proven=False)

    def _settle(self, plan: Plan, tried: int) -> None:
        at = tried % MEMORY
        if plan.score <= self._memory[at] or plan.score <= self._here.score:
            self._here = plan
        self._memory[at] = min(self._memory[at], self._here.score)
        if plan.score < self._best.score:
            self._best = plan
            self._progress(tried, plan)

    def _changes(self) -> Iterator[Order]:
        """Return orders near the one we stand at, none twice; at last random ones, so that it ends."""
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
        order = list(self._here.order)
        late = [(one.piece, one.days * self._prepared.pieces[one.piece].piece.weight) for one in self._here.late]
        late += [(one.piece, self._prepared.lateness_bound) for one in self._here.unplaced]
        dice = self._rng.random()
        if late and dice < 0.75:
            piece = self._rng.choices([key for key, _ in late], [max(cost, 1e-9) for _, cost in late])[0]
            at = order.index(piece)
            if at and dice < 0.5:
                order.insert(self._rng.randrange(at), order.pop(at))
                return tuple(order)
            if at:
                # What stands before it and is early can wait for it.
                other = self._rng.randrange(at)
                order[at], order[other] = order[other], order[at]
                return tuple(order)
        one, other = self._rng.randrange(len(order)), self._rng.randrange(len(order))
        order.insert(other, order.pop(one))
        return tuple(order)
