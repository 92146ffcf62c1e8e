"""What surrounds a box, from what people type: a building held at one warmth, hours of it, or a weather file."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.files.weather import read_weather
from bonebench.said import Said
from bonebench.science.air.moist import FloatArray, humidity_ratio
from bonebench.science.building import Building, BuildingYear, through
from bonebench.science.enclosure import Around, HeadIn, around_box
from bonebench.science.weather import Weather
from bonebench.science.weather.hours import YEAR_HOURS
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
BOX_W = Figure(50.0, 30.0, 80.0, "W", Standing.DERIVED, "heat of the box to its building, 40-60 W all year")
USUAL_RH = 0.7
USUAL_DAYS, MOST_DAYS = 7, 366
FROZEN_C = -18.0


@dataclass(frozen=True, kw_only=True)
class Surroundings:
    """What a form or a command line says of the building and of what is in the box, as it was typed.

    ``building`` and ``humidity`` hold one value or many apart by semicolons, one an hour (24 are a day that comes again).
    ``weather`` is a file that `files.weather` reads, or its hours; the building then is ``room`` in that weather, or as outdoors
    but never colder than ``held``.
    """

    building: str | None = None
    humidity: str | None = None
    weather: str | Weather | None = None
    room: Building | None = None
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
    year: BuildingYear | None = None
    notes: tuple[Said, ...] = ()

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
    year: BuildingYear | None = None
    notes: tuple[Said, ...] = ()
    if given.weather is not None:
        around, first, year, weather = _from_weather(given, inside)
        notes = weather.notes
        if year is not None:
            assumed.append(("building.gain", BOX_W))
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
    return Told(around, heads, first, tuple(assumed), given.weather is not None and year is None, year, notes)


def unvented(given: Surroundings) -> bool:
    """Whether a flame without a flue warms the building."""
    return given.room is not None and given.room.flame is not None and given.room.flame.unvented and given.room.heater_w > 0


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


def _from_weather(given: Surroundings, inside: dict[str, float]) -> tuple[Around, int, BuildingYear | None, Weather]:
    """Take the building through the weather, or as outdoors but never colder than it is held; it keeps the water of its air."""
    weather = read_weather(given.weather) if isinstance(given.weather, str) else given.weather
    assert weather is not None
    weather = _stretch(weather, given)
    pressure = float(weather.pressure_pa.mean())
    if given.room is not None:
        year = through(given.room, weather, gain_w=BOX_W.value)
        around = around_box(weather.hours, t_c=year.t_c, ratio=year.ratio, **{**inside, "pressure_pa": pressure})
        return around, weather.first_hour, year, weather
    held = read_temperature(given.held) if given.held else -60.0
    ratio = humidity_ratio(weather.dew_point_c, 1.0, pressure)
    t = np.maximum(weather.temperature_c, held)
    return around_box(weather.hours, t_c=t, ratio=ratio, **{**inside, "pressure_pa": pressure}), weather.first_hour, None, weather


def _stretch(weather: Weather, given: Surroundings) -> Weather:
    """Cut the days that were asked for out of the weather; a stretch may go round the year's end of a whole year."""
    if not given.days and not given.first_day:
        return weather
    begin = 24 * given.first_day - weather.first_hour
    hours = 24 * _days(given.days) if given.days else weather.hours - begin
    whole = weather.hours == YEAR_HOURS
    if not whole and not 0 <= begin < weather.hours:
        raise OutsideRange("enclosure.from", "the weather has no hours from that day on: look at which days its file holds")
    chosen = (begin + np.arange(hours)) % YEAR_HOURS if whole else np.arange(begin, min(begin + hours, weather.hours))
    names = ("temperature_c", "dew_point_c", "pressure_pa", "wind_m_s", "global_w_m2", "beam_w_m2", "diffuse_w_m2")
    return replace(weather, first_hour=24 * given.first_day, **{name: getattr(weather, name)[chosen] for name in names})


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
