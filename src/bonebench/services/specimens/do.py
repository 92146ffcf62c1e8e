"""Specimens in an open transaction: add one, log an entry about it, take one back, show it, list them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bonebench.errors import EntryUnreadable, InputError, UnknownName
from bonebench.figures import basis
from bonebench.records import entries as log_rows
from bonebench.records import people
from bonebench.records.book import Reading, Writing
from bonebench.reference.intake import load_questions
from bonebench.said import Said, said
from bonebench.services.gather import (
    everything_in_work,
    finished,
    known_of,
    names_of_people,
    room_of,
    specimen_by_subject,
    specimen_by_tag,
    surroundings,
)
from bonebench.services.known import Known, cautions_for, cautions_for_species
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.rows import from_row
from bonebench.services.log.states import story_of
from bonebench.services.log.times import in_calendar, when_of
from bonebench.services.parts.flags import part_flags
from bonebench.services.plans.problem import Subject, subject_of
from bonebench.services.specimens.cards import AddedCard, LoggedCard, RouteStepCard, SpecimenCard, SpecimenListCard
from bonebench.services.specimens.intake import Intake, read_answers, received_of
from bonebench.services.specimens.notes import keep_note
from bonebench.services.specimens.show import names_of, ready_of, specimen_card, specimen_row, state_of
from bonebench.services.surroundings import Surroundings
from bonebench.services.tags.do import accept
from bonebench.services.tags.do import next_tag as next_tag  # noqa: PLC0414  the demo looks for it here
from bonebench.shop.cautions import Caution
from bonebench.shop.checks import check_specimen
from bonebench.shop.entries import Entry, Held, Moved, Received, Void, When, read_what, root_of, specimen_subject, values_of
from bonebench.shop.intake import holds, keeps_out_of_freezer
from bonebench.shop.names import find
from bonebench.shop.steps import PlaceKind, Step
from bonebench.shop.telling import told


def person_for(tx: Writing, pen: Pen, name: str | None) -> str | None:
    """Return the id of a person by name, kept from now on if new."""
    if name is None or not name.strip():
        return None
    wanted = " ".join(name.split())
    for person in people.listed(tx):
        if person.name is not None and person.name.casefold() == wanted.casefold():
            return person.id
    new = pen.new_id()
    people.add(tx, new, wanted)
    return new


def add(tx: Writing, pen: Pen, intake: Intake) -> Kept:
    """Take a specimen in: an id and a tag of its own, and into the freezer if the room has just one."""
    known = known_of(tx)
    if not intake.species:
        raise InputError("intake.species", "say which species it is; 'list' of species shows the known ones")
    species = find(intake.species, known.species)
    zone = ZoneInfo(known.room.zone)
    when = when_of(at=None, about=intake.arrived or None, now=pen.now, zone=zone)
    specimen = pen.new_id()
    # Read everything that can be refused before a tag is used up.
    read_answers(intake.answers)
    received_of(intake, tag="", species=species.key, owner=None)
    in_hand = accept(tx, intake.tag) if intake.tag else None
    what = received_of(intake, tag=in_hand or next_tag(tx), species=species.key, owner=person_for(tx, pen, intake.owner))
    subjects = (specimen_subject(specimen),)
    entries = [write_entry(tx, pen, what, subjects, when)]
    answers = read_answers(intake.answers)
    found = holds(answers, load_questions()) if answers else ()
    entries += [write_entry(tx, pen, Held(hold.reason.text, hold.question), subjects, when) for hold in found]
    if any(keeps_out_of_freezer(answers, load_questions())):
        return record(tx, entries, pen.now)
    freezers = [p for p in known.room.places if p.kind is PlaceKind.FREEZER and p.open]
    if len(freezers) == 1:
        entries.append(write_entry(tx, pen, Moved(freezers[0].key, Step.FROZEN_HOLD), subjects, when))
    return record(tx, entries, pen.now)


def added(tx: Reading, kept: Kept, now: datetime) -> AddedCard:
    """Say what came of adding a specimen."""
    subject, around = _subject_of(tx, kept, now)
    first = kept.entries[0]
    return AddedCard(
        id=subject.specimen.id,
        tag=subject.specimen.tag,
        entry_id=first.id,
        route=tuple(
            RouteStepCard(
                leg.step.value, leg.method.name, leg.place_kind.value if leg.place_kind is not None else None,
                leg.span.p50 if leg.kind.stay else 0.0,
            )
            for leg in subject.standing.route
        ),
        ready=ready_of(subject, around),
        basis=(basis("head mass", subject.head.head_kg), basis("tissue for the beetles", subject.head.tissue_kg)),
        flags=(*subject.specimen.flags, *check_specimen(subject.specimen, subject.standing, around.known.room, now)),
        cautions=cautions_for_species(subject.head.species, around.known),
    )  # fmt: skip


def _subject_of(tx: Reading, kept: Kept, now: datetime) -> tuple[Subject, Surroundings]:
    known = known_of(tx)
    root = next(root_of(s) for e in kept.entries for s in e.subjects if s.startswith("specimen:"))
    return subject_of(specimen_by_subject(tx, root), known), surroundings(tx, known, now)


@dataclass(frozen=True, slots=True)
class Asked:
    """One entry as a face asks for it; values and times still as they were written."""

    kind: str
    subjects: tuple[str, ...]
    values: dict[str, Any] = field(default_factory=dict)
    task: str | None = None
    at: str | None = None
    about: str | None = None
    entry_id: str | None = None


def subjects_of_tag(tx: Reading, tag: str, parts: Sequence[str] = ()) -> tuple[str, ...]:
    """Return what an entry about a tag is about: the specimen, or the parts named."""
    specimen = specimen_by_tag(tx, tag)
    return tuple(specimen_subject(specimen.id, part) for part in parts) or (specimen_subject(specimen.id),)


def last_counting(tx: Reading, tag: str) -> str:
    """Return the entry about a specimen that was stored last and still counts."""
    story, _ = story_of(tx, specimen_subject(specimen_by_tag(tx, tag).id))
    if not story.entries:
        raise InputError("undo.nothing", "nothing about {tag} counts that could be taken back", tag=tag)
    return max(story.entries, key=lambda entry: (entry.recorded, entry.number)).id


def entry_about(tx: Reading, tag: str, entry_id: str) -> str:
    """Return an entry that is named, when it is about this specimen; another one's is not taken back by a slip."""
    subject = specimen_subject(specimen_by_tag(tx, tag).id)
    row = log_rows.entry(tx, entry_id)
    if row is not None and subject not in {root_of(s) for s in row.subjects}:
        raise UnknownName("undo.other", "entry {entry} is not about {tag}; `specimen show` lists its own", entry=entry_id, tag=tag)
    return entry_id


# A finger that taps twice within so many seconds meant it once.
DOUBLE_TAP = timedelta(seconds=10)


def _same(row: log_rows.EntryRow, asked: Asked) -> bool:
    values = values_of(read_what(asked.kind, 1, asked.values))
    return (row.kind, row.subjects, row.task, row.values) == (asked.kind, asked.subjects, asked.task, values)


def _sent_again(tx: Reading, asked: Asked, when: When) -> Kept | None:
    """The same entry under the id it was given before; where no time was said, the time of the first sending holds."""
    row = log_rows.entry(tx, asked.entry_id) if asked.entry_id is not None else None
    if row is None or not _same(row, asked):
        return None
    if (asked.at or asked.about) and (row.earliest, row.latest) != (when.earliest, when.latest):
        return None
    return Kept((from_row(row),), {row.id: "already stored"})


def _tapped_twice(tx: Reading, asked: Asked, now: datetime) -> Kept | None:
    if asked.task is None or asked.entry_id is not None or not asked.subjects:
        return None
    # One that was taken back meanwhile is no double: the second tap is meant.
    story, _ = story_of(tx, root_of(asked.subjects[0]))
    counting = {entry.id for entry in story.entries}
    for row in log_rows.entries_of(tx, asked.subjects[0]):
        if row.id in counting and _same(row, asked) and timedelta(0) <= now - row.recorded <= DOUBLE_TAP:
            return Kept((from_row(row),), {row.id: "already stored"})
    return None


def log(tx: Writing, pen: Pen, asked: Asked) -> Kept:
    """Store one entry. What happened is never refused; only what cannot be read is."""
    what = read_what(asked.kind, 1, asked.values)
    if not asked.subjects and not isinstance(what, Void):
        raise EntryUnreadable("entry.subjects", "an entry must say what it is about")
    entry_id = asked.entry_id or pen.new_id()
    what = keep_note(tx, what, entry_id=entry_id, subjects=asked.subjects, writer=pen.who)
    asked = replace(asked, values=values_of(what))
    when = when_of(at=asked.at, about=asked.about, now=pen.now, zone=ZoneInfo(room_of(tx).zone))
    again = _sent_again(tx, asked, when) or _tapped_twice(tx, asked, pen.now)
    if again is not None:
        return again
    entry = write_entry(tx, pen, what, asked.subjects, when, task=asked.task, entry_id=entry_id)
    return record(tx, [entry], pen.now)


def entry_sent(sent: Mapping[str, Any], now: datetime) -> Entry:
    """Read an entry that was written elsewhere; its own id, writer, number and times stay."""
    try:
        when = When(*(in_calendar(datetime.fromisoformat(sent[name]), sent[name]) for name in ("earliest", "latest")))
    except ValueError:
        raise EntryUnreadable("entry.times", "the times of an entry must be ISO 8601 with their zone") from None
    if when.earliest > when.latest:
        raise EntryUnreadable("entry.backwards", "an entry's earliest time lies after its latest")
    what = read_what(sent["kind"], 1, sent["values"])
    if not sent["subjects"] and not isinstance(what, Void):
        raise EntryUnreadable("entry.subjects", "an entry must say what it is about")
    return Entry(
        id=sent["id"], writer=sent["writer"], number=sent["number"], when=when, recorded=now, subjects=tuple(sent["subjects"]),
        what=what, who=sent.get("who"), task=sent.get("task"), replaces=sent.get("replaces"),
    )  # fmt: skip


def undo(tx: Writing, pen: Pen, entry_id: str) -> Kept:
    """Take one entry back, for everything it was about; what was put with it by the same tap goes with it."""
    row = log_rows.entry(tx, entry_id)
    if row is None:
        raise UnknownName("entry.unknown", "there is no entry {entry} in this book to take back", entry=entry_id)
    entries = [_void(tx, pen, entry_id, row.subjects)]
    if row.kind == Received.KIND:
        entries += [_void(tx, pen, other.id, other.subjects) for other in _put_with(tx, entry_id)]
    return record(tx, entries, pen.now)


def _void(tx: Writing, pen: Pen, target: str, subjects: tuple[str, ...]) -> Entry:
    return write_entry(
        tx, pen, Void(target, "taken back"), subjects, when_of(at=None, about=None, now=pen.now, zone=ZoneInfo("UTC"))
    )


def _put_with(tx: Reading, entry_id: str) -> list[log_rows.EntryRow]:
    """The move into the freezer that intake stored together with an arrival: same writer, next number, same moment."""
    row = log_rows.entry(tx, entry_id)
    if row is None:
        return []
    return [
        other
        for other in log_rows.entries_of(tx, row.subjects[0])
        if other.kind == Moved.KIND
        and other.writer == row.writer
        and other.number == row.number + 1
        and other.recorded == row.recorded
    ]


def logged(tx: Reading, kept: Kept, now: datetime) -> LoggedCard:
    """Say how one entry went, and the state after it."""
    entry = kept.entries[0]
    if not any(s.startswith("specimen:") for s in entry.subjects):
        return LoggedCard(entry.id, kept.how[entry.id], None, None)
    subject, around = _subject_of(tx, kept, now)
    return LoggedCard(
        entry_id=entry.id,
        stored=kept.how[entry.id],
        tag=subject.specimen.tag,
        state=state_of(subject, around),
        flags=(
            *subject.specimen.flags,
            *check_specimen(subject.specimen, subject.standing, around.known.room, now),
            *part_flags(subject.specimen, subject.standing, around.known.room),
        ),
        cautions=_cautions_after(subject, around.known),
    )


def _cautions_after(subject: Subject, known: Known) -> tuple[Caution, ...]:
    leg = subject.standing.leg
    return cautions_for(subject.specimen, leg, known) if leg is not None else ()


def tell_entry(tx: Reading, entry_id: str) -> Said | None:
    """Return one entry in words, with the tag it is about."""
    row = log_rows.entry(tx, entry_id)
    if row is None:
        return None
    try:
        entry = from_row(row)
    except EntryUnreadable:
        return None
    known = known_of(tx)
    around = Surroundings(known, None, names_of_people(tx), row.recorded, people.note_texts(tx))
    what = told(entry, names_of(around))
    tags_of = [specimen_by_subject(tx, s).tag for s in row.subjects if s.startswith("specimen:")]
    named = ", ".join(dict.fromkeys(tag for tag in tags_of if tag))
    if len(row.subjects) == 1 and "/" in row.subjects[0]:
        named += f" {row.subjects[0].split('/', 1)[1]}"
    return said("told.after", "Stored: {named} " + what.template, **{**what.values, "named": named})


def show(tx: Reading, tag: str, now: datetime) -> SpecimenCard:
    """Return one specimen, whole."""
    known = known_of(tx)
    specimen = specimen_by_tag(tx, tag)
    story, entries = story_of(tx, specimen_subject(specimen.id))
    return specimen_card(subject_of(specimen, known), entries, story.voided, surroundings(tx, known, now))


def listed(
    tx: Reading, now: datetime, *, step: str | None = None, place: str | None = None, owner: str | None = None, late: bool = False
) -> SpecimenListCard:
    """Return the list, as it was asked for; finished ones only when the last step, handing over, is asked for."""
    known = known_of(tx)
    around = surroundings(tx, known, now)
    through = finished(tx, known)
    wanted = _known_step(step) if step is not None else None
    rows = [specimen_row(subject, around) for subject in everything_in_work(tx, known)]
    if wanted is not None:
        rows = [row for row in rows if row.step == wanted]
    if wanted == Step.HAND_OVER:
        rows += [specimen_row(subject, around) for subject in through]
    if place is not None:
        rows = [row for row in rows if place.casefold() in ((row.place or "").casefold(), (row.place_name or "").casefold())]
    if owner is not None:
        rows = [row for row in rows if owner.casefold() in (row.owner or "").casefold()]
    if late:
        rows = [row for row in rows if row.late_days > 0]
    return SpecimenListCard(
        rows=tuple(rows),
        finished_left_out=0 if wanted == Step.HAND_OVER else len(through),
        teach=_teach(rows, asked=any((step, place, owner, late))),
    )


def _known_step(text: str) -> str:
    for step in Step:
        if text.strip().casefold().replace("-", " ") == step.value:
            return step.value
    raise UnknownName("specimen.step", "'{text}' is no step; the steps are: {steps}", text=text, steps=", ".join(Step),
                      could_be=tuple(Step))  # fmt: skip


def _teach(rows: list[Any], *, asked: bool) -> Said | None:
    if rows:
        return None
    if asked:
        return said("teach.no_match", "No specimen answers to that. Ask for less.")
    return said("teach.first", "Nothing is in the room. Add the first specimen; its steps and dates follow from that.")
