"""What a colony's beetles are like: each trait with its range, and how one colony's traits are drawn from the ranges."""

import math
from collections.abc import Mapping, Sequence
from enum import IntEnum

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.colony import curve
from bonebench.science.colony.layout import FloatArray


class Trait(IntEnum):
    """Place of each trait in a row of numbers."""

    STRAIN = 0
    PEAK_KG = 1
    APPETITE = 2
    EGGS_PER_DAY = 3
    PRE_LAYING_DAYS = 4
    ADULT_DAYS = 5
    HATCH = 6
    LARVAE_LIVE = 7
    PUPAE_LIVE = 8
    FEMALE = 9
    NO_WATER = 10
    NO_COVER = 11
    HEAT_J_KG = 12
    REST_W_KG = 13
    WATER = 14
    PUPAE_EATEN = 15
    CROWDING = 16
    SMALL_EATEN = 17
    EGGS_EATEN = 18
    EGG_SHARE = 19
    PREPUPA_SHARE = 20
    PUPA_SHARE = 21
    RATE = 22
    BEST_C = 23
    WIDTH_K = 24
    LOWER_C = 25
    UPPER_C = 26
    WAITING_DAYS = 27


_ESTIMATE, _PUBLISHED, _DERIVED, _MEMORY = Standing.ESTIMATE, Standing.PUBLISHED, Standing.DERIVED, Standing.MEMORY
_CURVE = "Gaussian fitted to Li et al. 2021 (egg to adult at four temperatures)"

# The range is meant as nine chances in ten.
TRAITS: Mapping[Trait, Figure] = {
    Trait.STRAIN: Figure(
        1.15, 0.95, 1.45, "1", _DERIVED, "Li et al. 2021 (1.0) against Richardson & Goff 2001, second hand (about 1.4)"
    ),
    Trait.PEAK_KG: Figure(
        56e-6,
        35e-6,
        70e-6,
        "kg",
        _ESTIMATE,
        "0.13 g dry food (Charabidze et al. 2014) times 0.43 g gained for each; no mass was found",
    ),
    Trait.APPETITE: Figure(
        1.0, 0.62, 1.45, "1", _DERIVED, "0.07-0.19 g dry food for a larva (Charabidze et al. 2014, D. haemorrhoidalis) about 0.13 g"
    ),
    Trait.EGGS_PER_DAY: Figure(
        4.5, 2.5, 8.0, "1/day", _ESTIMATE, "198-845 eggs in a life (Shaver & Kaufman, EENY-466), over 400 in 100 days (museum page)"
    ),
    Trait.PRE_LAYING_DAYS: Figure(
        7.0, 5.0, 14.0, "days", _ESTIMATE, "5 days above 26.7 C (museum page), 30 at room temperature (keeper)"
    ),
    Trait.ADULT_DAYS: Figure(
        90.0, 60.0, 130.0, "days", _ESTIMATE, "100 days (museum page); males alive at 13 weeks (Jones et al.)"
    ),
    Trait.HATCH: Figure(0.92, 0.85, 0.95, "1", _PUBLISHED, "Bala et al. 2018: 92.6 % at 27 C, 91.7 % at 35 C"),
    Trait.LARVAE_LIVE: Figure(0.90, 0.80, 0.95, "1", _ESTIMATE, "not crowded, 25-30 C"),
    Trait.PUPAE_LIVE: Figure(0.84, 0.80, 0.90, "1", _PUBLISHED, "Bala et al. 2018: 82.1 % at 27 C, 86.7 % at 35 C"),
    Trait.FEMALE: Figure(0.5, 0.45, 0.55, "1", _MEMORY, "as many females as males"),
    Trait.NO_WATER: Figure(0.5, 0.3, 0.8, "1", _ESTIMATE, "eggs without drinking water or moist food"),
    Trait.NO_COVER: Figure(0.1, 0.08, 0.3, "1", _DERIVED, "Fontenot et al. 2015: 3.4 young without cover, 28-42 under fur"),
    Trait.HEAT_J_KG: Figure(8e6, 5e6, 12e6, "J/kg", _ESTIMATE, "heat for each kg of dry food; nothing measured on Dermestes"),
    Trait.REST_W_KG: Figure(2.5, 1.4, 5.0, "W/kg", _ESTIMATE, "fasting, 28 C, from other beetles"),
    Trait.WATER: Figure(1.0, 0.8, 1.2, "1", _ESTIMATE, "0.75 g vapour from a g of fresh food, 0.3 from dried"),
    Trait.PUPAE_EATEN: Figure(
        0.01,
        0.003,
        0.03,
        "dm2/day",
        _ESTIMATE,
        "exposed pupae eaten; shape from flour beetles, level guessed; Fontenot et al. 2015",
    ),
    Trait.CROWDING: Figure(
        0.005,
        0.002,
        0.02,
        "1/day",
        _ESTIMATE,
        "larvae lost a day at 100 large ones on a dm2; Zanetti et al. 2020 says only that more die",
    ),
    Trait.SMALL_EATEN: Figure(0.002, 0.0005, 0.008, "dm2/day", _ESTIMATE, "small larvae eaten when there is no food at all"),
    # What is eaten on a bare floor already stands in NO_COVER; under cover it is left out.
    Trait.EGGS_EATEN: Figure(0.0, 0.0, 0.0, "dm2/day", _ESTIMATE, "under cover left out; used for flour beetles in the tests"),
    Trait.EGG_SHARE: Figure(0.07, 0.05, 0.09, "1", _ESTIMATE, "share of the time from egg to adult"),
    Trait.PREPUPA_SHARE: Figure(0.10, 0.06, 0.14, "1", _ESTIMATE, "share of the time from egg to adult"),
    Trait.PUPA_SHARE: Figure(
        0.16, 0.13, 0.19, "1", _ESTIMATE, "share; 7.25 days for the pupa (Zanetti et al. 2020), temperature not known"
    ),
    Trait.RATE: Figure(curve.RATE_PER_DAY, curve.RATE_PER_DAY, curve.RATE_PER_DAY, "1/day", _DERIVED, _CURVE),
    Trait.BEST_C: Figure(curve.BEST_C, curve.BEST_C, curve.BEST_C, "degC", _DERIVED, _CURVE),
    Trait.WIDTH_K: Figure(curve.WIDTH_K, curve.WIDTH_K, curve.WIDTH_K, "K", _DERIVED, _CURVE),
    Trait.LOWER_C: Figure(
        14.5, 12.5, 16.0, "degC", _DERIVED, "Li et al. 2021 carried on; 12.5 C Coombs; 14 C mean of beetles (Stejskal 2019)"
    ),
    Trait.UPPER_C: Figure(40.0, 37.0, 43.0, "degC", _ESTIMATE, "no dose and response was found"),
    Trait.WAITING_DAYS: Figure(
        21.0, 14.0, 28.0, "days", _ESTIMATE, "a larva without a site puts off pupation for several weeks (keeper)"
    ),
}
# Live gain for each kg of dry food, at an appetite of 1. Toth et al. 2025: 1.439 for each g of protein, 30 % of the food.
GAIN = 0.43
COUNT = len(Trait)
_EDGE = 1.645
_WIDEST = 2.5

_SHARES = frozenset({Trait.HATCH, Trait.LARVAE_LIVE, Trait.PUPAE_LIVE, Trait.FEMALE, Trait.NO_WATER, Trait.NO_COVER})
_PLAIN = frozenset({Trait.LOWER_C, Trait.UPPER_C, Trait.EGG_SHARE, Trait.PREPUPA_SHARE, Trait.PUPA_SHARE})
UNCERTAIN: tuple[Trait, ...] = tuple(trait for trait, figure in TRAITS.items() if figure.low < figure.high)


def usual_traits(**own: float) -> FloatArray:
    """Give one colony's traits: the middle of each range, or a value of one's own.

    Parameters
    ----------
    **own : float
        Values by the trait's name in small letters, in its unit.

    Returns
    -------
    ndarray, shape (28,)
        In the order of `Trait`.

    Raises
    ------
    OutsideRange
        If there is no such trait or its value is not a number of zero or more.
    """
    row = np.array([TRAITS[trait].value for trait in Trait])
    for name, value in own.items():
        if name.upper() not in Trait.__members__:
            raise OutsideRange("colony.trait", "no trait is called {name}; they are {known}", name=name, known=", ".join(_names()))
        if not 0 <= value < math.inf:
            raise OutsideRange(
                "colony.trait_value",
                "{name} is {value}; it must be a number of 0 or more: check what was typed",
                name=name,
                value=value,
            )
        row[Trait[name.upper()]] = value
    return row


def _names() -> list[str]:
    return [trait.name.lower() for trait in Trait]


def _bent(trait: Trait, value: float) -> float:
    if trait in _SHARES:
        return math.log(value / (1.0 - value))
    return value if trait in _PLAIN else math.log(value)


def traits_at(chance: FloatArray, figures: Mapping[Trait, Figure] = TRAITS) -> FloatArray:
    """Turn standard normal numbers into traits.

    Parameters
    ----------
    chance : ndarray, shape (n, m)
        One column for each trait of `UNCERTAIN`, standard normal; cut at 2.5 either side. [1]
    figures : mapping, optional
        The ranges; the shipped ones unless a room has its own.

    Returns
    -------
    ndarray, shape (n, 28)
        In the order of `Trait`.

    Notes
    -----
    A range is taken as nine chances in ten of a normal with two widths, on the log scale for rates and masses, the logit scale
    for shares, and as it is for temperatures and shares of time. Traits are independent of each other.
    """
    rows = np.tile(np.array([figures[trait].value for trait in Trait]), (len(chance), 1))
    for column, trait in enumerate(UNCERTAIN):
        figure = figures[trait]
        middle = _bent(trait, figure.value)
        z = np.clip(chance[:, column], -_WIDEST, _WIDEST)
        up, down = (_bent(trait, figure.high) - middle) / _EDGE, (middle - _bent(trait, figure.low)) / _EDGE
        bent = middle + np.where(z > 0, up, down) * z
        if trait in _SHARES:
            rows[:, trait] = 1.0 / (1.0 + np.exp(-bent))
        else:
            rows[:, trait] = bent if trait in _PLAIN else np.exp(bent)
    return rows


def draw_traits(rng: np.random.Generator, count: int, keep: Sequence[Trait] = ()) -> FloatArray:
    """Draw the traits of colonies that the ranges allow.

    Parameters
    ----------
    rng : numpy.random.Generator
        Where chance comes from.
    count : int
        How many colonies.
    keep : sequence of Trait, optional
        Traits left at their middle.

    Returns
    -------
    ndarray, shape (count, 28)
        In the order of `Trait`.
    """
    chance = rng.standard_normal((count, len(UNCERTAIN)))
    for trait in keep:
        chance[:, UNCERTAIN.index(trait)] = 0.0
    return traits_at(chance)
