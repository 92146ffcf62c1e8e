"""What a tight lid would have to hold: why a bath, and a bottle of used bath, is never closed."""

import math
from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.science.baths.reaction import oxygen_l

# Where a household lid bulges, leaks or flies off. Nobody has measured it here; a screw cap holds longer and bursts harder.
LID_BAR = Figure(0.1, 0.03, 0.5, "bar", Standing.ESTIMATE, "a tub's snapped lid gives way, a guess")
ATMOSPHERE_BAR = 1.01325


@dataclass(frozen=True, slots=True)
class ClosedLid:
    """What a tight lid over a bath comes to.

    Attributes
    ----------
    bar_after_day : Figure
        Overpressure after a day. [bar]
    bar_at_end : float
        Overpressure once all its peroxide has broken down. [bar]
    hours_to_give : Figure
        Until a household lid gives way; infinite where it never comes to that. [h]
    hours_to_fill : Figure
        Until the oxygen would have filled the free space once over; infinite where there is not so much. [h]
    """

    bar_after_day: Figure
    bar_at_end: float
    hours_to_give: Figure
    hours_to_fill: Figure


def closed_lid(*, strength_w: float, mass_kg: float, rate: Figure, headspace_l: float) -> ClosedLid:
    """What a tight lid over a bath would have to hold, and how soon it would give way.

    Parameters
    ----------
    strength_w : float
        Mass fraction now, 0 to 0.70. [kg/kg]
    mass_kg : float
        Mass of the bath, above 0. [kg]
    rate : Figure
        Rate of loss, above 0, as from `decay.rate_per_day`. [1/day]
    headspace_l : float
        Free space under the lid, above 0. [L]

    Returns
    -------
    ClosedLid
        Pressures and hours.

    Raises
    ------
    OutsideRange
        If the free space, the mass or the rate is not above 0, or the strength lies outside its range.

    Notes
    -----
    Gas ``V (1 - exp(-k t))`` in a fixed space, at 20 degC and dry. Left out: oxygen that stays dissolved (about 0.03 L in a litre
    of bath for each bar, so much bath under little space holds back up to a third) and that the rate rises if the bath warms.
    """
    if not (headspace_l > 0 and mass_kg > 0 and rate.low > 0):
        raise OutsideRange("vessel.headspace", "a closed lid needs free space, a bath and a rate of loss above 0: check them")
    end = ATMOSPHERE_BAR * oxygen_l(strength_w, mass_kg) / headspace_l
    after, after_low, after_high = (-end * math.expm1(-k) for k in (rate.value, rate.low, rate.high))
    fill, fill_low, fill_high = (_hours(ATMOSPHERE_BAR, end, k) for k in (rate.value, rate.high, rate.low))
    standing = weakest((rate.standing, LID_BAR.standing))
    return ClosedLid(
        bar_after_day=Figure(after, after_low, after_high, "bar", rate.standing, rate.source),
        bar_at_end=end,
        hours_to_give=Figure(
            _hours(LID_BAR.value, end, rate.value),
            _hours(LID_BAR.low, end, rate.high),
            _hours(LID_BAR.high, end, rate.low),
            "h",
            standing,
            f"{LID_BAR.source}; {rate.source}",
        ),
        hours_to_fill=Figure(fill, fill_low, fill_high, "h", rate.standing, rate.source),
    )


def _hours(bar: float, end_bar: float, rate_per_day: float) -> float:
    return -24 * math.log1p(-bar / end_bar) / rate_per_day if bar < end_bar else math.inf


def closed_lid_bar(oxygen_l_per_day: float, headspace_l: float, days: float) -> float:
    """Pressure above the air's that a tight lid would have to hold.

    Parameters
    ----------
    oxygen_l_per_day : float
        Oxygen given off, at room temperature and one atmosphere, 0 or more. [L/day]
    headspace_l : float
        Free space under the lid, above 0. [L]
    days : float
        How long it is shut, 0 or more. [days]

    Returns
    -------
    float
        Overpressure. [bar]

    Raises
    ------
    OutsideRange
        If the free space is not above 0, or another value below 0.

    Notes
    -----
    Every litre of gas in a litre of space adds one atmosphere (Boyle). A household tub bursts below one bar.
    """
    if not (headspace_l > 0 and oxygen_l_per_day >= 0 and days >= 0):
        raise OutsideRange("vessel.headspace", "a closed lid needs free space above 0 and no negative gas or time")
    return ATMOSPHERE_BAR * oxygen_l_per_day * days / headspace_l
