"""What happens to a bath: the kinds of entry about a pot of detergent or a tub of peroxide as a thing.

None of them is ever demanded: a room that writes only *in, moved, done, problem* loses nothing but the strength of its tubs.
"""

from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import ClassVar, Literal

from bonebench.shop.what import What


class Recipe(StrEnum):
    """What a bath is made of."""

    PEROXIDE = "peroxide"
    DETERGENT = "detergent"
    RINSE = "rinse water"
    ACETONE = "acetone"
    AMMONIA = "ammonia"
    MACERATION = "maceration water"
    OTHER = "other"


class Clarity(StrEnum):
    """How the water of a pot looks, from clear to worst."""

    CLEAR = "clear"
    HAZY = "hazy"
    CLOUDY = "cloudy"
    FAT_ON_TOP = "fat on top"

    @property
    def grade(self) -> int:
        """0 for clear, 3 for fat on top."""
        return list(Clarity).index(self)


TestedBy = Literal["permanganate", "iodometric", "strip", "other"]


@dataclass(frozen=True)
class BathMade(What):
    """A bath was made in a vessel that stands in a place. ``dose`` is detergent by volume; ``vessel_l`` is to the brim."""

    KIND: ClassVar[str] = "bath-made"
    name: str
    place: str
    recipe: Recipe
    volume_l: float | None = None
    strength_w: float | None = None
    stock_w: float | None = None
    stock_kg: float | None = None
    stock_opened: date | None = None
    dose: float | None = None
    temperature_c: float | None = None
    vessel: str | None = None
    vessel_l: float | None = None


@dataclass(frozen=True)
class BathAdded(What):
    """Something was poured in: stock, water, detergent."""

    KIND: ClassVar[str] = "bath-added"
    what: str
    volume_l: float | None = None
    mass_kg: float | None = None
    strength_w: float | None = None


@dataclass(frozen=True)
class BathTaken(What):
    """Some of it was taken out, to make room or by spilling."""

    KIND: ClassVar[str] = "bath-taken"
    volume_l: float | None = None
    why: str = ""


@dataclass(frozen=True)
class BathTested(What):
    """Its strength was tested. ``measured`` keeps what was read off, so that it can be worked out again."""

    KIND: ClassVar[str] = "bath-tested"
    how: TestedBy
    strength_w: float | None = None
    low_w: float | None = None
    high_w: float | None = None
    measured: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class BathLooked(What):
    """Somebody looked at it: how the water looks, how warm a thermometer in it read, how far it has sunk."""

    KIND: ClassVar[str] = "bath-looked"
    clarity: Clarity | None = None
    temperature_c: float | None = None
    level: Literal["full", "sunk", "heater bare"] | None = None


@dataclass(frozen=True)
class WaterChanged(What):
    """The water of a pot was poured off and made new. It asks what a hurried hand forgets: sieved? teeth found? whose?"""

    KIND: ClassVar[str] = "water-changed"
    clarity: Clarity | None = None
    sieved: bool | None = None
    teeth: int | None = None
    whose: str | None = None
    volume_l: float | None = None
    dose: float | None = None


@dataclass(frozen=True)
class BathDiscarded(What):
    """It is gone; ``how`` says what was done with it. It asks the same as a change of water: sieved? teeth found? whose?"""

    KIND: ClassVar[str] = "bath-discarded"
    how: str = ""
    sieved: bool | None = None
    teeth: int | None = None
    whose: str | None = None


BATH_KINDS: tuple[type[What], ...] = (BathMade, BathAdded, BathTaken, BathTested, BathLooked, WaterChanged, BathDiscarded)

BATH = "bath:"


def bath_subject(bath: str) -> str:
    """Name a bath as a subject."""
    return f"{BATH}{bath}"
