"""Whether a bath that warms itself settles or runs away: the heat of breaking down against what its walls and surface let go.

With a rate that rises by the same factor each ten degrees the heat made is an exponential of temperature, and the balance with a
straight-line loss has either two crossings (it settles at the lower one) or none. The border is a closed formula (Semenov). It
takes the peroxide as never used up; `warming` lets it be used up and says how warm the bath really gets.
"""

import math
from dataclasses import dataclass
from typing import Literal

from bonebench.errors import OutsideRange
from bonebench.science.baths.decay import Q10, REFERENCE_C
from bonebench.science.baths.density import check_strength
from bonebench.science.baths.reaction import HEAT_CAPACITY, HEAT_OF_DECAY, heat_rise_k
from bonebench.science.baths.strength import MOLAR_MASS

BOILING_C = 100.0
WARN_C = 30.0
DAY_S = 86_400.0

Verdict = Literal["settles", "warms", "runs away"]
VERDICTS: tuple[Verdict, ...] = ("settles", "warms", "runs away")


@dataclass(frozen=True, slots=True, kw_only=True)
class WarmBath:
    """A bath that makes heat and loses it.

    Attributes
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
    q10 : float
        How many times faster ten degrees make it, above 1. [1]
    bath_c : float or None
        How warm it begins, 0 to below 100; None for as warm as the air. [degC]
    capacity : float
        Heat that warms a kilogram by a degree, above 0. [kJ/(kg K)]
    """

    mass_kg: float
    strength_w: float
    rate20_per_day: float
    loss_w_per_k: float
    air_c: float
    q10: float = Q10.value
    bath_c: float | None = None
    capacity: float = HEAT_CAPACITY.value

    def __post_init__(self) -> None:
        check_strength(self.strength_w)
        finite = all(math.isfinite(x) for x in (self.mass_kg, self.rate20_per_day, self.loss_w_per_k, self.q10, self.capacity))
        over = self.mass_kg > 0 and self.rate20_per_day >= 0 and self.loss_w_per_k > 0 and self.q10 > 1 and self.capacity > 0
        if not (finite and over and 0 <= self.air_c <= 45):
            raise OutsideRange(
                "runaway.input",
                "a bath's mass and loss must be above 0, its rate 0 or more and the air from 0 to {warmest:temperature}: "
                "check them",
                warmest=45.0,
            )
        if not 0 <= self.start_c < BOILING_C:
            raise OutsideRange("runaway.bath", "the bath is {bath:temperature}; it lies from 0 to below {boiling:temperature}",
                               bath=self.start_c, boiling=BOILING_C)  # fmt: skip

    @property
    def start_c(self) -> float:
        """How warm it begins. [degC]"""
        return self.air_c if self.bath_c is None else self.bath_c

    @property
    def b_per_k(self) -> float:
        """Share by which the rate rises for each degree. [1/K]"""
        return math.log(self.q10) / 10

    @property
    def heat_j_per_k(self) -> float:
        """Heat that warms it by a degree. [J/K]"""
        return self.mass_kg * self.capacity * 1000

    @property
    def rise_k(self) -> float:
        """Warming if all its peroxide broke down and no heat got away. [K]"""
        return heat_rise_k(self.strength_w) * HEAT_CAPACITY.value / self.capacity

    def made_w(self, temperature_c: float) -> float:
        """Heat it makes at a temperature. [W]"""
        return heat_w(self.mass_kg, self.strength_w, self.rate20_per_day, temperature_c, self.q10)


@dataclass(frozen=True, slots=True)
class SelfHeating:
    """How a bath warms itself, its peroxide taken as never used up.

    Attributes
    ----------
    verdict : {"settles", "warms", "runs away"}
        It stays below 30 degC, settles above it, or never settles.
    settles_c : float or None
        Where it settles if it does. [degC]
    heat_w : float
        Heat it makes at the air's temperature. [W]
    tips_c : float
        Bath temperature above which heat made always outruns heat lost, if it is ever brought there; the air's if it is so
        everywhere. [degC]
    worst_air_c : float
        Warmest air in which it still settles. [degC]
    days_to_boil : float or None
        If it runs away and holds peroxide enough to boil: time to boiling if no heat got away, so no sooner than this. [days]
    days_to_warn : float or None
        If it runs away: the same to 30 degC; 0 where it is as warm already. [days]
    most_c : float
        Where all its peroxide would bring it if no heat got away and nothing boiled, by the middle of the heat figures; their ends
        are a fifteenth less and a sixth more of warming. [degC]
    """

    verdict: Verdict
    settles_c: float | None
    heat_w: float
    tips_c: float
    worst_air_c: float
    days_to_boil: float | None
    days_to_warn: float | None
    most_c: float


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
    """Whether a bath that begins as warm as the air settles, warms or runs away.

    Parameters
    ----------
    mass_kg, strength_w, rate20_per_day, loss_w_per_k, air_c, q10
        As in `WarmBath`.

    Returns
    -------
    SelfHeating
        What it comes to.

    Raises
    ------
    OutsideRange
        If a value lies outside its range.
    """
    return judge(
        WarmBath(
            mass_kg=mass_kg,
            strength_w=strength_w,
            rate20_per_day=rate20_per_day,
            loss_w_per_k=loss_w_per_k,
            air_c=air_c,
            q10=q10,
        )
    )


def judge(bath: WarmBath) -> SelfHeating:
    """Whether a bath settles, warms or runs away.

    Parameters
    ----------
    bath : WarmBath
        The bath, as warm as it begins.

    Returns
    -------
    SelfHeating
        What it comes to.

    Notes
    -----
    Peroxide is taken as not used up meanwhile and evaporation as not cooling, so it errs on the loud side; see
    `warming.LEAVES_OUT` for what it cannot see. A weak bath that runs away by this rule still ends at ``most_c`` at the latest.

    With ``x`` above the air, heat made ``a exp(b x)`` and lost ``L x`` touch where ``a b exp(b x) = L`` too, so at ``x = 1/b``, and
    there ``a e b = L``. In dimensionless words: Semenov's ``psi = a b / L`` runs away above ``1/e``. Without any loss the time from
    ``x0`` to ``x1`` is ``C / (a b) (exp(-b x0) - exp(-b x1))``.

    References
    ----------
    .. [1] Semenov N.N. 1928, thermal explosion; with Frank-Kamenetskii's exponential rate (derived by hand, as above).
    """
    b, loss = bath.b_per_k, bath.loss_w_per_k
    at_air = bath.made_w(bath.air_c)
    most = bath.start_c + bath.rise_k
    if at_air == 0:
        settles = max(bath.start_c, bath.air_c)
        return SelfHeating("warms" if settles > WARN_C else "settles", bath.air_c, 0.0, math.inf, math.inf, None, None, most)
    # The air at which the tangent lies: heat made rises by e^b for each degree of air.
    worst = bath.air_c + math.log(loss / (at_air * b * math.e)) / b
    tips = bath.air_c
    if at_air * b * math.e <= loss:
        low, high = _crossings(at_air, b, loss)
        settles, tips = bath.air_c + low, bath.air_c + high
        if bath.start_c < tips:
            warm = max(settles, bath.start_c) > WARN_C
            return SelfHeating("warms" if warm else "settles", settles, at_air, tips, worst, None, None, most)
    return SelfHeating("runs away", None, at_air, tips, worst, _unlost_days(bath, BOILING_C), _unlost_days(bath, WARN_C), most)


def _unlost_days(bath: WarmBath, end_c: float) -> float | None:
    """Days to a temperature if no heat got away and no peroxide were used up; None where all of it would not get there."""
    if end_c <= bath.start_c:
        return 0.0
    # Whether it is enough is judged by the low end of the heat capacity: where it is close, it is said to boil.
    if end_c > bath.start_c + bath.rise_k * max(bath.capacity / HEAT_CAPACITY.low, 1.0):
        return None
    b = bath.b_per_k
    seconds: float = bath.heat_j_per_k / (bath.made_w(bath.start_c) * b) * -math.expm1(-b * (end_c - bath.start_c))
    return seconds / DAY_S


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
