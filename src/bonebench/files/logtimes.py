"""Times as loggers and people write them: which form they have, and which instants they are in the zone of a room."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from functools import lru_cache
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from bonebench.errors import NotAQuantity

_CLOCK = r"(?:[T ,]+(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s*([AaPp])?\.?(?:[Mm]\.?)?)?"
_SHIFT = r"\s*(Z|[+-]\d{2}:?\d{2})?"
_YEAR_FIRST = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})" + _CLOCK + _SHIFT)
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.])(\d{1,2})[-/.](\d{4}|\d{2})" + _CLOCK + _SHIFT)
_SECONDS = re.compile(r"\d{10}(?:\.\d+)?|\d{13}")
# A column that names its zone: UTC, GMT-05:00.
_STATED = re.compile(r"\b(?:utc|gmt)\b\s*(?:([+-])(\d{1,2})(?::?(\d{2}))?)?", re.IGNORECASE)
MOST_SHIFT_H = 15
YEARS = range(1970, 2200)  # no logger wrote before, and none of ours will after


@dataclass(frozen=True, slots=True)
class Read:
    """Instants in UTC, None where a cell holds no time; what form was found; hours of the clock change that were met."""

    at: tuple[datetime | None, ...]
    form: str
    twice: int
    never: int


class UnknownOrderError(ValueError):
    """Nobody can tell day from month in these dates."""


def zone_named(text: str) -> ZoneInfo:
    """Return a zone by its name in the IANA list."""
    try:
        return ZoneInfo(text.strip())
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise NotAQuantity("log.zone_unknown", "'{text}' is no time zone; write it like America/Chicago", text=text) from None


def stated_zone(header: str) -> tzinfo | None:
    """Return the zone a column's name states, if it does."""
    found = _STATED.search(header)
    if found is None:
        return None
    hours, minutes = int(found[2] or 0), int(found[3] or 0)
    if hours > MOST_SHIFT_H or minutes >= 60:
        return None
    return timezone((-1 if found[1] == "-" else 1) * timedelta(hours=hours, minutes=minutes))


def read_times(cells: Sequence[str], zone: tzinfo) -> Read:
    """Read the times of a log; those without a zone of their own are wall times in ``zone``."""
    texts = [cell.strip() for cell in cells]
    by_day, form = _order([_YEAR_LAST.fullmatch(text) for text in texts])
    walls = [_moment(text, day_first=by_day) for text in texts]
    if any(_SECONDS.fullmatch(text) for text in texts) and form == "":
        form = "seconds since 1970"
    return _placed(walls, zone, form or "year-month-day")


def _order(found: Sequence["re.Match[str] | None"]) -> tuple[bool, str]:
    """Tell day-month from month-day: by a number above 12, else by the order in which the days follow each other more closely."""
    pairs = [(int(m[1]), int(m[3]), m[2], int(m[4])) for m in found if m is not None]
    if not pairs:
        return True, ""
    day_first = max(b for _, b, _, _ in pairs) <= 12
    month_first = max(a for a, _, _, _ in pairs) <= 12
    if day_first and month_first and any(a != b for a, b, _, _ in pairs):
        steps = [_widest_step([(year, b, a) if first else (year, a, b) for a, b, _, year in pairs]) for first in (True, False)]
        if steps[0] != steps[1]:
            day_first = steps[0] < steps[1]
        elif pairs[0][2] != ".":  # dots are written with the day first; common practice, no source
            raise UnknownOrderError
    return day_first, "day-month-year" if day_first else "month-day-year"


def _widest_step(dates: Sequence[tuple[int, int, int]]) -> int:
    """Return the longest step between days that follow each other; a day that no month has is far from every other."""
    ordinals = []
    for year, month, day in dict.fromkeys(dates):
        try:
            ordinals.append(datetime(year + 2000 if year < 100 else year, month, day, tzinfo=UTC).toordinal())
        except ValueError:
            return 10**6
    return max((abs(b - a) for a, b in pairwise(ordinals)), default=0)


def _moment(text: str, *, day_first: bool) -> datetime | None:
    """Return the moment a cell holds: with its zone if it states one, else without."""
    if _SECONDS.fullmatch(text):
        number = float(text)
        return datetime.fromtimestamp(number / 1000 if number > 1e11 else number, UTC)
    found = _YEAR_FIRST.fullmatch(text)
    if found is not None:
        return _built(found[1], found[2], found[3], found.groups()[3:])
    found = _YEAR_LAST.fullmatch(text)
    if found is None:
        return None
    day, month = (found[1], found[3]) if day_first else (found[3], found[1])
    return _built(found[4], month, day, found.groups()[4:])


def _built(year: str, month: str, day: str, rest: Sequence[Any]) -> datetime | None:
    hour, minute, second, half, shift = rest
    at_hour = int(hour or 0)
    if half:
        if not 1 <= at_hour <= 12:
            return None
        at_hour = at_hour % 12 + (12 if half in "pP" else 0)
    zone = None if shift is None else UTC if shift == "Z" else _shifted(shift)
    at_year = int(year) + (2000 if len(year) == 2 else 0)
    if at_year not in YEARS:
        return None
    try:
        return datetime(at_year, int(month), int(day), at_hour, int(minute or 0), int(second or 0), tzinfo=zone)
    except ValueError:
        return None


@lru_cache(maxsize=64)
def _shifted(shift: str) -> timezone:
    hours, minutes = int(shift[1:3]), int(shift[-2:])
    return timezone((-1 if shift[0] == "-" else 1) * timedelta(hours=min(hours, 23), minutes=minutes % 60))


def _placed(walls: Sequence[datetime | None], zone: tzinfo, form: str) -> Read:
    """Turn moments into instants: the hour that comes twice by its order, the one that never comes by the clock before it."""
    known = [wall for wall in walls if wall is not None]
    falling = len(known) > 1 and known[0].replace(tzinfo=None) > known[-1].replace(tzinfo=None)
    at: list[datetime | None] = []
    before: datetime | None = None
    twice = never = 0
    for wall in reversed(walls) if falling else walls:
        if wall is None:
            at.append(None)
            continue
        if wall.tzinfo is not None:
            instant = wall.astimezone(UTC)
        else:
            instant = wall.replace(tzinfo=zone).astimezone(UTC)
            odd = _odd(wall.year, wall.month, wall.day, wall.hour, zone)
            never += odd == "never"
            twice += odd == "twice"
            if odd == "twice" and before is not None and instant <= before:
                instant = wall.replace(tzinfo=zone, fold=1).astimezone(UTC)
        at.append(instant)
        before = instant
    return Read(tuple(reversed(at)) if falling else tuple(at), form, twice, never)


@lru_cache(maxsize=4096)
def _odd(year: int, month: int, day: int, hour: int, zone: tzinfo) -> str:
    """Whether a wall hour comes twice or never, because the clock is changed."""
    wall = datetime(year, month, day, hour, 30, tzinfo=zone)
    if wall.utcoffset() == wall.replace(fold=1).utcoffset():
        return ""
    back = wall.astimezone(UTC).astimezone(zone)
    return "twice" if back.replace(tzinfo=None) == wall.replace(tzinfo=None) else "never"
