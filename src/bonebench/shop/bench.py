"""What stands on the wet bench as plain values: chemicals with their classes, materials, glues, and what may not meet what."""

from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Standing


@dataclass(frozen=True, slots=True)
class HazardClass:
    """One class of a chemical in a range of strength: from ``from_w`` up to, not with, ``below_w``; None is no upper end."""

    name: str
    code: str
    from_w: float
    below_w: float | None
    standing: Standing
    source: str

    def holds(self, strength_w: float) -> bool:
        """Whether it holds at a mass fraction; a hair of binary does not decide it."""
        return strength_w >= self.from_w - 1e-9 and (self.below_w is None or strength_w < self.below_w - 1e-9)


@dataclass(frozen=True, slots=True)
class Chemical:
    """One chemical of the bench: how it hurts, what it must not meet, what to do, where it may go."""

    key: str
    name: str
    classes: tuple[HazardClass, ...]
    never_with: tuple[tuple[str, str], ...]
    limits: str
    first_aid: str
    away: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Touch:
    """What happens where a material touches a bath."""

    verdict: Literal["good", "watch", "never"]
    why: str


@dataclass(frozen=True, slots=True)
class Material:
    """What a vessel, tool, tag or tie is made of, and how it bears peroxide, hot detergent and acetone."""

    key: str
    name: str
    peroxide: Touch
    detergent: Touch
    acetone: Touch
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Adhesive:
    """One kind of glue by its chemistry."""

    key: str
    name: str
    carries_acetone: bool
    cures_hours: tuple[float, float]
    airs_hours: float
    bears_water: bool
    bears_peroxide: bool
    undone_by: str
    use: str
    standing: Standing
    source: str


def classes_at(chemical: Chemical, strength_w: float) -> tuple[HazardClass, ...]:
    """Return the classes that hold for a chemical at a mass fraction."""
    return tuple(one for one in chemical.classes if one.holds(strength_w))
