"""Simple rules that make an order of pieces, and the best plan they give."""

from collections.abc import Callable
from datetime import date
from math import inf

from bonebench.planning.calendars import DAY
from bonebench.planning.dispatch import dispatch_prepared
from bonebench.planning.prepared import Prepared, Ready
from bonebench.planning.problem import Plan, Problem

Order = tuple[str, ...]
Rule = Callable[[Prepared], Order]


def earliest_due(prepared: Prepared) -> Order:
    """What is promised soonest goes first; what is not promised goes last."""
    return _by(prepared, lambda ready: ready.piece.due or date.max)


def weighted_shortest(prepared: Prepared) -> Order:
    """What takes the least work for its weight goes first.

    References
    ----------
    .. [1] W. E. Smith (1956), "Various optimizers for single-stage production", Naval Research Logistics Quarterly 3, 59-66.
    """
    return _by(prepared, lambda ready: work_days(ready) / ready.piece.weight if ready.piece.weight else inf)


def first_come(prepared: Prepared) -> Order:
    """What was received first goes first."""
    return _by(prepared, lambda ready: ready.piece.received)


RULES: dict[str, Rule] = {
    "earliest due": earliest_due,
    "shortest for its weight": weighted_shortest,
    "first come": first_come,
}


def best_plan(problem: Problem) -> Plan:
    """Return the best plan the simple rules give; of equals, the one of the rule named first."""
    prepared = Prepared(problem)
    return min((dispatch_prepared(prepared, rule(prepared), name) for name, rule in RULES.items()), key=lambda plan: plan.score)


def work_days(ready: Ready) -> float:
    """Return how long a piece would take if it never had to wait for anything but itself."""
    seconds = sum(leg.least + (leg.hands if leg.eats else max(leg.length, leg.hands)) for leg in ready.legs)
    if ready.legs and not ready.legs[0].eats:
        seconds -= min(ready.elapsed, max(ready.legs[0].length, ready.legs[0].hands))
    if any(leg.eats for leg in ready.legs) and ready.food.tissue_kg:
        return seconds / DAY + (ready.food.days_for(ready.food.tissue_kg, ready.food.tissue_kg) if ready.food.rate else inf)
    return seconds / DAY


def _by(prepared: Prepared, key: Callable[[Ready], object]) -> Order:
    # sorted() keeps the order of the problem's list among equals.
    ready = sorted(prepared.pieces.values(), key=key)  # type: ignore[arg-type]  # every key above gives one kind that compares
    return tuple(one.piece.key for one in ready)
