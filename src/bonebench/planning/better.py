"""The better plan: what the search found, then the solver on the whole of a small room or on stretches of a large one.

The solver only proposes: its times are read as orders, and an order is kept where dispatch finds it better. Effort is counted
(orders tried, the solver's deterministic time); ``out_of_time`` is a ceiling, and what it cut short says so.
"""

import random
from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.planning import solver
from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.quick import QuickRoom
from bonebench.planning.rolling import search_rolling
from bonebench.planning.rules import Order
from bonebench.planning.search import MOVES, OutOfTime, Score, Searched, search_prepared
from bonebench.planning.solver import Busy
from bonebench.said import Said, said
from bonebench.science.scheduling import Tables, Times
from bonebench.science.scheduling.tables import END, HANDS, PERSON, PLACE, START, STAY, UNSET

# A room of so many pieces or fewer is given to the solver whole; more than that, in stretches of so many.
WHOLE = 25
STRETCH = 10
# From so many pieces on the backlog is searched stretch by stretch.
THOUSANDS = 400
# Deterministic time for one stretch; a unit is about a second of an idle machine of 2020.
EFFORT = 0.5
EFFORT_WHOLE = 3.0
STRETCHES = 12


@dataclass(frozen=True, slots=True)
class Better:
    """The better plan and how it was come by.

    ``bound`` is what no plan's weighted late days can come below, None where nobody knows; ``status`` is *optimal* where the plan
    reaches it or every order was tried, else *found*. ``notes`` say what was cut short or missing.
    """

    plan: Plan
    best_rule: Plan
    status: str
    bound: float | None
    tried: int
    notes: tuple[Said, ...] = ()


def better_plan(
    problem: Problem,
    *,
    moves: int = MOVES,
    stretches: int = STRETCHES,
    effort: float = 1.0,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: OutOfTime = lambda: False,
) -> Better:
    """Search, then let the solver propose; ``effort`` is so many times its usual deterministic time."""
    prepared = Prepared(problem)
    if len(prepared.pieces) >= THOUSANDS:
        found = search_rolling(problem, seed=seed, start=start, out_of_time=out_of_time)
    else:
        found = search_prepared(prepared, moves=moves, seed=seed, start=start, out_of_time=out_of_time)
    notes = [_cut_short(found.tried)] if found.cut_short else []
    if not solver.available():
        notes.append(said("plan.no_solver", "OR-Tools is not installed: the plan is from rules and search alone"))
        return _better(prepared, found, found.plan, None, notes)
    if found.proven:
        return _better(prepared, found, found.plan, None, notes)
    plan, bound = _with_solver(prepared, found.plan, stretches=stretches, effort=effort, seed=seed, out_of_time=out_of_time)
    if not found.cut_short and out_of_time():
        notes.append(_cut_short(found.tried))
    return _better(prepared, found, plan, bound, notes)


def _better(prepared: Prepared, found: Searched, plan: Plan, bound: float | None, notes: Sequence[Said]) -> Better:
    reached = bound is not None and plan.score[0] <= bound + 1e-6
    # Nothing can be less late than not late at all.
    none_late = plan.score[0] == 0
    bound = 0.0 if none_late else plan.score[0] if found.proven else bound
    status = "optimal" if found.proven or reached or none_late else "found"
    return Better(plan, found.best_rule, status, bound, found.tried, tuple(notes))


def _cut_short(tried: int) -> Said:
    return said("plan.cut_short", "time was up after {tried} orders: with more time the plan may get better", tried=tried)


def _with_solver(
    prepared: Prepared, plan: Plan, *, stretches: int, effort: float, seed: int, out_of_time: OutOfTime
) -> tuple[Plan, float | None]:
    quick = QuickRoom(prepared)
    order, bound = plan.order, None
    score: Score = quick.times(quick.order_of(plan.order)).score
    off = {one.piece for one in plan.unplaced}
    movable = [key for key in order if key not in off and prepared.pieces[key].legs]
    if len(movable) <= WHOLE and not out_of_time():
        solved = solver.solve(prepared, keys=movable, effort=effort * EFFORT_WHOLE, seed=seed, hint=_hint(quick, order, movable))
        bound = solved.bound + prepared.lateness_bound * _open(prepared, off) if solved.bound is not None else None
        order, score = _keep_better(quick, order, score, solved.orders())
    elif score[0] > 0:
        rng = random.Random(seed)
        for _ in range(stretches):
            if out_of_time():
                break
            order, score = _better_stretch(quick, order, score, movable, rng=rng, effort=effort * EFFORT)
    if order == plan.order:
        return plan, bound
    return min(plan, planned(prepared, order, "solver"), key=lambda one: one.score), bound


def _open(prepared: Prepared, off: set[str]) -> int:
    return sum(1 for key in off if prepared.pieces[key].piece.held is None)


def _hint(quick: QuickRoom, order: Order, keys: Sequence[str]) -> dict[str, list[int]]:
    times, first = quick.times(quick.order_of(order)), quick.tables.first
    return {key: times.time[first[quick.number[key]] : first[quick.number[key] + 1], START].tolist() for key in keys}


def _keep_better(quick: QuickRoom, order: Order, score: Score, proposed: Sequence[Sequence[str]]) -> tuple[Order, Score]:
    """Try each proposed order of some of the pieces in the places these have now; keep the best."""
    for some in proposed:
        moved = iter(some)
        members = set(some)
        new = tuple(next(moved) if key in members else key for key in order)
        tried = quick.times(quick.order_of(new)).score
        if tried < score:
            order, score = new, tried
    return order, score


def _better_stretch(
    quick: QuickRoom, order: Order, score: Score, movable: Sequence[str], *, rng: random.Random, effort: float
) -> tuple[Order, Score]:
    """Let the solver think over a late piece and those round it in the order, with everybody else where they are."""
    numbers = quick.order_of(order)
    times = quick.times(numbers)
    cost = times.late_days * quick.tables.weight
    known = set(movable)
    line = [key for key in order if key in known]
    costs = [float(cost[quick.number[key]]) for key in line]
    if not any(costs):
        return order, score
    at = rng.choices(range(len(line)), costs)[0]
    low = max(0, min(at - STRETCH + 2, len(line) - STRETCH))
    keys = line[low : low + STRETCH]
    solved = solver.solve(
        quick.prepared, keys=keys, busy=_busy(quick, times, set(keys)), effort=effort, hint=_hint(quick, order, keys)
    )
    return _keep_better(quick, order, score, solved.orders())


def _busy(quick: QuickRoom, times: Times, free: set[str]) -> Busy:
    """What everybody else takes up: where they sit until they go somewhere else, and the hands they need."""
    tables, places = quick.tables, quick.prepared.problem.places
    sits: list[tuple[str, int, int, tuple[float, float, float]]] = []
    hands: list[tuple[int, int, int]] = []
    for key in quick.keys:
        piece = quick.number[key]
        first, last = int(tables.first[piece]), int(tables.first[piece + 1])
        load = quick.prepared.pieces[key].load
        if key in free or not quick.prepared.pieces[key].legs:
            continue
        sits += [
            (places[room].key, since, until, load)
            for room, since, until in _rooms(tables, times, first, last)
            if room < len(places)
        ]
        for leg in range(first, last):
            row = times.time[leg]
            if row[START] != UNSET and row[PERSON] >= 0:
                hands.append((int(row[PERSON]), int(row[START]), int(row[START] + tables.leg[leg, HANDS])))
    return Busy(tuple(sits), tuple(hands))


def _rooms(tables: Tables, times: Times, first: int, last: int) -> list[tuple[int, int, int]]:
    """The rooms one piece is in, from when to when, as far as it has been given times."""
    stays: list[tuple[int, int, int]] = []
    here, since = -1, 0
    for leg in range(first, last):
        row = times.time[leg]
        if row[START] == UNSET:
            break
        start, end, place = max(0, int(row[START])), max(0, int(row[END])), int(row[PLACE])
        if place < 0 or place == here:
            continue
        if here >= 0:
            stays.append((here, since, start))
        here, since = (place, start) if tables.leg[leg, STAY] else (-1, 0)
        if here < 0:
            stays.append((place, start, min(end, start + int(tables.leg[leg, HANDS]))))
    if here >= 0:
        stays.append((here, since, max(0, int(times.time[last - 1, END]))))
    return stays
