"""Drying bone: how long it takes, when it is dry enough for what, and how long damp bone reads.

Wet bone gives its water off at a rate that is proportional to what it still has above the air's own level (first order), with a
time constant that grows with the square of the wall's thickness and falls with warmth. What a scale tells is in `weighings`,
what air does to bone in `dampness`.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Literal

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

# The rule of two weighings and the fitted curve stand in a file of their own and are asked for here too.
from bonebench.science.baths.weighings import SAME_WITHIN as SAME_WITHIN  # noqa: PLC0414  handed on
from bonebench.science.baths.weighings import fit_weighings as fit_weighings  # noqa: PLC0414  handed on
from bonebench.science.baths.weighings import two_weighings as two_weighings  # noqa: PLC0414  handed on

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
# The wall of a deer's skull; the other classes follow from their days by the square: 1.3, 1.9, 3 and 5 mm.
MIDDLE_WALL_M = Figure(0.003, 0.002, 0.005, "m", Standing.ESTIMATE, "wall of a deer's skull, a guess")
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


def wall_m(size: Size) -> float:
    """Wall that a size class stands for.

    Parameters
    ----------
    size : {"tiny", "small", "middle", "big"}
        Size class of the skull.

    Returns
    -------
    float
        Thickness whose days those of the class are. [m]
    """
    return MIDDLE_WALL_M.value * math.sqrt(HANDLE_DAYS[size].value / HANDLE_DAYS["middle"].value)


def time_constant_of_wall_days(thickness_m: float, temperature_c: float, humidity: float) -> Figure:
    """Time constant of a piece whose wall was measured.

    Parameters
    ----------
    thickness_m : float
        Typical wall, above 0 to 0.05. [m]
    temperature_c, humidity : float
        Of the air. [degC], [1]

    Returns
    -------
    Figure
        Time constant. [days]

    Raises
    ------
    OutsideRange
        If the wall or the air lies outside its range.

    Notes
    -----
    Diffusion: the time goes with the square of the wall, tied to a deer's days at `MIDDLE_WALL_M`.
    """
    if not 0 < thickness_m <= 0.05:
        raise OutsideRange("dry.wall", "the wall is {wall:length}; it must be above 0 and at most {most:length}",
                           wall=thickness_m, most=0.05)  # fmt: skip
    middle = time_constant_days("middle", temperature_c, humidity).scaled((thickness_m / MIDDLE_WALL_M.value) ** 2, "days")
    return Figure(middle.value, middle.low, middle.high, "days", Standing.ESTIMATE, f"{MIDDLE_WALL_M.source}; {middle.source}")


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


def measurable_from_day(cleaned_day: float, restarts: Sequence[float] = ()) -> float:
    """Day from which a skull counts as dried for scoring.

    Parameters
    ----------
    cleaned_day : float
        Day on which cleaning ended, on any count of days. [days]
    restarts : sequence of float, shape (n,), optional
        Days on which it came out of boiling water or the freezer; those before cleaning ended do not count. [days]

    Returns
    -------
    float
        Sixty days after the last of them. [days]
    """
    return max([cleaned_day, *restarts]) + MEASURE_DAYS.value


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
    if use == "glue":
        return days
    if use != "measure":
        return Figure(
            days.value, days.low, days.high, "days", Standing.ESTIMATE, f"how much water may stay is a guess; {days.source}"
        )
    return Figure(
        max(days.value, MEASURE_DAYS.value), max(days.low, MEASURE_DAYS.value), max(days.high, MEASURE_DAYS.value), "days",
        Standing.PUBLISHED, MEASURE_DAYS.source,
    )  # fmt: skip


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
    return Figure(length_m * steps * GROWS_WHEN_DAMP.value, ends[0], ends[1], "m", Standing.DERIVED, GROWS_WHEN_DAMP.source)
