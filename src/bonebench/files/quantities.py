"""Values of a description file: each written with its unit, each with the ends it may lie between."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bonebench.errors import FileFault, InputError
from bonebench.said import number
from bonebench.units import (
    read_area,
    read_days,
    read_length,
    read_mass,
    read_power,
    read_share,
    read_temperature,
    read_volume,
)

_WRITTEN = re.compile(r"\s*([-+]?\d+(?:\.\d+)?)\s*(.*?)\s*")


@dataclass(frozen=True, slots=True)
class Quantity:
    """How a value is read and between which ends of SI it lies; `example` shows how it is written."""

    read: Callable[[str], float]
    low: float
    high: float
    example: str


def _scaled(scales: Mapping[str, float]) -> Callable[[str], float]:
    """Read a number with one of these units, which the general reader of units does not know."""

    def read(text: str) -> float:
        found = _WRITTEN.fullmatch(text)
        unit = found[2].replace("²", "2").replace("³", "3").replace("·", "").replace(" ", "") if found else ""
        if found is None or unit not in scales:
            raise ValueError(text)
        return float(found[1]) * scales[unit]

    return read


def _seconds(text: str) -> float:
    found = _WRITTEN.fullmatch(text)
    if found is not None and found[2] == "s":
        return float(found[1])
    return read_days(text) * 86400


def _difference(text: str) -> float:
    found = _WRITTEN.fullmatch(text)
    unit = found[2].replace("°", "").upper() if found else ""
    if found is None or unit not in ("K", "C", "F"):
        raise ValueError(text)
    return float(found[1]) * (5 / 9 if unit == "F" else 1.0)


def _resistance(text: str) -> float:
    """R-15 as it is sold (h ft2 F/Btu), or in m2K/W."""
    found = re.fullmatch(r"\s*R-?\s*(\d+(?:\.\d+)?)\s*", text, re.IGNORECASE)
    return float(found[1]) * 0.1761 if found else _scaled({"m2K/W": 1.0, "(m2K)/W": 1.0})(text)


def length(low: float, high: float, example: str) -> Quantity:
    """Metres, millimetres, inches or feet."""
    return Quantity(read_length, low, high, example)


def mass(low: float, high: float, example: str) -> Quantity:
    """Kilograms, grams, pounds or ounces."""
    return Quantity(read_mass, low, high, example)


def share(low: float, high: float, example: str) -> Quantity:
    """A share in percent."""
    return Quantity(lambda text: read_share(text, "share"), low, high, example)


def seconds(low: float, high: float, example: str) -> Quantity:
    """Seconds, minutes or hours."""
    return Quantity(_seconds, low, high, example)


TEMPERATURE = Quantity(read_temperature, 0.0, 45.0, "26.5 C")
DIFFERENCE = Quantity(_difference, 0.0, 20.0, "1 K")
AREA = Quantity(read_area, 0.0, 10.0, "0.10 m2")
POWER = Quantity(read_power, 0.0, 5000.0, "100 W")
VOLUME = Quantity(read_volume, 0.001, 5000.0, "20 L")
CONDUCTIVITY = Quantity(_scaled({"W/mK": 1.0, "W/(mK)": 1.0}), 0.005, 500.0, "0.024 W/mK")
U_VALUE = Quantity(_scaled({"W/m2K": 1.0, "W/(m2K)": 1.0}), 0.05, 10.0, "2.4 W/m2K")
CONDUCTANCE = Quantity(_scaled({"W/K": 1.0}), 0.01, 1000.0, "1.7 W/K")
LINER = Quantity(_scaled({"J/m2K": 1.0, "kJ/m2K": 1000.0}), 0.0, 100_000.0, "2 kJ/m2K")
PRESSURE = Quantity(_scaled({"Pa": 1.0}), 0.0, 2000.0, "12 Pa")
FLOW = Quantity(_scaled({"m3/h": 1 / 3600, "m3/s": 1.0, "L/s": 1e-3, "CFM": 0.3048**3 / 60}), 0.0, 1.0, "63 m3/h")
RESISTANCE = Quantity(_resistance, 0.05, 20.0, "R-15")
LEAK = Quantity(_scaled({"cm2": 1.0, "in2": 6.4516}), 0.0, 100_000.0, "250 cm2")
CAPACITY = Quantity(_scaled({"kJ/K": 1000.0, "MJ/K": 1e6, "J/K": 1.0}), 0.0, 1e10, "500 kJ/K")
BIG_POWER = Quantity(read_power, 0.0, 100_000.0, "3 kW")
ROOM_TEMPERATURE = Quantity(read_temperature, -20.0, 35.0, "5 C")
ELEVATION = length(0.0, 5000.0, "200 m")


def value_of(written: object, quantity: Quantity, path: str, file: str) -> float:
    """Read one value, or say where it stands, what it is, what it may be and what to write."""
    if not isinstance(written, str):
        raise FileFault("file.unit", "{file}, {path}: {value} has no unit; write it like \"{example}\"",
                        file=file, path=path, value=str(written), example=quantity.example)  # fmt: skip
    try:
        value = quantity.read(written)
    except (InputError, ValueError) as fault:
        raise FileFault("file.unit", "{file}, {path}: '{value}' cannot be read; write it like \"{example}\"",
                        file=file, path=path, value=written, example=quantity.example) from fault  # fmt: skip
    if not quantity.low <= value <= quantity.high:
        raise FileFault(
            "file.range", "{file}, {path}: {value} is out of range; in SI it lies from {low} to {high}, such as \"{example}\"",
            file=file, path=path, value=written, low=number(quantity.low), high=number(quantity.high), example=quantity.example,
        )  # fmt: skip
    return value
