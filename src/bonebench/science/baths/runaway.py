"""Whether a bath that warms itself settles or runs away: the heat of breaking down against what its walls and surface let go.

With a rate that rises by the same factor each ten degrees the heat made is an exponential of temperature, and the balance with a
straight-line loss has either two crossings (it settles at the lower one) or none. The border is a closed formula (Semenov).
"""

import math
from dataclasses import dataclass
from typing import Literal

from bonebench.errors import OutsideRange
from bonebench.science.baths.decay import Q10, REFERENCE_C
from bonebench.science.baths.density import check_strength
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY
from bonebench.science.baths.strength import MOLAR_MASS

BOILING_C = 100.0
WARN_C = 30.0
DAY_S = 86_400.0

Verdict = Literal["settles", "warms", "runs away"]


@dataclass(frozen=True, slots=True)
class SelfHeating:
    """How a bath warms itself.

    Attributes
    ----------
    verdict : {"settles", "warms", "runs away"}
        It stays below 30 degC, settles above it, or never settles.
    settles_c : float or None
        Where it settles if it does. [degC]
    heat_w : float
        Heat it makes at the air's temperature. [W]
    tips_c : float
        Bath temperature above which heat made always outruns heat lost, if it is ever brought there. [degC]
    worst_air_c : float
        Warmest air in which it still settles. [degC]
    days_to_boil : float or None
        If it runs away: time to boiling if no heat got away, from the air's temperature. [days]
    """

    verdict: Verdict
    settles_c: float | None
    heat_w: float
    tips_c: float
    worst_air_c: float
    days_to_boil: float | None


def heat_w(mass_kg: float, strength_w: float, rate20_per_day: float, temperature_c: float, q10: float = Q10.value) -> float:
    """Heat that a bath makes by breaking down.

    Parameters
    ----------
    mass_kg : float
        The bath. [kg]
    strength_w : float
        Its mass fraction of peroxide. [kg/kg]
    rate20_per_day : float
        First-order rate at 20 degC. [1/day]
    temperature_c : float
        Its temperature. [degC]
    q10 : float, optional
        How many times faster ten degrees make it. [1]

    Returns
    -------
    float
        Heat. [W]
    """
    mol = mass_kg * strength_w * 1000 / MOLAR_MASS.value
    made: float = mol * HEAT_OF_DECAY.value * 1000 * rate20_per_day / DAY_S * q10 ** ((temperature_c - REFERENCE_C) / 10)
    return made


def self_heating(
    *, mass_kg: float, strength_w: float, rate20_per_day: float, loss_w_per_k: float, air_c: float, q10: float = Q10.value
) -> SelfHeating:
    """Whether a bath settles, warms or runs away.

    Parameters
    ----------
    mass_kg : float
        The bath, above 0. [kg]
    strength_w : float
        Mass fraction of peroxide, 0 to 0.70. [kg/kg]
    rate20_per_day : float
        First-order rate at 20 degC, 0 or more. [1/day]
    loss_w_per_k : float
        Heat that leaves for each degree above the air, above 0. [W/K]
    air_c : float
        The air, 0 to 45. [degC]
    q10 : float, optional
        How many times faster ten degrees make it, above 1. [1]

    Returns
    -------
    SelfHeating
        What it comes to.

    Raises
    ------
    OutsideRange
        If a value lies outside its range.

    Notes
    -----
    Peroxide is taken as not used up meanwhile and evaporation as not cooling, so it errs on the loud side; a catalyst that comes in
    later (blood, rust) is not foreseen. Metal or tissue in the bath can raise the rate a hundredfold.

    References
    ----------
    .. [1] Semenov N.N. 1928, thermal explosion with an exponential rate: the border is at (heat at air) * e * b = loss, with
       b = ln(Q10)/10 (derived by hand: at the tangent the slopes are equal and the bath stands 1/b above the air).
    """
    check_strength(strength_w)
    if not (mass_kg > 0 and rate20_per_day >= 0 and loss_w_per_k > 0 and 0 <= air_c <= 45 and q10 > 1):
        raise OutsideRange(
            "runaway.input",
            "a bath's mass and loss must be above 0, its rate 0 or more and the air from 0 to {warmest:temperature}: check them",
            warmest=45.0,
        )
    b = math.log(q10) / 10
    at_air = heat_w(mass_kg, strength_w, rate20_per_day, air_c, q10)
    # Heat made a e^(b x) against loss L x with x above the air: a tangent when a b e = L.
    load = at_air * b * math.e / loss_w_per_k
    at20 = heat_w(mass_kg, strength_w, rate20_per_day, REFERENCE_C, q10)
    worst = REFERENCE_C + math.log(loss_w_per_k / (at20 * b * math.e)) / b if at20 > 0 else math.inf
    if at_air == 0:
        return SelfHeating("settles", air_c, 0.0, math.inf, math.inf, None)
    if load > 1:
        capacity = mass_kg * HEAT_CAPACITY.value * 1000
        days = capacity / (at_air * b) * (1 - math.exp(-b * (BOILING_C - air_c))) / DAY_S
        return SelfHeating("runs away", None, at_air, air_c, worst, days)
    low, high = _crossings(at_air, b, loss_w_per_k)
    settles = air_c + low
    return SelfHeating("warms" if settles > WARN_C else "settles", settles, at_air, air_c + high, worst, None)


def _crossings(at_air: float, b: float, loss: float) -> tuple[float, float]:
    """Where heat made meets heat lost, below and above the tangent at 1/b, by halving."""

    def over(x: float) -> float:
        return at_air * math.exp(min(b * x, 600.0)) - loss * x

    low, high = 0.0, 1 / b
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) > 0 else (low, middle)
    first = (low + high) / 2
    low, high = 1 / b, 1 / b
    while over(high) < 0:
        high *= 2
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) < 0 else (low, middle)
    return first, (low + high) / 2
