"""A colony asked in a person's terms: air by the hour, fresh food by the day, numbers by age; and what comes out, by the day."""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colony import equations, layout, run
from bonebench.science.colony.equations import DAY_S, HEAT_J, House
from bonebench.science.colony.layout import FloatArray

HOURS_A_DAY = 24
FRESH_DRY_SHARE = 0.26  # lean tissue is 73-75 % water, from memory
DRIED_DRY_SHARE = 0.80

Series = float | npt.ArrayLike


@dataclass(frozen=True, slots=True)
class Housing:
    """Where the colony lives.

    ``floor_m2`` that beetles walk on, ``sites`` in which one prepupa or pupa each finds room, ``cover`` 0 bare to 1 fibrous,
    ``food_dry_share`` 0.26 for fresh tissue, 0.8 for dried.
    """

    floor_m2: float
    sites: float
    cover: float = 1.0
    food_dry_share: float = FRESH_DRY_SHARE

    def __post_init__(self) -> None:
        if not 0 < self.floor_m2 < math.inf:
            raise OutsideRange(
                "colony.floor", "the floor of the box is {area:area}; it must be above 0: measure it", area=self.floor_m2
            )
        if not 0 <= self.sites < math.inf:
            raise OutsideRange(
                "colony.sites", "pupation sites are {sites}; it must be a number of 0 or more: count the blocks", sites=self.sites
            )
        if not 0 <= self.cover <= 1:
            raise OutsideRange("colony.cover", "cover is {cover:percent}; it lies between 0 and 100 %", cover=self.cover)
        if not 0 < self.food_dry_share <= 1:
            raise OutsideRange(
                "colony.dry_share",
                "the dry share of the food is {share:percent}; it lies above 0 and at most 100 %: fresh is 26 %, dried 80 %",
                share=self.food_dry_share,
            )


def sites_in(block_volume_m3: float, per_m3: float = 150e3) -> float:
    """Pupation sites in blocks.

    Parameters
    ----------
    block_volume_m3 : float
        Soft untreated wood, cork or clean foam, no thicker than about 50 mm (they bore 15-25 mm deep). [m3]
    per_m3 : float, optional
        100 to 200 in a litre, an estimate. [1/m3]

    Returns
    -------
    float
        Sites for one animal each. [1]
    """
    return block_volume_m3 * per_m3


@dataclass(frozen=True, slots=True)
class Conditions:
    """What comes to a colony from outside, hour by hour: the seven columns of `run.run`, and whether food is always there."""

    hours: FloatArray
    always_food: bool

    @property
    def days(self) -> int:
        """Whole days."""
        return len(self.hours) // HOURS_A_DAY


def _series(value: Series, count: int) -> FloatArray:
    array = np.asarray(value, dtype=np.float64)
    if array.ndim and len(array) < count:
        raise Impossible(
            "colony.short_series",
            "a series has {have} hours; {want} are needed: give one value for each hour",
            have=len(array),
            want=count,
        )
    return np.array(np.broadcast_to(array if not array.ndim else array[:count], (count,)))


def _check(what: str, values: FloatArray, bounds: tuple[float, float], rule: str, each: str) -> None:
    gaps = np.flatnonzero(np.isnan(values))
    if len(gaps):
        raise Impossible(
            "colony.gap",
            "{what} has no value for {each} {number} ({count} {each}s in all): fill the gap or begin after it",
            what=what,
            each=each,
            number=int(gaps[0]) + 1,
            count=len(gaps),
        )
    wrong = np.flatnonzero((values < bounds[0]) | (values > bounds[1]))
    if len(wrong):
        raise OutsideRange(
            "colony.series",
            "{what} is {value} in {each} {number}; {rule}",
            what=what,
            value=float(values[wrong[0]]),
            each=each,
            number=int(wrong[0]) + 1,
            rule=rule,
        )


def conditions(
    days: int,
    temperature_c: Series,
    humidity: Series,
    *,
    moist: Series = 1.0,
    food_kg_per_day: Series | None = None,
    most_kg_per_day: Series = math.inf,
    taken_by_day: Series = 0.0,
    cleared_by_day: Series = 0.0,
    food_dry_share: float = FRESH_DRY_SHARE,
) -> Conditions:
    """Put together what comes to a colony.

    Parameters
    ----------
    days : int
        How many, one or more. [days]
    temperature_c, humidity, moist : float or array_like, shape (24 * days or more,)
        Hourly: temperature where the beetles sit [degC]; relative humidity 0 to 1; 1 with moist food or water, 0 with dry only.
    food_kg_per_day : float or array_like, shape (days or more,), optional
        Food put in at the beginning of each day, fresh or dried as ``food_dry_share`` says; left out, there is always enough. [kg]
    most_kg_per_day : float or array_like, shape (days or more,), optional
        The most that the surface of what lies there lets them take. [kg/day]
    taken_by_day, cleared_by_day : float or array_like, shape (days or more,), optional
        Share of the beetles outside blocks, and of the food, taken away at the beginning of each day, 0 to 1. [1]
    food_dry_share : float, optional
        Dry share of the food. [kg/kg]

    Returns
    -------
    Conditions
        Ready for `course_of` and `forecast`.

    Raises
    ------
    Impossible
        If a series has a gap or is too short.
    OutsideRange
        If a ration is negative, or a share or temperature cannot be.
    """
    if days < 1:
        raise OutsideRange("colony.days", "{days} days were asked for; it takes 1 or more", days=days)
    count = days * HOURS_A_DAY
    hours = np.zeros((count, 7))
    for column, (what, value, low, high, rule) in enumerate(
        (
            ("temperature", temperature_c, -60.0, 80.0, "this model holds from -60 to 80 degC"),
            ("relative humidity", humidity, 0.0, 1.0, "it lies between 0 and 1"),
            ("the share of time with water or moist food", moist, 0.0, 1.0, "it lies between 0 and 1"),
        )
    ):
        hours[:, column] = _series(value, count)
        _check(what, hours[:, column], (low, high), rule, "hour")
    shares = "it lies between 0 and 1"
    daily = (
        (3, "the most that can be eaten", most_kg_per_day, math.inf, "it must be 0 or more", food_dry_share),
        (
            4,
            "the ration",
            food_kg_per_day if food_kg_per_day is not None else 0.0,
            1e6,
            "a ration is 0 kg a day or more",
            food_dry_share,
        ),
        (5, "the share taken out", taken_by_day, 1.0, shares, 1.0),
        (6, "the share of food cleared", cleared_by_day, 1.0, shares, 1.0),
    )
    for column, what, value, high, rule, factor in daily:
        each = _series(value, days)
        _check(what, each, (0.0, high), rule, "day")
        if column == 3:
            hours[:, 3] = np.repeat(each, HOURS_A_DAY) * factor
        else:
            hours[::HOURS_A_DAY, column] = each * factor
    return Conditions(hours, food_kg_per_day is None)


def colony_of(
    *, eggs: float = 0, larvae: float = 0, large_larvae: float = 0, prepupae_and_pupae: float = 0, adults: float = 0
) -> FloatArray:
    """State of a colony by what was counted; within an age the animals are spread evenly.

    Parameters
    ----------
    eggs, larvae, large_larvae, prepupae_and_pupae, adults : float
        Numbers, zero or more; ``larvae`` are those before the last instar, pupae sit in sites. [1]

    Returns
    -------
    ndarray, shape (97,)
        The state.

    Raises
    ------
    OutsideRange
        If a number is negative.
    """
    state = np.zeros(layout.STATE)
    spans = (
        ("eggs", eggs, layout.EGG, layout.LARVA),
        ("larvae", larvae, layout.LARVA, layout.LARGE),
        ("large larvae", large_larvae, layout.LARGE, layout.WAITING),
        ("pupae", prepupae_and_pupae, layout.SHELTERED, layout.EXPOSED),
        ("adults", adults, layout.YOUNG, layout.ANIMALS),
    )
    for what, number, first, after in spans:
        if not 0 <= number < math.inf:
            raise OutsideRange("colony.count", "{what}: {number}; a count is 0 or more", what=what, number=number)
        state[first:after] = number / (after - first)
    return state


@dataclass(frozen=True, slots=True)
class Course:
    """What became of one colony, a row for each day; masses of food are fresh (or dried, as the food was), in kg."""

    rows: FloatArray
    end: FloatArray
    food_dry_share: float

    def numbers(self) -> dict[str, FloatArray]:
        """How many at the end of each day, by age."""
        return {name: read(self.rows, self.food_dry_share) for name, read in READ.items() if name in NUMBERS}

    def day_values(self, name: str) -> FloatArray:
        """One of `READ` for each day."""
        return READ[name](self.rows, self.food_dry_share)


def _column(*columns: int) -> Callable[[FloatArray, float], FloatArray]:
    def read(rows: FloatArray, _dry: float) -> FloatArray:
        total: FloatArray = rows[..., columns[0]].copy()
        for column in columns[1:]:
            total += rows[..., column]
        return total

    return read


def _as_food(column: int) -> Callable[[FloatArray, float], FloatArray]:
    def read(rows: FloatArray, dry: float) -> FloatArray:
        return np.asarray(rows[..., column] / dry)

    return read


def _heat(rows: FloatArray, _dry: float) -> FloatArray:
    return np.asarray(rows[..., HEAT_J] / DAY_S)


# What a day's row tells, by name: numbers at its end, sums over it; the unit stands in the name.
READ: dict[str, Callable[[FloatArray, float], FloatArray]] = {
    "eggs": _column(run.EGGS),
    "larvae": _column(run.LARVAE, run.WAITERS),
    "large_larvae": _column(run.LARGE_LARVAE, run.WAITERS),
    "waiting_larvae": _column(run.WAITERS),
    "pupae": _column(run.IN_SITES, run.IN_OPEN),
    "pupae_in_sites": _column(run.IN_SITES),
    "adults": _column(run.YOUNG_ADULTS, run.LAYERS),
    "active": _column(run.LARVAE, run.WAITERS, run.YOUNG_ADULTS, run.LAYERS),
    "live_kg": _column(run.LIVE_KG),
    "appetite_kg": _as_food(equations.COULD_EAT),
    "eaten_kg": _as_food(equations.EATEN),
    "food_left_kg": _as_food(run.FOOD_KG),
    "heat_w": _heat,
    "water_kg": _column(equations.WATER),
    "frass_kg": _column(equations.FRASS),
    "hunger": _column(run.HUNGER),
}
NUMBERS = ("eggs", "larvae", "large_larvae", "waiting_larvae", "pupae", "pupae_in_sites", "adults")


def kernel_house(housing: Housing, always_food: bool) -> House:
    """The same housing in the kernel's terms."""
    return House(housing.floor_m2 * 100.0, housing.sites, housing.cover, housing.food_dry_share, always_food)


def course_of(traits: FloatArray, start: FloatArray, housing: Housing, given: Conditions, *, steps_per_hour: int = 1) -> Course:
    """Run one colony.

    Parameters
    ----------
    traits : ndarray, shape (28,)
        From `traits.usual_traits` or a row of `traits.draw_traits`.
    start : ndarray, shape (97,)
        From `colony_of`, `demography.stable_colony` or the end of another course.
    housing : Housing
        Floor, sites, cover, kind of food.
    given : Conditions
        Air, food and what is taken out.
    steps_per_hour : int, optional
        One is enough below about 40 degC.

    Returns
    -------
    Course
        A row a day.
    """
    rows, end = run.run(traits, start, kernel_house(housing, given.always_food), given.hours, steps_per_hour, HOURS_A_DAY)
    return Course(rows, end, housing.food_dry_share)


def hourly_load(traits: FloatArray, start: FloatArray, housing: Housing, given: Conditions) -> tuple[FloatArray, FloatArray]:
    """Heat and water of a colony by the hour, for the box.

    Parameters
    ----------
    traits, start, housing, given
        As in `course_of`.

    Returns
    -------
    tuple of ndarray, each shape (24 * days,)
        Mean heat [W] and mean water vapour [kg/s]. Water of food that dries uneaten is not in it.
    """
    rows, _ = run.run(traits, start, kernel_house(housing, given.always_food), given.hours, 1, 1)
    return rows[:, HEAT_J] / 3600.0, rows[:, equations.WATER] / 3600.0
