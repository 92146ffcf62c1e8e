"""`enclosure.toml`: a heated box as people write it down, read into the description that science runs."""

import tomllib
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from bonebench.errors import FileFault, InputError
from bonebench.files import quantities as q
from bonebench.files.tables import Reading, Table, apply_setting
from bonebench.science.air.paths import Duct, Holes
from bonebench.science.enclosure.box import (
    Band,
    Bedding,
    Box,
    Heater,
    Humidistat,
    Layer,
    Store,
    Window,
    check_box,
)

FILE = "enclosure.toml"
# What may stand in each table, with how it is read; `int`, `bool` and names are read as TOML has them.
LAYER = {"name": None, "thickness": q.length(0.0005, 1.0, "65 mm"), "conductivity": q.CONDUCTIVITY}
BOX = {
    "length": q.length(0.1, 10, "1.20 m"), "width": q.length(0.1, 10, "0.65 m"), "height": q.length(0.1, 10, "0.80 m"),
    "walls": None, "lid": None, "conductance": q.CONDUCTANCE, "liner": q.LINER,
}  # fmt: skip
WINDOW = {"area": q.AREA, "u": q.U_VALUE}
HOLES = {
    "count": None, "diameter": q.length(0.001, 0.5, "25 mm"), "height": q.length(0, 10, "5 cm"), "discharge": None,
    "screen_loss": None, "open_share": q.share(0.01, 1, "85 %"),
}  # fmt: skip
DUCT = {
    "diameter": q.length(0.01, 0.5, "10 cm"), "length": q.length(0, 50, "2 m"), "height": q.length(0, 10, "50 cm"), "bends": None,
    "rise": q.length(0, 10, "0 m"), "flap": None,
}  # fmt: skip
FAN = {"free_flow": q.FLOW, "shut_off": q.PRESSURE, "power": q.POWER}
SWITCH = {"least_run": q.seconds(0, 7200, "2 min"), "sensor_lag": q.seconds(0, 3600, "60 s")}
HEATER = {
    "power": q.POWER, "radiant_share": q.share(0, 1, "60 %"), "set": q.TEMPERATURE, "hysteresis": q.DIFFERENCE, **SWITCH,
}  # fmt: skip
HUMIDISTAT = {"on": q.share(0, 1, "50 %"), "off": q.share(0, 1, "47 %"), **SWITCH}
BEDDING = {"dry_mass": q.mass(0, 500, "3 kg"), "time": q.seconds(0, 864_000, "2 h")}
STORE = {
    "kind": None, "mass": q.mass(0.1, 5000, "40 kg"), "volume": q.VOLUME, "thickness": q.length(0.005, 0.5, "50 mm"),
    "wrapped": None,
}  # fmt: skip
SITE = {"elevation": q.ELEVATION}
BAND = {
    "low": q.TEMPERATURE, "high": q.TEMPERATURE, "low_humidity": q.share(0, 1, "40 %"), "high_humidity": q.share(0, 1, "65 %"),
}  # fmt: skip
TOP = {"building", "box", "window", "holes", "duct", "fan", "heater", "humidistat", "bedding", "stores", "site", "band"}


def read_enclosure(path: Path, settings: Sequence[str] = ()) -> Box:
    """Read a box from a file; settings are `path=value`, such as `heater.power=80 W` or `holes.0.count=4`."""
    return enclosure_of(text_of(path), settings, path.name)


def text_of(path: Path, kind: str = "enclosure") -> str:
    """Return the text of a file, or say why there is none; ``kind`` is the group of commands that writes an example of one."""
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError as fault:
        raise FileFault("enclosure.missing", "there is no file at {where}: `{kind} example` writes one", where=str(path),
                        kind=kind, path=str(path)) from fault  # fmt: skip
    except (OSError, UnicodeDecodeError) as fault:
        raise FileFault(
            "enclosure.unreadable", "{where} cannot be read as text: {why}", where=str(path), why=str(fault), path=str(path)
        ) from fault


def enclosure_of(text: str, settings: Sequence[str] = (), file: str = FILE) -> Box:
    """Read a box from the text of a file."""
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("enclosure.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from fault
    return described(whole, settings, file)


def described(whole: dict[str, Any], settings: Sequence[str] = (), file: str = FILE) -> Box:
    """Build a box from tables as the file has them, changed by settings."""
    for setting in settings:
        apply_setting(whole, setting, file)
    return box_of(whole, file)


def box_of(whole: Table, file: str = FILE) -> Box:
    """Build a box from the tables of a file, and refuse what cannot be with its place."""
    reading = Reading(file)
    for key in whole:
        if key not in TOP:
            raise reading.fault(key, "unknown table; known are {known}", known=", ".join(sorted(TOP)))
    if "box" not in whole:
        raise reading.fault("box", "missing; a box needs [box] with length, width and height")
    part = reading.table(whole["box"], "box", BOX)
    values: dict[str, Any] = {"outside_m": (part.need("length"), part.need("width"), part.need("height"))}
    part.into("conductance", "measured_w_k", values)
    part.into("liner", "liner_j_m2k", values)
    for key in ("walls", "lid"):
        if key in part.whole:
            values[key] = _layers(reading, part.whole[key], f"box.{key}")
    readers: Mapping[str, Callable[[Reading, Any], Any]] = {
        "window": _window, "holes": _holes, "heater": _heater, "bedding": _bedding, "stores": _stores, "band": _band,
    }  # fmt: skip
    for key, read in readers.items():
        if key in whole:
            values[key] = read(reading, whole[key])
    _blow(reading, whole, values)
    if "site" in whole:
        reading.table(whole["site"], "site", SITE).into("elevation", "elevation_m", values)
    box = Box(**values, given=frozenset(reading.given))
    _check(box, reading)
    return box


def _layers(reading: Reading, whole: Any, path: str) -> tuple[Layer, ...]:
    layers = []
    for part in reading.tables(whole, path, LAYER):
        values: dict[str, Any] = {"thickness_m": part.need("thickness"), "conductivity_w_mk": part.need("conductivity")}
        layers.append(Layer(**values))
    if not layers:
        raise reading.fault(path, "a wall needs one layer at least")
    reading.given |= {f"{path}.thickness", f"{path}.conductivity"}
    return tuple(layers)


def _window(reading: Reading, whole: Any) -> Window:
    part = reading.table(whole, "window", WINDOW)
    values: dict[str, Any] = {"area_m2": part.need("area")}
    part.into("u", "u_w_m2k", values)
    return Window(**values)


def _holes(reading: Reading, whole: Any) -> tuple[Holes, ...]:
    groups = []
    for part in reading.tables(whole, "holes", HOLES):
        count = part.need("count")
        if count != int(count) or not 0 <= count <= 500:
            raise reading.fault(f"{part.path}.count", "{count} holes cannot be; 0 to 500, whole ones", count=count)
        values: dict[str, Any] = {"count": int(count), "diameter_m": part.need("diameter"), "height_m": part.need("height")}
        for key in ("discharge", "screen_loss", "open_share"):
            part.into(key, key, values, f"holes.{key}")
        groups.append(Holes(**values))
    return tuple(groups)


def _blow(reading: Reading, whole: Table, values: dict[str, Any]) -> None:
    """Duct, the fan in it and what turns the fan."""
    if "fan" in whole and "duct" not in whole:
        raise reading.fault("fan", "a fan blows through a duct: describe [duct] too")
    fan = reading.table(whole.get("fan", {}), "fan", FAN)
    if "duct" in whole:
        part = reading.table(whole["duct"], "duct", DUCT)
        duct: dict[str, Any] = {key + "_m": part.need(key) for key in ("diameter", "length", "height")}
        part.into("bends", "bends", duct)
        part.into("rise", "rise_m", duct)
        duct["flap"] = part.whether("flap", True)
        if "fan" in whole:
            duct |= {"fan_free_m3_s": fan.need("free_flow"), "fan_shut_pa": fan.need("shut_off")}
        values["duct"] = Duct(**duct)
    if "humidistat" in whole:
        part = reading.table(whole["humidistat"], "humidistat", HUMIDISTAT)
        at: dict[str, Any] = {}
        for key, name in {"on": "on_rh", "off": "off_rh", "least_run": "least_run_s", "sensor_lag": "lag_s"}.items():
            part.into(key, name, at)
        fan.into("power", "fan_w", at)
        values["humidistat"] = Humidistat(**at)


def _heater(reading: Reading, whole: Any) -> Heater:
    part = reading.table(whole, "heater", HEATER)
    values: dict[str, Any] = {"power_w": part.need("power")}
    names = {
        "radiant_share": "radiant_share",
        "set": "set_c",
        "hysteresis": "hysteresis_k",
        "least_run": "least_run_s",
        "sensor_lag": "lag_s",
    }
    for key, name in names.items():
        part.into(key, name, values)
    return Heater(**values)


def _bedding(reading: Reading, whole: Any) -> Bedding:
    part, values = reading.table(whole, "bedding", BEDDING), dict[str, Any]()
    part.into("dry_mass", "dry_kg", values)
    part.into("time", "tau_s", values)
    return Bedding(**values)


def _stores(reading: Reading, whole: Any) -> tuple[Store, ...]:
    stores = []
    for part in reading.tables(whole, "stores", STORE):
        kind = part.whole.get("kind")
        if kind not in ("pavers", "water"):
            raise reading.fault(f"{part.path}.kind", '\'{kind}\' is not known; write "pavers" or "water"', kind=str(kind))
        by_volume = kind == "water" and "volume" in part.whole
        values: dict[str, Any] = {"kind": kind, "mass_kg": part.need("volume" if by_volume else "mass")}
        part.into("thickness", "thickness_m", values, "stores.thickness")
        values["wrapped"] = part.whether("wrapped", True)
        stores.append(Store(**values))
    return tuple(stores)


def _band(reading: Reading, whole: Any) -> Band:
    part, values = reading.table(whole, "band", BAND), dict[str, Any]()
    for key, name in {"low": "low_c", "high": "high_c", "low_humidity": "low_rh", "high_humidity": "high_rh"}.items():
        part.into(key, name, values)
    reading.given |= {f"band.{place}" for place, key in (("temperature", "low"), ("humidity", "low_humidity")) if key in part.whole}
    return Band(**values)


# Where in the file a fault that science finds has its place.
PLACES = {
    "air.hole_height": "holes.height", "air.hole": "holes", "air.hole_loss": "holes", "air.duct": "duct", "air.fan": "fan.shut_off",
    "air.shut": "holes", "box.room": "box", "box.measured": "box.conductance", "box.heater": "heater.power",
    "box.heater_thresholds": "heater.hysteresis", "box.heater_set": "heater.set", "box.heater_times": "heater",
    "box.humidistat": "humidistat", "box.humidistat_thresholds": "humidistat.off", "box.humidistat_times": "humidistat",
    "box.no_fan": "fan", "box.bedding": "bedding", "box.store": "stores", "box.band": "band", "box.elevation": "site.elevation",
}  # fmt: skip


def _check(box: Box, reading: Reading) -> None:
    """Let science look at the whole, and give what it finds its place in the file."""
    inner = box.inside_m[2]
    for n, group in enumerate(box.holes):
        if group.height_m > inner > 0.05:
            raise reading.fault(
                f"holes[{n}].height", "a hole at {height:length} lies above the box, which is {inner:length} high inside; "
                "heights count from the floor inside to the middle of the hole",
                height=group.height_m, inner=inner,
            )  # fmt: skip
    try:
        check_box(box)
    except InputError as fault:
        path = PLACES.get(fault.said.key, "box")
        values = {**fault.said.values, "file": reading.file, "path": path}
        raise FileFault(fault.said.key, "{file}, {path}: " + fault.said.template, **values) from fault


def example() -> str:
    """Return a complete file with every table, which reads back."""
    return (Path(__file__).parent / "enclosure_example.toml").read_text(encoding="utf-8")
