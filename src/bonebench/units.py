"""The door for units: "85 F", "2 gal", "35 %", "10 vol" come in here; inside everything is SI.

`read_*` turn what people write into SI floats; `Reader` and `say` turn a `Said` back into the reader's units.
"""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from .errors import NotAQuantity, OutsideRange
from .said import SI_FORMS, Plain, Said, day_text, degrees, fill, number, write_si

# Exact by definition: the international inch and pound, the US gallon (231 cubic inches) and its parts.
INCH_M = 0.0254
POUND_KG = 0.45359237
GALLON_L = 231 * 2.54**3 / 1000

Scale = tuple[float, float]  # SI = number * factor + offset

TEMPERATURES: Mapping[str, Scale] = {"c": (1, 0), "f": (5 / 9, -160 / 9), "k": (1, -273.15)}
VOLUMES: Mapping[str, Scale] = {
    "l": (1, 0), "litre": (1, 0), "litres": (1, 0), "liter": (1, 0), "liters": (1, 0), "ml": (1e-3, 0), "m3": (1e3, 0),
    "gal": (GALLON_L, 0), "gallon": (GALLON_L, 0), "gallons": (GALLON_L, 0), "qt": (GALLON_L / 4, 0),
    "quart": (GALLON_L / 4, 0), "quarts": (GALLON_L / 4, 0), "pt": (GALLON_L / 8, 0), "cup": (GALLON_L / 16, 0),
    "cups": (GALLON_L / 16, 0), "floz": (GALLON_L / 128, 0),
}  # fmt: skip
MASSES: Mapping[str, Scale] = {
    "kg": (1, 0), "g": (1e-3, 0), "mg": (1e-6, 0), "lb": (POUND_KG, 0), "lbs": (POUND_KG, 0), "oz": (POUND_KG / 16, 0),
}  # fmt: skip
LENGTHS: Mapping[str, Scale] = {
    "m": (1, 0), "cm": (1e-2, 0), "mm": (1e-3, 0), "in": (INCH_M, 0), "inch": (INCH_M, 0), "ft": (12 * INCH_M, 0),
}  # fmt: skip
AREAS: Mapping[str, Scale] = {
    "m2": (1, 0), "cm2": (1e-4, 0), "ft2": ((12 * INCH_M) ** 2, 0), "in2": (INCH_M**2, 0), "sqft": ((12 * INCH_M) ** 2, 0),
}  # fmt: skip
POWERS: Mapping[str, Scale] = {"w": (1, 0), "kw": (1e3, 0)}
DAYS: Mapping[str, Scale] = {
    "d": (1, 0), "day": (1, 0), "days": (1, 0), "h": (1 / 24, 0), "hour": (1 / 24, 0), "hours": (1 / 24, 0),
    "min": (1 / 1440, 0), "minutes": (1 / 1440, 0), "wk": (7, 0), "week": (7, 0), "weeks": (7, 0),
}  # fmt: skip

_SHAPE = re.compile(r"\s*([-+]?\d*[.,]?\d+)\s*(.*?)\s*", re.DOTALL)


def _number(text: str, whole: str) -> float:
    if re.fullmatch(r"[-+]?\d+,\d{3}", text):
        raise NotAQuantity(
            "units.comma", "'{text}' can be read two ways; write a point for the decimals and nothing for thousands", text=whole
        )
    value = float(text.replace(",", "."))
    if not math.isfinite(value):
        raise NotAQuantity("units.endless", "'{text}' is no number anybody can measure; look at its digits again", text=whole)
    return value


def _split(text: str, what: str, example: str) -> tuple[float, str]:
    shape = _SHAPE.fullmatch(text)
    if shape is None:
        raise NotAQuantity(
            "units.shape", "'{text}' is not a {what}; write it like {example}", text=text, what=what, example=example
        )
    return _number(shape[1], text), shape[2].casefold().replace("°", "").replace(".", "").replace("³", "3").replace(
        "²", "2"
    ).replace(" ", "")


def _reading(what: str, scales: Mapping[str, Scale], example: str, *, least: float | None = None) -> Callable[[str], float]:
    def read(text: str) -> float:
        value, unit = _split(text, what, example)
        if unit not in scales:
            raise NotAQuantity(
                "units.unit",
                "'{text}' has no unit I know for a {what}; write it like {example}",
                text=text, what=what, example=example,
            )  # fmt: skip
        factor, offset = scales[unit]
        result = value * factor + offset
        # -459.67 F is absolute zero, and its sum in binary falls a hair short of it.
        if least is not None and result < least - 1e-9:
            raise OutsideRange("units.least", "{what} is {text}; it cannot be that small", what=what, text=text)
        return result

    read.__name__ = f"read_{what}"
    read.__doc__ = f"Read a {what} as people write it, such as {example}, into SI (days for a time)."
    return read


read_temperature = _reading("temperature", TEMPERATURES, "26.5 C or 80 F", least=-273.15)
read_volume = _reading("volume", VOLUMES, "10 L or 2 gal", least=0)
read_mass = _reading("mass", MASSES, "350 g or 3 lb", least=0)
read_length = _reading("length", LENGTHS, "25 mm or 1 in", least=0)
read_area = _reading("area", AREAS, "0.07 m2 or 0.8 ft2", least=0)
read_power = _reading("power", POWERS, "120 W", least=0)
read_days = _reading("length of time", DAYS, "2d or 8h", least=0)

Notation = Literal["w/w", "w/v", "vol", "mol/L"]


@dataclass(frozen=True, slots=True)
class WrittenStrength:
    """A strength as it was written.

    ``amount`` is a fraction for w/w (kg per kg) and w/v (kg per litre), volumes of oxygen for vol, and mol per litre.
    ``stated`` is False when a bare percent was read as by weight, which the page must say.
    """

    amount: float
    notation: Notation
    stated: bool


_STRENGTHS: Mapping[str, tuple[float, Notation, bool]] = {
    "%": (0.01, "w/w", False), "%w/w": (0.01, "w/w", True), "w/w": (0.01, "w/w", True), "%w/v": (0.01, "w/v", True),
    "w/v": (0.01, "w/v", True), "vol": (1, "vol", True), "vols": (1, "vol", True), "volume": (1, "vol", True),
    "volumes": (1, "vol", True), "mol/l": (1, "mol/L", True), "m": (1, "mol/L", True),
}  # fmt: skip


def read_strength(text: str) -> WrittenStrength:
    """Read the strength of a peroxide: 35 %, 35 % w/w, 9.1 % w/v, 10 vol or 0.9 mol/L."""
    example = "35 %, 9.1 % w/v, 10 vol or 0.9 mol/L"
    amount, unit = _split(text, "strength", example)
    if unit in ("%v/v", "v/v"):
        raise NotAQuantity(
            "units.by_volume",
            "'{text}' by volume is not a peroxide strength; look on the label for w/w, w/v or volumes",
            text=text,
        )
    if unit not in _STRENGTHS:
        raise NotAQuantity(
            "units.shape", "'{text}' is not a {what}; write it like {example}", text=text, what="strength", example=example
        )
    if amount < 0:
        raise OutsideRange("units.least", "{what} is {text}; it cannot be that small", what="strength", text=text)
    factor, notation, stated = _STRENGTHS[unit]
    return WrittenStrength(amount * factor, notation, stated)


def read_number(text: str, what: str, unit: str = "") -> float:
    """Read a plain number, with its own unit behind it or without."""
    value, written = _split(text, what, f"12.5 {unit}".strip())
    if written not in ("", unit.casefold()):
        raise NotAQuantity(
            "units.shape", "'{text}' is not a {what}; write it like {example}", text=text, what=what, example=f"12.5 {unit}".strip()
        )
    return value


def read_share(text: str, what: str) -> float:
    """Read a share written in percent, such as 1 % of detergent by volume; a bare percent is meant."""
    value, unit = _split(text, what, "1 %")
    if unit not in ("%", "%v/v", "v/v"):
        raise NotAQuantity("units.shape", "'{text}' is not a {what}; write it like {example}", text=text, what=what, example="1 %")
    if not 0 <= value <= 100:
        raise OutsideRange("units.share", "{what} is {text}; a share lies from 0 to 100 %", what=what, text=text)
    return value / 100


def read_parts(text: str) -> tuple[float, float]:
    """Read 'stock : water' by volume, such as 1:1."""
    pieces = text.split(":")
    try:
        stock, water = (_number(piece.strip(), text) for piece in pieces)
    except ValueError:
        raise NotAQuantity("units.parts", "'{text}' is not two parts; write stock and water like 1:1", text=text) from None
    if stock <= 0 or water < 0:
        raise OutsideRange("units.parts_range", "'{text}' needs some stock and no negative water", text=text)
    return stock, water


@dataclass(frozen=True, slots=True)
class Reader:
    """How one reader wants quantities written; ``today`` lets days drop the year they share with it."""

    system: Literal["metric", "us"] = "metric"
    today: date | None = None


def _us_volume(value: float) -> str:
    if value < GALLON_L / 4:
        return f"{number(value / GALLON_L * 128)} fl oz"
    return f"{number(value / GALLON_L * 4)} qt" if value < GALLON_L else f"{number(value / GALLON_L)} gal"


_US_FORMS: Mapping[str, Callable[[float], str]] = {
    "temperature": lambda v: f"{degrees(v * 9 / 5 + 32)} °F",
    "warming": lambda v: f"{number(v * 9 / 5)} °F",
    "volume": _us_volume,
    "mass": lambda v: f"{number(v / POUND_KG)} lb" if v >= POUND_KG else f"{number(v / POUND_KG * 16)} oz",
    "length": lambda v: f"{number(v / INCH_M)} in",
    "area": lambda v: f"{number(v / (12 * INCH_M) ** 2)} ft²",
}


def write(value: Plain, kind: str, reader: Reader) -> str:
    """Write one SI value the reader's way; the kinds are those of `said.SI_FORMS`."""
    if kind == "day" and reader.today is not None and isinstance(value, str):
        day = date.fromisoformat(value)
        return day_text(day, with_year=day.year != reader.today.year)
    if reader.system == "us" and kind in _US_FORMS and isinstance(value, int | float):
        return _US_FORMS[kind](value)
    return write_si(value, kind)


def say(sentence: Said, reader: Reader) -> str:
    """Write a sentence in the reader's units."""
    return fill(sentence.template, sentence.values, lambda value, kind: write(value, kind, reader))


KINDS = tuple(SI_FORMS)
