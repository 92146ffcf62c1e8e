"""What the traits mean for a colony that has all it needs: how fast it grows, how long a generation is, who is how old."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from bonebench.errors import Impossible
from bonebench.science.colony import layout
from bonebench.science.colony.curve import development_rate, humidity_pace, resting_pace
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.traits import Trait


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stage: its boxes, rate out of each [1/day], deaths while in it [1/day], and the share that lives through its end."""

    boxes: int
    rate: float
    deaths: float
    passes: float


@dataclass(frozen=True, slots=True)
class Schedule:
    """One life at constant warmth with food, sites and room enough: the stages, and daughters a day in each laying box."""

    stages: tuple[Stretch, ...]
    laying_rate: float
    daughters_per_day: FloatArray


def schedule_of(traits: FloatArray, temperature_c: float, humidity: float, *, moist: float = 1.0, cover: float = 1.0) -> Schedule:
    """Work out the schedule of one life.

    Parameters
    ----------
    traits : ndarray, shape (28,)
        One colony's.
    temperature_c : float
        Constant. [degC]
    humidity, moist, cover : float
        0 to 1, as for `model.conditions` and `model.Housing`. [1]

    Returns
    -------
    Schedule
        Its rates.

    Raises
    ------
    Impossible
        If it is too cold or too hot for any development.
    """
    p = traits
    curve = (p[Trait.RATE], p[Trait.BEST_C], p[Trait.WIDTH_K], p[Trait.LOWER_C], p[Trait.UPPER_C])
    rate = development_rate(temperature_c, *curve)
    if rate <= 0.0:
        raise Impossible(
            "colony.no_growth",
            "at {t:temperature} nothing grows: it takes more than {low:temperature} and less than {high:temperature}",
            t=temperature_c,
            low=float(p[Trait.LOWER_C]),
            high=float(p[Trait.UPPER_C]),
        )
    pace, growing = rate / development_rate(28.0, *curve), rate * p[Trait.STRAIN] * humidity_pace(humidity, moist)
    chamber = p[Trait.PREPUPA_SHARE] + p[Trait.PUPA_SHARE]
    larva = 1.0 - p[Trait.EGG_SHARE] - chamber
    pupa_deaths = -math.log(p[Trait.PUPAE_LIVE]) * growing / chamber
    stages = (
        Stretch(layout.EGG_BOXES, growing * layout.EGG_BOXES / p[Trait.EGG_SHARE], 0.0, p[Trait.HATCH]),
        Stretch(layout.LARVA_BOXES, growing * layout.LARVA_BOXES / larva, -math.log(p[Trait.LARVAE_LIVE]) * growing / larva, 1.0),
        Stretch(layout.PREPUPA_BOXES, growing * layout.PREPUPA_BOXES / p[Trait.PREPUPA_SHARE], pupa_deaths, 1.0),
        Stretch(layout.PUPA_BOXES, growing * layout.PUPA_BOXES / p[Trait.PUPA_SHARE], pupa_deaths, 1.0),
        Stretch(layout.YOUNG_BOXES, pace * layout.YOUNG_BOXES / p[Trait.PRE_LAYING_DAYS], 0.0, 1.0),
    )
    eggs = pace * p[Trait.EGGS_PER_DAY] * p[Trait.FEMALE]
    eggs *= (p[Trait.NO_WATER] + (1 - p[Trait.NO_WATER]) * moist) * (p[Trait.NO_COVER] + (1 - p[Trait.NO_COVER]) * cover)
    ageing = resting_pace(temperature_c) * layout.LAYING_BOXES / max(p[Trait.ADULT_DAYS] - p[Trait.PRE_LAYING_DAYS], 1.0)
    return Schedule(stages, float(ageing), eggs * np.array(layout.LAYING_BY_AGE))


def _offspring(schedule: Schedule, growth: float) -> float:
    """Discounted offspring of one egg: the left side of the Euler-Lotka equation. A box's transform is rate/(rate+deaths+r)."""
    share = 1.0
    for stage in schedule.stages:
        share *= stage.passes * (stage.rate / (stage.rate + stage.deaths + growth)) ** stage.boxes
    total = 0.0
    for daughters in schedule.daughters_per_day:
        total += share * daughters / (schedule.laying_rate + growth)
        share *= schedule.laying_rate / (schedule.laying_rate + growth)
    return total


def growth_rate(schedule: Schedule) -> float:
    """Rate at which such a colony grows in the long run.

    Parameters
    ----------
    schedule : Schedule
        Of one life.

    Returns
    -------
    float
        Below 0 if it dies out. [1/day]

    Notes
    -----
    Root of the Euler-Lotka equation; the transform of an Erlang stage is exact. Food, sites, crowding and neglect are left out,
    so real colonies grow more slowly.
    """
    floor = -0.999 * min(schedule.laying_rate, *(stage.rate + stage.deaths for stage in schedule.stages))
    if _offspring(schedule, floor) < 1.0:
        return floor
    return float(brentq(lambda r: _offspring(schedule, r) - 1.0, floor, 2.0, xtol=1e-12))


def doubling_days(schedule: Schedule) -> float:
    """Days in which such a colony doubles; infinite if it does not grow.

    Parameters
    ----------
    schedule : Schedule
        Of one life.

    Returns
    -------
    float
        [days]
    """
    rate = growth_rate(schedule)
    return math.log(2.0) / rate if rate > 0 else math.inf


def generation_days(schedule: Schedule) -> float:
    """Mean age of mothers at the birth of their young, in a colony that grows as this one does.

    Parameters
    ----------
    schedule : Schedule
        Of one life.

    Returns
    -------
    float
        [days]
    """
    rate, step = growth_rate(schedule), 1e-6
    return -(_offspring(schedule, rate + step) - _offspring(schedule, rate - step)) / (2.0 * step)


def stable_colony(schedule: Schedule, active: float, growth: float | None = None) -> FloatArray:
    """A colony in which the ages stand to each other as they do after long steady growth.

    Parameters
    ----------
    schedule : Schedule
        Of one life.
    active : float
        Larvae and adults together, zero or more. [1]
    growth : float, optional
        At which rate it has been growing; that of the schedule unless given (0: as many born as die). [1/day]

    Returns
    -------
    ndarray, shape (97,)
        The state; all pupae in sites.
    """
    rate = growth_rate(schedule) if growth is None else growth
    state, place, flow = np.zeros(layout.STATE), layout.EGG, 1.0
    firsts = (layout.EGG, layout.LARVA, layout.SHELTERED, layout.SHELTERED + layout.PREPUPA_BOXES, layout.YOUNG)
    for first, stage in zip(firsts, schedule.stages, strict=True):
        for place in range(first, first + stage.boxes):
            state[place] = flow / (stage.rate + stage.deaths + rate)
            flow = state[place] * stage.rate
        flow *= stage.passes
    for place in range(layout.LAYING, layout.ANIMALS):
        state[place] = flow / (schedule.laying_rate + rate)
        flow = state[place] * schedule.laying_rate
    moving = state[layout.LARVA : layout.WAITING].sum() + state[layout.YOUNG : layout.ANIMALS].sum()
    return np.asarray(state * (active / moving))
