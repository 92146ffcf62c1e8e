"""What is known of one specimen and its parts, told from its entries."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, Literal

import msgspec

from bonebench.said import said
from bonebench.shop import entries as log
from bonebench.shop.entries import Entry, root_of, specimen_subject
from bonebench.shop.flags import Flag
from bonebench.shop.fold import Story
from bonebench.shop.part import Condition, Repair
from bonebench.shop.part import Part as Part  # noqa: PLC0414  parts are looked for here
from bonebench.shop.part_fold import PART_APPLY, found_part, move_parts, see_parts, unsaid_flags, weigh_parts
from bonebench.shop.photo_entries import Photographed
from bonebench.shop.piece_entries import PieceSeen
from bonebench.shop.pieces import Sight, sight_of
from bonebench.shop.steps import STEP_ORDER, Step
from bonebench.shop.teeth import TeethLog, fold_teeth


@dataclass(frozen=True, slots=True)
class Mark:
    """Something that happened to a step: which visit, when, by which entry."""

    step: Step
    visit: int
    at: datetime
    entry: str
    method: str | None = None
    skipped: bool = False
    earliest: datetime | None = None

    @property
    def about(self) -> datetime:
        """The middle of when it can have happened: what durations are counted from."""
        return self.at if self.earliest is None else self.earliest + (self.at - self.earliest) / 2


@dataclass(frozen=True, slots=True)
class Hold:
    """Something a specimen waits for."""

    key: str
    reason: str
    since: datetime


@dataclass(frozen=True, slots=True)
class OpenProblem:
    """A problem nobody has settled yet."""

    entry: str
    what: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Specimen:
    """The state of one specimen. ``begun`` and ``ended`` hold one mark for each step and visit."""

    id: str
    tag: str = ""
    species: str = ""
    owner: str | None = None
    received: datetime | None = None
    live_mass_kg: float | None = None
    head_mass_kg: float | None = None
    sex: str | None = None
    age: str | None = None
    condition: str | None = None
    finish: Literal["white", "natural"] = "white"
    measure: bool = False
    permit: str | None = None
    promised: date | None = None
    weighed_kg: float | None = None
    weighed_at: datetime | None = None
    parts: tuple[Part, ...] = ()
    begun: tuple[Mark, ...] = ()
    ended: tuple[Mark, ...] = ()
    looks: tuple[Mark, ...] = ()
    sights: tuple[Sight, ...] = ()
    visits: dict[Step, int] = field(default_factory=dict)
    holds: tuple[Hold, ...] = ()
    answers: dict[str, str] = field(default_factory=dict)
    last_heard: datetime | None = None
    problems: tuple[OpenProblem, ...] = ()
    lot: str | None = None
    lot_name: str | None = None
    marked: str | None = None
    former_tags: tuple[str, ...] = ()
    conditions: tuple[Condition, ...] = ()
    repairs: tuple[Repair, ...] = ()
    gone: datetime | None = None
    gone_why: str = ""
    merged_into: str | None = None
    teeth: TeethLog = field(default_factory=TeethLog)
    flags: tuple[Flag, ...] = ()

    def visit(self, step: Step) -> int:
        """Return which visit of this step is the one to be done."""
        return self.visits.get(step, 1)

    def beginning(self, step: Step) -> Mark | None:
        """Return when the visit to be done of this step began, if it did."""
        return next((m for m in self.begun if m.step is step and m.visit == self.visit(step)), None)

    def ending(self, step: Step) -> Mark | None:
        """Return when the visit to be done of this step was done or skipped, if it was."""
        return next((m for m in self.ended if m.step is step and m.visit == self.visit(step)), None)

    @property
    def held(self) -> str | None:
        """What it waits for, in words; None while nothing holds it."""
        return "; ".join(hold.reason for hold in self.holds) or None

    @property
    def finished(self) -> bool:
        """Whether nothing more happens to it in this room."""
        return self.gone is not None or self.merged_into is not None or self.ending(Step.HAND_OVER) is not None

    def place_of(self, part: str) -> str | None:
        """Return where a part is."""
        return next((p.place for p in self.parts if p.name == part), None)


class _Draft:
    """A specimen while its entries are told."""

    def __init__(self, specimen: str) -> None:
        self.subject = specimen_subject(specimen)
        self.now: dict[str, Any] = {"id": specimen}
        self.parts: dict[str, Part] = {}
        self.unsaid: dict[str, str] = {}
        self.conditions: dict[str, Condition] = {}
        self.repairs: dict[str, Repair] = {}
        self.begun: dict[tuple[Step, int], Mark] = {}
        self.ended: dict[tuple[Step, int], Mark] = {}
        self.looks: list[Mark] = []
        self.sights: list[Sight] = []
        self.holds: dict[str, Hold] = {}
        self.visits: dict[Step, int] = {}
        self.problems: dict[str, OpenProblem] = {}
        self.flags: list[Flag] = []

    def named_parts(self, entry: Entry) -> list[str]:
        """The parts an entry is about: those it names, or all of them."""
        named = [s.split("/", 1)[1] for s in entry.subjects if root_of(s) == self.subject and "/" in s]
        return named if named and self.subject not in entry.subjects else list(self.parts)

    def flag(self, key: str, template: str, next_key: str, next_template: str, **values: str | int | None) -> None:
        self.flags.append(Flag(said(key, template, **values), said(next_key, next_template, **values)))

    def visit(self, step: Step) -> int:
        return self.visits.get(step, 1)


def _received(draft: _Draft, entry: Entry, what: log.Received) -> None:
    if "received" in draft.now:
        draft.flag(
            "flag.received_twice", "it was received twice; the first one counts",
            "flag.received_twice.next", "take one of the two back, or give the second specimen a tag of its own", entry=entry.id,
        )  # fmt: skip
        return
    fields = {name: getattr(what, name) for name in ("tag", "answers", *log.DESCRIBED_FIELDS)}
    # What was put right before the arrival was told (a late entry) stays right.
    draft.now = {**fields, **draft.now, "received": entry.when.latest}
    for name in what.parts:
        found_part(draft, name)


def _moved(draft: _Draft, entry: Entry, what: log.Moved) -> None:
    move_parts(draft, entry, what.place, what.step)
    if what.step is not None:
        draft.begun.setdefault((what.step, what.visit), _mark(entry, what.step, what.visit, what.method))


def _mark(entry: Entry, step: Step, visit: int, method: str | None = None, *, skipped: bool = False) -> Mark:
    earliest = None if entry.when.exact else entry.when.earliest
    return Mark(step, visit, entry.when.latest, entry.id, method, skipped, earliest)


def _end(draft: _Draft, entry: Entry, mark: Mark) -> None:
    key = (mark.step, mark.visit)
    if key in draft.ended:
        draft.flag(
            "flag.done_twice", "{step} was done twice on visit {visit}; the first one counts",
            "flag.done_twice.next", "if it was really done again, send it back to {step} first, or take one back",
            step=mark.step.value, visit=mark.visit, entry=entry.id,
        )  # fmt: skip
        return
    draft.ended[key] = mark


def _done(draft: _Draft, entry: Entry, what: log.Done) -> None:
    _end(draft, entry, _mark(entry, what.step, what.visit, what.method))


def _skipped(draft: _Draft, entry: Entry, what: log.Skipped) -> None:
    _end(draft, entry, _mark(entry, what.step, what.visit, skipped=True))


def _sent_back(draft: _Draft, entry: Entry, what: log.SentBack) -> None:
    del entry
    for step in STEP_ORDER[what.step.position :]:
        visit = draft.visit(step)
        if step is what.step or (step, visit) in draft.begun or (step, visit) in draft.ended:
            draft.visits[step] = visit + 1


def _looked(draft: _Draft, entry: Entry, what: log.Looked) -> None:
    draft.looks.append(_mark(entry, what.step, what.visit))


def _problem(draft: _Draft, entry: Entry, what: log.Problem) -> None:
    draft.problems[entry.id] = OpenProblem(entry.id, what.what, entry.when.latest)


def _settled(draft: _Draft, entry: Entry, what: log.Settled) -> None:
    del entry
    draft.problems.pop(what.problem, None)


def _held(draft: _Draft, entry: Entry, what: log.Held) -> None:
    draft.holds.setdefault(what.key or what.reason, Hold(what.key or what.reason, what.reason, entry.when.latest))


def _released(draft: _Draft, entry: Entry, what: log.Released) -> None:
    del entry
    if what.key:
        draft.holds.pop(what.key, None)
    else:
        draft.holds.clear()


def _weighed(draft: _Draft, entry: Entry, what: log.Weighed) -> None:
    if not weigh_parts(draft, entry, what.mass_kg):
        draft.now |= {"weighed_kg": what.mass_kg, "weighed_at": entry.when.latest}
        draft.sights.append(sight_of(entry))


def _piece_seen(draft: _Draft, entry: Entry, what: PieceSeen) -> None:
    del what
    draft.sights.append(sight_of(entry))


def _described(draft: _Draft, entry: Entry, what: log.Described) -> None:
    for name, value in what.changes.items():
        if name not in log.DESCRIBED_FIELDS:
            draft.flag(
                "flag.described", "an entry changes '{name}', which no specimen has",
                "flag.described.next", "take the entry back", name=name, entry=entry.id,
            )  # fmt: skip
        elif _fits(name, value):
            draft.now[name] = date.fromisoformat(value) if name == "promised" and isinstance(value, str) else value
        else:
            draft.flag(
                "flag.described_value", "an entry sets '{name}' to '{value}', which cannot be",
                "flag.described_value.next", "take the entry back and write it again", name=name, value=str(value), entry=entry.id,
            )  # fmt: skip


def _fits(name: str, value: object) -> bool:
    """Whether a value can be that field of a specimen; a field that must not be empty refuses None."""
    kind = Specimen.__dataclass_fields__[name].type
    try:
        msgspec.convert(value, kind)
    except msgspec.ValidationError:
        return False
    return True


def _part_found(draft: _Draft, entry: Entry, what: log.PartFound) -> None:
    del entry
    found_part(draft, what.part)


def _joined(draft: _Draft, entry: Entry, what: log.Joined) -> None:
    if draft.now.get("gone") is not None:
        draft.flag(
            "flag.joined_gone", "it joined the lot {lot} after it was written down as gone",
            "flag.joined_gone.next", "if it is here, take back that it is gone; else take it out of the lot",
            lot=what.name, entry=entry.id,
        )  # fmt: skip
    draft.now |= {"lot": what.lot, "lot_name": what.name}


def _parted(draft: _Draft, entry: Entry, what: log.Parted) -> None:
    if draft.now.get("lot") == what.lot:
        draft.now |= {"lot": None, "lot_name": None}
        return
    draft.flag(
        "flag.parted_unknown", "it was taken out of a lot it was not in",
        "flag.parted_unknown.next", "look which lot it is in; nothing was changed", lot=what.lot, entry=entry.id,
    )  # fmt: skip


def _gone(draft: _Draft, entry: Entry, what: log.Gone) -> None:
    draft.now |= {"gone": entry.when.latest, "gone_why": what.why}


def _retagged(draft: _Draft, entry: Entry, what: log.Retagged) -> None:
    del entry
    before = draft.now.get("tag")
    if before and before != what.tag:
        draft.now["former_tags"] = (*draft.now.get("former_tags", ()), before)
    draft.now["tag"] = what.tag


def _merged(draft: _Draft, entry: Entry, what: log.MergedInto) -> None:
    del entry
    draft.now["merged_into"] = what.into


def _seen(draft: _Draft, entry: Entry, what: log.Seen) -> None:
    see_parts(draft, entry, what.place)


def _noted(draft: _Draft, entry: Entry, what: log.What) -> None:
    del draft, entry, what


_APPLY: dict[type[log.What], Callable[[_Draft, Entry, Any], None]] = {
    log.Received: _received,
    log.Moved: _moved,
    log.Done: _done,
    log.Skipped: _skipped,
    log.SentBack: _sent_back,
    log.Looked: _looked,
    log.Problem: _problem,
    log.Settled: _settled,
    log.Held: _held,
    log.Released: _released,
    log.Weighed: _weighed,
    PieceSeen: _piece_seen,
    log.Described: _described,
    log.PartFound: _part_found,
    log.Joined: _joined,
    log.Parted: _parted,
    log.Gone: _gone,
    log.Retagged: _retagged,
    log.MergedInto: _merged,
    log.Noted: _noted,
    Photographed: _noted,
    log.Seen: _seen,
    **PART_APPLY,
}


def fold_specimen(specimen: str, story: Story) -> Specimen:
    """Tell one specimen from its story; never raises, odd entries become flags."""
    draft = _Draft(specimen)
    for entry in story.entries:
        apply = _APPLY.get(type(entry.what))
        if apply is not None:
            apply(draft, entry, entry.what)
            draft.now["last_heard"] = entry.when.latest
    if "received" not in draft.now:
        draft.flag(
            "flag.not_received", "there are entries about it, but none says it came in",
            "flag.not_received.next", "add it with the tag it carries; the entries are kept and will join",
        )  # fmt: skip
    unsaid_flags(draft)
    return Specimen(
        **draft.now,
        conditions=tuple(draft.conditions.values()),
        repairs=tuple(draft.repairs.values()),
        parts=tuple(draft.parts.values()),
        begun=_in_order(draft.begun.values()),
        ended=_in_order(draft.ended.values()),
        looks=tuple(draft.looks),
        sights=tuple(draft.sights),
        visits=draft.visits,
        holds=tuple(draft.holds.values()),
        problems=tuple(draft.problems.values()),
        teeth=fold_teeth(specimen_subject(specimen), story.entries),
        flags=(*story.flags, *draft.flags),
    )


def _in_order(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    return tuple(sorted(marks, key=lambda mark: (mark.step.position, mark.visit)))
