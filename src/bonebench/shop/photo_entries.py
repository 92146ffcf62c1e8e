"""Photos of a specimen and what was measured in one: the kinds of entry about pictures.

The file itself lies beside the book, named by its SHA-256; the entry names it. Which part a photo shows is the entry's subject.
"""

from dataclasses import dataclass
from typing import ClassVar

from bonebench.shop.steps import Step
from bonebench.shop.what import What


@dataclass(frozen=True)
class Photographed(What):
    """A photo was taken; ``taken`` is the camera's own wall time as it wrote it, which may be wrong."""

    KIND: ClassVar[str] = "photographed"
    sha256: str
    step: Step | None = None
    visit: int = 1
    note: str | None = None
    taken: str | None = None


@dataclass(frozen=True)
class ColourMeasured(What):
    """The colour of a region of bone in a photo was measured against a card of known reflectance.

    ``card`` and ``bone`` are left, top, width and height as shares of the picture; ``setting`` says with which phone in which
    light, because only looks of one setting can be compared.
    """

    KIND: ClassVar[str] = "colour-measured"
    sha256: str
    lightness: float
    a: float
    b: float
    spread: float
    card: tuple[float, float, float, float]
    bone: tuple[float, float, float, float]
    reflectance: float
    setting: str = ""


PHOTO_KINDS: tuple[type[What], ...] = (Photographed, ColourMeasured)
