"""What is typed of a colony, read: a slip of the unit is said, not reckoned with."""

import math
import re

from bonebench.errors import NotAQuantity, OutsideRange
from bonebench.units import read_days, read_mass, read_number, read_temperature

MOST_DAYS = 400
MOST_BEETLES = 1e7


def yes(text: str | None) -> bool:
    """Whether a box was ticked."""
    if text is None or text.strip().casefold() in ("", "no"):
        return False
    if text.strip().casefold() == "yes":
        return True
    raise NotAQuantity("colony.yes_no", "'{text}' is neither yes nor no", text=text)


def within(what: str, value: float, bounds: tuple[float, float], kind: str, text: str) -> float:
    """Return a value that no colony is without; a slip of the unit is said, not reckoned with."""
    low, high = bounds
    if not low <= value <= high:
        hole = f":{kind}" if kind else ""
        raise OutsideRange(
            "colony.within", f"the {{what}} is {{text}}; it lies from {{low{hole}}} to {{high{hole}}} here: look at its unit",
            what=what, text=text, low=low, high=high,
        )  # fmt: skip
    return value


def read_span(text: str | None, usual: int, *, what: str = "a run") -> int:
    """Read whole days, rounded up."""
    days = math.ceil(read_days(text)) if text else usual
    if not 1 <= days <= MOST_DAYS:
        raise OutsideRange(
            "colony.span_days", "{what} of {days} days was asked for; it is 1 to {most}", what=what, days=days, most=MOST_DAYS
        )
    return days


def read_warmth(text: str) -> float:
    """Read a temperature that the model holds for."""
    return within("temperature", read_temperature(text), (-60.0, 80.0), "temperature", text)


def read_food(text: str, what: str) -> float:
    """Read a mass of food or of a piece."""
    return within(what, read_mass(text), (0.0, 1000.0), "mass", text)


def read_count(text: str, what: str) -> float:
    """Read how many were counted; none is a count."""
    return within(what, read_number(text, what), (0.0, MOST_BEETLES), "", text)


def read_time(text: str, what: str) -> float:
    """Read days, or hours as part of one."""
    return within(what, read_days(text), (0.0, float(MOST_DAYS)), "days", text)


def read_ration(text: str | None) -> float | None:
    """Read food a day; None is all they can eat."""
    return read_rate(text, "ration") if text else None


def read_rate(text: str, what: str) -> float:
    """Read a mass a day, such as 80 g or 80 g a day."""
    plain = re.sub(r"\s*(/|\ba\b|\bper\b)\s*(day|d)\s*$", "", text.strip(), flags=re.IGNORECASE)
    if plain.startswith("-"):
        raise OutsideRange(
            "colony.rate", "the {what} is {text}; it is 0 g a day or more: write 0 g where there is none", what=what, text=text
        )
    return read_food(plain, what)


def read_smell(text: str | None) -> int | None:
    """Read a smell: 0 none, 1 faint, 2 strong, 3 foul."""
    if not text:
        return None
    number = read_number(text, "smell")
    if number != int(number):
        raise NotAQuantity("colony.smell", "a smell of {text}; it is 0 none, 1 faint, 2 strong or 3 foul", text=text)
    return int(number)
