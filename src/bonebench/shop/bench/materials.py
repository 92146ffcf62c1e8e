"""What a vessel, a tool, a tag or a tie is made of, and how it bears what touches it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Standing, weakest

Medium = Literal["peroxide", "detergent", "acetone", "ammonia"]
MEDIA: tuple[Medium, ...] = ("peroxide", "detergent", "acetone", "ammonia")


@dataclass(frozen=True, slots=True)
class Touch:
    """What happens where a material touches a bath: verdict, why, and how well that is known."""

    verdict: Literal["good", "watch", "never"]
    why: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """One material, by the words people use for it, and how it bears each kind of bath."""

    key: str
    name: str
    words: tuple[str, ...]
    peroxide: Touch
    detergent: Touch
    acetone: Touch
    ammonia: Touch

    def touch(self, medium: Medium) -> Touch:
        """Return what happens where it touches this kind of bath."""
        return {"peroxide": self.peroxide, "detergent": self.detergent, "acetone": self.acetone, "ammonia": self.ammonia}[medium]

    @property
    def standing(self) -> Standing:
        """The weakest standing among its cells: what the whole row may be trusted for."""
        return weakest(self.touch(medium).standing for medium in MEDIA)

    @property
    def source(self) -> str:
        """Where its cells come from, each source once."""
        return "; ".join(dict.fromkeys(self.touch(medium).source for medium in MEDIA))


def material_of(words: str | None, materials: Iterable[Material]) -> Material | None:
    """Return the material that people's words for a vessel speak of, by the longest of its names that stands in them."""
    text = (words or "").casefold()
    named = [(name, material) for material in materials for name in material.words if re.search(rf"\b{re.escape(name)}", text)]
    return max(named, key=lambda one: len(one[0]))[1] if named else None
