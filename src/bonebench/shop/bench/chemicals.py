"""Chemicals of the bench: the classes that hold at a strength, what must not meet what, limits of air, first aid, disposal."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Figure, Standing

CRUMB = 1e-9  # 35 % typed as 35 * 0.01 is 0.35000000000000003

ClassedBy = Literal["harmonised", "supplier", "general rule"]
Loudness = Literal["read", "strong", "stop"]


@dataclass(frozen=True, slots=True)
class HazardClass:
    """One class of a chemical in a range of strength: from ``from_w`` up to, not with, ``below_w``; None is no upper end.

    ``by`` says who put it there: the EU's harmonised list, makers' and suppliers' sheets, or the general rule for mixtures.
    """

    name: str
    code: str
    from_w: float
    below_w: float | None
    standing: Standing
    source: str
    by: ClassedBy = "harmonised"

    def holds(self, strength_w: float) -> bool:
        """Whether it holds at a mass fraction; a hair of binary does not decide it, and of nothing nothing is said."""
        inside = strength_w >= self.from_w - CRUMB and (self.below_w is None or strength_w < self.below_w - CRUMB)
        return strength_w > CRUMB and inside


@dataclass(frozen=True, slots=True)
class FireClass:
    """An oxidiser class of a fire code: above, not at, ``over_w`` and up to, with, ``to_w`` (these codes say "over .. up to")."""

    number: int
    over_w: float
    to_w: float
    standing: Standing
    source: str

    def holds(self, strength_w: float) -> bool:
        """Whether it holds at a mass fraction."""
        return self.over_w + CRUMB < strength_w <= self.to_w + CRUMB


@dataclass(frozen=True, slots=True)
class Clash:
    """What happens when a chemical meets another (``other``: a chemical's key, or plain words), and how loudly to say so."""

    other: str
    happens: str
    level: Loudness
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class ExposureLimit:
    """How much of it the air may hold: who says so, over how long."""

    whose: str
    over: str
    value: float
    unit: str
    standing: Standing
    source: str

    @property
    def words(self) -> str:
        """The limit in words, with how well it is known."""
        return f"{self.value:g} {self.unit} {self.over} ({self.whose}; {self.standing.value})"


@dataclass(frozen=True, slots=True)
class Chemical:
    """One chemical of the bench: how it hurts, what it must not meet, what to do, where it may go.

    ``words`` are what people call it. ``solvent`` marks what burns or bites as vapour and is used to draw fat.
    """

    key: str
    name: str
    words: tuple[str, ...]
    classes: tuple[HazardClass, ...]
    fire_classes: tuple[FireClass, ...]
    clashes: tuple[Clash, ...]
    exposure: tuple[ExposureLimit, ...]
    flash_point_c: Figure | None
    solvent: bool
    note: str
    first_aid: str
    away: str
    standing: Standing
    source: str

    @property
    def never_with(self) -> tuple[tuple[str, str], ...]:
        """What it must not meet and what would happen, as pairs of words."""
        return tuple((clash.other, clash.happens) for clash in self.clashes)

    @property
    def limits(self) -> str:
        """Limits of air and flash point in one sentence."""
        parts = [limit.words for limit in self.exposure]
        if self.flash_point_c is not None:
            parts.append(f"flash point {self.flash_point_c.value:g} °C ({self.flash_point_c.standing.value})")
        return "; ".join([*parts, *([self.note] if self.note else [])]) or "no limit is written down here"


def classes_at(chemical: Chemical, strength_w: float) -> tuple[HazardClass, ...]:
    """Return the classes that hold for a chemical at a mass fraction, by the harmonised list or the general rule."""
    return tuple(one for one in chemical.classes if one.by != "supplier" and one.holds(strength_w))


def listed_by_suppliers_at(chemical: Chemical, strength_w: float) -> tuple[HazardClass, ...]:
    """Return the further classes that makers and suppliers give it at a mass fraction."""
    return tuple(one for one in chemical.classes if one.by == "supplier" and one.holds(strength_w))


def fire_class_at(chemical: Chemical, strength_w: float) -> FireClass | None:
    """Return the oxidiser class of the fire code at a mass fraction."""
    return next((one for one in chemical.fire_classes if one.holds(strength_w)), None)


def clash_of(one: str, other: str, chemicals: Mapping[str, Chemical]) -> Clash | None:
    """Return what happens when two meet, whichever of the two the table says it under."""
    for key, wanted in ((one, other), (other, one)):
        known = chemicals.get(key)
        found = next((clash for clash in known.clashes if clash.other == wanted), None) if known is not None else None
        if found is not None:
            return found
    return None


def chemical_of(words: str, chemicals: Iterable[Chemical]) -> Chemical | None:
    """Return the chemical that people's words speak of, by the longest of its names that stands in them."""
    text = words.casefold()
    named = [(name, chemical) for chemical in chemicals for name in chemical.words if re.search(rf"\b{re.escape(name)}", text)]
    return max(named, key=lambda one: len(one[0]))[1] if named else None
