"""What to do about a colony, as data: the key of each piece of advice, why, its numbers with their range.

Advice that can kill a colony is bounded: never more than a quarter is thinned at once, and only after a count.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
import numpy.typing as npt

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.colony.forecast import Forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.limits import (
    DAMP,
    DAMP_HOURS,
    DEADLY_C,
    DRY,
    DRY_HOURS,
    FLIGHT_C,
    MOIST_DAYS,
    SUFFER_C,
    WET,
    WET_HOURS,
)

MOST_THINNED = 0.25
COUNT_HOLDS_DAYS = 14
SOURCE = "colony model; not checked in your room"
SPECIES = "Dermestes maculatus"


class Why(StrEnum):
    """Reasons."""

    HUNGRY = "they can eat more than lies there"
    FOOD_LEFT = "they leave food that will spoil"
    SURPLUS = "they can eat more than is coming"
    NOT_COUNTED = "nobody has counted lately"
    TOO_FEW = "even the lower third could not spare any"
    QUEUE_TOO_LONG = "they do not get through the queue in time"
    CROWDED = "one box does not hold as many as the work needs"
    INSURANCE = "one dead heater or one mite takes a single colony"
    OTHER_SPECIES = "these figures are those of another species"
    NEAR_FLIGHT = "as warm as it takes to fly"
    DAMP = "over 70 % for a day"
    WET = "over 75 % for two days"
    DRY = "under 35 % with no water"
    WARM = "over 32 degC"
    HOT = "over 38 degC"
    PEST = "a pest was seen"
    NO_MOISTURE = "nothing wet went in lately"


@dataclass(frozen=True, slots=True)
class Advice:
    """One piece of advice; ``do`` is its key (feed, thin, count, spare colony, ...), the numbers carry their units."""

    do: str
    why: Why
    numbers: Mapping[str, Figure] = field(default_factory=dict)
    subject: str = ""


def _figure(values: FloatArray, unit: str) -> Figure:
    low, middle, high = (float(q) for q in np.quantile(values, (0.05, 0.5, 0.95)))
    return Figure(middle, low, high, unit, Standing.ESTIMATE, SOURCE)


def feed(told: Forecast, day: int = 0) -> Advice:
    """Say how much to put in on a day.

    Parameters
    ----------
    told : Forecast
        With the food as it is planned, even draws.
    day : int, optional
        Which of its days. [days]

    Returns
    -------
    Advice
        feed, with what they could eat and what more that is than they find; or hold back. [kg/day]
    """
    could, eaten = told.paths("appetite_kg")[:, day], told.paths("eaten_kg")[:, day]
    left = told.paths("food_left_kg")[:, day]
    numbers = {"could_eat": _figure(could, "kg/day"), "short_by": _figure(could - eaten, "kg/day")}
    if np.quantile(left - could, 0.3) > 0:
        return Advice("hold back", Why.FOOD_LEFT, numbers | {"left": _figure(left, "kg")})
    return Advice("feed", Why.HUNGRY, numbers)


def queue(told: Forecast, tissue_kg: float) -> tuple[Figure | None, float]:
    """Say by which day a queue of tissue is eaten, if nothing holds it up but appetite.

    Parameters
    ----------
    told : Forecast
        Of a colony that is fed all it eats, even draws.
    tissue_kg : float
        In the freezer and in the box, zero or more. [kg]

    Returns
    -------
    tuple of Figure or None, and float
        Days (None if fewer than half the draws get through within the forecast), and the share of draws that do.

    Raises
    ------
    OutsideRange
        If the tissue is negative.
    """
    if not tissue_kg >= 0:
        raise OutsideRange("colony.queue", "a queue of {mass:mass}; it must be 0 or more", mass=tissue_kg)
    total = np.cumsum(told.paths("appetite_kg"), axis=1)
    done = total >= tissue_kg
    share = float(done[:, -1].mean())
    if share < 0.5:
        return None, share
    days = np.where(done[:, -1], done.argmax(axis=1) + 1.0, total.shape[1] + 1.0)
    return _figure(days, "days"), share


def thin(told: Forecast, needed_kg_per_day: float, *, counted_days_ago: int | None) -> Advice:
    """Say what may be taken out, sold or given away.

    Parameters
    ----------
    told : Forecast
        Of the colony as it is, even draws.
    needed_kg_per_day : float
        What it will have to eat at most, zero or more. [kg/day]
    counted_days_ago : int or None
        When it was last counted. [days]

    Returns
    -------
    Advice
        count first, keep all, or thin with a share of at most a quarter; surplus is frozen, never let go.

    Raises
    ------
    OutsideRange
        If the need is negative.

    Notes
    -----
    A cautious colony decides: the lower third of the draws on the day of its least appetite.
    """
    if not needed_kg_per_day >= 0:
        raise OutsideRange("colony.needed", "a need of {rate:feeding}; it must be 0 or more", rate=needed_kg_per_day)
    least = told.paths("appetite_kg").min(axis=1)
    numbers = {"could_eat": _figure(least, "kg/day")}
    if counted_days_ago is None or counted_days_ago > COUNT_HOLDS_DAYS:
        return Advice("count", Why.NOT_COUNTED, numbers)
    cautious = float(np.quantile(least, 0.30))
    share = 1.0 - needed_kg_per_day / cautious if cautious > 0 else 0.0
    if share <= 0.02:
        return Advice("keep all", Why.TOO_FEW, numbers)
    share = min(share, MOST_THINNED)
    spare = Figure(share, min(0.02, share), share, "1", Standing.ESTIMATE, SOURCE)
    return Advice("thin", Why.SURPLUS, numbers | {"share_at_most": spare})


def second_colony(told: Forecast, needed_kg_per_day: float, *, has_spare: bool) -> Advice | None:
    """Say whether to start or split a second colony.

    Parameters
    ----------
    told : Forecast
        Of a colony fed all it eats, over the days until it is needed, even draws.
    needed_kg_per_day : float
        What must be eaten a day at the height of the season. [kg/day]
    has_spare : bool
        Whether one lives in another place.

    Returns
    -------
    Advice or None
        None if neither work nor insurance asks for one.
    """
    best = told.paths("appetite_kg").max(axis=1)
    numbers = {"could_eat": _figure(best, "kg/day")}
    if float(np.quantile(best, 0.5)) < needed_kg_per_day:
        return Advice("second colony", Why.CROWDED, numbers)
    return None if has_spare else Advice("spare colony elsewhere", Why.INSURANCE, numbers)


def water(days_since_frozen_in: float | None, *, dried_food: bool) -> Advice | None:
    """Say whether a wet towel or pad is asked for.

    Parameters
    ----------
    days_since_frozen_in : float or None
        Since something frozen or fresh went in; None if nothing has. [days]
    dried_food : bool
        Whether what lies there is dry.

    Returns
    -------
    Advice or None
        None while something wet lies there: `# common practice, no source`, a day.
    """
    if dried_food or days_since_frozen_in is None or days_since_frozen_in > MOIST_DAYS:
        return Advice("water", Why.NO_MOISTURE)
    return None


def longest(over: npt.NDArray[np.bool_]) -> int:
    """Longest stretch in which something holds.

    Parameters
    ----------
    over : ndarray of bool, shape (n,)
        Whether it holds in each hour, or day.

    Returns
    -------
    int
        How many hours, or days, on end. [1]
    """
    best = run = 0
    for yes in over:
        run = run + 1 if yes else 0
        best = max(best, run)
    return best


def warnings(
    temperature_c: FloatArray, humidity: FloatArray, *, has_water: bool, species: str = SPECIES, pests: Sequence[str] = ()
) -> tuple[Advice, ...]:
    """Say what of the air, the species and the pests bears on the colony.

    Parameters
    ----------
    temperature_c, humidity : ndarray, shape (hours,)
        Of the box, hourly; a gap (nan) counts for neither. [degC], [1]
    has_water : bool
        Whether there is water or moist food.
    species : str, optional
        What the beetles were determined as.
    pests : sequence of str, optional
        Keys of pests that were recorded.

    Returns
    -------
    tuple of Advice
        Loudest first. Bands are estimates of the reference; that damp air makes them fly is lore.
    """
    found = [Advice("act on pest", Why.PEST, subject=pest) for pest in pests]
    if species != SPECIES:
        found.append(Advice("mistrust the figures", Why.OTHER_SPECIES, subject=species))
    air: tuple[tuple[str, Why, npt.NDArray[np.bool_], int], ...] = (
        ("cool the box", Why.HOT, temperature_c > DEADLY_C, 1),
        ("dry the box", Why.WET, humidity > WET, WET_HOURS),
        ("watch the heat", Why.WARM, temperature_c > SUFFER_C, 1),
        ("watch the damp", Why.DAMP, humidity > DAMP, DAMP_HOURS),
        ("give water", Why.DRY, (humidity < DRY) & (not has_water), DRY_HOURS),
        ("lid and screens", Why.NEAR_FLIGHT, temperature_c >= FLIGHT_C, 1),
    )
    for do, why, over, hours in air:
        if longest(over) >= hours:
            total = float(np.count_nonzero(over))
            found.append(Advice(do, why, {"hours": Figure(total, total, total, "h", Standing.ROOM, "hours of this log")}))
    return tuple(found)
