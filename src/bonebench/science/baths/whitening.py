"""How long bone stays in peroxide: by size, grease, strength and warmth; when to look; when to stop; what is known of damage.

The two ways of the trade, about a day at 3 % and three to four days at about 15 %, do not lie on one line: the second is longer AND
stronger. So each way's own days are kept, and strength and warmth move them only a little way round it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, weakest

STRENGTH_POWER = Figure(
    0.7, 0.4, 1.0, "power", Standing.ESTIMATE, "days fall with strength to this power; nobody has measured it on bone"
)
WARMTH_Q10 = Figure(
    2.0, 1.6, 2.5, "times in 10 K", Standing.ESTIMATE, "whitening in ten degrees; taken near that of the bath's decay"
)
# How far from its own strength and warmth a way may be carried.
FAR_TIMES = 2.0
FAR_K = 10.0
REFERENCE_C = 20.0
BATH_FROM_C, BATH_TO_C, STOP_ABOVE_C = 15.0, 25.0, 30.0
ACKNOWLEDGE_ABOVE_W = 0.12
LOOK_AT_3_PERCENT_DAYS = Figure(0.5, 0.25, 0.5, "days", Standing.PRACTICE, "look every 12 hours at 3 %: common practice, no source")
STOP_MILD_DAYS = Figure(
    2.0, 2.0, 2.0, "days", Standing.PRACTICE, "stop at 48 hours at 6 % or less and think again: common practice, no source"
)
MILD_W = 0.06


@dataclass(frozen=True, slots=True)
class Way:
    """One way of whitening: its own days at its own strength, at 20 degC."""

    strength_w: float
    days: Figure
    longest_days: float


@dataclass(frozen=True, slots=True)
class Damage:
    """What is known of harm from a strength upward."""

    from_w: float
    what: str
    standing: Standing
    source: str


DAMAGE: tuple[Damage, ...] = (
    Damage(0.03, "cattle teeth lost calcium and phosphorus within 24 hours at 37 °C, more as strength rose", Standing.PUBLISHED,
           "R87, J. Dent. 2007 (teeth as a stand-in for bone)"),
    Damage(0.10, "the same study: enamel grew softer; from which strength on was not read", Standing.PUBLISHED,
           "R87, J. Dent. 2007"),
    Damage(0.15, "working practice for days; its harm to bone nobody has measured", Standing.PRACTICE,
           "common practice, no source"),
    Damage(0.20, "another study saw no softer enamel after 30 minutes of gel at 20 to 35 %: acidity matters",
           Standing.PUBLISHED, "R91"),
    Damage(0.30, "dentine softer after 5 minutes and enamel after 15 at 37 °C and above", Standing.PUBLISHED, "R88"),
    Damage(0.30, "enamel lost more than a quarter of its hardness in sessions of 30 minutes under a lamp", Standing.PUBLISHED,
           "R90: Vickers 491 to 352 at 30 %"),
    Damage(0.35, "dentine lost strength and stiffness in three times ten minutes", Standing.PUBLISHED, "R89, 38 %"),
)  # fmt: skip
ALWAYS: tuple[Damage, ...] = (
    Damage(0.0, "a forensic review gave bleach and peroxide up because they attack cortical bone", Standing.PUBLISHED, "R92"),
    Damage(0.0, "every bleach counts as restoration, not conservation; leaving it natural is an answer", Standing.PUBLISHED,
           "R94, about paper"),
    Damage(0.0, "over-white bone hides detail, and some fat should stay to limit cracking", Standing.PUBLISHED,
           "R96, R97, curators"),
)  # fmt: skip


def damage_at(strength_w: float) -> tuple[Damage, ...]:
    """Return what is known of damage at a strength, the nearest first.

    Parameters
    ----------
    strength_w : float
        Mass fraction, 0 or more. [kg/kg]

    Returns
    -------
    tuple of Damage
        Rows at or below that strength, then what holds for every one.
    """
    return (*reversed([row for row in DAMAGE if strength_w >= row.from_w - 1e-9]), *ALWAYS)


@dataclass(frozen=True, slots=True)
class Whitening:
    """How long, when to look, when to stop.

    Attributes
    ----------
    days : Figure
        In the bath. [days]
    look_every_days : float
        At least. [days]
    stop_after_days : float
        Whatever it looks like. [days]
    acknowledge : bool
        Whether the strength is one that each person says yes to once a year.
    """

    days: Figure
    look_every_days: float
    stop_after_days: float
    acknowledge: bool


def whitening(way: Way, strength_w: float, temperature_c: float) -> Whitening:
    """How long to whiten.

    Parameters
    ----------
    way : Way
        The way the room does it, with its days for this size and species.
    strength_w : float
        Mass fraction of the bath, above 0. [kg/kg]
    temperature_c : float
        Of the bath, 5 to 30. [degC]

    Returns
    -------
    Whitening
        Days with their range, and when to look and stop.

    Raises
    ------
    OutsideRange
        If the bath is too cold to do anything or above 30 degC, where it is not kept.
    Impossible
        If the strength lies more than twice away from the way's own: take the other way instead.

    Notes
    -----
    ``days * (strength / own) ** -n * Q10 ** ((20 - T) / 10)``; the doubt of the power and of the warmth is added to the way's own.
    """
    if not 5 <= temperature_c <= STOP_ABOVE_C:
        raise OutsideRange(
            "whiten.temperature",
            "the bath is {temperature:temperature}; one whitens at 15 to 25 °C, and above {stop:temperature} everything comes out",
            temperature=temperature_c,
            stop=STOP_ABOVE_C,
        )
    if strength_w <= 0:
        raise Impossible("whiten.no_strength", "a bath of 0 % whitens nothing: test it, then top it up or mix anew")
    ratio = strength_w / way.strength_w
    if not 1 / FAR_TIMES <= ratio <= FAR_TIMES:
        raise Impossible(
            "whiten.far",
            "{strength:strength} is too far from this way's {own:strength} for its days to say anything: take the nearest way",
            strength=strength_w,
            own=way.strength_w,
        )
    tens = (REFERENCE_C - temperature_c) / 10
    value = way.days.value * ratio**-STRENGTH_POWER.value * WARMTH_Q10.value**tens
    ends = [
        days * ratio**-power * q**tens
        for days in (way.days.low, way.days.high)
        for power in (STRENGTH_POWER.low, STRENGTH_POWER.high)
        for q in (WARMTH_Q10.low, WARMTH_Q10.high)
    ]
    moved = abs(math.log(ratio)) > 1e-9 or abs(tens) > 1e-9
    standing = weakest((way.days.standing, STRENGTH_POWER.standing)) if moved else way.days.standing
    stop = STOP_MILD_DAYS.value if strength_w <= MILD_W else way.longest_days
    look = LOOK_AT_3_PERCENT_DAYS.value * min(1.0, (0.03 / strength_w) ** 0.5) / max(1.0, WARMTH_Q10.value**-tens)
    return Whitening(
        days=Figure(value, min(ends), max(ends), "days", standing, way.days.source),
        look_every_days=max(look, 1 / 24),
        stop_after_days=max(stop, 0.0),
        acknowledge=strength_w > ACKNOWLEDGE_ABOVE_W + 1e-9,
    )


def days_while_it_fades(days: float, rate_per_day: float, power: float = STRENGTH_POWER.value) -> float:
    """Days in a bath that loses strength meanwhile, for as much peroxide-time as at its first strength.

    Parameters
    ----------
    days : float
        Days at the first strength, above 0. [days]
    rate_per_day : float
        First-order loss of the bath, 0 or more. [1/day]
    power : float, optional
        How strongly strength counts, 0 or more.

    Returns
    -------
    float
        Days; infinite when the bath fades before it can do as much. [days]

    Raises
    ------
    OutsideRange
        If either is negative.

    Notes
    -----
    Time counts by strength to the power ``n``: the sum of ``exp(-n k t)`` is bounded by ``1/(n k)``, so a bath that fades fast
    never gets there and is topped up instead.
    """
    if days < 0 or rate_per_day < 0 or power < 0:
        raise OutsideRange("whiten.fades", "days and loss are 0 or more")
    fade = power * rate_per_day
    if fade == 0:
        return days
    return -math.log1p(-fade * days) / fade if fade * days < 1 else math.inf


def has_stopped(lightness: Sequence[float], within: float = 0.5) -> bool:
    """Whether two looks in a row changed nothing the eye could see.

    Parameters
    ----------
    lightness : sequence of float
        Lightness L* at each look, oldest first. [1]
    within : float, optional
        A change the eye does not see.

    Returns
    -------
    bool
        True when the last two changes were each no more than that.
    """
    return len(lightness) >= 3 and all(abs(b - a) <= within for a, b in zip(lightness[-3:-1], lightness[-2:], strict=True))
