"""The cards of the weeks ahead."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Basis, Caution, Flag, Said


@dataclass(frozen=True)
class SlotCard:
    """One step of one piece with its times; ``limited`` says what keeps it from being earlier, None where nothing does."""

    id: str
    specimen: str
    species: str
    step: str
    visit: int
    stay: bool
    place: str | None
    place_name: str | None
    start: datetime
    end: datetime
    person: str | None
    running: bool
    limited: Said | None


@dataclass(frozen=True)
class DayCard:
    """What hands do on one day, in the order of the plan; ``minutes`` is hands-on work as far as methods say."""

    day: date
    closed: bool
    begins: tuple[SlotCard, ...]
    ready: tuple[str, ...]


@dataclass(frozen=True)
class RowCard:
    """What stands in one place through the weeks, one piece after the other."""

    place: str
    name: str
    kind: str
    stays: tuple[SlotCard, ...]


@dataclass(frozen=True)
class LatePieceCard:
    """A piece that misses its promise by the plan."""

    id: str
    specimen: str
    species: str
    promised: date
    ends: date
    days: int
    words: Said


@dataclass(frozen=True)
class UnplacedCard:
    """A piece, or the rest of it, that found no time."""

    id: str
    specimen: str
    species: str
    step: str
    why: Said


@dataclass(frozen=True)
class Objective:
    """How good the plan is; less is better, the first first."""

    late_days: float
    finish_days: float
    starts: float


@dataclass(frozen=True)
class PlanCard:
    """The plan as it is kept: every step ahead with its times.

    ``status`` is "by rule" for the best of the simple rules, "searched" where more orders were tried, "proven" where no order is
    better. ``bound`` is what no plan can go below, where it is known.
    """

    status: str
    made_at: datetime
    first: date
    last: date
    objective: Objective | None
    bound: float | None
    tasks: tuple[SlotCard, ...]
    days: tuple[DayCard, ...]
    places: tuple[RowCard, ...]
    late: tuple[LatePieceCard, ...]
    unplaced: tuple[UnplacedCard, ...]
    moved: tuple[Said, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "plan/1"
