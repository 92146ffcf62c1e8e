"""One part of a specimen as it stands: where it is, where it has been, whether it is on another part, away or missing."""

from dataclasses import dataclass, field
from datetime import datetime

from bonebench.shop.steps import Step


@dataclass(frozen=True, slots=True)
class Sample:
    """What a vial holds, what it is for, and when it was taken."""

    of: str
    purpose: str
    at: datetime
    earliest: datetime
    entry: str


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a specimen; ``step`` is the stay that its last move was said to begin, if it was said.

    ``been`` has the first time it was in each place while it was apart or moved as itself. ``joined_to`` names the part it is on;
    it goes where that goes. ``sent_to`` is set while it is out of the room, ``missing`` while a count has not found it.
    """

    name: str
    place: str | None = None
    since: datetime | None = None
    step: Step | None = None
    been: dict[str, datetime] = field(default_factory=dict)
    seen: datetime | None = None
    joined_to: str | None = None
    mass_kg: float | None = None
    sample: Sample | None = None
    sent_to: str | None = None
    missing: datetime | None = None


@dataclass(frozen=True, slots=True)
class Condition:
    """How it looked, where on it, at which stage."""

    entry: str
    stage: str
    what: str
    where: str
    part: str
    at: datetime
    note: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Repair:
    """What was mended, with which glue."""

    entry: str
    how: str
    where: str
    part: str
    adhesive: str | None
    at: datetime
    note: str | None = None
    photos: tuple[str, ...] = ()
