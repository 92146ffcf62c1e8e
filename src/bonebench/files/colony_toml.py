"""`colony.toml`: a colony as people write it down for a forecast, checked place by place; its words go on to the services."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from bonebench.errors import BonebenchError, FileFault
from bonebench.files import quantities as q
from bonebench.files.enclosure_toml import text_of
from bonebench.files.logtimes import zone_named
from bonebench.files.quantities import Quantity
from bonebench.files.tables import Part, Reading
from bonebench.science.colony.observed import GRADES
from bonebench.units import read_area, read_days, read_share, read_temperature, read_volume

FILE = "colony.toml"
MOST = 1e7
TEMPERATURE = Quantity(read_temperature, -60.0, 80.0, "27 C")
DAYS = Quantity(read_days, 1.0, 400.0, "90 d")
# What may stand in each table, with how it is read; without one it is a plain number, true or false, or words.
COLONY: Mapping[str, Quantity | None] = {"size": None, "beetles": None, "pests": None, "seed": None}
LOOK: Mapping[str, Quantity | None] = {
    "days_ago": Quantity(read_days, 0.0, 60.0, "10 d"), "counted": None, "part": q.share(0.0001, 1, "2 %"), "grade": None,
    "pupae": None, "pupae_part": q.share(0.0001, 1, "25 %"),
}  # fmt: skip
HOUSE: Mapping[str, Quantity | None] = {
    "floor": Quantity(read_area, 0.005, 200.0, "0.5 m2"), "sites": None, "blocks": Quantity(read_volume, 0.0, 60_000.0, "20 L"),
    "cover": None,
}  # fmt: skip
FOOD: Mapping[str, Quantity | None] = {"ration": q.mass(0, 1000, "80 g"), "dried": None, "water": None, "waiting": None}
AIR: Mapping[str, Quantity | None] = {
    "temperature": TEMPERATURE, "humidity": q.share(0, 1, "55 %"), "log": None, "log_unit": None, "zone": None,
}  # fmt: skip
BOX: Mapping[str, Quantity | None] = {
    "file": None, "weather": None, "building": Quantity(read_temperature, -60.0, 60.0, "5 C"), "humidity": q.share(0, 1, "70 %"),
    "held": Quantity(read_temperature, -60.0, 60.0, "5 C"), "water": q.mass(0, 10, "2 g"),
}  # fmt: skip
AHEAD: Mapping[str, Quantity | None] = {"days": DAYS, "first_day": None}
TOP = {"colony": COLONY, "looks": LOOK, "house": HOUSE, "food": FOOD, "air": AIR, "box": BOX, "ahead": AHEAD}
_SCOOP = re.compile(r"\s*(\S+)\s+in\s+(\S+(?:\s*%)?)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Looked:
    """One look into the box, so many days before the first day."""

    days_ago: int
    counted: float | None = None
    part: float | None = None
    grade: str | None = None
    pupae: float | None = None
    pupae_part: float = 1.0


@dataclass(frozen=True, slots=True)
class LogNamed:
    """A log of the box by its file, the unit of its warmth if its names do not say, and the zone of its wall times."""

    path: Path
    unit: str | None
    zone: str | None


@dataclass(frozen=True, slots=True)
class BoxNamed:
    """A box by its file, and what surrounds it, as it was written."""

    path: Path
    around: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ColonyFile:
    """What a file says: ``about`` are the words of `Asked` by their names; ``days``, ``ration``, ``waiting`` as they "
    "were written."""

    about: Mapping[str, str]
    looks: tuple[Looked, ...]
    ration: str | None
    waiting: str | None
    days: str | None
    first_day: str | None
    log: LogNamed | None
    box: BoxNamed | None
    seed: int | None


def read_colony(path: Path) -> ColonyFile:
    """Read a colony from a file; files it names lie beside it unless their whole way is written."""
    return colony_of(text_of(path, "colony"), path.name, path.parent)


def colony_of(text: str, file: str = FILE, beside: Path = Path()) -> ColonyFile:
    """Read a colony from the text of a file."""
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("colony.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from fault
    reading = Reading(file)
    for key in whole:
        if key not in TOP:
            raise reading.fault(key, "unknown table; known are {known}", known=", ".join(TOP))
    parts = {name: reading.table(whole.get(name, {}), name, keys) for name, keys in TOP.items() if name != "looks"}
    looks = tuple(_look(part) for part in reading.tables(whole.get("looks", []), "looks", LOOK))
    log, box = _log(parts["air"], beside), _box(parts["box"], beside) if "box" in whole else None
    if box is not None and parts["air"].whole:
        raise reading.fault("box", "the air comes from the box; leave out what [air] says, or leave out [box]")
    about = _about(parts)
    if "size" not in about and not looks:
        raise reading.fault("colony.size", 'missing; write it like size = "40 in 2 %", size = 3000, or [[looks]]')
    food, ahead = parts["food"], parts["ahead"]
    return ColonyFile(
        about, looks, _written(food, "ration"), _words(food, "waiting"), _written(ahead, "days"), _day(ahead), log, box,
        _seed(parts["colony"]),
    )  # fmt: skip


def _about(parts: Mapping[str, Part]) -> dict[str, str]:
    """Return the words about the colony under the names that the questions have for them."""
    colony, house, food, air = (parts[name] for name in ("colony", "house", "food", "air"))
    if "sites" in house.whole and "blocks" in house.whole:
        raise house.reading.fault("house.blocks", "sites and blocks say the same: write one of them")
    found = {
        "size": _size(colony), "beetles": _words(colony, "beetles"), "pests": _pests(colony), "floor": _written(house, "floor"),
        "sites": _written(house, "blocks") or _count(house, "sites"), "temperature": _written(air, "temperature"),
        "humidity": _written(air, "humidity"), "bare": None if house.whether("cover", True) else "yes",
        "dry": None if food.whether("water", True) else "yes", "dried": "yes" if food.whether("dried", False) else None,
    }  # fmt: skip
    return {name: text for name, text in found.items() if text is not None}


def _size(part: Part) -> str | None:
    """Return the size as words: a plain number, a scoop, or a grade by eye."""
    value = part.whole.get("size")
    if not isinstance(value, str):
        return _count(part, "size", least=1)
    scoop = _SCOOP.fullmatch(value)
    if value.strip().casefold() in GRADES or (scoop is not None and _is_number(scoop[1]) and _is_share(scoop[2])):
        return value
    raise part.reading.fault(
        "colony.size", "'{value}' is no size; write a plain number such as 3000, \"40 in 2 %\", or one of: {grades}",
        value=value, grades=", ".join(GRADES),
    )  # fmt: skip


def _is_number(text: str) -> bool:
    return re.fullmatch(r"\d+(\.\d+)?", text) is not None


def _is_share(text: str) -> bool:
    try:
        return 0 < read_share(text, "share") <= 1
    except BonebenchError:
        return False


def _count(part: Part, key: str, *, least: float = 0) -> str | None:
    """Return a plain number of animals or holes as words."""
    if key not in part.whole:
        return None
    value = part.plain(key)
    if not least <= value <= MOST:
        raise part.reading.fault(
            f"{part.path}.{key}", "{value} is out of range; it lies from {low} to 10 million", value=value, low=least
        )  # fmt: skip
    return f"{value:g}" if value < 1e5 else f"{value:.0f}"


def _written(part: Part, key: str) -> str | None:
    """Return a value with its unit as it was written, once it was read and lies between its ends."""
    if key not in part.whole:
        return None
    part.need(key)
    return str(part.whole[key])


def _words(part: Part, key: str) -> str | None:
    value = part.whole.get(key)
    if value is None:
        return None
    if not isinstance(value, str) or not value.strip():
        raise part.reading.fault(f"{part.path}.{key}", "'{value}' is to be words between quotes", value=str(value))
    return value


def _pests(part: Part) -> str | None:
    """Return the pests, a list or words apart by commas."""
    value = part.whole.get("pests")
    if isinstance(value, list) and all(isinstance(one, str) for one in value):
        return ", ".join(value) or None
    return _words(part, "pests")


def _seed(part: Part) -> int | None:
    value = part.whole.get("seed")
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**32:
        raise part.reading.fault("colony.seed", "'{value}' is to be a whole number from 0 to 4294967295", value=str(value))
    return value


def _day(part: Part) -> str | None:
    """Return the first day: a date of TOML, or the same between quotes."""
    value = part.whole.get("first_day")
    if value is None:
        return None
    try:
        return date.fromisoformat(str(value)).isoformat()
    except ValueError:
        raise part.reading.fault("ahead.first_day", "'{value}' is no day; write it like 2026-05-04", value=str(value)) from None


def _look(part: Part) -> Looked:
    """Read one look: a scoop with its share, a grade by eye, or pupae."""
    values: dict[str, Any] = {"days_ago": round(part.need("days_ago"))}
    part.into("part", "part", values)
    part.into("pupae_part", "pupae_part", values)
    for key in ("counted", "pupae"):
        text = _count(part, key)
        if text is not None:
            values[key] = float(text)
    grade = _words(part, "grade")
    if grade is not None:
        if grade.strip().casefold() not in GRADES:
            raise part.reading.fault(
                f"{part.path}.grade", "'{grade}' is not known; write one of: {grades}", grade=grade, grades=", ".join(GRADES)
            )
        values["grade"] = grade.strip().casefold()
    if ("counted" in values) != ("part" in values):
        raise part.reading.fault(f"{part.path}", "a scoop is two things: counted, and part, the share of the bedding it was")
    if not values.keys() & {"counted", "grade", "pupae"}:
        raise part.reading.fault(f"{part.path}", "a look tells something: counted with part, grade, or pupae")
    return Looked(**values)


def _log(part: Part, beside: Path) -> LogNamed | None:
    name, unit, zone = _words(part, "log"), _words(part, "log_unit"), _words(part, "zone")
    if name is None:
        if unit or zone:
            raise part.reading.fault("air.log", "log_unit and zone belong to a log: name its file")
        return None
    if "temperature" in part.whole:
        raise part.reading.fault("air.log", "the warmth comes from the log; leave out air.temperature, or leave out air.log")
    if unit not in (None, "C", "F"):
        raise part.reading.fault("air.log_unit", '\'{unit}\' is not known; write "C" or "F"', unit=str(unit))
    if zone is not None:
        try:
            zone_named(zone)
        except BonebenchError as fault:
            raise part.reading.fault("air.zone", "{why}", why=fault.said.text) from fault
    return LogNamed(beside / name, unit, zone)


def _box(part: Part, beside: Path) -> BoxNamed:
    name = _words(part, "file")
    if name is None:
        raise part.reading.fault("box.file", 'missing; write it like file = "enclosure.toml"')
    weather = _words(part, "weather")
    if (weather is None) == ("building" not in part.whole):
        raise part.reading.fault("box.weather", "write the weather, or how warm the building is; one of the two")
    around = {key: text for key in ("building", "humidity", "held", "water") if (text := _written(part, key)) is not None}
    if weather is not None:
        normals = weather.startswith("normals:")
        around["weather"] = ("normals:" if normals else "") + str(beside / weather.removeprefix("normals:"))
    return BoxNamed(beside / name, around)


def example() -> str:
    """Return a complete file with every table, which reads back."""
    return (Path(__file__).parent / "colony_example.toml").read_text(encoding="utf-8")
