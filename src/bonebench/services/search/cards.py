"""The card of a search."""

from dataclasses import dataclass

from bonebench.services.cards import Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class FoundCard:
    """One specimen that answers."""

    id: str
    tag: str
    species: SpeciesName
    owner: str | None
    finished: bool


@dataclass(frozen=True)
class SearchCard:
    """What answers to the words asked, those in work first; ``could_be`` are tags one slip away from one that fits nothing."""

    asked: str
    rows: tuple[FoundCard, ...]
    could_be: tuple[str, ...]
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "specimen.find/1"
