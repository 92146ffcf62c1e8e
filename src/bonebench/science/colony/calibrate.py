"""From what a room has seen to its own beetles: strain speed, size and appetite, with intervals that hold what they say.

Bayes by an ensemble: colonies are drawn from the ranges, run through the room's days, and moved toward what was seen in a few
gentle steps, each as far as the colonies themselves show that a trait bears on what was seen. The intervals cover the errors of
this model's own kind only: that a real colony follows these equations at all is not in them.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.colony.forecast import Draws, Forecast, forecast, starts_for
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import Conditions, Housing
from bonebench.science.colony.observed import Seen
from bonebench.science.colony.traits import UNCERTAIN, Trait, traits_at

SHOWS = ("active", "larvae", "large_larvae", "adults", "pupae", "pupae_in_sites", "eaten_kg")
MEMBERS = 300
# The errors are taken this many times too large in turn; one over them adds up to 1.
STEPS = (9.333, 7.0, 4.0, 2.0)
SIZE, AGES = len(UNCERTAIN), len(UNCERTAIN) + 1
WIDTH = AGES + 1
# An ensemble of hundreds comes out a little too sure: without this, made colonies lay in the 90 % intervals 82 times in a hundred.
WIDER = 1.12
SCALE_KG = 1e-4  # a scale in a shed shows no tenth of a gram


@dataclass(frozen=True, slots=True)
class Guess:
    """What was thought of the size on the first day: larvae and adults, within a factor (nine in ten), and the air before."""

    active: float
    within: float = 4.0
    temperature_c: float = 27.0
    humidity: float = 0.55


@dataclass(frozen=True, slots=True)
class Fit:
    """What the room's own record says: colonies at the end of the record, all alike likely, and what they have in common.

    ``misfit`` is the mean squared distance, in its own spread, of what was seen from what colonies of the ranges show before any
    of it is known: about 1 if they fit. Above 4 something happened that the ranges do not hold: many died, a miscount, another
    species.
    """

    draws: Draws
    misfit: float
    strain: Figure
    active: Figure
    appetite: Figure
    appetite_kg: Figure


def colonies_at(chance: FloatArray, guess: Guess) -> tuple[FloatArray, FloatArray]:
    """Turn standard normal numbers into colonies on the first day.

    Parameters
    ----------
    chance : ndarray, shape (n, WIDTH)
        A column for each uncertain trait, one for the size, one for how many are young. [1]
    guess : Guess
        What was thought of the size.

    Returns
    -------
    tuple of ndarray, shapes (n, 28) and (n, 97)
        Traits and states.
    """
    traits = traits_at(chance)
    size = guess.active * guess.within ** (chance[:, SIZE] / 1.645)
    share = np.array([0.5 * math.erfc(-z / math.sqrt(2.0)) for z in chance[:, AGES]])  # the normal distribution function
    return traits, starts_for(traits, share, guess.temperature_c, guess.humidity, size)


def _shown(seen: Sequence[Seen], paths: Callable[[str], FloatArray]) -> FloatArray:
    """What each colony would have shown, on the scale on which errors are even: shape (n, seen)."""
    columns = []
    for one in seen:
        values = paths(one.what)
        if one.until is not None:
            columns.append(np.log(values[:, one.day : one.until].sum(axis=1) + SCALE_KG))
        else:
            columns.append(np.log(values[:, one.day] * one.part + 0.5))
    return np.column_stack(columns)


def _written(seen: Sequence[Seen]) -> tuple[FloatArray, FloatArray]:
    """What was seen on the same scale, and its variance: how unevenly they sit, and the chance of counting."""
    masses = [one.until is not None for one in seen]
    values = [math.log(one.value + (SCALE_KG if mass else 0.5)) for one, mass in zip(seen, masses, strict=True)]
    # None at all is no vague number: three expected would show some 19 times in 20.
    chance = [0.0 if mass else 1.0 / (one.value + 0.5) if one.value else 0.6 for one, mass in zip(seen, masses, strict=True)]
    errors = [one.spread**2 + by_chance for one, by_chance in zip(seen, chance, strict=True)]
    return np.array(values), np.array(errors)


def _check(seen: Sequence[Seen], days: int) -> None:
    for one in seen:
        if one.what not in SHOWS:
            known = ", ".join(SHOWS)
            raise OutsideRange("colony.shows", "{what} is not held against a colony; {known} are", what=one.what, known=known)
        last = one.day if one.until is None else one.until - 1
        if not 0 <= one.day <= last < days:
            raise Impossible(
                "colony.seen_outside",
                "something was seen on day {day}; the temperatures run over {days} days from day 0: give those of that day too",
                day=last,
                days=days,
            )


def _moved(rng: np.random.Generator, chance: FloatArray, shown: FloatArray, written: FloatArray, errors: FloatArray) -> FloatArray:
    """Move colonies toward what was seen, by how the two vary together."""
    count = len(chance)
    off, spread = chance - chance.mean(axis=0), shown - shown.mean(axis=0)
    together = off.T @ spread / (count - 1)
    alike = np.abs(together) / (off.std(axis=0)[:, None] * spread.std(axis=0)[None, :] + 1e-12)
    # Where the link could be chance alone it is left out: many such links would make the intervals too narrow.
    together = np.where(alike > 2.0 / math.sqrt(count), together, 0.0)
    among = spread.T @ spread / (count - 1) + np.diag(errors)
    noisy = written + rng.standard_normal(shown.shape) * np.sqrt(errors)
    return np.asarray(chance + np.linalg.solve(among, (noisy - shown).T).T @ together.T)


def _widened(chance: FloatArray) -> FloatArray:
    """Spread the colonies a little, nowhere wider than they were before anything was seen."""
    mean, spread = chance.mean(axis=0), chance.std(axis=0)
    return np.asarray(mean + np.clip(1.0 / spread, 1.0, WIDER) * (chance - mean))


def fit(
    rng: np.random.Generator, seen: Sequence[Seen], housing: Housing, given: Conditions, guess: Guess, *, members: int = MEMBERS
) -> Fit:
    """Learn a room's own beetles from what was seen.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where chance comes from; the same rng gives the same answer.
    seen : sequence of Seen
        Counts, grades, pupae, weighings; none leaves the guess as it is.
    housing : Housing
        Floor, sites, cover.
    given : Conditions
        Air and food of the days of the record, to the day of the answer.
    guess : Guess
        The size thought likely on the first day.
    members : int, optional
        How many colonies. [1]

    Returns
    -------
    Fit
        Colonies at the end of the record, and figures whose ranges hold nine chances in ten.

    Raises
    ------
    Impossible
        If something was seen outside the days of the record.
    OutsideRange
        If it is something that a colony does not show, or the guess is no number above 0.

    Notes
    -----
    An ensemble smoother with several assimilations of the same data [1]_ on standard normal numbers behind traits, size and ages.
    Counts and masses are compared by their logarithms.

    References
    ----------
    .. [1] Emerick & Reynolds 2013, Ensemble smoother with multiple data assimilation, Comput. Geosci. 55:3-15 (from memory).
    """
    _check(seen, given.days)
    if not (0 < guess.active < math.inf and guess.within > 1):
        raise OutsideRange(
            "colony.guess",
            "the guess at the size is {size}, within a factor of {within}; give more than 0, within more than 1",
            size=guess.active,
            within=guess.within,
        )
    chance = rng.standard_normal((members, WIDTH))
    told = _told(chance, housing, given, guess)
    misfit = 0.0
    if seen:
        written, errors = _written(seen)
        shown = _shown(seen, told.paths)
        misfit = float(np.mean((written - shown.mean(axis=0)) ** 2 / (errors + shown.var(axis=0))))
        for step in STEPS:
            chance = _moved(rng, chance, _shown(seen, told.paths), written, step * errors)
            told = _told(chance, housing, given, guess)
        told = _told(_widened(chance), housing, given, guess)
    return Fit(
        told.ends,
        misfit,
        _figure(told.ends.traits[:, Trait.STRAIN], "1"),
        _figure(told.paths("active")[:, -1], "1"),
        _figure(told.ends.traits[:, Trait.APPETITE], "1"),
        _figure(told.paths("appetite_kg")[:, -1], "kg/day"),
    )


def _told(chance: FloatArray, housing: Housing, given: Conditions, guess: Guess) -> Forecast:
    traits, starts = colonies_at(chance, guess)
    return forecast(Draws(traits, starts, np.full(len(chance), 1.0 / len(chance))), housing, given)


def _figure(values: FloatArray, unit: str) -> Figure:
    low, middle, high = (float(q) for q in np.quantile(values, (0.05, 0.5, 0.95)))
    return Figure(middle, low, high, unit, Standing.ESTIMATE, "this model held against what was seen here; nine chances in ten")
