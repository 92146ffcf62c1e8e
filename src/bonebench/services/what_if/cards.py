"""The cards of what would be otherwise."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Basis, Caution, Flag, Said
from bonebench.services.costs.cards import CostCard
from bonebench.services.jobs import JobCard


@dataclass(frozen=True)
class MovedCard:
    """One piece whose day moves: None where it found no time; ``days`` is negative where it is through sooner."""

    id: str
    specimen: str
    species: str
    before: date | None
    after: date | None
    days: int | None
    words: Said


@dataclass(frozen=True)
class SideCard:
    """One way the room could be. ``mean_days`` is over the pieces that found a time, from now until each is through.

    ``verdict`` lays it beside the room as it is, None for that itself. ``cost`` is what its plan uses from now on until the last
    piece is through, at the room's prices.
    """

    name: str
    changes: tuple[Said, ...]
    late_days: float
    late_pieces: int
    no_time: int
    last_through: date | None
    mean_days: float | None
    verdict: Said | None
    cost: CostCard
    moved: tuple[MovedCard, ...]
    moved_pieces: int


@dataclass(frozen=True)
class WhatIfCard:
    """The room as it is, first, and each change beside it, all planned with the same effort.

    ``expected`` is how many are reckoned with to come in meanwhile; their own days are left out of every number.
    """

    made_at: datetime
    pieces: int
    expected: int
    moves: int
    sides: tuple[SideCard, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "plan.what-if/1"


@dataclass(frozen=True)
class WhatIfKeptCard:
    """The last what-if that was worked out beside the pages, with its age; ``job`` is the newest such work, whatever its state.

    ``current`` says whether nothing was written in the book since; both are None where none is kept.
    """

    job: JobCard | None
    card: WhatIfCard | None
    current: bool | None
    age: Said | None
    schema: str = "plan.what-if.kept/1"
