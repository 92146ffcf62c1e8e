"""What a scale tells of a drying skull: the trade's rule of two weighings, how much it leaves open, and a curve through several."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import NormalDist
from typing import Literal

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing

SAME_WITHIN = Figure(
    0.005, 0.005, 0.005, "share", Standing.PRACTICE, "two weighings a day apart within 0.5 %: common practice, no source"
)
# A hand, a draught and the day's humidity move a weight by so much beside the scale's own step.
UNSTEADY = Figure(0.002, 0.001, 0.004, "share", Standing.ESTIMATE, "spread of one weighing of a skull; a guess")
# `UNSTEADY` counts as much as what so many more weighings than unknowns would show.
UNSTEADY_COUNTS = 4
# Time constants are sought from a hundredth of the time weighed to ten times it; beyond, a curve is as good as a straight line.
SHORTEST, LONGEST, TRIED = 0.01, 10.0, 301


@dataclass(frozen=True, slots=True)
class TwoWeighings:
    """What two weighings tell.

    Attributes
    ----------
    passes : bool
        Whether they agree as the rule of the trade asks.
    could_still_lose : float
        Share of its weight that it may still lose when the rule just passes, at this time constant. [1]
    still_to_lose : Figure
        Share it still loses by what it lost between the two, as far as the scale can tell. [1]
    scale_too_coarse : bool
        Whether one step of the scale is more than half of what the rule asks for: then a pass says nothing.
    said : {"same", "falls", "rises", "too coarse"}
        In a word; "rises" is damper air, or a wrong weight.
    """

    passes: bool
    could_still_lose: float
    still_to_lose: Figure
    scale_too_coarse: bool
    said: Literal["same", "falls", "rises", "too coarse"]


def fall_allowed(constant_days: float, may_still_lose: float = SAME_WITHIN.value, hours_apart: float = 24.0) -> float:
    """By how much a skull may fall between two weighings so that no more than a share is still to go.

    Parameters
    ----------
    constant_days : float
        Time constant of drying, above 0. [days]
    may_still_lose : float, optional
        Share of its weight that may still be to go. [1]
    hours_apart : float, optional
        Time between the weighings, above 0. [h]

    Returns
    -------
    float
        Share of its weight: stricter than the trade's rule where the time constant is above a day and a half. [1]

    Raises
    ------
    OutsideRange
        If a time is not above 0.
    """
    if not (constant_days > 0 and hours_apart > 0):
        raise OutsideRange("dry.weighing", "two weighings need weights and a time above 0: check them")
    return may_still_lose * math.expm1(hours_apart / 24 / constant_days)


def two_weighings(first_kg: float, second_kg: float, *, hours_apart: float, step_kg: float, constant_days: float) -> TwoWeighings:
    """Judge a skull by two weighings.

    Parameters
    ----------
    first_kg, second_kg : float
        What it weighed, above 0. [kg]
    hours_apart : float
        Time between, above 0. [h]
    step_kg : float
        Smallest step of the scale, 0 or more. [kg]
    constant_days : float
        Time constant of drying, above 0. [days]

    Returns
    -------
    TwoWeighings
        Whether they pass, and what a pass still leaves open.

    Raises
    ------
    OutsideRange
        If a weight or the time is not above 0.

    Notes
    -----
    What falls by f between two weighings t apart has ``f / (exp(t/tau) - 1)`` still to go. Losing no more than 0.5 % in a day
    leaves nothing to speak of for a mouse and 7 % for a bear that dries with a time constant of two weeks: a slow skull passes too
    early. Weighings less than a day apart are asked for their part of 0.5 %; those further apart for 0.5 % in all.
    """
    if not (first_kg > 0 and second_kg > 0 and hours_apart > 0 and constant_days > 0 and step_kg >= 0):
        raise OutsideRange("dry.weighing", "two weighings need weights and a time above 0: check them")
    days = hours_apart / 24
    allowed = SAME_WITHIN.value * min(days, 1.0)
    fell = (first_kg - second_kg) / first_kg
    coarse = step_kg > first_kg * allowed / 2
    more = 1 / math.expm1(days / constant_days)
    step = step_kg / first_kg
    to_go = Figure(
        max(fell, 0.0) * more, max(fell - step, 0.0) * more, max(fell + step, 0.0) * more, "share", Standing.DERIVED,
        "what it lost between the two, carried on at this time constant",
    )  # fmt: skip
    same: Literal["same", "too coarse"] = "too coarse" if coarse else "same"
    said = same if abs(fell) <= allowed else "falls" if fell > 0 else "rises"
    return TwoWeighings(abs(fell) <= allowed, allowed * more, to_go, coarse, said)


@dataclass(frozen=True, slots=True)
class Dried:
    """A drying curve through weighings.

    Attributes
    ----------
    constant_days : Figure
        Time constant. [days]
    final_kg : Figure
        What it will weigh when the air takes no more. [kg]
    """

    constant_days: Figure
    final_kg: Figure


def fit_weighings(days: Sequence[float], mass_kg: Sequence[float], *, final_kg: float | None = None, step_kg: float = 0.0) -> Dried:
    """Fit a drying curve to weighings.

    Parameters
    ----------
    days, mass_kg : sequence of float, shape (n,), n at least 3, or 2 where the final mass is known
        When it was weighed, rising, and what it weighed. [days], [kg]
    final_kg : float, optional
        What it weighs when dry, where that is known. [kg]
    step_kg : float, optional
        Smallest step of the scale. [kg]

    Returns
    -------
    Dried
        Time constant and final mass with their ends, one in ten outside each.

    Raises
    ------
    Impossible
        If there are too few, they do not rise in time, the weights do not fall, they fall in so straight a line that nobody can
        tell where it ends, or the known final mass is not below them.

    Notes
    -----
    Least squares of ``final + free * exp(-t / tau)``; for a given tau the other two are linear, so tau alone is sought. The ends
    are where the sum of squares is larger by noise times the square of Student's t; the noise is pooled from what the weighings
    show and from `UNSTEADY` with the scale's step.
    """
    _check_weighings(days, mass_kg, final_kg)
    times = [t - days[0] for t in days]

    def squares(tau: float) -> float:
        return _sum_of_squares(times, mass_kg, tau, final_kg)[0]

    grid = _grid(times[-1] * SHORTEST, times[-1] * LONGEST)
    at = min(range(TRIED), key=lambda n: squares(grid[n]))
    fine = _grid(grid[max(at - 1, 0)], grid[min(at + 1, TRIED - 1)])
    best = min(fine, key=squares)
    free = len(days) - (3 if final_kg is None else 2)
    allowed = squares(best) + _edge(squares(best), free, (UNSTEADY.value * mass_kg[-1]) ** 2 + step_kg**2 / 12)
    inside = [n for n in range(TRIED) if squares(grid[n]) <= allowed] or [at]
    if inside[-1] == TRIED - 1:
        raise Impossible(
            "dry.straight",
            "the weights over {days} days do not bend enough to tell where they end: weigh it again after {more} days",
            days=f"{times[-1]:.3g}",
            more=f"{times[-1]:.3g}",
        )
    finer = _grid(grid[max(inside[0] - 1, 0)], grid[inside[-1] + 1])
    taus = [best, *(tau for tau in finer if squares(tau) <= allowed)]
    ends = [_final_ends(times, mass_kg, tau, allowed) if final_kg is None else (final_kg, final_kg) for tau in taus]
    source = f"{len(days)} weighings of this skull"
    return Dried(
        Figure(best, min(taus), max(taus), "days", Standing.ROOM, source),
        Figure(
            _sum_of_squares(times, mass_kg, best, final_kg)[1], min(low for low, _ in ends), max(high for _, high in ends), "kg",
            Standing.ROOM, source,
        ),
    )  # fmt: skip


def _grid(low: float, high: float) -> list[float]:
    return [low * (high / low) ** (n / (TRIED - 1)) for n in range(TRIED)]


def _edge(squares: float, free: int, unsteady_kg2: float) -> float:
    """By how much the sum of squares may grow: the noise, what was expected and what is seen pooled, times Student's t squared."""
    counts = UNSTEADY_COUNTS + free
    return student_90(counts) ** 2 * (UNSTEADY_COUNTS * unsteady_kg2 + squares) / counts


def student_90(counts: float) -> float:
    """Student's t that one in ten lies above.

    Parameters
    ----------
    counts : float
        Degrees of freedom, 4 or more. [1]

    Returns
    -------
    float
        Within 0.3 % of the table. [1]

    References
    ----------
    .. [1] Abramowitz M., Stegun I.A. 1964. Handbook of Mathematical Functions, 26.7.5 (from memory; held against scipy).
    """
    z = NormalDist().inv_cdf(0.9)
    return z + (z**3 + z) / (4 * counts) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * counts**2)


def _final_ends(times: Sequence[float], mass_kg: Sequence[float], tau: float, allowed: float) -> tuple[float, float]:
    """How far the final mass may move at one time constant before the sum of squares has grown to what is allowed."""
    squares, final = _sum_of_squares(times, mass_kg, tau, None)
    shape = [math.exp(-t / tau) for t in times]
    stiff = len(times) - math.fsum(shape) ** 2 / math.fsum(x * x for x in shape)
    reach = math.sqrt(max(allowed - squares, 0.0) / stiff) if stiff > 1e-12 else math.inf
    return max(final - reach, 0.0), final + reach


def _check_weighings(days: Sequence[float], mass_kg: Sequence[float], final_kg: float | None) -> None:
    if len(days) != len(mass_kg) or any(b <= a for a, b in pairwise(days)) or len(days) < (3 if final_kg is None else 2):
        raise Impossible(
            "dry.three",
            "a drying curve takes three weighings or more, or two and the dry mass, each later than the one before",
        )
    if min(mass_kg) <= 0 or mass_kg[-1] >= mass_kg[0]:
        raise Impossible("dry.falls", "the weights do not fall, so no drying can be told from them: it is dry, or the scale is off")
    if final_kg is not None and not 0 < final_kg < min(mass_kg):
        raise Impossible("dry.final", "the dry mass of {final:mass} is not below the weighings, so it is not dry mass: check it",
                         final=final_kg)  # fmt: skip


def _sum_of_squares(times: Sequence[float], mass_kg: Sequence[float], tau: float, final_kg: float | None) -> tuple[float, float]:
    """Return the least sum of squares for a time constant, and the final mass it comes with."""
    shape = [math.exp(-t / tau) for t in times]
    n, sx, sxx = len(times), math.fsum(shape), math.fsum(x * x for x in shape)
    if final_kg is not None:
        free = math.fsum((y - final_kg) * x for x, y in zip(shape, mass_kg, strict=True)) / sxx
        return math.fsum((y - final_kg - free * x) ** 2 for x, y in zip(shape, mass_kg, strict=True)), final_kg
    sy, sxy = math.fsum(mass_kg), math.fsum(x * y for x, y in zip(shape, mass_kg, strict=True))
    det = n * sxx - sx * sx
    if det <= 1e-15:
        mean = sy / n
        return math.fsum((y - mean) ** 2 for y in mass_kg), mean
    free = (n * sxy - sx * sy) / det
    final = (sy - free * sx) / n
    return math.fsum((y - final - free * x) ** 2 for x, y in zip(shape, mass_kg, strict=True)), final
