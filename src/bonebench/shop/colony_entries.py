"""What was seen of a colony and given to it: the kind of entry about a box as the home of its beetles."""

from dataclasses import dataclass
from typing import ClassVar

from bonebench.shop.what import What


@dataclass(frozen=True)
class ColonySeen(What):
    """Somebody looked into a box: each value only where it was looked at; none alive is the most telling count there is.

    ``counted`` larvae and adults in a scoop of ``part`` of the bedding, or a ``grade`` by eye; ``pupae`` in ``pupae_part`` of the
    blocks, which hold ``sites``; ``fed_kg`` of food put in, ``dried`` or fresh; warmth, damp and smell (0 to 3) of the box; how
    hungry they looked, by one of `colony.HUNGERS`.
    """

    KIND: ClassVar[str] = "colony-seen"
    counted: float | None = None
    part: float | None = None
    grade: str | None = None
    pupae: float | None = None
    pupae_part: float | None = None
    sites: float | None = None
    fed_kg: float | None = None
    dried: bool | None = None
    temperature_c: float | None = None
    humidity: float | None = None
    smell: int | None = None
    pests: tuple[str, ...] = ()
    beetles: str | None = None
    hunger: str | None = None


COLONY_KINDS: tuple[type[What], ...] = (ColonySeen,)
