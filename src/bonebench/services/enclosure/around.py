"""What surrounds a box, from what people type: a building held at one warmth, hours of it, or a weather file."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.files.weather import read_weather
from bonebench.science.air.moist import FloatArray, humidity_ratio
from bonebench.science.enclosure import Around, HeadIn, around_box
from bonebench.units import read_days, read_mass, read_number, read_power, read_share, read_temperature

WATER_G_H = Figure(5.0, 1.0, 20.0, "g/h", Standing.ESTIMATE, "about a hundred heads a year give a few g/h on average, in bursts")
COLONY_W = Figure(2.0, 0.5, 10.0, "W", Standing.ESTIMATE, "a kilogram or so of larvae at rest; a busy colony gives more")
# Heads that go in give their water in bursts; these stand in for the flat figure above when somebody says which go in.
TISSUE_WATER = Figure(
    0.55, 0.3, 0.7, "share", Standing.ESTIMATE, "water of a trimmed head that leaves as vapour, breathed out or dried off"
)
DRIES_DAYS = Figure(
    3.0, 1.5, 6.0, "days", Standing.ESTIMATE, "tissue dries first order with a time constant of days; treat as fitted"
)
BREATH_G_H_W = Figure(0.09, 0.08, 0.1, "g/h for each W", Standing.MEMORY, "water of metabolism, from the heat it gives")
USUAL_RH = 0.7
USUAL_DAYS, MOST_DAYS = 7, 366
FROZEN_C = -18.0


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """What a form or a command line says of the building and of what is in the box, as it was typed.

    ``building`` and ``humidity`` hold one value or many apart by semicolons, one an hour (24 are a day that comes again).
    ``weather`` is a file that `files.weather` reads; the building then is as outdoors, but never colder than ``held``.
    """

    building: str | None = None
    humidity: str | None = None
    weather: str | None = None
    held: str | None = None
    first_day: int = 0
    days: str | None = None
    water: str | None = None
    colony: str | None = None
    heads: str | None = None
    head: str | None = None


@dataclass(frozen=True)
class Told:
    """Surroundings in SI: the hours, heads that go in, and what was taken for granted."""

    around: Around
    heads: tuple[HeadIn, ...]
    first_hour: int
    assumed: tuple[tuple[str, Figure], ...]
    outdoors: bool

    @property
    def hours(self) -> int:
        """How many hours."""
        return len(self.around.heat_w)


def told(given: Surroundings, pressure_pa: float) -> Told:
    """Read surroundings, refuse what cannot be."""
    assumed: list[tuple[str, Figure]] = []
    heat_w = read_power(given.colony) if given.colony else COLONY_W.value
    if not given.colony:
        assumed.append(("inside.colony", COLONY_W))
    bursts = bool(given.heads) and not given.water
    if given.water:
        water_g_h = read_mass(given.water.removesuffix("/h")) * 1000
    else:
        water_g_h = BREATH_G_H_W.value * heat_w if bursts else WATER_G_H.value
        assumed += (
            [("head.water", TISSUE_WATER), ("head.dries", DRIES_DAYS), ("colony.breath", BREATH_G_H_W)]
            if bursts
            else [("inside.water", WATER_G_H)]
        )
    inside = {"heat_w": heat_w, "water_kg_s": water_g_h / 3.6e6, "pressure_pa": pressure_pa}
    if given.weather:
        around, first = _from_weather(given, inside)
    else:
        days = _days(given.days)
        if not given.building:
            raise Impossible("enclosure.building", "how warm is the building? Write one temperature, or one for each hour")
        around = around_box(
            24 * days, t_c=_series(given.building, read_temperature, 24 * days),
            rh=_series(given.humidity, _humidity, 24 * days) if given.humidity else USUAL_RH, **inside,
        )  # fmt: skip
        first = 24 * given.first_day
        if not given.humidity:
            assumed.append(
                ("building.humidity", Figure(USUAL_RH, 0.4, 0.95, "share", Standing.ESTIMATE, "a damp outbuilding; a guess"))
            )
    heads = _heads(given, len(around.heat_w))
    if bursts:
        around = replace(around, water_kg_s=around.water_kg_s + _drying(heads, len(around.heat_w)))
    return Told(around, heads, first, tuple(assumed), bool(given.weather))


def _humidity(text: str) -> float:
    return read_share(text, "humidity")


def _days(text: str | None) -> int:
    days = math.ceil(read_days(text)) if text else USUAL_DAYS
    if not 1 <= days <= MOST_DAYS:
        raise OutsideRange("enclosure.days", "a run has 1 to {most} days, not {days}", most=MOST_DAYS, days=days)
    return days


def _series(text: str, read: Callable[[str], float], hours: int) -> FloatArray:
    values = np.array([read(piece.strip()) for piece in text.split(";") if piece.strip()])
    return np.resize(values, hours + 1) if len(values) == 24 else values


def _from_weather(given: Surroundings, inside: dict[str, float]) -> tuple[Around, int]:
    """Take the building as outdoors, never colder than it is held; it keeps the water that outdoor air brings."""
    year = read_weather(given.weather or "")
    t, dew = year.temperature_c, year.dew_point_c
    count = len(t)
    first = 24 * given.first_day
    if given.days or given.first_day:
        hours = min(24 * _days(given.days), count - first)
        if hours < 1:
            raise OutsideRange("enclosure.from", "the weather has no hours from there on: it begins at its own first day")
        t, dew = t[first : first + hours], dew[first : first + hours]
    held = read_temperature(given.held) if given.held else -60.0
    ratio = humidity_ratio(np.minimum(dew, t), 1.0, inside["pressure_pa"])
    return around_box(len(t), t_c=np.maximum(t, held), ratio=ratio, **inside), year.first_hour + first


def _heads(given: Surroundings, hours: int) -> tuple[HeadIn, ...]:
    """Frozen heads, one going in every so many days, each staying until the run ends or the next five have come."""
    if not given.heads:
        return ()
    count = read_number(given.heads, "number of heads")
    if count != int(count) or not 1 <= count <= 200:
        raise OutsideRange("enclosure.heads", "{count} frozen heads cannot be; 1 to 200, whole ones", count=given.heads)
    mass = read_mass(given.head or "1 kg")
    every = hours * 3600.0 / count
    return tuple(HeadIn(k * every, mass, FROZEN_C, k * every + 5 * every) for k in range(int(count)))


def _drying(heads: tuple[HeadIn, ...], hours: int) -> FloatArray:
    """Water the heads give off, hour by hour: most at first, less and less while they stay. [kg/s]"""
    edges = np.arange(hours + 1) * 3600.0
    lasts = DRIES_DAYS.value * 86400
    given = np.zeros(hours)
    for head in heads:
        left = np.exp(-np.clip(edges - head.at_s, 0, None) / lasts)
        left[edges > head.out_s] = np.exp(-(head.out_s - head.at_s) / lasts)
        given += head.mass_kg * TISSUE_WATER.value * -np.diff(left) / 3600.0
    return given
