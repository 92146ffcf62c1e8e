"""The cards of lots."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.services.cards import Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class MemberCard:
    """One specimen of a lot, with what tells it from the others."""

    specimen_id: str
    tag: str
    species: SpeciesName
    owner: str | None
    place: str | None
    place_name: str | None
    since: datetime | None
    marked: str | None


@dataclass(frozen=True)
class LotCard:
    """One lot: who is in it, and what is odd about it."""

    key: str
    name: str
    members: tuple[MemberCard, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "lot.show/1"


@dataclass(frozen=True)
class LotListCard:
    """The lots of the room."""

    lots: tuple[LotCard, ...]
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "lot.list/1"
