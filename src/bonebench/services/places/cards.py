"""The cards of one place and of its count."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.services.cards import Answer, Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class ShouldBeCard:
    """One thing that should be in a place: a specimen, or parts of one; ``subject`` is what a tick of it counts."""

    specimen_id: str
    tag: str
    species: SpeciesName
    owner: str | None
    parts: tuple[str, ...]
    kept: tuple[str, ...]
    subject: tuple[str, ...]
    since: datetime | None
    seen: datetime | None
    lot: str | None
    marked: str | None
    missing: bool


@dataclass(frozen=True)
class StandsHere:
    """A bath that stands in a place."""

    id: str
    name: str


@dataclass(frozen=True)
class MissingCard:
    """Something a count did not find: when and where it was last spoken of, by what, and the taps if it turns up."""

    tag: str
    species: SpeciesName
    parts: tuple[str, ...]
    last: Said
    last_at: datetime | None
    last_who: str | None
    found: Answer
    moved: tuple[Answer, ...]


@dataclass(frozen=True)
class StrangeCard:
    """Something that was seen here and is recorded elsewhere, and the tap that says it was moved here."""

    tag: str
    species: SpeciesName
    recorded: str | None
    move: Answer


@dataclass(frozen=True)
class CountCard:
    """The last count of a place."""

    at: datetime
    who: str | None
    entry: str
    found: int | None
    expected: int | None
    seen: tuple[str, ...]
    missing: tuple[MissingCard, ...]
    strange: tuple[StrangeCard, ...]
    unknown: tuple[str, ...]
    summary: Said


@dataclass(frozen=True)
class PlaceBookCard:
    """What should be in a place, and what its last count found. A skull with its jaw is one.

    ``mixed`` are those of one species in one vessel that nothing tells apart, ``marks`` the taps that say what does.
    """

    key: str
    name: str
    kind: str
    open: bool
    holds: int
    items: tuple[ShouldBeCard, ...]
    baths: tuple[StandsHere, ...]
    mixed: tuple[ShouldBeCard, ...]
    marks: tuple[Answer, ...]
    count: CountCard | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "place.show/1"


@dataclass(frozen=True)
class PlaceRow:
    """One place in the list: how many things should be there, and when it was counted last."""

    key: str
    name: str
    kind: str
    holds: int
    counted: datetime | None
    missing: int


@dataclass(frozen=True)
class PlaceListCard:
    """The places along the wall."""

    places: tuple[PlaceRow, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "place.list/1"
