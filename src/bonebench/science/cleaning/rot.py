"""The rot clock: how much of the time that a wet piece may lie warm is used up."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

# Common practice says that a trimmed head lies a day or two warm and wet before it smells; nothing published was found for heads.
BUDGET_H = Figure(
    48.0,
    24.0,
    96.0,
    "h at 28 degC",
    Standing.ESTIMATE,
    "whole and wet until it smells of rot; not published, not checked in your room",
)
# Square-root model of bacteria on chilled meat (Ratkowsky et al. 1982, J. Bacteriol. 149:1-5): where it stops, from memory.
LEAST_C = -6.0
USUAL_C = 28.0
_EDGE = 1.645
_OWN_SPREAD = math.log(BUDGET_H.high / BUDGET_H.low) / 2 / _EDGE
# What a nose says of the share used up, 0 none to 3 foul, and how far noses differ: estimates.
SMELLS = {0: 0.35, 1: 0.65, 2: 1.0, 3: 1.5}
_NOSE_SPREAD = 0.35


class RotAdvice(StrEnum):
    """What to do with a wet piece."""

    LEAVE = "leave"
    LOOK = "look"
    TAKE_OUT = "take out, cut muscle away, refreeze"


@dataclass(frozen=True, slots=True)
class WetSpell:
    """Some hours of a piece: how warm it lay, and which share of it was left and was wet, on average."""

    hours: float
    temperature_c: float
    left_share: float = 1.0
    wet_share: float = 1.0


@dataclass(frozen=True, slots=True)
class RotClock:
    """Share of the time used up (1: it has run out), hours left at 28 degC for the whole piece, and what to do."""

    used: Figure
    hours_left: Figure
    advice: RotAdvice


def spoiling_pace(temperature_c: float) -> float:
    """How fast wet meat spoils, against 28 degC.

    Parameters
    ----------
    temperature_c : float
        Of the piece. [degC]

    Returns
    -------
    float
        0 at -6 degC and below, 1 at 28 degC. [1]

    References
    ----------
    .. [1] Ratkowsky et al. 1982, J. Bacteriol. 149:1-5, square-root model (from memory; not for above about 35 degC).
    """
    return (max(0.0, temperature_c - LEAST_C) / (USUAL_C - LEAST_C)) ** 2


def warm_wet_hours(spells: Iterable[WetSpell]) -> float:
    """Add up hours warm and wet, less the share eaten or dried.

    Parameters
    ----------
    spells : iterable of WetSpell
        The hours of a piece outside the freezer.

    Returns
    -------
    float
        Hours of a whole wet piece at 28 degC. [h]

    Raises
    ------
    OutsideRange
        If hours are negative or a share does not lie between 0 and 1.
    """
    total = 0.0
    for spell in spells:
        if not 0 <= spell.hours < math.inf:
            raise OutsideRange("rot.hours", "{hours} hours in the box; it must be 0 or more", hours=spell.hours)
        for what, share in (("left", spell.left_share), ("wet", spell.wet_share)):
            if not 0 <= share <= 1:
                raise OutsideRange(
                    "rot.share", "the share {what} is {share:percent}; it lies between 0 and 100 %", what=what, share=share
                )
        total += spell.hours * spoiling_pace(spell.temperature_c) * spell.left_share * spell.wet_share
    return total


def rot_clock(spells: Iterable[WetSpell], smell: int | None = None) -> RotClock:
    """Read the clock of a piece, by its hours and by a nose if one was put to it.

    Parameters
    ----------
    spells : iterable of WetSpell
        Its hours outside the freezer.
    smell : int, optional
        0 none, 1 faint, 2 strong, 3 foul. [1]

    Returns
    -------
    RotClock
        The range is nine chances in ten; it rests on estimates, so it is never an all-clear.

    Raises
    ------
    OutsideRange
        If a spell or the smell cannot be.

    Notes
    -----
    Both are lognormal and weigh by how sure they are. A clean smell never moves the clock up, a foul one never down. Foul is out at
    once, whatever the hours say.
    """
    used = max(warm_wet_hours(spells) / BUDGET_H.value, 1e-6)
    middle, spread = math.log(used), _OWN_SPREAD
    if smell is not None:
        middle, spread = _with_nose(middle, spread, smell)
    low, value, high = (math.exp(middle + z * spread) for z in (-_EDGE, 0.0, _EDGE))
    source = "hours warm and wet" + ("" if smell is None else ", and the smell")
    share = Figure(value, low, high, "1", Standing.ESTIMATE, source)
    least, middle_left, most = (max(0.0, (1.0 / u - 1.0) * used * BUDGET_H.value) for u in (high, value, low))
    left = Figure(middle_left, least, most, "h at 28 degC", Standing.ESTIMATE, source)
    return RotClock(share, left, _advice(share, smell))


def _with_nose(middle: float, spread: float, smell: int) -> tuple[float, float]:
    if smell not in SMELLS:
        raise OutsideRange("rot.smell", "a smell of {smell}; it is 0 none, 1 faint, 2 strong or 3 foul", smell=smell)
    says = math.log(SMELLS[smell])
    if (smell == 0 and says > middle) or (smell == max(SMELLS) and says < middle):
        return middle, spread
    own, nose = 1.0 / spread**2, 1.0 / _NOSE_SPREAD**2
    return (own * middle + nose * says) / (own + nose), math.sqrt(1.0 / (own + nose))


def _advice(used: Figure, smell: int | None) -> RotAdvice:
    if smell == max(SMELLS) or used.value >= 1.0:
        return RotAdvice.TAKE_OUT
    return RotAdvice.LOOK if used.high >= 1.0 or smell == 2 else RotAdvice.LEAVE
