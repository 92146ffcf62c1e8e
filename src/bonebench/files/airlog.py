"""A log of the air in a box, as a logger or a person writes it: times, temperature and relative humidity, read into whole hours.

What the columns are, in which units, how the dates are written and in which zone is found and told; a row that cannot be read is
told with its line and left out. Up to six hours without a reading are filled, longer gaps are refused with their dates.
"""

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from pathlib import Path

import numpy as np
import numpy.typing as npt

from bonebench.errors import FileFault
from bonebench.files.logtimes import Read, UnknownOrderError, read_times, stated_zone
from bonebench.said import Said, number, said

FloatArray = npt.NDArray[np.float64]
PASTED = "the log"
FILLED_H = 6
LEAST_H = 24
MOST_H = 4 * 8784
MOST_BYTES = 30_000_000
SHOWN = 10  # faults that are told one by one
BOUNDS_C = (-60.0, 80.0)
DELIMITERS = ("\t", ";", "|", ",")
NAMES = {"\t": "tabs", ";": "semicolons", "|": "bars", ",": "commas"}
MISSING = frozenset({"", "-", "--", "---", "n/a", "na", "nan", "null", "none", "err", "error", "ovf", "?"})
_WORD = re.compile(r"[^\W\d_]+|%|°")
_UNIT = re.compile(r"(?:°|º|\bdeg(?:rees?)?\.?\s*|[(\[_\s,/])(c|f|celsius|fahrenheit)(?=[)\]\s.,]|$)|^(celsius|fahrenheit)\b", re.I)
_VALUE = re.compile(r"([-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)\s*(%?|(?:°|º|deg)?\s*([CFcf])?)(?:\s*RH)?")


@dataclass(frozen=True, slots=True, eq=False)
class AirLog:
    """The hours of a log.

    ``begin`` is the full hour (UTC) with which it begins; ``temperature_c`` [degC] and ``humidity`` [1] have one mean for each hour
    and no gap; ``humidity`` is None if no column tells it. ``found`` says what was made of the file, ``notes`` what to know of it.
    """

    name: str
    begin: datetime
    zone: tzinfo
    temperature_c: FloatArray
    humidity: FloatArray | None
    found: tuple[Said, ...]
    notes: tuple[Said, ...]
    faults: tuple[Said, ...]

    @property
    def hours(self) -> int:
        """How many."""
        return len(self.temperature_c)

    @property
    def end(self) -> datetime:
        """The instant after its last hour."""
        return self.begin + timedelta(hours=self.hours)


def read_air_log(path: Path, zone: tzinfo, unit: str | None = None) -> AirLog:
    """Read a log from a file; times without a zone are wall times in ``zone``, ``unit`` is C or F where its names say none."""
    try:
        raw = path.read_bytes()
    except FileNotFoundError as fault:
        raise FileFault("log.missing", "there is no log at {where}: check the name", where=str(path), path=str(path)) from fault
    except OSError as fault:
        raise FileFault(
            "log.unreadable", "{where} cannot be read: {why}", where=str(path), why=str(fault), path=str(path)
        ) from fault
    return air_log_of(log_text(raw, path.name), zone, unit, path.name)


def log_text(raw: bytes, name: str = PASTED) -> str:
    """Return the text in the bytes of a file, whichever of the usual ways of writing letters it has."""
    if len(raw) > MOST_BYTES:
        raise FileFault("log.big", "{name} is above 30 MB: cut it to the weeks you ask about", name=name, path=name)
    for way in ("utf-16",) if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig", "cp1252"):
        try:
            return raw.decode(way)
        except UnicodeDecodeError:
            continue
    raise FileFault("log.letters", "{name} is no text: save it as CSV", name=name, path=name)


def air_log_of(text: str, zone: tzinfo, unit: str | None = None, name: str = PASTED) -> AirLog:
    """Read a log from its text."""
    table = _table(text, name)
    own = stated_zone(table.head[table.columns["time"]])
    times = _times(table, own or zone)
    damp = _Column(table, "humidity", _damp_scale(table)) if "humidity" in table.columns else None
    warm = _Column(table, "temperature", _warm_scale(table, unit))
    faults = [*_no_time(table, times), *warm.faults, *(damp.faults if damp else ())]
    begin, hour, hours = _hours_of(times, warm, table)
    t = _hourly(hour, warm.values, hours)
    rh = _hourly(hour, damp.values, hours) if damp is not None else None
    own_zone = own or zone
    notes = list(_notes(times, table))
    for what, series in (("temperature", t), ("humidity", rh)):
        if series is not None:
            notes += _fill(series, what, begin, own_zone, name)
    return AirLog(
        name, begin, zone, t, rh, tuple(_found(table, times, warm, damp, own_zone)), tuple(notes), tuple(_few(faults, name))
    )


@dataclass(frozen=True, slots=True)
class _Table:
    """The rows of a file under their names: ``columns`` says in which place time, day, temperature and humidity stand."""

    name: str
    delimiter: str
    head: list[str]
    columns: Mapping[str, int]
    rows: list[tuple[int, list[str]]]


def _table(text: str, name: str) -> _Table:
    """Find delimiter and the line that names the columns; what stands above it is words for people."""
    lines = [(n, line) for n, line in enumerate(text.replace("\x00", "").splitlines(), 1) if line.strip()]
    for delimiter in DELIMITERS:
        for place, (_, line) in enumerate(lines[:60]):
            head = [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter))]
            columns = _columns(head)
            if columns is None:
                continue
            below = lines[place + 1 :]
            cells = csv.reader([each for _, each in below], delimiter=delimiter)
            rows = [(n, row) for (n, _), row in zip(below, cells, strict=False) if any(cell.strip() for cell in row)]
            if not rows:
                raise FileFault("log.no_rows", "{name} has no rows under its names", name=name, path=name)
            return _Table(name, delimiter, head, columns, rows)
    raise FileFault(
        "log.no_names", "no line of {name} names a time and a temperature: write one on top, such as "
        "time,temperature_c,humidity_percent",
        name=name, path=name,
    )  # fmt: skip


def _columns(head: Sequence[str]) -> dict[str, int] | None:
    """Return where time, temperature and humidity stand, the first of each; None if this line does not name them."""
    found: dict[str, int] = {}
    for place, cell in enumerate(head):
        words = _WORD.findall(cell.casefold())
        if not words or "dew" in words or "dewpoint" in words or "set" in words or len(cell) > 80:
            continue
        if any(word.startswith(("time", "date", "zeit")) or word == "when" for word in words):
            found.setdefault("day" if "date" in words and "time" not in words else "time", place)
        elif any(word.startswith("temp") or word in ("t", "celsius", "fahrenheit") for word in words):
            found.setdefault("temperature", place)
        elif any(word.startswith("hum") or word == "rh" for word in words):
            found.setdefault("humidity", place)
    if "time" not in found and "day" in found:
        found["time"] = found.pop("day")
    return found if {"time", "temperature"} <= found.keys() else None


def _cell(row: Sequence[str], place: int) -> str:
    return row[place].strip() if place < len(row) else ""


def _times(table: _Table, zone: tzinfo) -> Read:
    day, clock = table.columns.get("day"), table.columns["time"]
    cells = [_cell(row, clock) if day is None else f"{_cell(row, day)} {_cell(row, clock)}" for _, row in table.rows]
    try:
        times = read_times(cells, zone)
    except UnknownOrderError:
        raise FileFault(
            "log.order", "in {name} nobody can tell day from month ({first}): write dates like 2026-05-04, or let it run "
            "past the 12th",
            name=table.name, first=cells[0], path=table.name,
        ) from None  # fmt: skip
    if not any(times.at):
        raise FileFault(
            "log.no_times", "{name}, line {line}: '{text}' is no time; write it like 2026-05-04 13:00",
            name=table.name, line=table.rows[0][0], text=cells[0], path=f"{table.name}:{table.rows[0][0]}",
        )  # fmt: skip
    return times


def _no_time(table: _Table, times: Read) -> Iterator[Said]:
    place = table.columns["time"]
    for (line, row), at in zip(table.rows, times.at, strict=True):
        if at is None:
            yield said(
                "log.fault.time", "line {line}: '{text}' is no time; the row was left out", line=line, text=_cell(row, place)[:40]
            )


@dataclass(frozen=True, slots=True)
class _Scale:
    """How the numbers of a column become SI, which lie within ``bounds``, and how that is told."""

    times: float
    plus: float
    bounds: tuple[float, float]
    told: str


CELSIUS = _Scale(1.0, 0.0, BOUNDS_C, "°C")
FAHRENHEIT = _Scale(5 / 9, -160 / 9, BOUNDS_C, "°F")
PERCENT = _Scale(0.01, 0.0, (0.0, 1.05), "%")  # a damp sensor may read a little over 100 %
SHARE = _Scale(1.0, 0.0, (0.0, 1.05), "a share of 1")


def _warm_scale(table: _Table, unit: str | None) -> _Scale:
    """Return the unit of the temperature: by the column's name, by what stands beside the numbers, or as somebody said."""
    place = table.columns["temperature"]
    found = _UNIT.search(table.head[place])
    letters = (found[1] or found[2]) if found else next(
        (value[3] for _, row in table.rows if (value := _VALUE.fullmatch(_cell(row, place))) is not None and value[3]), unit
    )  # fmt: skip
    if not letters or letters[0].upper() not in "CF":
        raise FileFault(
            "log.unit", "the column '{column}' of {name} does not say whether it is °C or °F: write it into its name, such as "
            "temperature_c, or say the unit beside the log",
            column=table.head[place], name=table.name, path=f"{table.name}:{table.head[place]}",
        )  # fmt: skip
    return CELSIUS if letters[0].upper() == "C" else FAHRENHEIT


def _damp_scale(table: _Table) -> _Scale:
    """Return the unit of the humidity: percent, unless nothing says so and no value is above 1."""
    place = table.columns["humidity"]
    head = table.head[place].casefold()
    if "%" in head or "percent" in head or "pct" in head:
        return PERCENT
    values = [float(found[1]) for _, row in table.rows if (found := _VALUE.fullmatch(_decimal(_cell(row, place), table)))]
    return SHARE if values and max(values) <= 1.0 else PERCENT


def _decimal(text: str, table: _Table) -> str:
    return text.replace(",", ".") if table.delimiter != "," and text.count(",") == 1 and "." not in text else text


class _Column:
    """One column read: its values, nan where there is none, and what could not be read."""

    def __init__(self, table: _Table, what: str, scale: _Scale) -> None:
        self.scale, self.head = scale, table.head[table.columns[what]]
        self.faults: list[Said] = []
        self.values = np.full(len(table.rows), np.nan)
        for n, (line, row) in enumerate(table.rows):
            self.values[n] = self._read(_decimal(_cell(row, table.columns[what]), table), line)

    def _read(self, text: str, line: int) -> float:
        if text.casefold() in MISSING:
            return float("nan")
        found = _VALUE.fullmatch(text)
        if found is None:
            self.faults.append(
                said(
                    "log.fault.number", "line {line}, {column}: '{text}' is not a number; leave the cell empty if the "
                    "sensor gave none",
                    line=line, column=self.head, text=text[:40],
                )
            )  # fmt: skip
            return float("nan")
        value = float(found[1]) * self.scale.times + self.scale.plus
        low, high = self.scale.bounds
        if low <= value <= high:
            return min(value, 1.0) if high < 2.0 else value
        self.faults.append(
            said(
                "log.fault.range", "line {line}, {column}: {text} cannot be ({unit}); the value was left out",
                line=line, column=self.head, text=text[:40], unit=self.scale.told,
            )
        )  # fmt: skip
        return float("nan")


def _hours_of(times: Read, warm: _Column, table: _Table) -> tuple[datetime, npt.NDArray[np.int64], int]:
    """Return the first full hour, the hour of each row (-1 for none) and how many hours there are."""
    known = [at for at, value in zip(times.at, warm.values, strict=True) if at is not None and not np.isnan(value)]
    if not known:
        raise FileFault(
            "log.nothing",
            "no row of {name} has both a time and a temperature: look at its columns",
            name=table.name,
            path=table.name,
        )
    begin = min(known).replace(minute=0, second=0, microsecond=0)
    hours = int((max(known) - begin) / timedelta(hours=1)) + 1
    if not LEAST_H <= hours <= MOST_H:
        raise FileFault(
            "log.span", "{name} runs from {first} to {last} UTC, {hours} h; it takes a day or more, and at most four "
            "years: look at its "
            "dates",
            name=table.name, first=f"{begin:%Y-%m-%d %H:%M}", last=f"{max(known):%Y-%m-%d %H:%M}", hours=hours, path=table.name,
        )  # fmt: skip
    hour = [-1 if at is None else int((at - begin).total_seconds() // 3600) for at in times.at]
    return begin, np.array(hour), hours


def _hourly(hour: npt.NDArray[np.int64], values: FloatArray, hours: int) -> FloatArray:
    """Take the mean of each hour; nan where nothing was read."""
    good = (hour >= 0) & (hour < hours) & ~np.isnan(values)
    sums = np.bincount(hour[good], weights=values[good], minlength=hours)
    counts = np.bincount(hour[good], minlength=hours)
    return np.where(counts > 0, sums / np.maximum(counts, 1), np.nan)


def _runs(gap: npt.NDArray[np.bool_]) -> list[tuple[int, int]]:
    """Return begin and end of each stretch without a reading."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], gap.astype(np.int8), [0]))))
    return [(int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def _fill(series: FloatArray, what: str, begin: datetime, zone: tzinfo, name: str) -> Iterator[Said]:
    """Draw straight lines over short gaps and tell of them; refuse long ones with their dates."""
    gaps = _runs(np.isnan(series))
    long = [gap for gap in gaps if gap[1] - gap[0] > FILLED_H]
    if long:
        spans = "; ".join(f"{_wall(begin, a, zone)} to {_wall(begin, b, zone)} ({b - a} h)" for a, b in long[:4])
        more = f" and {len(long) - 4} more" if len(long) > 4 else ""
        raise FileFault(
            "log.gap", "{name} has no {what} from {spans}{more}; up to six hours are filled, more is not: begin the log "
            "after the gap, "
            "or write in what you know",
            name=name, what=what, spans=spans, more=more, path=name,
        )  # fmt: skip
    if not gaps:
        return
    known = np.flatnonzero(~np.isnan(series))
    series[:] = np.interp(np.arange(len(series)), known, series[known])
    hours, longest = sum(b - a for a, b in gaps), max(gaps, key=lambda gap: gap[1] - gap[0])
    yield said(
        "log.filled", "{hours} h without {what} were filled from the hours beside them; the longest such gap has "
        "{longest} h, from {at}",
        hours=hours, what=what, longest=longest[1] - longest[0], at=_wall(begin, longest[0], zone),
    )  # fmt: skip


def _wall(begin: datetime, hour: int, zone: tzinfo) -> str:
    return f"{(begin + timedelta(hours=hour)).astimezone(zone):%Y-%m-%d %H:%M}"


def _notes(times: Read, table: _Table) -> Iterator[Said]:
    if times.twice:
        yield said(
            "log.twice",
            "{count} rows lie in the hour that the clock shows twice in autumn; they were taken in their order",
            count=times.twice,
        )
    if times.never:
        yield said(
            "log.never", "{count} rows lie in an hour that the clock skips in spring: was the logger's clock changed? "
            "They were taken as an "
            "hour later",
            count=times.never,
        )  # fmt: skip
    used = set(table.columns.values())
    spare = [cell for n, cell in enumerate(table.head) if n not in used and _is_air(cell)]
    if spare:
        yield said("log.spare", "also there, and not used: {names}", names=", ".join(spare))


def _is_air(cell: str) -> bool:
    words = _WORD.findall(cell.casefold())
    return any(word.startswith(("temp", "hum")) for word in words) and "dew" not in words


def _found(table: _Table, times: Read, warm: _Column, damp: _Column | None, zone: tzinfo) -> Iterator[Said]:
    yield said(
        "log.found", "'{warm}' in {unit}{damp}; dates as {form}, columns apart by {by}",
        warm=warm.head, unit=warm.scale.told, damp=f", '{damp.head}' in {damp.scale.told}" if damp else ", no humidity",
        form=times.form, by=NAMES[table.delimiter],
    )  # fmt: skip
    own = any(at is not None for at in times.at) and any(_has_zone(_cell(row, table.columns["time"])) for _, row in table.rows[:5])
    yield (
        said("log.zone", "times as the file states their zone")
        if own
        else said("log.zone", "times are wall time in {zone}", zone=str(zone))
    )


def _has_zone(text: str) -> bool:
    return bool(re.search(r"\d{2}:\d{2}.*(?:Z|[+-]\d{2}:?\d{2})$", text)) or bool(re.fullmatch(r"\d{10}(?:\.\d+)?|\d{13}", text))


def _few(faults: list[Said], name: str) -> Iterator[Said]:
    """Yield the first faults, and how many more there are."""
    yield from faults[:SHOWN]
    if len(faults) > SHOWN:
        yield said("log.fault.more", "and {count} more such lines in {name}", count=number(len(faults) - SHOWN), name=name)
