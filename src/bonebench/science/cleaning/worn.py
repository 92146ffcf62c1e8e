"""The rot clock of a piece that is eaten and dries while it lies warm, with the last smell of it."""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from bonebench.figures import Figure, Standing
from bonebench.science.cleaning.rot import BUDGET_H, RotAdvice, RotClock, WetSpell, rot_clock, spoiling_pace, warm_wet_hours
from bonebench.science.cleaning.tonight import DRYING

STEP_DAYS = 0.25
FOUL = 3
STRONG = 2
WATCHED_DAYS = 5 * DRYING.value  # after that it is dry, however much is left

LeftShare = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Worn:
    """The clock of a piece: hours warm and wet so far as of a whole wet piece at 28 degC, the clock, and when it runs out.

    ``runs_out_in_h`` is when the middle of the clock reaches its end if it stays where it is, None if it is eaten or dry before.
    """

    hours: float
    clock: RotClock
    runs_out_in_h: float | None


def spells(begin_day: float, end_day: float, left_share: LeftShare, temperature_c: float) -> Iterator[WetSpell]:
    """Cut a time in the box into short spells.

    Parameters
    ----------
    begin_day, end_day : float
        Since it went in. [days]
    left_share : callable
        Share of the tissue left, by days since it went in. [1]
    temperature_c : float
        Where it lies. [degC]

    Yields
    ------
    WetSpell
        Quarter days, the last one shorter.
    """
    day = begin_day
    while day < end_day - 1e-9:
        then = min(day + STEP_DAYS, end_day)
        left = min(1.0, max(0.0, 0.5 * (left_share(day) + left_share(then))))
        yield WetSpell(24.0 * (then - day), temperature_c, left, math.exp(-0.5 * (day + then) / DRYING.value))
        day = then


def worn(now_day: float, left_share: LeftShare, temperature_c: float, smelled: tuple[float, int] | None = None) -> Worn:
    """Read the clock of a piece in the box.

    Parameters
    ----------
    now_day : float
        Days since it went in. [days]
    left_share : callable
        Share of the tissue left, by days since it went in, now and ahead. [1]
    temperature_c : float
        Where it lies. [degC]
    smelled : tuple of float and int, optional
        Days since it went in, and the last smell: 0 none to 3 foul.

    Returns
    -------
    Worn
        Foul stays out until somebody smells something better.

    Raises
    ------
    OutsideRange
        If the smell cannot be.

    Notes
    -----
    A smell counts at its own time, against the hours until then; hours after it are added to what it left, ends with ends.
    """
    all_hours = warm_wet_hours(spells(0.0, now_day, left_share, temperature_c))
    if smelled is None:
        clock = rot_clock(spells(0.0, now_day, left_share, temperature_c))
    else:
        at, smell = min(smelled[0], now_day), smelled[1]
        then = rot_clock(spells(0.0, at, left_share, temperature_c), smell)
        clock = _since(then, warm_wet_hours(spells(at, now_day, left_share, temperature_c)), smell)
    return Worn(all_hours, clock, until_worn(clock, now_day, left_share, temperature_c))


def _since(then: RotClock, hours: float, smell: int) -> RotClock:
    used = Figure(
        then.used.value + hours / BUDGET_H.value,
        then.used.low + hours / BUDGET_H.high,
        then.used.high + hours / BUDGET_H.low,
        "1",
        Standing.ESTIMATE,
        then.used.source,
    )
    left = Figure(
        max(0.0, then.hours_left.value - hours),
        max(0.0, then.hours_left.low - hours),
        max(0.0, then.hours_left.high - hours),
        then.hours_left.unit,
        Standing.ESTIMATE,
        then.hours_left.source,
    )
    if smell == FOUL or used.value >= 1.0:
        return RotClock(used, left, RotAdvice.TAKE_OUT)
    return RotClock(used, left, RotAdvice.LOOK if used.high >= 1.0 or smell == STRONG else RotAdvice.LEAVE)


def until_worn(clock: RotClock, now_day: float, left_share: LeftShare, temperature_c: float) -> float | None:
    """Say when a clock runs out if the piece stays where it is.

    Parameters
    ----------
    clock : RotClock
        As it stands.
    now_day : float
        Days since it went in. [days]
    left_share : callable
        Share of the tissue left, by days since it went in. [1]
    temperature_c : float
        Where it lies. [degC]

    Returns
    -------
    float or None
        Hours from now, by the middle of the clock; None if it is eaten or dry before.
    """
    if spoiling_pace(temperature_c) == 0:
        return None
    used, gone = clock.used.value, 0.0
    if used >= 1.0:
        return 0.0
    for spell in spells(now_day, max(now_day, WATCHED_DAYS), left_share, temperature_c):
        more = warm_wet_hours([spell]) / BUDGET_H.value
        if used + more >= 1.0:
            return gone + spell.hours * (1.0 - used) / more
        used, gone = used + more, gone + spell.hours
    return None
