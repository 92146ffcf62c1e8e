"""How good and how quick planning is: `python benchmarks/planning.py [quality|tiny|thousands|replays]`.

The seasons are invented: a hundred specimens of eight steps that come in over some months, with one beetle box, four pots, tubs,
water and two part-time people, from light (half of what the pots can do) to overloaded (1.4 times that). Times are wall time on
whatever else the machine does; quality is against the best of the six simple rules.
"""

import argparse
import random
import sys
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from itertools import permutations
from math import ceil
from multiprocessing import get_context
from pathlib import Path
from statistics import median
from time import perf_counter
from zoneinfo import ZoneInfo

sys.path.insert(0, str(Path(__file__).parents[1]))

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Hands, Load, Piece, Problem, Room, Spread, Stage
from bonebench.planning.promise import Arrivals, Uncertain, promise, quote
from bonebench.planning.rolling import search_rolling
from bonebench.planning.search import search

NOW = datetime(2026, 9, 7, 15, tzinfo=UTC)
ZONE = ZoneInfo("America/Chicago")
POTS = 4


def route(rng: random.Random) -> tuple[Stage, ...]:
    grease = rng.choice((2.0, 4.0, 7.0, 14.0))
    return (
        Stage("thaw and trim", 1, "trim bench", stay=False, minutes=rng.choice((15, 30, 45)), work="trim", most_wait_days=1),
        Stage("beetles", 1, "beetle box", stay=True, minutes=4, work="beetles", eats=True),
        spread(Stage("degrease", 1, "pot", stay=True, days=grease, minutes=6, work="baths"), 0.6, 1.8),
        spread(Stage("dry", 1, "rack", stay=True, days=3, minutes=3), 0.7, 1.5),
        Stage("teeth in", 1, "glue bench", stay=False, minutes=25, work="glue"),
        spread(Stage("whiten", 1, "tub", stay=True, days=2, minutes=10, work="baths", most_wait_days=0.5), 0.6, 1.6),
        Stage("rinse", 1, "rinse water", stay=True, days=1, minutes=5, work="baths", most_wait_days=2),
        spread(Stage("dry again", 1, "rack", stay=True, days=4, minutes=3), 0.7, 1.5),
    )


def spread(stage: Stage, low: float, high: float) -> Stage:
    more = Spread(stage.days * low, stage.days * high, shared=f"{stage.step}")
    return Stage(**{name: getattr(stage, name) for name in Stage.__slots__ if name != "spread"}, spread=more)


def season(seed: int, load: float, count: int = 100, pots: int = POTS, *, frozen: bool = False) -> Problem:
    """Return a season in which the pots are asked for so much of what they can do; the beetles for four fifths of that.

    Degreasing takes 6.75 days on average: the days over which the specimens come in follow from that. A frozen backlog is all there
    at once and promised over those days.
    """
    rng, days = random.Random(seed), 6.75 * count / (pots * load)
    everything, hours = frozenset({"trim", "beetles", "baths", "glue"}), ((time(8), time(12)), (time(13), time(16, 30)))
    people = (Hands("first", {0: hours, 2: hours, 4: hours}, everything), Hands("second", {1: hours, 3: hours}, everything))
    pieces = []
    for number in range(count):
        comes = rng.uniform(0, days)
        came = NOW if frozen else NOW + timedelta(days=comes)
        tissue, stages = rng.uniform(0.1, 0.5), route(rng)
        work = sum(stage.days for stage in stages) + 8
        days_left = work * rng.uniform(1.1, 2.5) + (comes if frozen else 0)
        due = came.date() + timedelta(days=round(days_left)) if rng.random() < 0.8 else None
        pieces.append(
            Piece(
                f"P{number}", stages, came, came, Load(1, rng.uniform(3, 15), rng.uniform(0.3, 3)), due, rng.choice((1, 1, 2, 5)),
                tissue, tissue / rng.uniform(3, 8),
            )
        )  # fmt: skip
    a_day = count / days
    places = (
        Room("bench", "trim bench", 1), Room("glue", "glue bench", 1), Room("rack", "rack", max(40, count // 10)),
        Room("box", "beetle box", max(12, count // 20)), Room("pot", "pot", pots), Room("tub", "tub", ceil(3.5 * a_day)),
        Room("rinse", "rinse water", ceil(3 * a_day)),
    )  # fmt: skip
    if count > 1000:
        # A museum: as many helpers as it takes.
        people += tuple(Hands(f"student {n}", dict.fromkeys(range(5), hours), everything) for n in range(4))
    return Problem(
        NOW, ZONE, tuple(pieces), places, people, {}, {"box": 0.3 * a_day / (0.8 * load)}, horizon_days=ceil(2 * days) + 150
    )


def ceiling(seconds: float) -> Callable[[], bool]:
    until = perf_counter() + seconds
    return lambda: perf_counter() > until


def quality(seconds: float, seasons: int) -> None:
    print(f"{'season':>6} {'load':>5} {'rule':>22} {'late by rule':>12} {'searched':>9} {'less':>6} {'orders':>7}")
    gains: dict[str, list[float]] = {}
    for number in range(seasons):
        load = 0.5 + number * 0.9 / max(1, seasons - 1)
        room = season(number, load)
        found = search(room, moves=10**9, seed=1, out_of_time=ceiling(seconds))
        before, after = found.best_rule.score[0], found.plan.score[0]
        assert found.plan.score <= found.best_rule.score
        less = 1 - after / before if before else 0.0
        gains.setdefault("light" if load < 0.75 else "loaded" if load <= 1.0 else "overloaded", []).append(less)
        print(f"{number:>6} {load:>5.2f} {found.best_rule.rule:>22} {before:>12.0f} {after:>9.0f} {less:>6.1%} {found.tried:>7}")
    for name, values in gains.items():
        print(f"{name}: weighted late days lower by {median(values):.1%} (median of {len(values)}), never worse than the best rule")


def tiny() -> None:
    best = 0
    for seed in range(10):
        room = season(seed, 1.2, count=5, pots=1)
        found = search(room)
        best += found.plan.score == min(dispatch(room, order).score for order in permutations(p.key for p in room.pieces))
    print(f"tiny rooms: the best of all orders in {best} of 10")


def thousands(count: int, seconds: float) -> None:
    room = season(1, 1.0, count=count, pots=round(6.75 * count / 365), frozen=True)
    begin = perf_counter()
    # A stretch once begun is searched to its end, and then the plans that are shown are made: both take their part.
    found = search_rolling(room, seed=1, out_of_time=ceiling(0.9 * seconds))
    rule, plan = found.best_rule, found.plan
    print(f"{count} frozen specimens over a year: {perf_counter() - begin:.1f} s (goal 60), {found.tried} orders tried")
    print(f"  weighted late days {rule.score[0]:.0f} by {rule.rule}, {plan.score[0]:.0f} after the search")


def replays(workers: int) -> None:
    room = season(3, 0.9)
    order = search(room, moves=0).plan.order
    uncertain = Uncertain(appetite_low=0.7, appetite_high=1.3)
    promise(room, order, uncertain, replays=2)
    begin = perf_counter()
    promise(room, order, uncertain, replays=1000)
    print(f"1,000 replays of {len(room.pieces)} x 8 in one process: {perf_counter() - begin:.1f} s")
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        promise(room, order, uncertain, replays=2 * workers, executor=pool, workers=workers)
        begin = perf_counter()
        promise(room, order, uncertain, replays=1000, executor=pool, workers=workers)
        print(f"1,000 replays on {workers} processes already running: {perf_counter() - begin:.1f} s (goal 5)")
    new = season(99, 0.9, count=1).pieces[0]
    new = Piece("new", new.stages, NOW, NOW, tissue_kg=new.tissue_kg, eating_kg_per_day=new.eating_kg_per_day)
    begin = perf_counter()
    asked = quote(room, order, new, uncertain)
    print(f"a quote of 200 replays: {perf_counter() - begin:.2f} s (goal 1): {asked.p50} {asked.p80} {asked.p95}")
    kinds = season(98, 0.9, count=24).pieces
    ahead = tuple((one.due - one.received.date()).days if one.due is not None else None for one in kinds)
    arrivals = Arrivals(kinds, dict.fromkeys(range(1, 13), 10.0), 270, ahead)
    begin = perf_counter()
    promise(room, order, replace(uncertain, arrivals=arrivals), replays=1000)
    print(f"1,000 replays with others coming in, ten a month: {perf_counter() - begin:.1f} s")
    begin = perf_counter()
    quote(room, order, new, replace(uncertain, arrivals=arrivals))
    print(f"a quote with others coming in, asked again until its day stands: {perf_counter() - begin:.2f} s (goal 1)")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", nargs="?", default="all", choices=("all", "quality", "tiny", "thousands", "replays"))
    parser.add_argument("--seconds", type=float, default=10)
    parser.add_argument("--seasons", type=int, default=20)
    asked = parser.parse_args()
    # The first order compiles what no earlier run has kept.
    search(season(0, 1.0, count=12, pots=1), moves=2)
    if asked.what in ("all", "quality"):
        quality(asked.seconds, asked.seasons)
    if asked.what in ("all", "tiny"):
        tiny()
    if asked.what in ("all", "thousands"):
        thousands(2000, 60)
    if asked.what in ("all", "replays"):
        replays(2)


if __name__ == "__main__":
    main()
