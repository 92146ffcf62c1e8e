"""When a piece that shares a colony with others will be clean, from what was seen of it and what the colony may eat."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure
from bonebench.science.cleaning.flow import Flow, Meal, eat
from bonebench.science.cleaning.looking import EDGE, POINTS, Reading, figure_of, quantile
from bonebench.science.cleaning.surface import FLUX


@dataclass(frozen=True, slots=True)
class Expected:
    """A piece as it is expected: what is left now, its pace, days from now until clean, and how the middle one is eaten.

    ``days_50`` and ``days_80`` are infinite where so many of the colonies never get through it.
    """

    left_share: Figure
    pace: Figure
    days_50: float
    days_80: float
    middle: Meal


def paces(tissue: Figure) -> tuple[float, ...]:
    """Return how fast a piece may go against the first guess, all alike likely.

    Parameters
    ----------
    tissue : Figure
        Tissue it went in with; how well it is known widens the spread of what a surface gives. [kg]

    Returns
    -------
    tuple of float
        Lognormal, wider to the slow side as `FLUX` is. [1]
    """
    mass = math.log(tissue.high / tissue.low) / 2 / EDGE if tissue.low > 0 else 0.0
    up, down = math.log(FLUX.high / FLUX.value) / EDGE, math.log(FLUX.value / FLUX.low) / EDGE
    normal = NormalDist()
    z = [normal.inv_cdf((k + 0.5) / POINTS) for k in range(POINTS)]
    return tuple(math.exp(x * math.hypot(up if x > 0 else down, mass)) for x in z)


def clean_among(
    now_day: float, tissue: Figure, rate_kg_per_day: float, readings: Sequence[Reading], most: Sequence[Flow]
) -> Expected:
    """Work out when a piece in a shared box will be clean.

    Parameters
    ----------
    now_day : float
        Days since it went in, 0 or more. [days]
    tissue : Figure
        Tissue it went in with, above 0. [kg]
    rate_kg_per_day : float
        First guess at what its surface gives a day, above 0. [kg/day]
    readings : sequence of Reading
        Looks and weighings since it went in.
    most : sequence of Flow
        What the colony may have for it through time, all alike likely; day 0 is when it went in. [kg/day]

    Returns
    -------
    Expected
        Ranges are nine chances in ten.

    Raises
    ------
    OutsideRange
        If the tissue or the rate is not above 0.
    Impossible
        If no flow is given.

    Notes
    -----
    Bayes on a grid of paces and flows, as in `looking.clean_by`, which knows one steady appetite only.
    """
    for what, value in (("tissue", tissue.value), ("eating rate", rate_kg_per_day)):
        if not value > 0:
            raise OutsideRange("cleaning.clean_by", "the {what} is {value}; it must be above 0", what=what, value=value)
    if not most:
        raise Impossible("cleaning.no_flow", "nobody said what the colony may eat; give one appetite or more")
    grid = [(pace, eat(tissue.value, rate_kg_per_day * pace, flow)) for flow in most for pace in paces(tissue)]
    logs = [-0.5 * sum(((meal.left_kg(r.day) / tissue.value - r.left_share) / r.spread) ** 2 for r in readings) for _, meal in grid]
    weights = [math.exp(log - max(logs)) for log in logs]
    left = [meal.left_kg(now_day) / tissue.value for _, meal in grid]
    days = [max(0.0, meal.clean_day - now_day) for _, meal in grid]
    source = "this piece as it was seen" if readings else f"{tissue.source}; {FLUX.source}"
    return Expected(
        figure_of(left, weights, source),
        figure_of([pace for pace, _ in grid], weights, source),
        quantile(days, weights, 0.5),
        quantile(days, weights, 0.8),
        _middle([meal for _, meal in grid], weights),
    )


def _middle(meals: Sequence[Meal], weights: Sequence[float]) -> Meal:
    """The meal that is over before as many as after it, by their weight."""
    half = quantile([meal.clean_day for meal in meals], weights, 0.5)
    return next(meal for meal in meals if meal.clean_day == half)


def by_scale(day: float, tissue: Figure, lost_kg: float, wet: Figure) -> Reading | None:
    """Read a weighing of a piece that was weighed before it went in: what it lost was eaten or dried, and which is not known.

    Parameters
    ----------
    day : float
        Days since it went in, 0 or more. [days]
    tissue : Figure
        Tissue it went in with, above 0. [kg]
    lost_kg : float
        What it weighs less than before. [kg]
    wet : Figure
        Days in which the water of what is not eaten falls to 37 %, as `tonight.DRYING`. [days]

    Returns
    -------
    Reading or None
        Share left, as fresh, and how sure that is; None where it did not lose anything.

    Notes
    -----
    Fresh lean tissue is `WATER` water. What is left of it weighs ``f T (1 - WATER + WATER exp(-day / wet))``, so the share left is
    ``f = (T - lost) / (T (...))``. Bone is taken not to dry. Wide on purpose: after some days a scale alone tells little.
    """
    if not lost_kg > 0 or not tissue.value > 0:
        return None
    middle, *ends = (
        _left_by_scale(day, mass, lost_kg, days)
        for mass, days in (
            (tissue.value, wet.value), (tissue.low, wet.high), (tissue.high, wet.low), (tissue.high, wet.high),
            (tissue.low, wet.low),
        )
    )  # fmt: skip
    return Reading(day, middle, max(0.05, (max(ends) - min(ends)) / 2 / EDGE))


# Lean meat: 73 to 75 parts in a hundred (biology 5.2, from memory there).
WATER = 0.74


def _left_by_scale(day: float, tissue_kg: float, lost_kg: float, wet_days: float) -> float:
    weighs = 1.0 - WATER + WATER * math.exp(-day / wet_days)
    return min(1.0, max(0.0, (tissue_kg - lost_kg) / (tissue_kg * weighs)))
