"""The kinds of part and which bath each may enter: rules on plain values; the values stand in the reference."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from bonebench.figures import Standing
from bonebench.shop.part import Part
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind

May = Literal["in", "out", "ask"]
# The kinds of place in which something is done to a part; everywhere else a part may be.
BATHS = (PlaceKind.ENCLOSURE, PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE)
LIQUIDS = (PlaceKind.POT, PlaceKind.TUB, PlaceKind.RINSE)


@dataclass(frozen=True, slots=True)
class Way:
    """Whether a part may enter a kind of bath: why, and what to do instead or first."""

    may: May
    why: str
    do: str
    standing: Standing
    source: str


@dataclass(frozen=True, slots=True)
class PartKind:
    """One kind of part: what it is called, what it is kept in, and its way with each bath."""

    key: str
    name: str
    also: tuple[str, ...]
    kept: str
    note: str
    ways: Mapping[PlaceKind, Way]

    def way(self, kind: PlaceKind | None) -> Way | None:
        """Return its way with a kind of place; None where nothing is done to it there."""
        return self.ways.get(kind) if kind is not None else None

    @property
    def stays_dry(self) -> bool:
        """Whether it stays out of every liquid."""
        return all(self.ways[kind].may == "out" for kind in LIQUIDS)


Kinds = Mapping[str, PartKind]


def kind_of(part: Part | str, kinds: Kinds) -> PartKind | None:
    """Return the kind of a part by its name: "vial 2" or whatever holds a sample is a sample, "upper teeth" is nothing known."""
    if isinstance(part, Part) and part.sample is not None:
        return kinds.get("sample")
    plain = (part if isinstance(part, str) else part.name).strip().casefold()
    for kind in kinds.values():
        if plain in (kind.key, kind.name, *kind.also):
            return kind
    bare = plain.rstrip("0123456789 ").removesuffix(" left").removesuffix(" right")
    return None if bare == plain else kind_of(bare, kinds)


# How much of a skull with its jaw the jaw is, as room in a vessel. Estimate, no source.
JAW_SHARE = 0.3
JAW = "mandible"


def goes_along(specimen: Specimen, main: Part, kinds: Kinds) -> tuple[Part, ...]:
    """Return the parts that go into a bath with the main one: those beside it that may, and those nobody gave a place."""
    return tuple(
        part for part in specimen.parts if part.sent_to is None and part.place in (main.place, None) and not _stays_out(part, kinds)
    )


def _stays_out(part: Part, kinds: Kinds) -> bool:
    kind = kind_of(part, kinds)
    return part.sample is not None or (kind is not None and kind.stays_dry)


def bare_head_kg(specimen: Specimen, kinds: Kinds) -> float | None:
    """Return the head as it was weighed, less what stays dry and was weighed by itself since: antlers that came in on it."""
    if specimen.head_mass_kg is None:
        return None
    dry = [part.mass_kg for part in specimen.parts if part.mass_kg is not None and part.mass_kg > 0 and _stays_out(part, kinds)]
    bare = specimen.head_mass_kg - sum(dry)
    return bare if bare > 0 else specimen.head_mass_kg
