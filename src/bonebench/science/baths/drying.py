"""Drying bone: how long, when it is dry enough for what, and what two weighings can tell.

Wet bone gives its water off at a rate that is proportional to what it still has above the air's own level (first order), with a
time
constant that grows with the square of the wall's thickness and falls with warmth.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing

Size = Literal["tiny", "small", "middle", "big"]
# Days to handle at 20 °C and 45-55 % humidity: thin skulls 1-3, deer 3-7, bear 7-21 (bench section 3, common practice, no source).
_CLASSES: tuple[tuple[Size, float, float, float], ...] = (
    ("tiny", 0.5, 1, 2),
    ("small", 1, 2, 3),
    ("middle", 3, 5, 7),
    ("big", 7, 14, 21),
)
HANDLE_DAYS: Mapping[str, Figure] = {
    size: Figure(mid, low, high, "days", Standing.PRACTICE, "at 20 °C and about 50 %, out of sun: common practice, no source")
    for size, low, mid, high in _CLASSES
}
# "Dry to handle" is taken as a twentieth of the free water left; a choice that ties the days to a time constant.
HANDLE_LEFT = 0.05
Q10 = Figure(1.5, 1.2, 1.9, "times in 10 K", Standing.ESTIMATE, "drying of porous solids in still air, a guess")
MEASURE_DAYS = Figure(
    60.0,
    60.0,
    60.0,
    "days",
    Standing.PUBLISHED,
    "trophy scoring: 60 days of air drying, begun again after boiling or freezing (R119, R120)",
)
SAME_WITHIN = Figure(
    0.005, 0.005, 0.005, "share", Standing.PRACTICE, "two weighings a day apart within 0.5 %: common practice, no source"
)
# A dry skull at 50 % holds so much water of its own; it moves with the air's humidity.
BOUND_AT_HALF = Figure(0.08, 0.05, 0.12, "kg/kg", Standing.MEMORY, "water of dry bone at 50 %, from memory")
# Ten macaque skulls humidified for 24 h grew 0.57 % in greatest length, back within 1-2 days (R115): wet against ordinary room air.
GROWS_WHEN_DAMP = Figure(
    0.0057,
    0.003,
    0.008,
    "share",
    Standing.PUBLISHED,
    "greatest length of ten skulls after 24 h of damp (R115); the range is a guess",
)
DAMP_STEP_RH = 0.45
CRACKS_BELOW_RH = Figure(0.40, 0.35, 0.45, "share", Standing.DERIVED, "64 % of deer femora cracked at 26 °C and 24 % (R116)")
TOO_WARM_C = Figure(35.0, 30.0, 40.0, "degC", Standing.PRACTICE, "forced heat above it cracks teeth: common practice, no source")

Use = Literal["glue", "whiten", "seal", "measure"]
# How much of the free water may be left for each use; sealing shuts in what is left.
ENOUGH: Mapping[Use, tuple[float, str]] = {
    "glue": (0.05, "glue does not hold on wet bone"),
    "whiten": (0.20, "a damp skull thins the bath a little; degreased and free of solvent matters more"),
    "seal": (0.02, "what is shut in moulds or lifts the seal"),
    "measure": (0.01, "a damp skull reads long"),
}


def check_air(temperature_c: float, humidity: float) -> None:
    """Refuse air that nothing dries in, or that no room has.

    Parameters
    ----------
    temperature_c : float
        Air, 0 to 60. [degC]
    humidity : float
        Relative humidity, 0 to below 0.95. [1]

    Raises
    ------
    OutsideRange
        If either lies outside its range.
    """
    if not 0 <= temperature_c <= 60:
        raise OutsideRange(
            "dry.temperature", "the air is {temperature:temperature}; drying is told from 0 to 60 °C", temperature=temperature_c
        )
    if not 0 <= humidity < 0.95:
        raise OutsideRange(
            "dry.humidity", "the air has {humidity:percent}; bone does not dry above 95 %: find drier air", humidity=humidity
        )


def time_constant_days(size: Size, temperature_c: float, humidity: float) -> Figure:
    """Days in which a skull gives off all but a third of its free water.

    Parameters
    ----------
    size : {"tiny", "small", "middle", "big"}
        Size class of the skull.
    temperature_c : float
        Air, 0 to 60. [degC]
    humidity : float
        Relative humidity, 0 to below 0.95. [1]

    Returns
    -------
    Figure
        Time constant. [days]

    Raises
    ------
    OutsideRange
        If the air lies outside its range.

    Notes
    -----
    The days of the class at 20 degC and 50 % over ``ln(1/0.05)``, times ``Q10 ** ((20 - T)/10)`` and the drying power of the air
    against that at 50 %. Wind, sun and a bag round the head are left out.
    """
    check_air(temperature_c, humidity)
    days = HANDLE_DAYS[size]
    air = 0.5 / (1 - humidity)
    ends = sorted(q ** ((20 - temperature_c) / 10) for q in (Q10.low, Q10.value, Q10.high))
    scale = air / math.log(1 / HANDLE_LEFT)
    value = days.value * Q10.value ** ((20 - temperature_c) / 10) * scale
    return Figure(
        value,
        min(days.low * ends[0] * scale, value),
        max(days.high * ends[-1] * scale, value),
        "days",
        Standing.PRACTICE,
        days.source,
    )


def water_left(days: float, constant_days: float) -> float:
    """Share of the free water that is left.

    Parameters
    ----------
    days : float
        Drying so far, 0 or more. [days]
    constant_days : float
        Time constant, above 0. [days]

    Returns
    -------
    float
        Share of what there was above the air's own level. [1]
    """
    return math.exp(-days / constant_days)


def dry_for(use: Use, size: Size, temperature_c: float, humidity: float) -> Figure:
    """Days until a skull is dry enough for a use, where nobody weighs it.

    Parameters
    ----------
    use : {"glue", "whiten", "seal", "measure"}
        What it is to be dry for.
    size : {"tiny", "small", "middle", "big"}
        Size class.
    temperature_c, humidity : float
        Of the air. [degC], [1]

    Returns
    -------
    Figure
        Days; to be measured at least 60. [days]

    Raises
    ------
    OutsideRange
        If the air lies outside its range.
    """
    constant = time_constant_days(size, temperature_c, humidity)
    days = constant.scaled(math.log(1 / ENOUGH[use][0]), "days")
    if use != "measure":
        return days
    return Figure(
        max(days.value, MEASURE_DAYS.value), max(days.low, MEASURE_DAYS.value), max(days.high, MEASURE_DAYS.value), "days",
        Standing.PUBLISHED, MEASURE_DAYS.source,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class TwoWeighings:
    """What two weighings tell.

    Attributes
    ----------
    passes : bool
        Whether they agree as the rule of the trade asks.
    could_still_lose : float
        Share of its weight that it may still lose if it passes, at this time constant. [1]
    scale_too_coarse : bool
        Whether one step of the scale is more than half of what the rule asks for.
    """

    passes: bool
    could_still_lose: float
    scale_too_coarse: bool


def two_weighings(first_kg: float, second_kg: float, *, hours_apart: float, step_kg: float, constant_days: float) -> TwoWeighings:
    """Judge a skull by two weighings.

    Parameters
    ----------
    first_kg, second_kg : float
        What it weighed, above 0. [kg]
    hours_apart : float
        Time between, above 0. [h]
    step_kg : float
        Smallest step of the scale, 0 or more. [kg]
    constant_days : float
        Time constant of drying, above 0. [days]

    Returns
    -------
    TwoWeighings
        Whether they pass, and what a pass still leaves open.

    Raises
    ------
    OutsideRange
        If a weight or the time is not above 0.

    Notes
    -----
    Losing no more than 0.5 % in a day still leaves ``0.005 / (exp(1/tau) - 1)`` of the weight to go: nothing for a mouse, 7 % for a
    bear that dries with a time constant of two weeks. So a slow skull passes too early, and the rule is asked twice.
    """
    if not (first_kg > 0 and second_kg > 0 and hours_apart > 0 and constant_days > 0 and step_kg >= 0):
        raise OutsideRange("dry.weighing", "two weighings need weights and a time above 0: check them")
    days = hours_apart / 24
    allowed = SAME_WITHIN.value * days
    fell = (first_kg - second_kg) / first_kg
    left = allowed / math.expm1(days / constant_days)
    return TwoWeighings(abs(fell) <= allowed, left, step_kg > first_kg * allowed / 2)


# One in ten above, by degrees of freedom 0 (told by the floor of the noise alone) to 7 and more; Student's table.
STUDENT_90 = (1.282, 3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415)


@dataclass(frozen=True, slots=True)
class Dried:
    """A drying curve through weighings.

    Attributes
    ----------
    constant_days : Figure
        Time constant. [days]
    final_kg : Figure
        What it will weigh when the air takes no more. [kg]
    """

    constant_days: Figure
    final_kg: Figure


def fit_weighings(days: Sequence[float], mass_kg: Sequence[float]) -> Dried:
    """Fit a drying curve to three or more weighings.

    Parameters
    ----------
    days, mass_kg : sequence of float, shape (n,), n at least 3
        When it was weighed, rising, and what it weighed. [days], [kg]

    Returns
    -------
    Dried
        Time constant and final mass with their ends, one in ten outside each.

    Raises
    ------
    Impossible
        If there are fewer than three, they do not rise in time, or the weights do not fall at all.

    Notes
    -----
    Least squares of ``final + free * exp(-t / tau)``; for a given tau the other two are linear, so tau alone is sought. With
    exactly
    three weighings nothing is left to judge the fit by, and the ends are those of weighings off by 0.2 %.
    """
    if len(days) < 3 or len(days) != len(mass_kg) or any(b <= a for a, b in pairwise(days)):
        raise Impossible("dry.three", "a drying curve takes three weighings or more, each later than the one before")
    if min(mass_kg) <= 0 or mass_kg[-1] >= mass_kg[0]:
        raise Impossible("dry.falls", "the weights do not fall, so no drying can be told from them: it is dry, or the scale is off")
    shift = days[0]
    times = [t - shift for t in days]
    span = times[-1]
    grid = [span * 10 ** (-2 + 3 * n / 300) for n in range(301)]
    found = [(_sum_of_squares(times, mass_kg, tau), tau) for tau in grid]
    best = min(found, key=lambda one: one[0][0])
    noise = max(best[0][0] / max(len(days) - 3, 1), (0.002 * mass_kg[-1]) ** 2)
    # An unknown's edge lies where the sum of squares is larger by the square of Student's t for what is left to judge by.
    edge = STUDENT_90[min(len(days) - 3, len(STUDENT_90) - 1)] ** 2 * noise
    inside = [(fit, tau) for fit, tau in found if fit[0] <= best[0][0] + edge]
    taus, finals = [tau for _, tau in inside], [fit[1] for fit, _ in inside]
    return Dried(
        Figure(best[1], min(taus), max(taus), "days", Standing.ROOM, f"{len(days)} weighings of this skull"),
        Figure(best[0][1], min(finals), max(finals), "kg", Standing.ROOM, f"{len(days)} weighings of this skull"),
    )


def _sum_of_squares(times: Sequence[float], mass_kg: Sequence[float], tau: float) -> tuple[float, float]:
    """Return the least sum of squares for a time constant, and the final mass it comes with."""
    shape = [math.exp(-t / tau) for t in times]
    n = len(times)
    sx, sy = math.fsum(shape), math.fsum(mass_kg)
    sxx = math.fsum(x * x for x in shape)
    sxy = math.fsum(x * y for x, y in zip(shape, mass_kg, strict=True))
    det = n * sxx - sx * sx
    if det <= 1e-15:
        mean = sy / n
        return math.fsum((y - mean) ** 2 for y in mass_kg), mean
    free = (n * sxy - sx * sy) / det
    final = (sy - free * sx) / n
    return math.fsum((y - final - free * x) ** 2 for x, y in zip(shape, mass_kg, strict=True)), final


def reads_long_by_m(length_m: float, humidity: float, measured_at: float = 0.5) -> Figure:
    """By how much a length reads long because the skull was kept damper than the air it is told for.

    Parameters
    ----------
    length_m : float
        Greatest length, above 0. [m]
    humidity : float
        Relative humidity it has taken up, 0 to 1. [1]
    measured_at : float, optional
        Humidity it is told for. [1]

    Returns
    -------
    Figure
        How much too long; below 0 when it was drier. [m]

    Raises
    ------
    OutsideRange
        If the length is not above 0 or a humidity lies outside 0..1.

    Notes
    -----
    One study (R115) grew 0.57 % from room air to saturated; here it is taken as a straight line over that step of 45 % of humidity.
    """
    if not (length_m > 0 and 0 <= humidity <= 1 and 0 <= measured_at <= 1):
        raise OutsideRange("dry.length", "a length above 0 and humidities from 0 to 100 % are needed")
    steps = (humidity - measured_at) / DAMP_STEP_RH
    ends = sorted(length_m * steps * g for g in (GROWS_WHEN_DAMP.low, GROWS_WHEN_DAMP.high))
    return Figure(length_m * steps * GROWS_WHEN_DAMP.value, ends[0], ends[1], "m", GROWS_WHEN_DAMP.standing, GROWS_WHEN_DAMP.source)
