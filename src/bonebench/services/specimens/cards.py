"""The cards of specimens."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from bonebench.services.cards import Answer, Basis, Caution, EntryCard, Flag, Ready, Said, SpeciesName
from bonebench.services.parts.cards import NO_CONDITION, ConditionCard, Offered
from bonebench.services.parts.cards import PartCard as PartCard  # noqa: PLC0414  a specimen's cards are looked for here
from bonebench.services.specimens.piececard import PieceCard

Status = Literal["waiting", "running", "held", "finished", "gone", "merged", "not received"]
LegStatus = Literal["done", "skipped", "no record", "now", "ahead"]


@dataclass(frozen=True)
class LegCard:
    """One step of the route: done, now or ahead, by which method, how long it takes and when it is planned."""

    step: str
    visit: int
    status: LegStatus
    method: str
    method_name: str
    place: str | None
    days_p10: float
    days_p50: float
    days_p90: float
    minutes: float
    standing: str
    pieces: int
    began: datetime | None
    ended: datetime | None
    planned_start: datetime | None
    planned_end: datetime | None


@dataclass(frozen=True)
class TeethCard:
    """The dental formula and how well it is known; ``total`` is None where none is fixed, ``marked`` what was seen."""

    formula: str
    total: int | None
    standing: str
    source: str
    marked: Said | None = None


@dataclass(frozen=True)
class StateCard:
    """Where it stands: what it is in the middle of or waiting for, where, and for how long."""

    status: Status
    step: str | None
    visit: int
    place: str | None
    place_name: str | None
    since: datetime | None
    days: float
    next_step: str | None
    held: str | None
    summary: Said


@dataclass(frozen=True)
class ProblemCard:
    """An open problem and the button that settles it."""

    entry: str
    what: str
    at: datetime
    settle: Answer


@dataclass(frozen=True)
class SpecimenCard:
    """One specimen, whole."""

    id: str
    tag: str
    species: SpeciesName
    owner: str | None
    received: datetime | None
    finish: str
    measure: bool
    sex: str | None
    age: str | None
    condition: str | None
    permit: str | None
    promised: date | None
    late_days: int
    lot: str | None
    live_mass_kg: float | None
    head_mass_kg: float | None
    tissue_kg: float | None
    tissue_low_kg: float | None
    tissue_high_kg: float | None
    state: StateCard
    parts: tuple[PartCard, ...]
    teeth: TeethCard
    route: tuple[LegCard, ...]
    ready: Ready
    next_answers: tuple[Answer, ...]
    problem_answers: tuple[Answer, ...]
    other_answers: tuple[Answer, ...]
    problems: tuple[ProblemCard, ...]
    entries: tuple[EntryCard, ...]
    fragile: str
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    beetles: PieceCard | None = None
    looks: ConditionCard = NO_CONDITION
    offered: Offered | None = None
    former_tags: tuple[str, ...] = ()
    marked: str | None = None
    schema: str = "specimen.show/1"


@dataclass(frozen=True)
class SpecimenRow:
    """One line of the list."""

    id: str
    tag: str
    species: SpeciesName
    owner: str | None
    step: str | None
    status: str
    summary: Said
    place: str | None
    place_name: str | None
    received: datetime | None
    planned: date | None
    promised: date | None
    late_days: int
    problems: int


@dataclass(frozen=True)
class SpecimenListCard:
    """The list, as it was asked for."""

    rows: tuple[SpecimenRow, ...]
    finished_left_out: int
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "specimen.list/1"


@dataclass(frozen=True)
class RouteStepCard:
    """One step of a route as `specimen add` answers it."""

    step: str
    method: str
    place: str | None
    days_p50: float


@dataclass(frozen=True)
class AddedCard:
    """What came of adding a specimen."""

    id: str
    tag: str
    entry_id: str
    route: tuple[RouteStepCard, ...]
    ready: Ready
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "specimen.add/1"


@dataclass(frozen=True)
class LoggedCard:
    """What came of one entry: how it was stored, and the state after it."""

    entry_id: str
    stored: Literal["stored", "already stored", "clash"]
    tag: str | None
    state: StateCard | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "specimen.log/1"
