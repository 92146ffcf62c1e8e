"""What happens to the teeth of a specimen: the kinds of entry about single teeth and about its jar.

A tooth is written by its code (ULP4: upper jaw, left side of the animal, fourth premolar); a code that the species cannot have is
kept as it came and flagged.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from bonebench.shop.what import What


class ToothState(StrEnum):
    """How one tooth is."""

    IN_PLACE = "in place"
    LOOSE = "loose"
    IN_JAR = "in the jar"
    GLUED = "glued"
    CHIPPED = "chipped"
    MISSING_BEFORE = "missing before intake"
    MISSING_NOW = "missing now"


@dataclass(frozen=True)
class TeethMarked(What):
    """Somebody went over the teeth: what each one named is now, and what all the others are, where that was said too."""

    KIND: ClassVar[str] = "teeth-marked"
    marks: dict[str, ToothState]
    rest: ToothState | None = None


@dataclass(frozen=True)
class JarCounted(What):
    """Somebody counted the teeth in the jar of a specimen."""

    KIND: ClassVar[str] = "jar-counted"
    count: int


@dataclass(frozen=True)
class JarChanged(What):
    """Teeth were put into the jar of a specimen, or taken out of it (below zero)."""

    KIND: ClassVar[str] = "jar-changed"
    by: int


TEETH_KINDS: tuple[type[What], ...] = (TeethMarked, JarCounted, JarChanged)
