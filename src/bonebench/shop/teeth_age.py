"""Which teeth an animal of a stated age has: milk teeth, the permanent ones, or both at once."""

import re
from typing import Literal

Dentition = Literal["permanent", "milk", "changing"]

MILK = re.compile(r"\b(milk|deciduous|newborn|new-born|neonate|neonatal|unweaned)\b")
GROWN = re.compile(r"\b(adult|mature|old|aged|grown)\b")
YOUNG = re.compile(
    r"\b(juvenile|juv|young|yearling|immature|sub-?adult|fawn|calf|cub|pup|puppy|kit|kitten|lamb|kid|foal|colt|filly|piglet|cria"
    r"|leveret|joey|chick)s?\b"
)
STATED = re.compile(r"(\d+(?:[.,]\d+)?|\d+/\d+|½)\s*(?:-?\s*)(years?|yrs?|y|months?|mos?|m|weeks?|wks?|w|days?|d)\b")
YEARS = {"y": 1.0, "m": 1 / 12, "w": 7 / 365.25, "d": 1 / 365.25}
# By when all permanent teeth stand, where nothing is known of the species: a year, from memory.
FULL_MOUTH_YEARS = 1.0


def dentition_at(age: str | None, full_mouth_years: float = FULL_MOUTH_YEARS) -> Dentition:
    """Return which teeth to expect by the words an age was written in; nothing said counts as grown.

    ``full_mouth_years`` is by when all permanent teeth stand in this species. A word such as pup or fawn does not say how far the
    change has come, so both sets may be there.
    """
    words = (age or "").casefold()
    if MILK.search(words):
        return "milk"
    years = _stated_years(words)
    if years is not None:
        return "changing" if years < full_mouth_years else "permanent"
    if re.search(r"\bsub-?adult\b|\bnot (yet )?(adult|mature|grown)\b", words):
        return "changing"
    return "changing" if YOUNG.search(words) and not GROWN.search(words) else "permanent"


def _stated_years(words: str) -> float | None:
    found = STATED.search(words)
    if found is None:
        return None
    number, unit = found.groups()
    return _number(number) * YEARS[unit[0]]


def _number(text: str) -> float:
    if text == "½":
        return 0.5
    if "/" in text:
        above, below = text.split("/")
        return int(above) / int(below) if int(below) else 0.0
    return float(text.replace(",", "."))
