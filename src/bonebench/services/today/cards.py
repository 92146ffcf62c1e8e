"""The cards of Today."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Alert, Answer, Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True, slots=True)
class TaskCard:
    """One thing to do: where, to what, why, how long, and the buttons that answer it."""

    id: str
    place: str | None
    place_name: str
    specimen: str | None
    specimen_id: str | None
    species: SpeciesName | None
    about: Said
    action: Said
    why: Said
    due_from: date | None
    due_by: date | None
    late_days: int
    minutes: float
    who: str | None
    answers: tuple[Answer, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class TodayCard:
    """The day's work in the order it is done in, clean work first."""

    date: date
    room: str
    zone: str
    demo: bool
    plan_made: datetime | None
    plan_rule: str
    minutes: float
    alerts: tuple[Alert, ...]
    tasks: tuple[TaskCard, ...]
    left_out: int
    coming: tuple[TaskCard, ...]
    teach: Said | None
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "today/1"
