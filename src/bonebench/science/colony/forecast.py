"""What may become of a colony: a band from many draws, never a single line."""

from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible
from bonebench.science.colony import run
from bonebench.science.colony.demography import growth_rate, schedule_of, stable_colony
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, READ, Conditions, Housing, kernel_house
from bonebench.science.colony.traits import draw_traits

DRAWS = 200
BAND = (0.05, 0.30, 0.50, 0.95)


@dataclass(frozen=True, slots=True)
class Draws:
    """Colonies that may be this one: traits, states and how much each counts (weights sum to 1)."""

    traits: FloatArray
    states: FloatArray
    weights: FloatArray

    def evenly(self, rng: np.random.Generator, count: int = DRAWS) -> "Draws":
        """Return so many draws that count alike: each as often as its weight says, to within one."""
        points = (rng.random() + np.arange(count)) / count
        picked = np.searchsorted(np.cumsum(self.weights) / self.weights.sum(), points, side="right").clip(max=len(self.weights) - 1)
        return Draws(self.traits[picked], self.states[picked], np.full(count, 1.0 / count))


@dataclass(frozen=True, slots=True)
class Forecast:
    """The days of many draws: ``rows`` (draws, days, columns), the last states, the traits and weights they came from."""

    rows: FloatArray
    ends: Draws
    food_dry_share: float

    def paths(self, name: str) -> FloatArray:
        """One of `model.READ` for every draw and day, shape (draws, days)."""
        return READ[name](self.rows, self.food_dry_share)

    def band(self, name: str, shares: tuple[float, ...] = BAND) -> FloatArray:
        """Quantiles of one of `model.READ` for each day, shape (shares, days): P5, P30, P50, P95 unless others are asked for."""
        return quantiles(self.paths(name), self.ends.weights, shares)


def quantiles(values: FloatArray, weights: FloatArray, shares: tuple[float, ...]) -> FloatArray:
    """Quantiles over the first axis by weight.

    Parameters
    ----------
    values : ndarray, shape (n,) or (n, m)
        One row for each draw.
    weights : ndarray, shape (n,)
        Zero or more, not all zero. [1]
    shares : tuple of float
        0 to 1. [1]

    Returns
    -------
    ndarray, shape (len(shares),) or (len(shares), m)
        In the unit of the values.
    """
    if np.ptp(weights) < 1e-12:
        return np.asarray(np.quantile(values, shares, axis=0))
    flat = values.reshape(len(values), -1)
    order = np.argsort(flat, axis=0)
    steps = np.cumsum(weights[order], axis=0)
    middle = (steps - 0.5 * weights[order]) / steps[-1]
    answer = np.empty((len(shares), flat.shape[1]))
    for column in range(flat.shape[1]):
        answer[:, column] = np.interp(shares, middle[:, column], flat[order[:, column], column])
    return answer.reshape((len(shares), *values.shape[1:]))


def likely_colonies(
    rng: np.random.Generator,
    active: float,
    *,
    spread: float = 2.0,
    temperature_c: float = 27.0,
    humidity: float = 0.55,
    count: int = DRAWS,
) -> Draws:
    """Draw colonies from what the literature allows and a guess at the size.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where chance comes from.
    active : float
        Larvae and adults together, guessed. [1]
    spread : float, optional
        Nine in ten of the sizes lie within this factor of the guess, 1 or more. [1]
    temperature_c, humidity : float, optional
        In which it has been living. [degC], [1]
    count : int, optional
        How many draws.

    Returns
    -------
    Draws
        All count alike. How fast each has been growing is drawn too, since that decides how many are young.
    """
    traits = draw_traits(rng, count)
    return Draws(
        traits,
        starts_for(traits, rng.random(count), temperature_c, humidity, active * spread ** (rng.standard_normal(count) / 1.645)),
        np.full(count, 1 / count),
    )


def starts_for(traits: FloatArray, pace: FloatArray, temperature_c: float, humidity: float, active: FloatArray) -> FloatArray:
    """States of colonies that have been growing between a slow decline and as fast as they can.

    Parameters
    ----------
    traits : ndarray, shape (n, 28)
        Of each.
    pace : ndarray, shape (n,)
        0: shrinking by 0.01 a day, 1: growing as fast as the traits allow. [1]
    temperature_c, humidity : float
        In which they have been living. [degC], [1]
    active : ndarray, shape (n,)
        Larvae and adults of each. [1]

    Returns
    -------
    ndarray, shape (n, 97)
        The states.
    """
    states = []
    for row, share, size in zip(traits, pace, active, strict=True):
        schedule = schedule_of(row, max(temperature_c, 20.0), humidity)
        fastest = growth_rate(schedule)
        slowest = -0.01
        states.append(stable_colony(schedule, float(size), slowest + share * max(fastest - slowest, 0.0)))
    return np.array(states)


def forecast(draws: Draws, housing: Housing, given: Conditions, sites: FloatArray | None = None) -> Forecast:
    """Run every draw through the same days.

    Parameters
    ----------
    draws : Draws
        Two hundred or so.
    housing : Housing
        Floor, sites, cover, kind of food.
    given : Conditions
        Air, food and what is taken out.
    sites : ndarray, shape (n,), optional
        Sites of each draw, where they are not known well.

    Returns
    -------
    Forecast
        A row for each draw and day.

    Raises
    ------
    Impossible
        If there are no draws.
    """
    if not len(draws.traits):
        raise Impossible("colony.no_draws", "no colony was given to forecast: start from a count or a guess at the size")
    houses = np.tile(np.array(kernel_house(housing, given.always_food), dtype=np.float64), (len(draws.traits), 1))
    if sites is not None:
        houses[:, 1] = sites
    rows, ends = run.run_many(draws.traits, draws.states, houses, given.hours, 1, HOURS_A_DAY)
    return Forecast(rows, Draws(draws.traits, ends, draws.weights), housing.food_dry_share)
