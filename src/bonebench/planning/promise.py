"""When a piece will be through, said as dates that hold so often: the plan's order replayed under sampled durations.

A replay draws everything that is not known once: each step's days (the error of a method on a species is one draw shared by its
pieces, plus one for each piece), the colony as one path for the whole season, and who comes in meanwhile. It then turns the same
order into times by the compiled dispatch. Replay number k of a seed is always the same draw, whoever asks and on however many
processors; a quote uses the first two hundred, a promise a thousand.
"""

from collections import Counter
from collections.abc import Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import pairwise
from math import ceil

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.planning.draws import Arrivals, Draws, Uncertain
from bonebench.planning.joining import joined
from bonebench.planning.problem import Piece, Problem
from bonebench.planning.waits import Waited, Waits
from bonebench.science.scheduling.tables import END, NEVER, Ints

__all__ = ["Arrivals", "Limiting", "Promised", "Uncertain", "promise", "quote"]

QUOTE_REPLAYS = 200
PROMISE_REPLAYS = 1000
SHARES = (0.5, 0.8, 0.95)
# The day a quote is promised moves its place, and its place the day: so often is it asked again, with a quarter of the replays.
SETTLING = 2


@dataclass(frozen=True, slots=True)
class Limiting:
    """What kept a piece longest in a share of the replays: ``limit`` and ``name`` as in a slot, or *itself*: only its own steps."""

    limit: str
    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Promised:
    """The days by which a piece was through in half, four of five and nineteen of twenty replays; None: not within the horizon.

    ``lasting_days`` is how often it lasted how long, sorted: one number of days from now for each replay that came to an end.
    """

    piece: str
    p50: date | None
    p80: date | None
    p95: date | None
    limited_by: tuple[Limiting, ...]
    replays: int
    unfinished: float
    lasting_days: tuple[float, ...] = field(default=(), repr=False)

    def chance_by(self, days: float) -> float:
        """Return the share of replays that were through so many days from now."""
        return sum(1 for lasted in self.lasting_days if lasted <= days) / self.replays


@dataclass(frozen=True, slots=True)
class _Chunk:
    """Some of the replays, as they go to another process."""

    problem: Problem
    order: tuple[str, ...]
    uncertain: Uncertain
    wanted: tuple[str, ...]
    first: int
    last: int


def promise(
    problem: Problem,
    order: Sequence[str],
    uncertain: Uncertain,
    *,
    wanted: Sequence[str] | None = None,
    replays: int = PROMISE_REPLAYS,
    executor: Executor | None = None,
    workers: int = 1,
) -> dict[str, Promised]:
    """Replay an order so often and return what can be promised for each piece wanted (all that are not held unless told).

    With an ``executor`` the replays are shared among so many of its ``workers``; the answer is the same.
    """
    if replays < 1:
        raise OutsideRange("promise.replays", "{replays} replays say nothing: ask for at least one", replays=replays)
    order = tuple(order)
    kept = tuple(wanted) if wanted is not None else tuple(piece.key for piece in problem.pieces if piece.held is None)
    cuts = [round(replays * at / max(1, workers)) for at in range(max(1, workers) + 1)]
    chunks = [_Chunk(problem, order, uncertain, kept, a, b) for a, b in pairwise(cuts) if b > a]
    parts = list(executor.map(_replay, chunks)) if executor is not None else [_replay(chunk) for chunk in chunks]
    ends: Ints = np.concatenate([part[0] for part in parts])
    waits = [row for part in parts for row in part[1]]
    return {key: _promised(problem, key, ends[:, at], [row[at] for row in waits]) for at, key in enumerate(kept)}


def quote(problem: Problem, order: Sequence[str], piece: Piece, uncertain: Uncertain, *, replays: int = QUOTE_REPLAYS) -> Promised:
    """Say what could be promised for one more piece, as if it were promised the day that holds four times in five.

    It joins the order by that day (`joining`), behind everybody who is promised for it or sooner, and those who come later join
    before or behind it by theirs. Where nobody who came was promised a day it stands behind everything that is there.
    """
    if any(other.key == piece.key for other in problem.pieces):
        raise Impossible("promise.known", "{piece} is in the plan already: ask for its promise, not for a quote", piece=piece.key)
    usual = uncertain.arrivals.usual_ahead_days if uncertain.arrivals is not None else None
    dues = {other.key: other.due for other in problem.pieces}

    def told(due: date | None, replays: int) -> Promised:
        joins = joined([(key, dues[key]) for key in order], [(piece.key, due)])
        fuller = replace(problem, pieces=(*problem.pieces, replace(piece, due=due)))
        return promise(fuller, joins, uncertain, wanted=(piece.key,), replays=replays)[piece.key]

    due = piece.due
    if due is None and usual is not None:
        # From behind everybody who is promised, and then forward: from the front it would find a day that only pushing in gives.
        due = max([piece.release.astimezone(problem.zone).date() + timedelta(days=ceil(usual)), *filter(None, dues.values())])
        for _ in range(SETTLING):
            by = told(due, ceil(replays / 4)).p80
            if by is None or by == due:
                break
            due = by
    return told(due, replays)


def _replay(chunk: _Chunk) -> tuple[Ints, list[list[Waited]]]:
    """Return for each replay when each wanted piece was through (`NEVER` if not), and what kept it longest."""
    draws = Draws(chunk.problem, chunk.uncertain, chunk.order)
    room, waits = draws.quick, Waits(draws.quick)
    numbers = room.order_of(chunk.wanted)
    last_leg, has_legs = room.tables.first[numbers + 1] - 1, np.diff(room.tables.first)[numbers] > 0
    ends = np.full((chunk.last - chunk.first, len(numbers)), NEVER, np.int64)
    kept: list[list[Waited]] = []
    for row, number in enumerate(range(chunk.first, chunk.last)):
        drawn = draws.draw(number)
        times = room.times(drawn.order, drawn.tables)
        through = np.where(has_legs, np.maximum(0, times.time[last_leg, END]), 0)
        ends[row] = np.where(times.unplaced[numbers], NEVER, through)
        kept.append(waits.longest(waits.of(drawn.tables, times.time)[numbers]))
    return ends, kept


def _promised(problem: Problem, key: str, ends: Ints, waits: Sequence[Waited]) -> Promised:
    ordered = np.sort(ends)
    total = len(ordered)
    days = [_day(problem, int(ordered[ceil(share * total) - 1])) for share in SHARES]
    counted = Counter(waits)
    limiting = tuple(Limiting(limit, name, count / total) for (limit, name), count in counted.most_common())
    done = ordered[ordered < NEVER]
    return Promised(
        key, days[0], days[1], days[2], limiting, total, 1 - len(done) / total, tuple((done / 86400).tolist())
    )  # fmt: skip


def _day(problem: Problem, end: int) -> date | None:
    if end >= NEVER:
        return None
    return (problem.now + timedelta(seconds=end)).astimezone(problem.zone).date()
