"""Queueing limits: one place and chance times against the formulas of the books."""

import math
import random
from datetime import timedelta
from statistics import mean, stdev

import pytest

from bonebench.planning.problem import Room
from bonebench.planning.quick import QuickRoom
from bonebench.science.scheduling.tables import DAY, RELEASE, START
from tests.planning.rooms import NOW, piece, problem, stay

PIECES, WARM_UP, RUNS = 700, 100, 40


def mean_wait(seed, load, pots):
    """Mean days in the queue of pieces that come by chance (Poisson) and stay by chance (exponential, mean 1 day)."""
    rng, at, pieces = random.Random(seed), 0.0, []
    for number in range(PIECES):
        at += rng.expovariate(load * pots)
        comes = NOW + timedelta(days=at)
        pieces.append(piece(f"{number:04d}", stay("degrease", "pot", rng.expovariate(1)), release=comes, received=comes))
    quick = QuickRoom.of(problem(*pieces, places=[Room("pot", "pot", pots)], horizon_days=int(at) + 200))
    times = quick.times(quick.order_of(quick.keys))
    waits = (times.time[:, START] - quick.tables.piece[:, RELEASE]) / DAY
    return float(waits[WARM_UP:].mean())


def erlang_c(load, pots):
    """Chance to wait in M/M/c."""
    offered = load * pots
    head = sum(offered**k / math.factorial(k) for k in range(pots))
    tail = offered**pots / math.factorial(pots) / (1 - load)
    return tail / (head + tail)


# D. Gross, C. M. Harris, Fundamentals of Queueing Theory: M/M/1 mean wait rho/(mu - lambda); M/M/c C/(c mu - lambda).
@pytest.mark.parametrize(("load", "pots"), [(0.5, 1), (0.7, 1), (0.7, 3)])
def test_the_mean_wait_agrees_with_the_queueing_formula(load, pots):
    expected = erlang_c(load, pots) / (pots - load * pots)
    assert pots > 1 or expected == pytest.approx(load / (1 - load))
    waits = [mean_wait(seed, load, pots) for seed in range(RUNS)]
    error = stdev(waits) / math.sqrt(RUNS)
    # Three and a half standard errors of the mean of independent runs; small enough for the test to mean something.
    assert error < 0.12 * expected
    assert mean(waits) == pytest.approx(expected, abs=3.5 * error)
