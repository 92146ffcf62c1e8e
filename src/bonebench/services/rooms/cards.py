"""The cards of the room."""

from dataclasses import dataclass, field
from datetime import date, datetime

from bonebench.services.cards import Answer, Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class SitsCard:
    """One thing that sits in a place: which parts, since when, and what comes next."""

    specimen_id: str
    tag: str
    species: SpeciesName
    parts: tuple[str, ...]
    subject: tuple[str, ...]
    since: datetime | None
    days: float
    next: Said
    planned: date | None
    late: bool


@dataclass(frozen=True)
class StandsCard:
    """A bath that stands in a place."""

    id: str
    name: str


@dataclass(frozen=True)
class PlaceCard:
    """One place along the wall, what it can hold and what sits in it; ``full`` is None where nobody said what it holds."""

    key: str
    name: str
    kind: str
    open: bool
    count: float | None
    volume_l: float | None
    mass_kg: float | None
    holds: int
    full: bool | None
    over: bool
    appetite_kg_per_day: float | None
    sits: tuple[SitsCard, ...]
    whole: tuple[Answer, ...]
    baths: tuple[StandsCard, ...] = ()


@dataclass(frozen=True)
class WorkerCard:
    """Somebody who works here."""

    person: str
    name: str
    hours: dict[str, tuple[tuple[str, str], ...]]
    trained: tuple[str, ...]


@dataclass(frozen=True)
class MethodCard:
    """How the room does a step, and what is known of it."""

    step: str
    key: str
    name: str
    chosen: bool
    in_use: bool
    allowed: bool
    hazard: bool
    effort: str
    harm: str
    standing: str
    source: str
    classed_by: str = "all"
    days: dict[str, tuple[float, float, float]] = field(default_factory=dict)  # by class: one in ten quicker, half, nine in ten
    pieces: dict[str, int] = field(default_factory=dict)  # by class: how many of the room's own are behind it


@dataclass(frozen=True)
class FeatureCard:
    """Something a room may have, which rounds and the leaving card then ask for."""

    key: str
    there: bool


@dataclass(frozen=True)
class RoomCard:
    """The room as it stands: places in the order of the work, and its settings."""

    name: str
    zone: str
    units: str
    demo: bool
    places: tuple[PlaceCard, ...]
    nowhere: tuple[SitsCard, ...]
    people: tuple[WorkerCard, ...]
    methods: tuple[MethodCard, ...]
    profile: str | None
    features: tuple[FeatureCard, ...]
    closed: tuple[date, ...]
    teach: Said | None
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "room/1"
