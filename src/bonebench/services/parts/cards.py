"""The cards of parts and of condition."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bonebench.services.cards import Answer, Basis, Caution, Flag


@dataclass(frozen=True)
class AskedMove:
    """A place a part stays out of, or enters only after something: why, what to do instead, and the button if it went in."""

    place: str
    place_name: str
    may: Literal["out", "ask"]
    why: str
    do: str
    standing: str
    source: str
    answer: Answer


@dataclass(frozen=True)
class SampleCard:
    """What a vial holds and what for."""

    of: str
    purpose: str
    taken: datetime


@dataclass(frozen=True)
class PartCard:
    """One part: where it is, and the taps that put it elsewhere or back with the rest."""

    name: str
    place: str | None
    place_name: str | None
    since: datetime | None
    kind: str = ""
    kept: str = ""
    note: str = ""
    apart: bool = False
    joined_to: str | None = None
    mass_kg: float | None = None
    sample: SampleCard | None = None
    sent_to: str | None = None
    missing_since: datetime | None = None
    back: Answer | None = None
    moves: tuple[Answer, ...] = ()
    asked: tuple[AskedMove, ...] = ()


@dataclass(frozen=True)
class ConditionLine:
    """How it looked, at which stage, where on it."""

    entry: str
    stage: str
    what: str
    words: str
    where: str
    part: str
    at: datetime
    note: str
    photos: tuple[str, ...]


@dataclass(frozen=True)
class RepairLine:
    """What was mended, with which glue; ``reversible`` is None where nobody knows."""

    entry: str
    how: str
    words: str
    where: str
    part: str
    adhesive: str | None
    adhesive_name: str | None
    reversible: bool | None
    undone_by: str
    standing: str
    at: datetime
    note: str
    photos: tuple[str, ...]


@dataclass(frozen=True)
class ConditionCard:
    """As it came, while it was here, as it goes; and what was mended."""

    came: tuple[ConditionLine, ...] = ()
    here: tuple[ConditionLine, ...] = ()
    goes: tuple[ConditionLine, ...] = ()
    repairs: tuple[RepairLine, ...] = ()


NO_CONDITION = ConditionCard()


@dataclass(frozen=True)
class PartListCard:
    """The parts of one specimen."""

    tag: str
    species: str
    parts: tuple[PartCard, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "part.list/1"


@dataclass(frozen=True)
class WayLine:
    """Whether a part may enter one kind of bath."""

    bath: str
    may: str
    why: str
    do: str
    standing: str
    source: str


@dataclass(frozen=True)
class WaysCard:
    """Which baths one kind of part may enter."""

    part: str
    kept: str
    note: str
    ways: tuple[WayLine, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "part.may/1"


@dataclass(frozen=True)
class Offered:
    """What the forms of a specimen's page offer: names of parts, words, glues, places."""

    parts: tuple[str, ...]
    conditions: tuple[tuple[str, str], ...]
    repairs: tuple[tuple[str, str], ...]
    stages: tuple[tuple[str, str], ...]
    marks: tuple[tuple[str, str], ...]
    adhesives: tuple[tuple[str, str], ...]
    places: tuple[tuple[str, str], ...]
