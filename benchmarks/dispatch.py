"""How long dispatch takes for rooms of 12, 40, 100 and 400 pieces: `python benchmarks/dispatch.py` prints a table.

The room is invented and grows with the number of pieces; times are processor time, the best of several runs, in milliseconds.
"""

import random
from datetime import UTC, datetime, time, timedelta
from statistics import median
from time import process_time
from zoneinfo import ZoneInfo

from bonebench.planning.dispatch import dispatch
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Hands, Load, Piece, Problem, Room, Running, Stage
from bonebench.planning.rules import RULES, best_plan

NOW = datetime(2026, 3, 2, 15, tzinfo=UTC)
ZONE = ZoneInfo("America/Chicago")
GOAL_MS = {12: 15.0, 100: 150.0}


def route(rng: random.Random) -> tuple[Stage, ...]:
    grease = rng.choice((1.0, 3.0, 6.0, 14.0))
    return (
        Stage("thaw to trim", 1, "thaw shelf", stay=True, days=1, minutes=3, work="trim", most_wait_days=1, keeps_place=True),
        Stage(
            "trim", 1, "trim bench", stay=False, minutes=rng.choice((10, 25, 45)), work="trim", most_wait_days=1, keeps_place=True
        ),
        Stage("freeze again", 1, "freezer", stay=True, days=2, minutes=2),
        Stage("beetles", 1, "beetle box", stay=True, minutes=4, work="beetles", eats=True),
        Stage("judged clean", 1, "beetle box", stay=False, minutes=3, work="beetles"),
        Stage("one more day", 1, "beetle box", stay=True, days=1),
        Stage("out", 1, "beetle box", stay=False, minutes=4, work="beetles"),
        Stage("degrease", 1, "pot", stay=True, days=grease, minutes=6, work="baths"),
        Stage("dry", 1, "rack", stay=True, days=3, minutes=3),
        Stage("teeth in", 1, "glue bench", stay=False, minutes=25, work="glue", keeps_place=True),
        Stage("cure", 1, "rack", stay=True, days=1),
        Stage("whiten", 1, "tub", stay=True, days=1, minutes=10, work="baths", most_wait_days=0.5),
        Stage("rinse", 1, "rinse water", stay=True, days=1, minutes=5, work="baths", most_wait_days=2),
        Stage("dry again", 1, "rack", stay=True, days=4, minutes=3),
        Stage("finish", 1, "glue bench", stay=False, minutes=15, work="glue"),
        Stage("hand over", 1, "shelf", stay=False, minutes=5),
    )


def hours(*days: int) -> dict[int, tuple[tuple[time, time], ...]]:
    return {day: ((time(8), time(12)), (time(13), time(16, 30))) for day in days}


def room_of(pieces: int) -> Problem:
    """Return a plausible room: most pieces wait in the freezer, some are in the box, the pot or the tub."""
    rng, size = random.Random(pieces), max(1, round(pieces / 20))
    everything = frozenset({"trim", "beetles", "baths", "glue"})
    places = [
        Room("freezer", "freezer", volume_l=40.0 * pieces),
        Room("shelf", "shelf"),
        Room("thaw shelf", "thaw shelf", count=3 * size),
    ]
    places += [
        Room("bench", "trim bench", count=1),
        Room("glue bench", "glue bench", count=1),
        Room("rack", "rack", count=30 * size),
    ]
    for number in range(size):
        places += [Room(f"box {number}", "beetle box", count=12, volume_l=200), Room(f"pot {number}", "pot", count=3)]
        places += [Room(f"tub {number}", "tub", count=3), Room(f"rinse {number}", "rinse water", count=4)]
    people = [Hands("first", hours(0, 2, 4), everything), Hands("second", hours(1, 3), everything)]
    people += [Hands(f"student {number}", hours(5), frozenset({"trim", "glue"})) for number in range(size)]
    return Problem(
        now=NOW,
        zone=ZONE,
        pieces=tuple(piece_of(number, rng, size) for number in range(pieces)),
        places=tuple(places),
        people=tuple(people),
        appetite_kg_per_day={},
        appetite_otherwise={f"box {number}": 0.15 for number in range(size)},
        closed=frozenset({NOW.date() + timedelta(days=30)}),
        horizon_days=700,
    )


def piece_of(number: int, rng: random.Random, size: int) -> Piece:
    stages, tissue = route(rng), rng.uniform(0.03, 0.5)
    at = rng.choice((0, 0, 0, 0, 2, 3, 3, 7, 11))
    box = rng.randrange(size)
    running = {3: f"box {box}", 7: f"pot {box}", 11: f"tub {box}"}.get(at)
    return Piece(
        key=f"P{number}",
        stages=stages[at:],
        release=NOW,
        received=NOW - timedelta(days=rng.randrange(1, 90)),
        load=Load(1, rng.uniform(3, 25), rng.uniform(0.2, 4)),
        due=NOW.date() + timedelta(days=rng.randrange(20, 300)) if rng.random() < 0.6 else None,
        tissue_kg=tissue,
        eating_kg_per_day=tissue / rng.uniform(3, 12),
        place=None if running else "freezer",
        running=None if running is None else Running(running, NOW - timedelta(days=rng.uniform(0, 3))),
    )


def best_ms(pieces: int, turns: int) -> tuple[float, float, float, int, int]:
    problem, single, all_rules = room_of(pieces), [], []
    order = RULES["earliest due"](Prepared(problem))
    plan = dispatch(problem, order)
    for _ in range(turns):
        begin = process_time()
        dispatch(problem, order)
        middle = process_time()
        best_plan(problem)
        single.append(1000 * (middle - begin))
        all_rules.append(1000 * (process_time() - middle))
    return min(single), median(single), min(all_rules), len(plan.slots), len(plan.unplaced)


def main() -> None:
    print(f"{'pieces':>6} {'slots':>6} {'unplaced':>8} {'dispatch ms':>12} {'median':>8} {'three rules':>12} {'goal':>6}")
    for pieces, turns in ((12, 30), (40, 10), (100, 7), (400, 3)):
        single, middle, rules, slots, unplaced = best_ms(pieces, turns)
        goal = GOAL_MS.get(pieces, "")
        print(f"{pieces:>6} {slots:>6} {unplaced:>8} {single:>12.1f} {middle:>8.1f} {rules:>12.1f} {goal:>6}")


if __name__ == "__main__":
    main()
