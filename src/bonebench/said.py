"""A sentence with quantities in it, kept apart from how its reader wants them written.

Below the faces a sentence is a `Said`: a key, the sentence with holes, and the values in SI. The text it carries is the
metric one; a face that knows its reader fills the holes again with the reader's own units (`units.say`).

A hole is ``{name}`` for plain words and numbers, or ``{name:kind}`` for a quantity. The kinds are the keys of `SI_FORMS`.
"""

import string
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

Plain = str | int | float | bool | None
Write = Callable[[Plain, str], str]

PLAIN_DIGITS = 6  # a number without a kind: enough for what people count, short enough to hide what 0.1 + 0.2 leaves over


def number(value: float, digits: int = 3) -> str:
    """Write a number with so many significant digits, without an exponent and without trailing zeros."""
    if value == 0:
        return "0"
    text = f"{value:.{digits}g}"
    if "e" in text:
        text = f"{Decimal(text):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def degrees(value: float) -> str:
    """Write a temperature to a hundredth at most: a hair off zero is zero."""
    return number(round(value, 2))


def _kilograms(value: float) -> str:
    return f"{number(value * 1000)} g" if abs(value) < 1 else f"{number(value)} kg"


def _litres(value: float) -> str:
    return f"{number(value * 1000)} mL" if abs(value) < 0.1 else f"{number(value)} L"


def _days(value: float) -> str:
    if value < 1:
        return f"{number(value * 24, 2)} h"
    text = number(value, 2 if value < 100 else 3)
    return "1 day" if text == "1" else f"{text} days"


def _minutes(value: float) -> str:
    return f"{number(value, 2)} min" if value < 90 else f"{number(value / 60, 2)} h"


def day_text(value: date, *, with_year: bool = True) -> str:
    """Write a day as people say it: 9 May 2026."""
    return f"{value.day} {value:%b %Y}" if with_year else f"{value.day} {value:%b}"


def _day(value: str) -> str:
    return day_text(date.fromisoformat(value))


SI_FORMS: dict[str, Callable[[Any], str]] = {
    "temperature": lambda v: f"{degrees(v)} °C",
    "warming": lambda v: f"{number(v)} K",
    "strength": lambda v: f"{number(v * 100)} %",
    "volume": _litres,
    "mass": _kilograms,
    "length": lambda v: f"{number(v * 1000)} mm" if v < 1 else f"{number(v)} m",
    "density": lambda v: f"{v:.1f} kg/m³",
    "days": _days,
    "minutes": _minutes,
    "day": _day,
    "feeding": lambda v: f"{number(v * 1000)} g a day",
    "power": lambda v: f"{number(v)} W" if abs(v) < 1000 else f"{number(v / 1000)} kW",
    "energy": lambda v: f"{number(v)} kWh",
    "area": lambda v: f"{number(v)} m²",
    "percent": lambda v: f"{number(v * 100, 2)} %",
}


def write_si(value: Plain, kind: str) -> str:
    """Write one value in SI; a kind of '' is plain words and numbers."""
    if kind:
        return SI_FORMS[kind](value)
    return number(value, PLAIN_DIGITS) if isinstance(value, float) else str(value)


class _Holes(string.Formatter):
    def __init__(self, write: Write) -> None:
        self._write = write

    def format_field(self, value: Any, format_spec: str) -> str:
        return self._write(value, format_spec)


def fill(template: str, values: Mapping[str, Plain], write: Write) -> str:
    """Fill the holes of a sentence."""
    return _Holes(write).vformat(template, (), values)


@dataclass(frozen=True, slots=True)
class Said:
    """One sentence: its key, its metric text, its values in SI, and the sentence with holes."""

    key: str
    text: str
    values: dict[str, Plain]
    template: str

    def __str__(self) -> str:
        return self.text


def said(key: str, template: str, /, **values: Plain | date) -> Said:
    """Make a sentence; days are kept as ISO text so that it can go into JSON as it is."""
    plain: dict[str, Plain] = {}
    for name, value in values.items():
        if isinstance(value, datetime):
            raise TypeError("a sentence holds days, not instants: turn the instant into a day of the room first")
        plain[name] = value.isoformat() if isinstance(value, date) else value
    return Said(key, fill(template, plain, write_si), plain, template)
