"""A box by the few numbers a person can tell at once; each goes where the file has it, so both are read by one reader."""

from dataclasses import dataclass, fields, replace
from typing import Any

from bonebench.errors import Impossible
from bonebench.files.building_toml import building_in
from bonebench.files.enclosure_toml import described
from bonebench.science.building import Building
from bonebench.science.enclosure import Box

FORM = "the form"
# A fan comes with a duct: what one of the usual kind is like where nobody measured. # common practice, no source
USUAL_DUCT = {"diameter": "10 cm", "length": "2 m", "bends": 2, "rise": "0 m", "flap": True}
USUAL_SHUT_OFF = "12 Pa"
FOAM = {"conductivity": "0.024 W/mK"}


@dataclass(frozen=True, kw_only=True)
class FewNumbers:
    """What a form or a command line asks of a box, as it was typed; ``settings`` are places of the file, ``place=value``."""

    length: str
    width: str
    height: str
    wall: str
    watts: str | None = None
    low_holes: str | None = None
    high_holes: str | None = None
    hole_width: str | None = None
    low_height: str | None = None
    high_height: str | None = None
    fan: str | None = None
    window: str | None = None
    pavers: str | None = None
    water: str | None = None
    settings: str | None = None


NUMBERS = tuple(field.name for field in fields(FewNumbers))


def box_of_numbers(few: FewNumbers) -> Box:
    """Describe a box by a few numbers; all else by default, to be sharpened by settings."""
    whole: dict[str, Any] = {
        "box": {"length": few.length, "width": few.width, "height": few.height, "walls": [{**FOAM, "thickness": few.wall}]},
        "holes": [
            group
            for count, height in ((few.low_holes, few.low_height or "5 cm"), (few.high_holes, few.high_height or "45 cm"))
            if (group := _group(count, height, few.hole_width or "25.4 mm"))
        ],
        "stores": [
            *([{"kind": "pavers", "mass": few.pavers}] if few.pavers else []),
            *([{"kind": "water", "volume": few.water}] if few.water else []),
        ],
    }
    if few.watts:
        whole["heater"] = {"power": few.watts}
    if few.window:
        whole["window"] = {"area": few.window}
    if few.fan:
        whole["duct"] = {**USUAL_DUCT, "height": few.high_height or "45 cm"}
        whole["fan"] = {"free_flow": few.fan, "shut_off": USUAL_SHUT_OFF}
        whole["humidistat"] = {}
    settings = settings_of(few.settings)
    box = described(whole, settings, FORM)
    if any("conductivity" in setting for setting in settings):
        return box
    # Nobody said what the foam lets through: it stays a figure to sharpen.
    return replace(box, given=box.given - {"box.walls.conductivity"})


@dataclass(frozen=True, kw_only=True)
class RoomNumbers:
    """What a form asks of the building, as it was typed."""

    room_length: str
    room_width: str
    room_height: str
    room_walls: str
    room_heater: str | None = None
    room_set: str | None = None
    room_fuel: str | None = None
    tank: str | None = None


ROOM_NUMBERS = tuple(field.name for field in fields(RoomNumbers))


def building_of_numbers(few: RoomNumbers) -> tuple[Building, float]:
    """Describe a building by a few numbers; the roof is like the walls, leaks and mass by default. Its tank in kg comes along."""
    table: dict[str, Any] = {
        "length": few.room_length, "width": few.room_width, "height": few.room_height, "walls": few.room_walls,
        "fuel": few.room_fuel or "electric",
    }  # fmt: skip
    named = {"heater": few.room_heater, "set": few.room_set, "tank": few.tank}
    found = building_in({"building": {**table, **{key: text for key, text in named.items() if text}}}, FORM)
    assert found is not None
    return found


def settings_of(text: str | None) -> list[str]:
    """Return settings typed in one line, apart by semicolons."""
    return [part for part in (piece.strip() for piece in (text or "").split(";")) if part]


def _group(count: str | None, height: str, width: str) -> dict[str, Any] | None:
    if not count or count.strip() in ("0", ""):
        return None
    try:
        number: float = int(count)
    except ValueError:
        raise Impossible("box.count", "'{count}' is no number of holes: write a whole number such as 3", count=count) from None
    return {"count": number, "diameter": width, "height": height}
