"""Do promises hold? `python benchmarks/promises.py --seasons 40 --loads 0.6 0.9`.

Made seasons are played out (`tests/planning/seasons.py`): who comes is quoted with the room as it is that morning, promised the
day of four times in five, and joins the order; then what really happens is drawn by other code than the replays. With `--quoted
0.3` only three in ten of those with a day are, and the rest are promised 40 to 80 days by custom. Counted is how often the days
of one time in two, four in five and nineteen in twenty held: of quotes, and of promises worked out on two mornings for everyone
in the room.

The promises of one season share its draws (a slow method, a hungry colony), so the season is the unit: the error behind each share
is the standard error between seasons. The binomial one, in brackets, takes each promise for a draw of its own and is too small.
"""

import argparse
import sys
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.planning.seasons import Season, Turned, play

KINDS = {"quote": "quotes", "dated": "in the room, promised", "undated": "in the room, no day"}


def _played(season: Season) -> tuple[Season, list[Turned]]:
    return season, play(season)[0]


def share(seasons: Sequence[Sequence[float]]) -> tuple[float, float, float]:
    """Return a share over all, its standard error with the season as the unit, and the binomial one."""
    held, count = np.array([sum(one) for one in seasons]), np.array([len(one) for one in seasons])
    part, many = held.sum() / count.sum(), len(seasons)
    between = np.sqrt(((held - part * count) ** 2).sum() * many / max(1, many - 1)) / count.sum()
    return float(part), float(between), float(np.sqrt(part * (1 - part) / count.sum()))


def lines(load: float, seasons: Sequence[Sequence[Turned]]) -> Iterator[str]:
    """Say how each kind of promise held at one load."""
    for what, words in KINDS.items():
        mine = [kept for turned in seasons if (kept := [one for one in turned if one.what == what])]
        if not mine:
            continue
        parts = [share([[one.held[at] for one in kept] for kept in mine]) for at in range(3)]
        told = "  ".join(f"{part:6.1%} +-{between:5.1%} ({binomial:4.1%})" for part, between, binomial in parts)
        ranks = np.concatenate([[one.rank for one in kept] for kept in mine])
        days = np.mean([one.days for kept in mine for one in kept])
        yield f"{load:4.2f} {words:22} {len(ranks):5} of {len(mine):3}  {told}  {np.mean(ranks):5.2f} {days:5.0f}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seasons", type=int, default=40)
    parser.add_argument("--loads", type=float, nargs="+", default=[0.6, 0.9])
    parser.add_argument("--undated", type=float, default=0.2, help="the share of those who come that get no day")
    parser.add_argument("--quoted", type=float, default=1.0, help="the share of those with a day that a quote gives it")
    parser.add_argument("--first", type=int, default=0, help="the number of the first season")
    parser.add_argument("--workers", type=int, default=2)
    asked = parser.parse_args()
    numbers = range(asked.first, asked.first + asked.seasons)
    seasons = [Season(number, load, undated=asked.undated, quoted=asked.quoted) for load in asked.loads for number in numbers]
    begin = perf_counter()
    with ProcessPoolExecutor(asked.workers, mp_context=get_context("spawn")) as pool:
        played = list(pool.map(_played, seasons))
    print("load what                  promises, seasons    1 in 2 +-seasons (binomial)    4 in 5    19 in 20    mean rank    days")
    for load in asked.loads:
        print(*lines(load, [turned for season, turned in played if season.load == load]), sep="\n")
    print(f"{len(seasons)} seasons in {perf_counter() - begin:.0f} s")


if __name__ == "__main__":
    main()
