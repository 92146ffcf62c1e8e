"""How a peroxide bath loses strength by itself: first order, faster when warm, faster with bone, fastest with tissue."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.science.baths.density import WARMEST_C, check_strength
from bonebench.science.baths.reaction import oxygen_l
from bonebench.science.baths.spread import Z90, log_at

Load = Literal["clean", "bone", "tissue"]
LOADS: tuple[Load, ...] = get_args(Load)

K20: Mapping[Load, Figure] = {
    "clean": Figure(
        0.03, 0.01, 0.05, "1/day", Standing.PRACTICE, "covered, clean, diluted with tap water, 20 °C: common practice, no source"
    ),
    "bone": Figure(0.15, 0.05, 0.3, "1/day", Standing.PRACTICE, "with clean degreased bone, 20 °C: common practice, no source"),
    # The range has no middle of its own; its geometric mean is taken.
    "tissue": Figure(1.2, 0.5, 3.0, "1/day", Standing.PRACTICE, "with tissue or blood left, 20 °C: common practice, no source"),
}
Q10 = Figure(
    2.2,
    1.8,
    2.8,
    "times in 10 K",
    Standing.MEMORY,
    "stabilised solution, from memory; 49 kJ/mol on platinum and 75 without a catalyst (published) give 1.9 and 2.8",
)
REFERENCE_C = 20.0

# Below this a bath does little: top it up or mix anew.
FLOOR_W = Figure(0.015, 0.01, 0.02, "w/w", Standing.PRACTICE, "top up or mix anew below it: common practice, no source")
# However slowly a bath goes by the figures, nobody should trust it longer than this without a test.
LONGEST_UNTESTED = Figure(
    14.0, 7.0, 14.0, "days", Standing.PRACTICE, "test or look again within two weeks: common practice, no source"
)


@dataclass(frozen=True, slots=True)
class Leaning:
    """How far this room's own tests move a shipped rate, in standard deviations of the shipped range.

    Attributes
    ----------
    middle : float
        Where its middle went; 0 is the shipped value. [standard deviations]
    spread : float
        How wide it still is; 1 is the shipped range. [standard deviations]
    tests : int
        Tests of strength behind it.
    """

    middle: float = 0.0
    spread: float = 1.0
    tests: int = 0


SHIPPED = Leaning()


def known_load(load: str) -> Load:
    """Read the name of a load.

    Parameters
    ----------
    load : str
        What is in the bath.

    Returns
    -------
    {"clean", "bone", "tissue"}
        The same.

    Raises
    ------
    Impossible
        If it is none of the three.
    """
    if load not in LOADS:
        raise Impossible(
            "bath.load",
            "'{load}' is no load of a bath: say clean (nothing in it), bone (clean and degreased) or tissue (anything left on it)",
            load=load,
        )
    return load


def warmth_factor(temperature_c: float, z: float = 0.0) -> float:
    """How many times faster a bath decays than at 20 degC.

    Parameters
    ----------
    temperature_c : float
        Temperature, 0 to 50. [degC]
    z : float, optional
        Where in the range of `Q10`, in standard deviations.

    Returns
    -------
    float
        Factor; 1 at 20 degC. [1]

    Raises
    ------
    OutsideRange
        If the temperature lies outside 0..50 degC.
    """
    if not 0 <= temperature_c <= WARMEST_C:
        raise OutsideRange(
            "bath.decay_temperature",
            "temperature is {temperature:temperature}; the rule for decay holds from 0 to {warmest:temperature}: "
            "a bath is kept between 15 and 25 °C",
            temperature=temperature_c,
            warmest=WARMEST_C,
        )
    return math.exp(log_at(Q10, z) * (temperature_c - REFERENCE_C) / 10)


def rate_per_day(load: Load, temperature_c: float, leaning: Leaning = SHIPPED) -> Figure:
    """First-order rate at which a bath loses its peroxide.

    Parameters
    ----------
    load : {"clean", "bone", "tissue"}
        What is in it.
    temperature_c : float
        Temperature, 0 to 50. [degC]
    leaning : Leaning, optional
        What the room's own tests say; left out, the shipped range.

    Returns
    -------
    Figure
        Rate with one in ten below and one in ten above. [1/day]

    Raises
    ------
    OutsideRange
        If the temperature lies outside 0..50 degC.

    Notes
    -----
    ``k = k20 * Q10 ** ((T - 20) / 10)``. The doubt of ``k20`` and of ``Q10`` is added as squares of logarithms. pH, light, metal
    and the amount of bone in the bath are left out: they are why the range is wide.
    """
    shipped = K20[known_load(load)]
    middle = log_at(shipped, leaning.middle)
    tens = (temperature_c - REFERENCE_C) / 10
    value = math.exp(middle) * warmth_factor(temperature_c)

    def half(side: float) -> float:
        own = log_at(shipped, leaning.middle + side * Z90 * leaning.spread) - middle
        # Below 20 degC a strong effect of warmth makes the bath slower, not faster.
        warm = tens * (log_at(Q10, math.copysign(Z90, side * tens)) - math.log(Q10.value))
        return math.exp(math.hypot(own, warm))

    standing = Standing.ROOM if leaning.tests else weakest((shipped.standing, Q10.standing) if tens else (shipped.standing,))
    source = f"{leaning.tests} tests of this room with: {shipped.source}" if leaning.tests else shipped.source
    return Figure(value, value / half(-1.0), value * half(1.0), "1/day", standing, source)


def _check_days(days: float) -> None:
    if not 0 <= days < math.inf:
        raise OutsideRange(
            "bath.decay_days", "{days} days cannot be worked with; the time must be 0 or more: check the days", days=days
        )


def strength_after(strength_w: float, days: float, rate: Figure) -> Figure:
    """Strength of a bath after so many days.

    Parameters
    ----------
    strength_w : float
        Mass fraction at the start, 0 to 0.70. [kg/kg]
    days : float
        Time, 0 or more. [days]
    rate : Figure
        Rate of loss, from `rate_per_day`. [1/day]

    Returns
    -------
    Figure
        Mass fraction with one in ten below and one in ten above. [w/w]

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70 or the days are below 0.

    Notes
    -----
    Water that evaporates and oxygen that leaves make the bath lighter and are left out; both err on the weak side, by 1.4 % of the
    strength for all the oxygen of a 3 % bath. The start is taken as known.
    """
    check_strength(strength_w)
    _check_days(days)
    value, low, high = (strength_w * math.exp(-k * days) for k in (rate.value, rate.high, rate.low))
    return Figure(value, low, high, "w/w", rate.standing, rate.source)


def half_life_days(rate: Figure) -> Figure:
    """Days in which a bath loses half its strength.

    Parameters
    ----------
    rate : Figure
        Rate of loss, above 0. [1/day]

    Returns
    -------
    Figure
        Half-life; the slow end of the rate gives the long end. [days]
    """
    value, low, high = (math.log(2) / k for k in (rate.value, rate.high, rate.low))
    return Figure(value, low, high, "days", rate.standing, rate.source)


def oxygen_l_per_day(strength_w: float, mass_kg: float, rate: Figure) -> Figure:
    """Oxygen that a bath gives off within the next day.

    Parameters
    ----------
    strength_w : float
        Mass fraction now, 0 to 0.70. [kg/kg]
    mass_kg : float
        Mass of the bath, 0 or more. [kg]
    rate : Figure
        Rate of loss. [1/day]

    Returns
    -------
    Figure
        Dry oxygen at 20 degC and one atmosphere. [L/day]

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    What comes within a day, so it is never more than the bath holds. With tissue most of it comes in the first hours.
    """
    whole = oxygen_l(strength_w, mass_kg)
    value, low, high = (whole * -math.expm1(-k) for k in (rate.value, rate.low, rate.high))
    return Figure(value, low, high, "L/day", rate.standing, rate.source)


def days_to_floor(strength_w: float, rate: Figure, floor_w: float = FLOOR_W.value) -> Figure:
    """Days until a bath is down to a floor strength.

    Parameters
    ----------
    strength_w : float
        Mass fraction now, 0 to 0.70. [kg/kg]
    rate : Figure
        Rate of loss, above 0. [1/day]
    floor_w : float, optional
        Mass fraction of the floor, above 0. [kg/kg]

    Returns
    -------
    Figure
        Days; 0 where it is there already. [days]

    Raises
    ------
    OutsideRange
        If the strength or the floor lies outside its range.
    """
    check_strength(strength_w)
    check_floor(floor_w)
    if strength_w <= floor_w:
        return Figure(0.0, 0.0, 0.0, "days", rate.standing, rate.source)
    fall = math.log(strength_w / floor_w)
    value, low, high = (fall / k for k in (rate.value, rate.high, rate.low))
    return Figure(value, low, high, "days", rate.standing, rate.source)


def check_floor(floor_w: float) -> None:
    """Refuse a floor that no bath ever reaches.

    Parameters
    ----------
    floor_w : float
        Mass fraction of the floor. [kg/kg]

    Raises
    ------
    OutsideRange
        If it is 0, below, or above 0.70.
    """
    check_strength(floor_w, "floor strength")
    if floor_w == 0:
        raise OutsideRange("bath.floor", "floor strength is 0 %: a bath never gets there; say below which strength it is no use")


def look_by_days(to_floor: Figure) -> float:
    """Days within which a bath must be tested or looked at.

    Parameters
    ----------
    to_floor : Figure
        Days until the floor, from `days_to_floor`. [days]

    Returns
    -------
    float
        The early end of it, and never more than two weeks. [days]
    """
    return min(to_floor.low, LONGEST_UNTESTED.value)
