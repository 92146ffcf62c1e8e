"""Heads as food: what people write of them, and what is known of each kind."""

import math
import re
from dataclasses import dataclass

from bonebench.errors import NotAQuantity, OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.science import cleaning
from bonebench.services.colony.typed import read_food
from bonebench.services.known import Known, surface_of
from bonebench.shop.names import find
from bonebench.shop.species import Species, head_mass, tissue_mass

# Floor a lying head takes: the ground under a ball of its surface is a quarter of that, and beetles want room round it.
FLOOR_SHARE = Figure(0.5, 0.3, 0.7, "m2/m2", Standing.ESTIMATE, "a quarter of its surface and as much again for room; a guess")
MOST_HEADS = 200
MOST_TONIGHT = 60
_ONE = re.compile(r"\s*(\d+)\s*(?:x\s*)?(\D.*?)\s*")


@dataclass(frozen=True)
class Heads:
    """So many heads of one kind."""

    count: int
    species: Species

    @property
    def tissue_kg(self) -> Figure:
        """Tissue of one of them after trimming."""
        return tissue_mass(self.species)

    @property
    def surface_m2(self) -> Figure:
        """Surface of one of them."""
        return surface_of(self.species, head_mass(self.species))

    @property
    def eating_kg_per_day(self) -> Figure:
        """What beetles can take from one of them a day."""
        return cleaning.eating_rate_kg_per_day(self.surface_m2)


def read_heads(known: Known, text: str, most: int = MOST_HEADS) -> tuple[Heads, ...]:
    """Read heads as people write them: 3 raccoon, 1 white-tailed deer."""
    found = []
    for piece in text.split(","):
        shape = _ONE.fullmatch(piece)
        count, name = (int(shape[1]), shape[2]) if shape else (1, piece.strip())
        if not name or re.match(r"\s*-", piece):
            raise NotAQuantity("colony.heads", "'{text}' is no list of heads; write it like 3 raccoon, 1 coyote", text=text)
        found.append(Heads(count, find(name, known.species)))
    total = sum(one.count for one in found)
    if not 1 <= total <= most:
        raise OutsideRange("colony.heads_count", "{count} heads were given; it is 1 to {most} at once", count=total, most=most)
    return tuple(found)


def tissue_of(known: Known, text: str) -> Figure:
    """Return the tissue of a mass that was written, or of heads by their kind: ends add, as they do when trim is alike."""
    if re.fullmatch(r"\s*[-+]?[\d.,]+\s*(kg|g|mg|lbs?|oz)\s*", text, re.IGNORECASE):
        mass = read_food(text, "mass")
        return Figure(mass, mass, mass, "kg", Standing.ROOM, "as it was written")
    heads = read_heads(known, text)
    parts = [(one.count, one.tissue_kg) for one in heads]
    return Figure(
        math.fsum(n * t.value for n, t in parts),
        math.fsum(n * t.low for n, t in parts),
        math.fsum(n * t.high for n, t in parts),
        "kg",
        weakest(t.standing for _, t in parts),
        "; ".join(dict.fromkeys(t.source for _, t in parts)),
    )
