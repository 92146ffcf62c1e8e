"""Hours of weather: what every reader and every made-up year comes to."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible, OutsideRange
from bonebench.said import Said, said

FloatArray = npt.NDArray[np.float64]

YEAR_HOURS = 8760
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
LONGEST_GAP_HOURS = 6
COLUMNS = ("temperature_c", "dew_point_c", "pressure_pa", "wind_m_s", "global_w_m2", "beam_w_m2", "diffuse_w_m2")
# Air that was never measured on the ground: beyond these a row is a slip of the pen or another unit.
LIMITS: Mapping[str, tuple[float, float]] = {
    "temperature_c": (-75.0, 60.0),
    "dew_point_c": (-90.0, 40.0),
    "pressure_pa": (50_000.0, 110_000.0),
    "wind_m_s": (0.0, 80.0),
    "global_w_m2": (0.0, 1500.0),
    "beam_w_m2": (0.0, 1500.0),
    "diffuse_w_m2": (0.0, 1200.0),
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the weather is of.

    Attributes
    ----------
    name : str
        What the file calls it.
    latitude, longitude : float
        North and east are positive. [deg]
    elevation_m : float
        Above the sea. [m]
    utc_offset_hours : float
        Local standard time less UTC. [h]
    """

    name: str = ""
    latitude: float = 45.0
    longitude: float = 0.0
    elevation_m: float = 0.0
    utc_offset_hours: float = 0.0


@dataclass(frozen=True, slots=True)
class Weather:
    """Hours of outdoor air and sun, each the mean of the hour that ends then, in local standard time without a leap day.

    Attributes
    ----------
    place : Place
        Where.
    first_hour : int
        Hour of the year at which the first row begins; 0 is 1 January, 00:00.
    temperature_c, dew_point_c : ndarray, shape (n,)
        Dry bulb and dew point; the dew point is never above the dry bulb. [degC]
    pressure_pa : ndarray, shape (n,)
        Station pressure. [Pa]
    wind_m_s : ndarray, shape (n,)
        Wind. [m/s]
    global_w_m2, beam_w_m2, diffuse_w_m2 : ndarray, shape (n,)
        Sun on the horizontal, straight from the sun, and from the sky on the horizontal. [W/m2]
    notes : tuple of Said
        What was filled or put right on reading.
    """

    place: Place
    first_hour: int
    temperature_c: FloatArray
    dew_point_c: FloatArray
    pressure_pa: FloatArray
    wind_m_s: FloatArray
    global_w_m2: FloatArray
    beam_w_m2: FloatArray
    diffuse_w_m2: FloatArray
    notes: tuple[Said, ...] = ()

    @property
    def hours(self) -> int:
        """How many hours there are."""
        return len(self.temperature_c)

    @property
    def month(self) -> npt.NDArray[np.int64]:
        """Month of each hour, 1 to 12, shape (n,)."""
        return month_of_hour((self.first_hour + np.arange(self.hours)) % YEAR_HOURS)


def month_of_hour(hour: npt.NDArray[np.int64]) -> npt.NDArray[np.int64]:
    """Month of an hour of a year without a leap day.

    Parameters
    ----------
    hour : ndarray of int, shape (n,)
        Hour of the year, 0 to 8759.

    Returns
    -------
    ndarray of int, shape (n,)
        Month, 1 to 12.
    """
    ends = np.cumsum(np.array(MONTH_DAYS) * 24)
    return np.searchsorted(ends, hour, side="right").astype(np.int64) + 1


def _when(hour: int) -> str:
    """Write an hour of the year as people do: 3 Mar 14:00."""
    day, month = hour % YEAR_HOURS // 24, 0
    while day >= MONTH_DAYS[month]:
        day -= MONTH_DAYS[month]
        month += 1
    return f"{day + 1} {MONTH_NAMES[month]} {hour % 24:02d}:00"


def fill_gaps(values: FloatArray, what: str, first_hour: int) -> tuple[FloatArray, int]:
    """Fill missing hours in a straight line, as long as a gap is short.

    Parameters
    ----------
    values : ndarray, shape (n,)
        Hourly values; nan is missing. [any]
    what : str
        What they are, for the words of the error.
    first_hour : int
        Hour of the year of the first value.

    Returns
    -------
    tuple of ndarray, shape (n,), and int
        The values without gaps, and how many hours were filled.

    Raises
    ------
    Impossible
        If a gap is longer than six hours, naming its first and last hour; or nothing is there at all.
    """
    missing = np.isnan(values)
    if not missing.any():
        return values, 0
    if missing.all():
        raise Impossible("weather.empty", "the weather has no {what} at all: take another file", what=what)
    edges = np.flatnonzero(np.diff(np.concatenate(([0], missing.view(np.int8), [0]))))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if end - begin > LONGEST_GAP_HOURS:
            raise Impossible(
                "weather.gap",
                "{what} is missing for {hours} hours from {begin} to {end}; up to {most} are filled: mend the file or take another",
                what=what,
                hours=int(end - begin),
                begin=_when(first_hour + int(begin)),
                end=_when(first_hour + int(end)),
                most=LONGEST_GAP_HOURS,
            )
    at = np.arange(len(values))
    return np.interp(at, at[~missing], values[~missing]), int(missing.sum())


def weather(place: Place, columns: Mapping[str, FloatArray], first_hour: int = 0) -> Weather:
    """Put hours together: fill short gaps, refuse what cannot be, and keep the dew point at or below the air.

    Parameters
    ----------
    place : Place
        Where they are of.
    columns : mapping of str to ndarray, shape (n,)
        One for each of `COLUMNS`; nan is missing. Sun and wind may be left out and are then 0.
    first_hour : int, optional
        Hour of the year at which the first row begins.

    Returns
    -------
    Weather
        The hours, with notes of what was filled.

    Raises
    ------
    Impossible
        If a gap is longer than six hours, or a column is missing.
    OutsideRange
        If a value was never seen on the ground, naming its hour.
    """
    count = len(next(iter(columns.values())))
    notes: list[Said] = []
    made: dict[str, FloatArray] = {}
    for name in COLUMNS:
        if name not in columns and name in COLUMNS[3:]:
            made[name] = np.zeros(count)
            continue
        if name not in columns:
            raise Impossible(
                "weather.column", "the weather has no {what}: it needs warmth, dew point and pressure", what=words(name)
            )
        values, filled = fill_gaps(np.asarray(columns[name], dtype=np.float64), words(name), first_hour)
        if filled:
            notes.append(
                said(
                    "weather.filled",
                    "{count} missing hours of {what} were filled in a straight line",
                    count=filled,
                    what=words(name),
                )
            )
        _check_range(values, name, first_hour)
        made[name] = values
    above = int((made["dew_point_c"] > made["temperature_c"] + 1e-9).sum())
    if above:
        notes.append(said("weather.dew_point", "in {count} hours the dew point stood above the air and was set to it", count=above))
        made["dew_point_c"] = np.minimum(made["dew_point_c"], made["temperature_c"])
    return Weather(place, first_hour, **made, notes=tuple(notes))


def words(column: str) -> str:
    """Write a column's name as a person says it."""
    return {
        "temperature_c": "temperature", "dew_point_c": "dew point", "pressure_pa": "pressure", "wind_m_s": "wind",
        "global_w_m2": "sun on the ground", "beam_w_m2": "straight sun", "diffuse_w_m2": "light of the sky",
    }[column]  # fmt: skip


def _check_range(values: FloatArray, name: str, first_hour: int) -> None:
    low, high = LIMITS[name]
    odd = np.flatnonzero((values < low) | (values > high))
    if len(odd):
        raise OutsideRange(
            "weather.range",
            "{what} at {when} is {value}; air near the ground lies from {low} to {high}: look at the row and its unit",
            what=words(name),
            when=_when(first_hour + int(odd[0])),
            value=f"{values[odd[0]]:g}",
            low=f"{low:g}",
            high=f"{high:g}",
        )


def shifted(year: Weather, kelvin: float) -> Weather:
    """Return the same hours so much warmer or colder, the dew point with them: a perturbed year.

    Parameters
    ----------
    year : Weather
        The hours.
    kelvin : float
        How much warmer. [K]

    Returns
    -------
    Weather
        The shifted hours.
    """
    return replace(year, temperature_c=year.temperature_c + kelvin, dew_point_c=year.dew_point_c + kelvin)
