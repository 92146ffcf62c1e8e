"""A scheduling problem and its plan, as plain data: no database, no clock, no solver.

All instants are aware UTC datetimes; wall hours and closed days are read in the room's zone. Masses are kg, volumes litres,
feeding is kg of fresh tissue a day.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from typing import Literal
from zoneinfo import ZoneInfo

from bonebench.said import Said


@dataclass(frozen=True, slots=True)
class Load:
    """What a piece takes up in a place."""

    count: float = 1
    volume_l: float = 0
    mass_kg: float = 0


@dataclass(frozen=True, slots=True)
class Room:
    """One place with what it can hold; None is no limit. ``open`` is False while it is out of use."""

    key: str
    kind: str
    count: float | None = None
    volume_l: float | None = None
    mass_kg: float | None = None
    open: bool = True


@dataclass(frozen=True, slots=True)
class Hands:
    """One person: the wall hours of each weekday (0 is Monday) and the kinds of work they are trained for."""

    key: str
    hours: Mapping[int, tuple[tuple[time, time], ...]]
    trained: frozenset[str]


@dataclass(frozen=True, slots=True)
class Spread:
    """How far a duration may be off: one in ten is quicker than ``p10_days``, one in ten slower than ``p90_days``.

    ``shared`` names what errs together (a method on a species); ``shared_part`` of the variance of the error is one draw for all
    pieces of that name, the rest is each piece's own. Half and half is an estimate.
    """

    p10_days: float
    p90_days: float
    shared: str = ""
    shared_part: float = 0.5


@dataclass(frozen=True, slots=True)
class Stage:
    """One step still ahead of a piece (or running now).

    ``days`` is the working duration of a stay, or 0 for an act; a stage that eats takes what its tissue and the box's appetite
    say instead. ``minutes`` are hands-on, needed at its start, by one person trained for ``work``. ``least_wait_days`` and
    ``most_wait_days`` bound the time between the end of this stage and the start of the next; ``most_wait_days`` of None is no
    limit. ``place_kind`` of None needs no place. ``keeps_place`` holds the place of the stage before as well (a head that goes
    out to be thawed and trimmed comes back to its own room in the freezer).
    """

    step: str
    visit: int
    place_kind: str | None
    stay: bool
    days: float = 0.0
    minutes: float = 0.0
    work: str = ""
    eats: bool = False
    least_wait_days: float = 0.0
    most_wait_days: float | None = None
    keeps_place: bool = False
    spread: Spread | None = None


@dataclass(frozen=True, slots=True)
class Running:
    """What a piece is in the middle of: its first stage began then, in that place, and cannot move."""

    place: str
    since: datetime


@dataclass(frozen=True, slots=True)
class Piece:
    """One thing that moves through the room as one: a specimen, or a lot of them treated together.

    ``tissue_kg`` is what is left for the beetles now; ``eating_kg_per_day`` the most its exposed surface lets them take.
    ``whole_tissue_kg`` is what it had before the beetles began (None: what is left now); the slow tail is a share of that.
    ``place`` is where it sits while nothing of its stages runs; beside ``running`` it is the room kept for it meanwhile, when the
    running stage keeps one. ``weight`` says how much a late day matters.
    """

    key: str
    stages: tuple[Stage, ...]
    release: datetime
    received: datetime
    load: Load = field(default_factory=Load)
    due: date | None = None
    weight: float = 1.0
    tissue_kg: float = 0.0
    eating_kg_per_day: float = 0.0
    place: str | None = None
    running: Running | None = None
    held: Said | None = None
    whole_tissue_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything a plan depends on.

    Appetite is kg a local day, whatever that day's length; the first day's is what is left of it from ``now``. The last
    ``tail_share`` of a piece's tissue (nose, ear, sinus) goes ``tail_slowness`` times slower than the rest. ``batch_kinds`` are
    the kinds of place where one full start beats two half ones: they make a plan's tidiness.
    """

    now: datetime
    zone: ZoneInfo
    pieces: tuple[Piece, ...]
    places: tuple[Room, ...]
    people: tuple[Hands, ...]
    appetite_kg_per_day: Mapping[str, Mapping[date, float]]
    appetite_otherwise: Mapping[str, float]
    closed: frozenset[date] = frozenset()
    horizon_days: int = 400
    tail_share: float = 0.12
    tail_slowness: float = 3.0
    batch_kinds: frozenset[str] = frozenset({"pot", "tub", "rinse water"})


Limit = Literal["ready", "hands", "place", "appetite", "wait", "closed"]


@dataclass(frozen=True, slots=True)
class Slot:
    """One stage with its times. ``start`` is when hands begin it; ``end`` when the stay is over or the act is done.

    ``limited_by`` says what kept it from starting earlier, and ``limited_name`` which: the kind of work for *hands*, the kind of
    place for *place*, the box for *appetite* (it ate slowly, or the step before did), the day (ISO) for *closed*.
    """

    piece: str
    step: str
    visit: int
    place: str | None
    start: datetime
    end: datetime
    person: str | None
    limited_by: Limit
    limited_name: str | None = None


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A piece, or the rest of one, that found no time, and why."""

    piece: str
    step: str
    why: Said


@dataclass(frozen=True, slots=True)
class Late:
    """A piece that ends after its due day."""

    piece: str
    due: date
    ends: date
    days: int


@dataclass(frozen=True, slots=True)
class Plan:
    """An order turned into times, and how good it is: less is better, compared from left to right.

    ``score`` is weighted late days (each unplaced piece that is not held counts more than all lateness there can be), then the
    weighted sum of finishing days from now, then the number of separate starts of batch places (place and local day).
    """

    order: tuple[str, ...]
    rule: str
    slots: tuple[Slot, ...]
    late: tuple[Late, ...]
    unplaced: tuple[Unplaced, ...]
    score: tuple[float, ...]
