"""Weather as people have it: an EPW file, a TMY3 file, plain hours in a table, or twelve rows of months."""

import csv
from collections.abc import Mapping
from pathlib import Path

import numpy as np

from bonebench.errors import FileFault
from bonebench.science.weather import MONTH_DAYS, Month, Place, Weather, weather, year_from_months
from bonebench.science.weather.hours import FloatArray

NORMALS = "normals:"
# Names of the plain hourly table -> ours; what is left out is worked out or taken as none.
HOURLY: Mapping[str, str] = {
    "T_C": "temperature_c", "Tdew_C": "dew_point_c", "p_Pa": "pressure_pa", "wind_m_s": "wind_m_s", "GHI_W_m2": "global_w_m2",
    "DNI_W_m2": "beam_w_m2", "DHI_W_m2": "diffuse_w_m2",
}  # fmt: skip
# Names of the two libraries' columns -> ours.
LIBRARY: Mapping[str, str] = {
    "temp_air": "temperature_c", "temp_dew": "dew_point_c", "atmospheric_pressure": "pressure_pa", "pressure": "pressure_pa",
    "wind_speed": "wind_m_s", "ghi": "global_w_m2", "dni": "beam_w_m2", "dhi": "diffuse_w_m2",
}  # fmt: skip
# What each format writes where nothing was measured.
MISSING = {"temperature_c": 99.9, "dew_point_c": 99.9, "pressure_pa": 999999.0, "wind_m_s": 999.0, "global_w_m2": 9999.0,
           "beam_w_m2": 9999.0, "diffuse_w_m2": 9999.0}  # fmt: skip
MONTH_FIELDS = {
    "mean_c": "mean_c", "swing_k": "swing_k", "dew_point_c": "dew_point_c", "day_to_day_k": "day_to_day_k", "wind_m_s": "wind_m_s",
    "clearness": "clearness",
}  # fmt: skip


def read_weather(where: str, *, place: Place | None = None, rng: np.random.Generator | None = None) -> Weather:
    """Read weather by what its name says: `normals:FILE`, `.epw`, or a table of hours or a TMY3 file.

    ``place`` is where a plain table or months are of; ``rng`` throws the days of a year made from months.
    """
    if where.startswith(NORMALS):
        return year_from_months(read_months(Path(where.removeprefix(NORMALS))), place or Place(), rng)
    path = Path(where)
    if not path.is_file():
        raise FileFault("weather.missing", "there is no weather file at {where}: check the name", where=str(path), path=where)
    if path.suffix.casefold() == ".epw":
        return _from_library(path, "epw")
    return _from_library(path, "tmy3") if _looks_like_tmy3(path) else read_hours(path, place or Place(path.stem))


def _looks_like_tmy3(path: Path) -> bool:
    """A TMY3 file has the station on its first line and the names of its columns, dated in US order, on the second."""
    with path.open(encoding="utf-8", errors="replace") as file:
        first, second = file.readline(), file.readline()
    return first[:1].isdigit() and second.startswith("Date (MM/DD/YYYY)")


def _from_library(path: Path, kind: str) -> Weather:
    from pvlib import iotools  # noqa: PLC0415  half a second that only weather files cost

    try:
        frame, about = iotools.read_epw(path) if kind == "epw" else iotools.read_tmy3(path, map_variables=True)
    except (ValueError, KeyError, IndexError, UnicodeDecodeError) as fault:
        raise FileFault(
            "weather.unreadable", "{where} cannot be read as {kind}: {fault}; is it whole?", where=path.name, kind=kind.upper(),
            fault=str(fault).splitlines()[0] if str(fault) else type(fault).__name__, path=str(path),
        ) from fault  # fmt: skip
    columns: dict[str, FloatArray] = {}
    for theirs, ours in LIBRARY.items():
        if theirs in frame and ours not in columns:
            values = frame[theirs].to_numpy(dtype=np.float64)
            columns[ours] = np.where(np.isclose(values, MISSING[ours]), np.nan, values)
    if kind == "tmy3" and "pressure_pa" in columns:
        columns["pressure_pa"] = columns["pressure_pa"] * 100  # TMY3 gives millibar
    leap = np.asarray((frame.index.month == 2) & (frame.index.day == 29))
    columns = {name: values[~leap] for name, values in columns.items()}
    place = Place(
        name=str(about.get("city") or about.get("Name") or path.stem).strip(),
        latitude=float(about.get("latitude", 0.0)),
        longitude=float(about.get("longitude", 0.0)),
        elevation_m=float(about.get("altitude", 0.0)),
        utc_offset_hours=float(about.get("TZ", 0.0)),
    )
    return weather(place, columns)


def _rows(path: Path) -> list[tuple[int, dict[str, str]]]:
    """Return the rows of a table with their line numbers; lines that begin with # are words for people."""
    if not path.is_file():
        raise FileFault("weather.missing", "there is no weather file at {where}: check the name", where=str(path), path=str(path))
    with path.open(encoding="utf-8-sig", newline="") as file:
        lines = [(number, line) for number, line in enumerate(file, 1) if line.strip() and not line.startswith("#")]
    if len(lines) < 2:
        raise FileFault("weather.no_rows", "{where} has no rows under its names", where=path.name, path=str(path))
    reader = csv.DictReader([line for _, line in lines])
    return [(number, row) for (number, _), row in zip(lines[1:], reader, strict=True)]


def _number(row: Mapping[str, str | None], name: str, path: Path, line: int) -> float:
    text = (row.get(name) or "").strip()
    if not text:
        return float("nan")
    try:
        return float(text)
    except ValueError:
        raise FileFault(
            "weather.number", "{where}, line {line}, {name}: '{text}' is not a number; leave the cell empty if there is none",
            where=path.name, line=line, name=name, text=text, path=f"{path}:{line}",
        ) from None  # fmt: skip


def read_hours(path: Path, place: Place) -> Weather:
    """Read a plain table: month,day,hour,T_C,Tdew_C and, if known, p_Pa,wind_m_s,GHI_W_m2,DNI_W_m2,DHI_W_m2; ends at `hour`."""
    rows = _rows(path)
    names = [name for name in HOURLY if name in rows[0][1]]
    absent = [name for name in ("month", "day", "hour", "T_C", "Tdew_C") if name not in rows[0][1]]
    if absent:
        raise FileFault("weather.column", "{where} has no column '{name}'; it needs month, day, hour, T_C and Tdew_C",
                        where=path.name, name=absent[0], path=str(path))  # fmt: skip
    starts = [_hour_of(row, path, line) for line, row in rows]
    first, last = starts[0], starts[-1]
    count = last - first + 1
    if count < 1 or len(set(starts)) != len(starts) or starts != sorted(starts):
        raise FileFault("weather.order", "the hours of {where} do not rise one after the other", where=path.name, path=str(path))
    columns: dict[str, FloatArray] = {}
    for name in names:
        values = np.full(count, np.nan)
        values[np.array(starts) - first] = [_number(row, name, path, line) for line, row in rows]
        columns[HOURLY[name]] = values
    if "pressure_pa" not in columns:
        columns["pressure_pa"] = np.full(count, 101_325.0 * (1 - 2.25577e-5 * place.elevation_m) ** 5.2559)
    return weather(place, columns, first)


def _hour_of(row: Mapping[str, str | None], path: Path, line: int) -> int:
    """Return the hour of the year at which a row begins."""
    month, day, hour = (_number(row, name, path, line) for name in ("month", "day", "hour"))
    if not (month in range(1, 13) and 1 <= hour <= 24 and 1 <= day <= MONTH_DAYS[int(month) - 1]):
        raise FileFault(
            "weather.when", "{where}, line {line}: month {month}, day {day}, hour {hour} is no hour of a year (hours are 1 to 24)",
            where=path.name, line=line, month=f"{month:g}", day=f"{day:g}", hour=f"{hour:g}", path=f"{path}:{line}",
        )  # fmt: skip
    return (sum(MONTH_DAYS[: int(month) - 1]) + int(day) - 1) * 24 + int(hour) - 1


def read_months(path: Path) -> tuple[Month, ...]:
    """Read twelve rows: month,mean_c,swing_k,dew_point_c and, if known, day_to_day_k,wind_m_s,clearness."""
    rows = _rows(path)
    absent = [name for name in ("month", "mean_c", "swing_k", "dew_point_c") if name not in rows[0][1]]
    unknown = [name for name in rows[0][1] if name not in {"month", *MONTH_FIELDS}]
    if absent or unknown:
        name = (absent or unknown)[0]
        raise FileFault(
            "weather.month_column", "{where}: column '{name}' is {what}; the columns are month, {known}",
            where=path.name, name=name,
            what="missing" if absent else "not known", known=", ".join(MONTH_FIELDS), path=str(path),
        )  # fmt: skip
    numbers = [_number(row, "month", path, line) for line, row in rows]
    if numbers != [float(n) for n in range(1, 13)]:
        raise FileFault("weather.twelve", "{where} needs twelve rows, month 1 to 12 in order", where=path.name, path=str(path))
    made = []
    for line, row in rows:
        values = {name: _number(row, name, path, line) for name in MONTH_FIELDS if (row.get(name) or "").strip()}
        missing = [name for name in ("mean_c", "swing_k", "dew_point_c") if name not in values]
        if missing:
            raise FileFault("weather.month_empty", "{where}, line {line}: {name} is empty; a month needs it", where=path.name,
                            line=line, name=missing[0], path=f"{path}:{line}")  # fmt: skip
        made.append(Month(**values))
    return tuple(made)
