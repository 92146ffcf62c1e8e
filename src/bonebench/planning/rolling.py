"""Looking for a better order of thousands: one stretch of the order after another, with what is through by then left out.

Each stretch is searched as a small room: those already through before its first piece begins are left out, those still under way
keep the time they began, and nobody of the stretch may begin before its first. What comes of it is kept only where the whole order
is better with it.
"""

import random
from collections.abc import Sequence

import numpy as np

from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Problem
from bonebench.planning.quick import QuickRoom
from bonebench.planning.rules import SIX_RULES, Order
from bonebench.planning.search import Heard, OutOfTime, Searched, Walk, completed
from bonebench.science.scheduling import Tables, Times
from bonebench.science.scheduling.tables import END, RELEASE, RUNS, SITS, START, UNSET

STRETCH = 60
MOVES_EACH = 150


def search_rolling(
    problem: Problem,
    *,
    stretch: int = STRETCH,
    moves_each: int = MOVES_EACH,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: OutOfTime = lambda: False,
    progress: Heard = lambda tried, score: None,
) -> Searched:
    """Search a backlog stretch by stretch, each overlapping half of the one before, with so many orders tried in each."""
    prepared = Prepared(problem)
    quick = QuickRoom(prepared)
    orders = {name: rule(prepared) for name, rule in SIX_RULES.items()}
    scores = {name: quick.times(quick.order_of(order)).score for name, order in orders.items()}
    rule = min(scores, key=lambda name: scores[name])
    order, score = orders[rule], scores[rule]
    if start is not None:
        before = completed(start, prepared)
        order, score = min(((order, score), (before, quick.times(quick.order_of(before)).score)), key=lambda one: one[1])
    rng, tried, cut_short = random.Random(seed), 0, False
    for low in range(0, max(1, len(order) - stretch // 2), max(1, stretch // 2)):
        if out_of_time():
            cut_short = True
            break
        stretched, more = _better_stretch(
            quick, order, (low, min(len(order), low + stretch)), moves=moves_each, rng=rng, out_of_time=out_of_time
        )
        tried += more
        if stretched != order:
            new = quick.times(quick.order_of(stretched)).score
            if new < score:
                order, score = stretched, new
                progress(tried, score)
    best_rule = planned(prepared, orders[rule], rule)
    plan = best_rule if order == orders[rule] else planned(prepared, order, "searched")
    plan = min(best_rule, plan, key=lambda one: one.score)
    return Searched(plan, best_rule, tried, cut_short=cut_short, proven=False)


def _better_stretch(
    quick: QuickRoom, order: Order, span: tuple[int, int], *, moves: int, rng: random.Random, out_of_time: OutOfTime
) -> tuple[Order, int]:
    low, high = span
    numbers = quick.order_of(order)
    times = quick.times(numbers)
    begins, ends = _bounds(quick, times)
    since = int(begins[numbers[low:high]].min())
    before = [key for key in order[:low] if ends[quick.number[key]] > since]
    # What already is somewhere takes up its room, however late its turn.
    there = [key for key in order[high:] if _is_there(quick, key)]
    tables = _held_back(quick, order, span, begins, since)
    part = (*before, *order[low:high], *there)
    walk = Walk(quick, part, rng, out_of_time, span=(len(before), len(before) + high - low), tables=tables)
    tried = walk.go(moves)
    inner = walk.best.order[len(before) : len(before) + high - low]
    return (*order[:low], *inner, *order[high:]), tried


def _bounds(quick: QuickRoom, times: Times) -> tuple[np.ndarray, np.ndarray]:
    """When each piece begins and is through; the horizon for what finds no time."""
    tables = quick.tables
    begins = np.full(len(quick.keys), tables.horizon, np.int64)
    ends = np.full(len(quick.keys), tables.horizon, np.int64)
    for piece in range(len(quick.keys)):
        first, last = int(tables.first[piece]), int(tables.first[piece + 1])
        if last > first and times.time[first, START] != UNSET:
            begins[piece] = max(0, times.time[first, START])
        if last > first and not times.unplaced[piece]:
            ends[piece] = times.time[last - 1, END]
        elif last == first:
            begins[piece] = ends[piece] = 0
    return begins, ends


def _is_there(quick: QuickRoom, key: str) -> bool:
    row = quick.tables.piece[quick.number[key]]
    return bool(row[RUNS] >= 0 or row[SITS] >= 0)


def _held_back(quick: QuickRoom, order: Order, span: tuple[int, int], begins: np.ndarray, since: int) -> Tables:
    piece = quick.tables.piece.copy()
    before, inner = quick.order_of(order[: span[0]]), quick.order_of(order[span[0] : span[1]])
    piece[before, RELEASE] = np.maximum(piece[before, RELEASE], begins[before])
    piece[inner, RELEASE] = np.maximum(piece[inner, RELEASE], since)
    return quick.tables._replace(piece=piece)
