"""The cards of catch-up."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.services.cards import Answer, Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class SilentCard:
    """One piece nobody has said a word about for a while, and the buttons: still here, moved to, gone."""

    specimen_id: str
    tag: str
    species: SpeciesName
    parts: tuple[str, ...]
    subject: tuple[str, ...]
    since: datetime | None
    silent_days: float
    was: Said
    here: Answer | None
    moved: tuple[Answer, ...]
    gone: Answer


@dataclass(frozen=True)
class WalkCard:
    """One place of the walk; ``here`` says of everything ticked that it is still here."""

    key: str
    name: str
    kind: str
    pieces: tuple[SilentCard, ...]
    settled: int
    here: Answer | None


@dataclass(frozen=True)
class CatchUpCard:
    """The whole walk: what is left to say, and how much is said."""

    silent_days: float
    left: int
    said: int
    places: tuple[WalkCard, ...]
    nowhere: tuple[SilentCard, ...]
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "catch-up/1"
