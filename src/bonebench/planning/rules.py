"""Six simple rules that make an order of pieces, and the best plan they give.

The first three need no more than dates and days; they make the plan that is always there at once (`best_plan`). All six are where
a search begins (`six_plans`).
"""

from collections.abc import Callable
from datetime import date
from math import exp, inf

from bonebench.planning.calendars import DAY
from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared, Ready
from bonebench.planning.problem import Plan, Problem

Order = tuple[str, ...]
Rule = Callable[[Prepared], Order]

# How many average steps ahead the cost of waiting looks (2 is usual; from memory).
LOOK_AHEAD = 2.0


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
    mean = max(sum(days) / len(days) if days else 1.0, 1 / DAY)

    def cost(ready: Ready) -> tuple[float, ...]:
        work = max(work_days(ready), 1 / DAY)
        spare = max(0.0, _slack(ready, prepared))
        return (-(ready.piece.weight / work) * (exp(-spare / (LOOK_AHEAD * mean)) if spare < inf else 0.0), work)

    return _by(prepared, cost)


def bottleneck_first(prepared: Prepared) -> Order:
    """What asks most of the place everybody wants goes last, so that it does not stand before all the others there.

    The bottleneck is the kind of place whose room would be filled longest by all the stays that want it; among those that do
    not want it the most work goes first.
    """
    wanted: dict[str, float] = {}
    for ready in prepared.pieces.values():
        for kind, days in _days_in(ready).items():
            wanted[kind] = wanted.get(kind, 0.0) + days * ready.piece.load.count
    room = {kind: sum(inf if p.count is None else p.count for p in prepared.problem.places if p.kind == kind) for kind in wanted}
    narrow = max(wanted, key=lambda kind: wanted[kind] / room[kind] if room[kind] else 0.0, default="")
    return _by(prepared, lambda ready: (_days_in(ready).get(narrow, 0.0) / max(ready.piece.weight, 1 / DAY), -work_days(ready)))


RULES: dict[str, Rule] = {
    "earliest due": earliest_due,
    "shortest for its weight": weighted_shortest,
    "first come": first_come,
}
SIX_RULES: dict[str, Rule] = {
    **RULES,
    "least slack": least_slack,
    "cost of waiting": cost_of_waiting,
    "bottleneck first": bottleneck_first,
}


def best_plan(problem: Problem) -> Plan:
    """Return the best plan the simple rules give; of equals, the one of the rule named first."""
    prepared = Prepared(problem)
    return min((planned(prepared, rule(prepared), name) for name, rule in RULES.items()), key=lambda plan: plan.score)


def six_plans(prepared: Prepared) -> tuple[Plan, ...]:
    """Return what each of the six simple rules gives, the best first; of equals the rule named first."""
    plans = (planned(prepared, rule(prepared), name) for name, rule in SIX_RULES.items())
    return tuple(sorted(plans, key=lambda plan: plan.score))


def work_days(ready: Ready) -> float:
    """Return how long a piece would take if it never had to wait for anything but itself."""
    seconds = sum(leg.least + (leg.hands if leg.eats else max(leg.length, leg.hands)) for leg in ready.legs)
    if ready.legs and not ready.legs[0].eats:
        seconds -= min(ready.elapsed, max(ready.legs[0].length, ready.legs[0].hands))
    if any(leg.eats for leg in ready.legs) and ready.food.tissue_kg:
        return seconds / DAY + (ready.food.days_for(ready.food.tissue_kg, ready.food.tissue_kg) if ready.food.rate else inf)
    return seconds / DAY


def _slack(ready: Ready, prepared: Prepared) -> float:
    """Days left over until its due day if it never waited; what is not promised has all the time there is."""
    if ready.piece.due is None:
        return inf
    return (ready.piece.due - prepared.calendar.local_date(0)).days - work_days(ready)


def _days_in(ready: Ready) -> dict[str, float]:
    """Days a piece will stay in each kind of place."""
    days: dict[str, float] = {}
    for leg in ready.legs:
        if leg.stay and leg.kind is not None and not leg.eats:
            days[leg.kind] = days.get(leg.kind, 0.0) + leg.length / DAY
    return days


def _by(prepared: Prepared, key: Callable[[Ready], object]) -> Order:
    # sorted() keeps the order of the problem's list among equals.
    ready = sorted(prepared.pieces.values(), key=key)  # type: ignore[arg-type]  # every key above gives one kind that compares
    return tuple(one.piece.key for one in ready)
