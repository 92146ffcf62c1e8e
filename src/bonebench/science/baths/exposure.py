"""Whitening in a real bath: one that fades meanwhile, pieces that teach, what must be so before bone goes in, when it comes out."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.said import Said, said
from bonebench.science.baths.dilution import BOILING_C
from bonebench.science.baths.reaction import heat_rise_k
from bonebench.science.baths.spread import STD, log_at
from bonebench.science.baths.whitening import (
    ACKNOWLEDGE_ABOVE_W,
    BATH_FROM_C,
    BATH_TO_C,
    FAR_TIMES,
    MILD_W,
    REFERENCE_C,
    STOP_ABOVE_C,
    STOP_MILD_DAYS,
    STRENGTH_POWER,
    WARMTH_Q10,
    Way,
    days_while_it_fades,
    has_stopped,
)
from bonebench.science.learning import Learned, Prior, shrunk

# The strong way takes a beaver three or four days, and these heads a couple of days more.
LONGER_GENERA = frozenset({"Ursus", "Procyon"})
LONGER_DAYS = Figure(
    2.0, 1.0, 3.0, "days", Standing.PRACTICE, "bears and raccoons, about 15 %: a couple of days more; common practice, no source"
)

# Each unknown is taken at so many points of equal chance; of 25 the third from either end lies exactly at one in ten.
_POINTS = 25


@dataclass(frozen=True, slots=True)
class DaysNeeded:
    """Days for as much whitening as a bath of steady strength would give.

    Attributes
    ----------
    low, value : float
        One in ten is quicker; half are. ``value`` is infinite where the bath fades before it can do as much. [days]
    high : float
        One in ten is slower; infinite where one in ten or more never get there. [days]
    never_share : float
        In how many of all cases the bath fades first. [1]
    standing : Standing
        The weakest that went into it.
    """

    low: float
    value: float
    high: float
    never_share: float
    standing: Standing


def days_needed(days: Figure, rate: Figure, power: Figure = STRENGTH_POWER) -> DaysNeeded:
    """Days in a bath that fades, for the same strength-time as at its first strength, with their range.

    Parameters
    ----------
    days : Figure
        Days at the first strength, its low end above 0. [days]
    rate : Figure
        Rate at which the bath loses strength, above 0. [1/day]
    power : Figure, optional
        How strongly strength counts, above 0.

    Returns
    -------
    DaysNeeded
        Days, and in how many cases the bath never gets there: test it half way and top it up.

    Raises
    ------
    OutsideRange
        If the days do not begin above 0.

    Notes
    -----
    Three independent unknowns, each at 25 points of equal chance; the tenths are counted, so that an end may be "never".
    """
    if days.low <= 0:
        raise OutsideRange("whiten.days", "days that begin at {low} say nothing here; they begin above 0", low=days.low)
    points = [STD.inv_cdf((n + 0.5) / _POINTS) for n in range(_POINTS)]
    of_days, of_rate, of_power = ([math.exp(log_at(figure, z)) for z in points] for figure in (days, rate, power))
    found = sorted(days_while_it_fades(d, k, n) for d in of_days for k in of_rate for n in of_power)
    return DaysNeeded(
        low=found[len(found) // 10],
        value=days_while_it_fades(days.value, rate.value, power.value),
        high=found[len(found) * 9 // 10],
        never_share=sum(map(math.isinf, found)) / len(found),
        standing=weakest((days.standing, rate.standing, power.standing)),
    )


def longer_for(way: Way, genus: str) -> Way:
    """Give a way the days that the trade adds for some animals.

    Parameters
    ----------
    way : Way
        The room's way.
    genus : str
        First word of the scientific name.

    Returns
    -------
    Way
        With a couple of days more for bears and raccoons if it is the strong way; else the same.
    """
    if genus not in LONGER_GENERA or way.strength_w <= ACKNOWLEDGE_ABOVE_W:
        return way
    days, more = way.days, LONGER_DAYS
    longer = Figure(
        days.value + more.value, days.low + more.low, days.high + more.high, "days",
        weakest((days.standing, more.standing)), f"{days.source}; {more.source}",
    )  # fmt: skip
    return Way(way.strength_w, longer, max(way.longest_days, longer.high))


@dataclass(frozen=True, slots=True)
class Whitened:
    """A piece of the room that was whitened.

    Attributes
    ----------
    days : float
        In the bath, above 0. [days]
    strength_w : float
        Mass fraction of the bath. [kg/kg]
    temperature_c : float
        Of the bath. [degC]
    """

    days: float
    strength_w: float
    temperature_c: float


def at_own(way: Way, piece: Whitened) -> float | None:
    """Days a piece would have taken at a way's own strength and 20 degC.

    Parameters
    ----------
    way : Way
        The way.
    piece : Whitened
        What was seen.

    Returns
    -------
    float or None
        Days; None where its strength lies more than twice away from the way's own, so that it says nothing about it.
    """
    ratio = piece.strength_w / way.strength_w
    if not 1 / FAR_TIMES <= ratio <= FAR_TIMES:
        return None
    tens = (piece.temperature_c - REFERENCE_C) / 10
    return piece.days * math.pow(ratio, STRENGTH_POWER.value) * math.pow(WARMTH_Q10.value, tens)


def learned(way: Way, pieces: Sequence[Whitened]) -> tuple[Learned, int]:
    """Days of a way, moved by what the room's own pieces took.

    Parameters
    ----------
    way : Way
        The way before anything was seen.
    pieces : sequence of Whitened
        The room's pieces.

    Returns
    -------
    Learned
        Days to expect at the way's own strength and 20 degC. [days]
    int
        Pieces left out because their strength is too far from the way's.

    Raises
    ------
    OutsideRange
        If the way's days do not begin above 0, or a piece's days are not above 0.
    """
    told = [at_own(way, piece) for piece in pieces]
    used = [days for days in told if days is not None]
    return shrunk(Prior(way.days.low, way.days.value, way.days.high), used), len(told) - len(used)


@dataclass(frozen=True, slots=True)
class Hold:
    """A reason not to put bone in, or to look first.

    Attributes
    ----------
    said : Said
        In words.
    forbids : bool
        Whether it must not go in before that is mended; else it is to be looked at.
    """

    said: Said
    forbids: bool


def holds(strength_w: float, temperature_c: float, *, clean: bool | None, degreased: bool | None) -> tuple[Hold, ...]:
    """What stands against putting a piece into a bath now.

    Parameters
    ----------
    strength_w : float
        Mass fraction of the bath. [kg/kg]
    temperature_c : float
        Of the bath. [degC]
    clean, degreased : bool or None
        What is known of the piece; None where nobody wrote it.

    Returns
    -------
    tuple of Hold
        The reasons, what forbids first; empty means only that none of these is known.

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    The warming is that of all the peroxide breaking down with no heat lost: the most, not what is to be expected.
    """
    found = [*_of_warmth(temperature_c), *_of_piece(strength_w, temperature_c, clean, degreased)]
    if strength_w > ACKNOWLEDGE_ABOVE_W + 1e-9:
        found.append(
            Hold(
                said("whiten.hold.strong", "{strength:strength}: each person says yes to a bath this strong once a year first",
                     strength=strength_w),
                forbids=False,
            )
        )  # fmt: skip
    return tuple(sorted(found, key=lambda hold: not hold.forbids))


def _of_warmth(temperature_c: float) -> list[Hold]:
    if temperature_c > STOP_ABOVE_C:
        words = said("whiten.hold.hot", "the bath is {temperature:temperature}: nothing goes in above {limit:temperature}",
                     temperature=temperature_c, limit=STOP_ABOVE_C)  # fmt: skip
        return [Hold(words, forbids=True)]
    if not BATH_FROM_C <= temperature_c <= BATH_TO_C:
        words = said(
            "whiten.hold.warmth", "the bath is {temperature:temperature}; it is kept from {low:temperature} to {high:temperature}, "
            "and no bath is heated", temperature=temperature_c, low=BATH_FROM_C, high=BATH_TO_C,
        )  # fmt: skip
        return [Hold(words, forbids=False)]
    return []


def _of_piece(strength_w: float, temperature_c: float, clean: bool | None, degreased: bool | None) -> list[Hold]:
    found = []
    if not clean:
        rise = heat_rise_k(strength_w)
        hot = "it would boil over" if temperature_c + rise >= BOILING_C else "it foams and heats"
        words = said(
            "whiten.hold.tissue" if clean is False else "whiten.hold.unknown",
            "{known}: on brain or blood this bath could warm by {rise:warming} at most, and {hot}; look into the braincase",
            known="it is not clean" if clean is False else "nobody wrote that it is clean", rise=rise, hot=hot,
        )  # fmt: skip
        found.append(Hold(words, forbids=clean is False))
    if not degreased:
        words = said(
            "whiten.hold.grease", "{known}: grease under white bone yellows; look for it after two days of drying",
            known="it is not degreased" if degreased is False else "nobody wrote that it is degreased",
        )  # fmt: skip
        found.append(Hold(words, forbids=degreased is False))
    return found


def out_now(way: Way, strength_w: float, temperature_c: float, days_in: float, lightness: Sequence[float] = ()) -> Said | None:
    """Why a piece comes out of its bath now, if it does.

    Parameters
    ----------
    way : Way
        How it is whitened.
    strength_w : float
        Mass fraction of the bath. [kg/kg]
    temperature_c : float
        Of the bath. [degC]
    days_in : float
        How long it has been in. [days]
    lightness : sequence of float, optional
        What each look saw, oldest first. [1]

    Returns
    -------
    Said or None
        The first reason that holds; None says only to look again when it is due.
    """
    if temperature_c > STOP_ABOVE_C:
        return said("whiten.out.hot", "out: the bath is {temperature:temperature}, above {limit:temperature}",
                    temperature=temperature_c, limit=STOP_ABOVE_C)  # fmt: skip
    if has_stopped(lightness):
        return said("whiten.out.same", "out: two looks in a row saw no change; longer only harms it")
    longest = STOP_MILD_DAYS.value if strength_w <= MILD_W else way.longest_days
    if days_in >= longest:
        return said("whiten.out.long", "out: {days:days} are over; rinse it, let it dry and judge it dry", days=longest)
    return None
