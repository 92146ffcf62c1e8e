"""A year of weather from what people know of a place: twelve months, or four seasons, typed in a line."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible
from bonebench.science.air.moist import FloatArray
from bonebench.science.weather import Month, Place, Weather, year_from_months
from bonebench.science.weather.normals import check_months
from bonebench.units import read_number, read_temperature

SEED = 8437
USUAL_SWING_K = 10.0
USUAL_BELOW_K = 4.0  # how far a dew point lies below the mean where nobody said
CLEARLY_K = 3.0


@dataclass(frozen=True, kw_only=True)
class Seasons:
    """What was typed: values apart by semicolons, twelve from January on, or four: winter, spring, summer, autumn."""

    means: str
    swings: str | None = None
    dew_points: str | None = None
    latitude: str | None = None


def year_of(typed: Seasons) -> Weather:
    """Make the hours of a year; the same words make the same year."""
    latitude = read_number(typed.latitude, "latitude") if typed.latitude else 45.0
    south = latitude < 0
    means = _twelve(typed.means, read_temperature, south=south)
    swings = _twelve(typed.swings, _kelvin, south=south) if typed.swings else np.full(12, USUAL_SWING_K)
    dew = _twelve(typed.dew_points, read_temperature, south=south) if typed.dew_points else means - USUAL_BELOW_K
    months = [Month(float(m), float(s), float(d)) for m, s, d in zip(means, swings, dew, strict=True)]
    check_months(months)
    _check_half(means, south=south, told=typed.latitude is not None)
    return year_from_months(months, Place("typed", latitude), np.random.default_rng(SEED))


def _kelvin(text: str) -> float:
    number, _, unit = text.strip().partition(" ")
    return float(number) * (5 / 9 if unit.strip().upper().endswith("F") else 1.0)


def _twelve(text: str, read: Callable[[str], float], *, south: bool) -> FloatArray:
    """Read twelve values, or spread four over the year: each season's value in its middle month, straight lines between."""
    pieces = [piece.strip() for piece in text.split(";") if piece.strip()]
    if len(pieces) not in (4, 12):
        raise Impossible(
            "seasons.count", "'{text}' holds {n} values; write twelve from January on, or four: winter; spring; summer; autumn",
            text=text, n=len(pieces),
        )  # fmt: skip
    values = [_read(piece, read) for piece in pieces]
    if len(values) == 12:
        return np.array(values)
    middle = np.array([0, 3, 6, 9]) + (6 if south else 0)
    order = np.argsort(middle % 12)
    spread: FloatArray = np.interp(np.arange(12), (middle % 12)[order], np.array(values)[order], period=12)
    return spread


def _read(piece: str, read: Callable[[str], float]) -> float:
    try:
        return read(piece)
    except ValueError:
        raise Impossible("seasons.value", "'{piece}' cannot be read; write it like 10 K", piece=piece) from None


def _check_half(means: FloatArray, *, south: bool, told: bool) -> None:
    """Refuse months of the other half of the earth, where somebody said on which one the place lies."""
    colder = float(means[[11, 0, 1]].mean() - means[[5, 6, 7]].mean())
    if told and (colder < -CLEARLY_K) is south and abs(colder) > CLEARLY_K:
        raise Impossible(
            "seasons.half", "the coldest months typed are those of the other half of the earth: January is {jan:temperature}, July "
            "{jul:temperature}, but the latitude lies {half}; look at its sign, or at the order of the months",
            jan=float(means[0]), jul=float(means[6]), half="south" if south else "north",
        )  # fmt: skip
