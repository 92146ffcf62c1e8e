"""The building in `enclosure.toml`: the room round the box, as people write it down."""

import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from bonebench.errors import FileFault, InputError
from bonebench.files import quantities as q
from bonebench.files.enclosure_toml import FILE, text_of
from bonebench.files.tables import Reading, Table, apply_setting
from bonebench.science.building import Building, check_building
from bonebench.science.building.building import UNVENTED, VENTED

BUILDING = {
    "length": q.length(0.5, 100, "5 m"), "width": q.length(0.5, 100, "4 m"), "height": q.length(0.5, 20, "2.4 m"),
    "walls": q.RESISTANCE, "roof": q.RESISTANCE, "leaks": q.LEAK, "shelter": None, "mass": q.CAPACITY,
    "absorbed": q.share(0, 1, "60 %"),
    "heater": q.BIG_POWER, "set": q.ROOM_TEMPERATURE, "hysteresis": q.DIFFERENCE, "fuel": None, "tank": q.mass(0, 5000, "200 lb"),
}  # fmt: skip
FUELS = {"electric": None, "vented propane": VENTED, "unvented propane": UNVENTED}


def read_building(path: Path, settings: Sequence[str] = ()) -> tuple[Building, float] | None:
    """Read the building of a file and what its tank holds [kg], if the file tells of one."""
    return building_of(text_of(path), settings, path.name)


def building_of(text: str, settings: Sequence[str] = (), file: str = FILE) -> tuple[Building, float] | None:
    """Read the building of a file and what its tank holds [kg], if the file tells of one."""
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("enclosure.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from fault
    for setting in settings:
        apply_setting(whole, setting, file)
    return building_in(whole, file)


def building_in(whole: Table, file: str = FILE) -> tuple[Building, float] | None:
    """Build a building from the tables of a file."""
    if "building" not in whole:
        return None
    reading = Reading(file)
    part = reading.table(whole["building"], "building", BUILDING)
    values: dict[str, Any] = {
        "inside_m": (part.need("length"), part.need("width"), part.need("height")),
        "wall_r": part.need("walls"), "roof_r": part.need("roof" if "roof" in part.whole else "walls"),
    }  # fmt: skip
    names = {
        "leaks": "leak_cm2", "mass": "mass_j_k", "absorbed": "absorbed", "heater": "heater_w", "set": "set_c",
        "hysteresis": "hysteresis_k",
    }  # fmt: skip
    for key, name in names.items():
        part.into(key, name, values)
    if "shelter" in part.whole:
        values["shelter"] = int(part.plain("shelter"))
    fuel = part.whole.get("fuel", "electric")
    if fuel not in FUELS:
        raise reading.fault("building.fuel", "'{fuel}' is not known; write one of: {known}", fuel=str(fuel), known=", ".join(FUELS))
    tank: dict[str, Any] = {}
    part.into("tank", "kg", tank)
    building = Building(**values, flame=FUELS[str(fuel)])
    try:
        check_building(building)
    except InputError as fault:
        said = {**fault.said.values, "file": file, "path": "building"}
        raise FileFault(fault.said.key, "{file}, {path}: " + fault.said.template, **said) from fault
    return building, tank.get("kg", 0.0)
