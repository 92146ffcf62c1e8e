"""How wide a figure leaves a result: figures as two-sided lognormals, and the ends of what is worked out from several of them."""

import math
from collections.abc import Callable, Sequence
from statistics import NormalDist

from bonebench.figures import Figure

# The low and high ends of a figure are taken as one in ten below and one in ten above.
STD = NormalDist()
Z90 = STD.inv_cdf(0.9)

STEP = 1e-4
_TURNS = 6


def log_at(figure: Figure, z: float) -> float:
    """Logarithm of a figure at so many standard deviations from its middle.

    Parameters
    ----------
    figure : Figure
        A figure above 0 whose low and high ends are exceeded one time in ten each. [any]
    z : float
        Standard normal deviate; 0 is the figure's value, -1.28 its low and 1.28 its high end.

    Returns
    -------
    float
        Natural logarithm of the figure in its own unit.

    Notes
    -----
    A lognormal with a spread of its own below and above the value, so that value and both ends are met exactly.
    """
    end = figure.high if z > 0 else figure.low
    return math.log(figure.value) + abs(z) / Z90 * math.log(end / figure.value)


def ends(
    worked_out: Callable[[Sequence[float]], float], middle: Sequence[float], covariance: Sequence[Sequence[float]]
) -> tuple[float, float]:
    """Values that a result lies below, and above, one time in ten.

    Parameters
    ----------
    worked_out : callable
        The result as a function of the unknowns; finite everywhere.
    middle : sequence of float, shape (n,)
        The middle of the unknowns, taken as normal.
    covariance : sequence of sequence of float, shape (n, n)
        Their covariance.

    Returns
    -------
    tuple of float, shape (2,)
        The low and the high end.

    Notes
    -----
    The point on the sphere of one-in-ten at which the result is most extreme is sought by repeated linearisation. It is exact where
    the result rises with one weighted sum of the unknowns, however crooked its rise is. Where the results curves across that sum it
    is an approximation of first order.

    References
    ----------
    .. [1] Hasofer A.M., Lind N.C. 1974. J. Eng. Mech. Div. ASCE 100:111-121 (first-order reliability; from memory).
    """
    low, high = (_extreme(worked_out, middle, covariance, side) for side in (-1.0, 1.0))
    return min(low, high), max(low, high)


def gradient(function: Callable[[Sequence[float]], float], at: Sequence[float]) -> list[float]:
    """Slopes of a function of several unknowns, by central differences.

    Parameters
    ----------
    function : callable
        The function.
    at : sequence of float, shape (n,)
        Where.

    Returns
    -------
    list of float, shape (n,)
        The slopes.
    """
    slopes = []
    for place in range(len(at)):
        less, more = list(at), list(at)
        less[place] -= STEP
        more[place] += STEP
        slopes.append((function(more) - function(less)) / (2 * STEP))
    return slopes


def _extreme(
    worked_out: Callable[[Sequence[float]], float],
    middle: Sequence[float],
    covariance: Sequence[Sequence[float]],
    side: float,
) -> float:
    best = worked_out(middle)
    point = list(middle)
    for _ in range(_TURNS):
        slopes = gradient(worked_out, point)
        moved = [math.fsum(c * s for c, s in zip(row, slopes, strict=True)) for row in covariance]
        length = math.sqrt(max(math.fsum(m * s for m, s in zip(moved, slopes, strict=True)), 0.0))
        if length == 0:
            break
        point = [m + side * Z90 * step / length for m, step in zip(middle, moved, strict=True)]
        reached = worked_out(point)
        best = max(best, reached) if side > 0 else min(best, reached)
    return best
