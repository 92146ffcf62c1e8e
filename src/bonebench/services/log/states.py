"""Fold what the log says about a subject, and keep the state where queries find it."""

from collections.abc import Iterable

import msgspec

from bonebench.records import entries as log_rows
from bonebench.records import states
from bonebench.records.book import Reading, Writing, set_fold_version
from bonebench.records.written import WrittenRow, put_written
from bonebench.said import said
from bonebench.services.log.rows import readable
from bonebench.shop.bath import Bath, fold_bath
from bonebench.shop.bath_entries import BATH
from bonebench.shop.entries import ROOM, ClockCorrected, Entry, root_of, writer_subject
from bonebench.shop.flags import Flag
from bonebench.shop.fold import FOLD_VERSION, Story, tell
from bonebench.shop.remembered import remembered
from bonebench.shop.room import Room, fold_room
from bonebench.shop.rounds import PlaceLog, fold_place
from bonebench.shop.specimen import Specimen, fold_specimen
from bonebench.shop.stays import stays_of

SPECIMEN = "specimen:"
PLACE = "place:"


def corrections_of(tx: Reading, writers: Iterable[str]) -> list[ClockCorrected]:
    """Return the clock corrections that count for these writers."""
    found: list[ClockCorrected] = []
    for writer in sorted(set(writers)):
        subject = writer_subject(writer)
        entries, _ = readable(log_rows.entries_of(tx, subject))
        found += [e.what for e in tell(entries, subject).entries if isinstance(e.what, ClockCorrected)]
    return found


def story_of(tx: Reading, subject: str) -> tuple[Story, list[Entry]]:
    """Return the story of one subject, and every entry about it whether it counts or not."""
    entries, unread = readable(log_rows.entries_of(tx, subject))
    story = tell(entries, subject, corrections_of(tx, (entry.writer for entry in entries)))
    if unread:
        flag = Flag(
            said("flag.unread", "{count} entries of a kind this version does not know", count=len(unread)),
            said("flag.unread.next", "nothing is lost: a newer Bonebench reads them"),
        )
        story = Story(story.entries, story.voided, (*story.flags, flag))
    return story, entries


def refold_specimen(tx: Writing, subject: str) -> Specimen:
    """Fold one specimen again and keep its state."""
    story, _ = story_of(tx, subject)
    specimen = fold_specimen(subject.removeprefix(SPECIMEN), story)
    states.put_specimen(
        tx,
        id=specimen.id,
        tag=specimen.tag,
        owner=specimen.owner,
        species=specimen.species,
        finished=specimen.finished,
        state=msgspec.to_builtins(specimen),
        parts=tuple(states.PartRow(part.name, part.place, part.since) for part in specimen.parts),
    )
    taken = (states.StayRow(s.step, s.visit, s.method, specimen.species, specimen.head_mass_kg, s.days) for s in stays_of(specimen))
    states.put_stays(tx, specimen.id, taken)
    put_written(tx, specimen.id, (WrittenRow(one.entry, one.text, one.note) for one in remembered(story.entries)))
    return specimen


def refold_place(tx: Writing, subject: str) -> PlaceLog:
    """Fold one place again and keep its state: its rounds, who saw it last."""
    story, _ = story_of(tx, subject)
    place = fold_place(subject.removeprefix(PLACE), story)
    states.put_place(tx, place.key, msgspec.to_builtins(place))
    return place


def refold_bath(tx: Writing, subject: str) -> Bath:
    """Fold one bath again and keep its state."""
    story, _ = story_of(tx, subject)
    bath = fold_bath(subject.removeprefix(BATH), story)
    states.put_bath(tx, bath.id, place=bath.place, live=bath.live, state=msgspec.to_builtins(bath))
    return bath


def refold_room(tx: Writing) -> Room:
    """Fold the room again and keep its state."""
    story, _ = story_of(tx, ROOM)
    room = fold_room(story)
    states.put_room(tx, msgspec.to_builtins(room))
    return room


def refold(tx: Writing, subjects: Iterable[str]) -> None:
    """Fold again every subject that a change touched; a corrected clock touches all that its writer wrote."""
    roots = {root_of(subject) for subject in subjects}
    for writer in [root for root in roots if root.startswith("writer:")]:
        roots |= {root_of(s) for s in log_rows.subjects_of_writer(tx, writer.removeprefix("writer:"))}
    for root in sorted(roots):
        if root == ROOM:
            refold_room(tx)
        elif root.startswith(SPECIMEN):
            refold_specimen(tx, root)
        elif root.startswith(PLACE):
            refold_place(tx, root)
        elif root.startswith(BATH):
            refold_bath(tx, root)


def rebuild(tx: Writing) -> int:
    """Throw every kept state away and fold the whole log again; return how many subjects that were."""
    states.forget(tx)
    refold_room(tx)
    subjects = sorted({root_of(s) for s in log_rows.all_subjects(tx, SPECIMEN)})
    for subject in subjects:
        refold_specimen(tx, subject)
    places = log_rows.all_subjects(tx, PLACE)
    for place in places:
        refold_place(tx, place)
    baths = log_rows.all_subjects(tx, BATH)
    for bath in baths:
        refold_bath(tx, bath)
    set_fold_version(tx, FOLD_VERSION)
    return len(subjects) + len(places) + len(baths) + 1
