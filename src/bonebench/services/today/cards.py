"""The cards of Today."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Alert, Answer, Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class Member:
    """One piece of a tray: what its box is ticked for."""

    specimen_id: str
    tag: str
    species: SpeciesName
    subject: tuple[str, ...]


@dataclass(frozen=True)
class HazardCard:
    """A method that can hurt badly: who said yes to its dangers and when, or the button to say so; asked again every year."""

    method: str
    name: str
    words: Said
    acknowledged: date | None
    answer: Answer | None


@dataclass(frozen=True)
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
    look: Said | None = None
    gloves: Said | None = None
    members: tuple[Member, ...] = ()
    hazard: HazardCard | None = None


@dataclass(frozen=True)
class TickCard:
    """One tap of the leaving card."""

    key: str
    tap: Said
    why: Said
    if_not: Said


@dataclass(frozen=True)
class LeavingCard:
    """The card at the door: at most six taps, and when the room was last left by it."""

    ticks: tuple[TickCard, ...]
    answer: Answer
    last_left: datetime | None
    left_today: bool


@dataclass(frozen=True)
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
    leaving: LeavingCard
    silent_days: float
    coming: tuple[TaskCard, ...]
    teach: Said | None
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "today/1"
