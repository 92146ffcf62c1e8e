"""The log: one frozen dataclass for each kind of entry, and the envelope round it.

An entry is never changed or deleted. A correction is another entry that voids it, or that replaces it (void and restate in one).
Values are SI; times are UTC with their zone.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, ClassVar, Literal

import msgspec

from bonebench.errors import EntryUnreadable
from bonebench.shop.bath_entries import BATH_KINDS
from bonebench.shop.box_entries import BOX_KINDS
from bonebench.shop.colony_entries import COLONY_KINDS
from bonebench.shop.part_entries import PART_KINDS
from bonebench.shop.photo_entries import PHOTO_KINDS
from bonebench.shop.piece_entries import PIECE_KINDS
from bonebench.shop.prices import PRICE_KINDS
from bonebench.shop.sheet_entries import SHEET_KINDS
from bonebench.shop.steps import PlaceKind, Step
from bonebench.shop.teeth_entries import TEETH_KINDS
from bonebench.shop.what import What as What  # noqa: PLC0414  the kinds' base is looked for here


@dataclass(frozen=True)
class When:
    """When something happened, as closely as anybody knows."""

    earliest: datetime
    latest: datetime

    def __post_init__(self) -> None:
        if self.earliest.tzinfo is None or self.latest.tzinfo is None:
            raise ValueError("a time in the log must carry its zone")

    @property
    def exact(self) -> bool:
        """Whether the time is known to the moment."""
        return self.earliest == self.latest


def exactly(at: datetime) -> When:
    """Return an exact time."""
    return When(at, at)


@dataclass(frozen=True)
class Received(What):
    """A specimen came in."""

    KIND: ClassVar[str] = "received"
    tag: str
    species: str
    owner: str | None = None
    live_mass_kg: float | None = None
    head_mass_kg: float | None = None
    sex: str | None = None
    age: str | None = None
    condition: str | None = None
    finish: Literal["white", "natural"] = "white"
    measure: bool = False
    permit: str | None = None
    promised: date | None = None
    parts: tuple[str, ...] = ("skull", "mandible")
    answers: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Moved(What):
    """A specimen or some of its parts were put in a place; ``step`` says which stay that began, when it began one."""

    KIND: ClassVar[str] = "moved"
    place: str
    step: Step | None = None
    visit: int = 1
    method: str | None = None


@dataclass(frozen=True)
class Done(What):
    """A step was done."""

    KIND: ClassVar[str] = "done"
    step: Step
    visit: int = 1
    method: str | None = None


@dataclass(frozen=True)
class Skipped(What):
    """A step was left out on purpose."""

    KIND: ClassVar[str] = "skipped"
    step: Step
    visit: int = 1
    why: str = ""


@dataclass(frozen=True)
class SentBack(What):
    """A specimen goes back to an earlier step: that step and what came after it are to be done once more."""

    KIND: ClassVar[str] = "sent-back"
    step: Step
    why: str = ""


@dataclass(frozen=True)
class Looked(What):
    """Somebody looked and found it not ready."""

    KIND: ClassVar[str] = "looked"
    step: Step
    visit: int = 1
    found: str = "not yet"


@dataclass(frozen=True)
class Problem(What):
    """Something is wrong; it stays open until it is settled."""

    KIND: ClassVar[str] = "problem"
    what: str
    note: str | None = None


@dataclass(frozen=True)
class Settled(What):
    """A problem is settled."""

    KIND: ClassVar[str] = "settled"
    problem: str


@dataclass(frozen=True)
class Held(What):
    """A specimen waits for something outside the room: a test, a paper, an answer."""

    KIND: ClassVar[str] = "held"
    reason: str
    key: str = ""


@dataclass(frozen=True)
class Released(What):
    """What it was held for has come; without a key, everything it was held for."""

    KIND: ClassVar[str] = "released"
    key: str = ""


@dataclass(frozen=True)
class Weighed(What):
    """The head was weighed, as it is now."""

    KIND: ClassVar[str] = "weighed"
    mass_kg: float


DESCRIBED_FIELDS = (
    "species", "owner", "live_mass_kg", "head_mass_kg", "sex", "age", "condition", "finish", "measure", "permit", "promised",
)  # fmt: skip


@dataclass(frozen=True)
class Described(What):
    """Something said at intake was put right or added; only the fields named in ``changes`` change."""

    KIND: ClassVar[str] = "described"
    changes: dict[str, str | float | bool | None]


@dataclass(frozen=True)
class PartFound(What):
    """A part was added to what is kept track of: antlers taken off, loose teeth in a jar."""

    KIND: ClassVar[str] = "part-found"
    part: str


@dataclass(frozen=True)
class Joined(What):
    """Specimens are treated together from now on."""

    KIND: ClassVar[str] = "joined"
    lot: str
    name: str
    tray: bool = False


@dataclass(frozen=True)
class Parted(What):
    """Specimens leave their lot."""

    KIND: ClassVar[str] = "parted"
    lot: str


@dataclass(frozen=True)
class Gone(What):
    """It is not here any more, and nobody handed it over: lost, thrown out, given up."""

    KIND: ClassVar[str] = "gone"
    why: str = ""


@dataclass(frozen=True)
class Retagged(What):
    """It carries another tag now."""

    KIND: ClassVar[str] = "retagged"
    tag: str


@dataclass(frozen=True)
class MergedInto(What):
    """Two records turned out to be one specimen; the other one goes on."""

    KIND: ClassVar[str] = "merged-into"
    into: str


@dataclass(frozen=True)
class Noted(What):
    """Somebody wrote a note; its text lives with the people, so that it can be erased."""

    KIND: ClassVar[str] = "noted"
    note: str


@dataclass(frozen=True)
class Void(What):
    """An entry does not count: for the subjects named in the envelope, or for all of them when none is named."""

    KIND: ClassVar[str] = "void"
    target: str
    why: str = ""


@dataclass(frozen=True)
class ClockCorrected(What):
    """A writer's clock was wrong for its entries ``first`` to ``last``: add so many seconds to their times."""

    KIND: ClassVar[str] = "clock-corrected"
    writer: str
    first: int
    last: int
    offset_seconds: float


@dataclass(frozen=True)
class RoomDescribed(What):
    """What the room is called, the zone its days are counted in, and the units its people read."""

    KIND: ClassVar[str] = "room-described"
    name: str
    zone: str
    units: Literal["metric", "us"] = "metric"


@dataclass(frozen=True)
class PlaceSet(What):
    """A place is set up or changed; ``order`` is where it stands along the wall."""

    KIND: ClassVar[str] = "place-set"
    key: str
    name: str
    kind: PlaceKind
    order: int = 0
    count: float | None = None
    volume_l: float | None = None
    mass_kg: float | None = None
    open: bool = True
    appetite_kg_per_day: float | None = None
    temperature_c: float | None = None


@dataclass(frozen=True)
class PersonSet(What):
    """When somebody works ("mon": [["09:00", "12:00"]]) and what they are trained for; the name lives with the people."""

    KIND: ClassVar[str] = "person-set"
    person: str
    hours: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    trained: tuple[str, ...] = ()
    working: bool = True


@dataclass(frozen=True)
class MethodChosen(What):
    """The room does a step this way from now on."""

    KIND: ClassVar[str] = "method-chosen"
    step: Step
    method: str


@dataclass(frozen=True)
class SpeciesSet(What):
    """The room's own figures for a species, or a species the program does not ship."""

    KIND: ClassVar[str] = "species-set"
    key: str
    values: dict[str, str | float | bool | None]


@dataclass(frozen=True)
class ClosedOn(What):
    """Nobody works on these days."""

    KIND: ClassVar[str] = "closed-on"
    days: tuple[date, ...]


@dataclass(frozen=True)
class RoundDone(What):
    """A round was done, for the day it was due; ``wrong`` names what was found, by the round's own list."""

    KIND: ClassVar[str] = "round-done"
    round: str
    due: date | None = None
    wrong: str | None = None


@dataclass(frozen=True)
class Left(What):
    """Somebody left the room; ``ticks`` are those of the leaving card that were tapped."""

    KIND: ClassVar[str] = "left"
    ticks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Seen(What):
    """Somebody saw it in this place: it is still here, and nothing moves."""

    KIND: ClassVar[str] = "seen"
    place: str


@dataclass(frozen=True)
class HazardAcknowledged(What):
    """A person has read the dangers of a method and said yes to them."""

    KIND: ClassVar[str] = "hazard-acknowledged"
    method: str
    person: str


@dataclass(frozen=True)
class ProfileSet(What):
    """The room keeps to a profile (a museum: no heat, no whitening), or to none from now on."""

    KIND: ClassVar[str] = "profile-set"
    profile: Literal["museum"] | None = None


@dataclass(frozen=True)
class FeatureSet(What):
    """What the room has (a gas heater, a fence, alarms), all of it: the rounds and the leaving card ask for nothing else."""

    KIND: ClassVar[str] = "feature-set"
    features: tuple[str, ...] = ()


_KINDS: tuple[type[What], ...] = (
    Received, Moved, Done, Skipped, SentBack, Looked, Problem, Settled, Held, Released, Weighed, Described, PartFound, Joined,
    Parted, Gone, Retagged, MergedInto, Noted, Void, ClockCorrected, RoomDescribed, PlaceSet, PersonSet, MethodChosen,
    SpeciesSet, ClosedOn, RoundDone, Left, Seen, HazardAcknowledged, ProfileSet, FeatureSet, *BATH_KINDS,
    *COLONY_KINDS,
    *PHOTO_KINDS,
    *TEETH_KINDS,
    *PIECE_KINDS, *PRICE_KINDS,
    *BOX_KINDS,
    *SHEET_KINDS,
    *PART_KINDS,
)  # fmt: skip
KINDS: Mapping[str, type[What]] = {kind.KIND: kind for kind in _KINDS}


@dataclass(frozen=True)
class Entry:
    """One line of the log. ``number`` is the writer's own running number, ``task`` the task it answers."""

    id: str
    writer: str
    number: int
    when: When
    recorded: datetime
    subjects: tuple[str, ...]
    what: What
    who: str | None = None
    task: str | None = None
    replaces: str | None = None

    @property
    def kind(self) -> str:
        """The kind's name in the book."""
        return self.what.KIND

    @property
    def targets(self) -> tuple[str, ...]:
        """The entries this one takes out of the count."""
        voided = (self.what.target,) if isinstance(self.what, Void) else ()
        return voided + ((self.replaces,) if self.replaces else ())


def values_of(what: What) -> dict[str, Any]:
    """Return the values of an entry as plain JSON."""
    plain: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(what))
    return plain


def read_what(kind: str, form: int, values: Mapping[str, Any]) -> What:
    """Read the values of an entry of this kind; refuse a kind, a form or values this program does not know."""
    if kind not in KINDS:
        raise EntryUnreadable("entry.kind", "'{kind}' is no kind of entry this version knows", kind=kind)
    known = KINDS[kind]
    if form > known.FORM:
        raise EntryUnreadable(
            "entry.form",
            "{kind} comes in form {form}; this version reads up to form {known}",
            kind=kind,
            form=form,
            known=known.FORM,
        )
    extra = sorted(set(values) - set(known.__dataclass_fields__))  # type: ignore[attr-defined]
    if extra:
        raise EntryUnreadable("entry.extra", "{kind} has no value called '{name}'", kind=kind, name=extra[0])
    if not _finite(values):
        raise EntryUnreadable("entry.number", "{kind} holds a number that is none, such as nan; leave it out", kind=kind)
    try:
        return msgspec.convert(dict(values), known)
    except (msgspec.ValidationError, ValueError) as fault:
        raise EntryUnreadable("entry.values", "{kind} cannot be read: {fault}", kind=kind, fault=str(fault)) from fault


def _finite(value: object) -> bool:
    """Whether every number in it is one: no scale shows nan, and no database keeps it in JSON."""
    if isinstance(value, Mapping):
        return all(_finite(one) for one in value.values())
    if isinstance(value, list | tuple):
        return all(_finite(one) for one in value)
    return not isinstance(value, float) or math.isfinite(value)


def root_of(subject: str) -> str:
    """Return what an entry about this subject is folded into: a part belongs to its specimen."""
    return subject.split("/", 1)[0]


def specimen_subject(specimen: str, part: str | None = None) -> str:
    """Name a specimen, or one part of it, as a subject."""
    return f"specimen:{specimen}" if part is None else f"specimen:{specimen}/{part}"


ROOM = "room"


def writer_subject(writer: str) -> str:
    """Name a writer (a phone, this computer) as a subject."""
    return f"writer:{writer}"
