"""Places in an open transaction: what should be in one, and a count of what is."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bonebench.errors import InputError, OutsideRange, UnknownName
from bonebench.records.book import Reading, Writing
from bonebench.services.baths.keep import all_baths
from bonebench.services.gather import everything_in_work, known_of, names_of_people, place_logs, specimen_by_tag, surroundings
from bonebench.services.known import Known
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.states import story_of
from bonebench.services.parts.do import place_named
from bonebench.services.places.cards import PlaceBookCard, PlaceListCard, PlaceRow
from bonebench.services.places.show import Around, LastSeen, parts_here, place_card, should_be, subject_of_parts
from bonebench.services.specimens.show import names_of
from bonebench.shop.entries import Done, Entry, Moved, Received, Seen, exactly, root_of, specimen_subject
from bonebench.shop.part_entries import Counted, PartJoined, SampleTaken
from bonebench.shop.room import Place
from bonebench.shop.rounds import place_subject
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen
from bonebench.shop.telling import told

# What says that somebody had a piece in hand or before their eyes.
SAW = (Moved, Seen, Received, Done, PartJoined, SampleTaken)
MOST_FOUND = 100_000


def listed(tx: Reading) -> PlaceListCard:
    """Return the places along the wall with how many things should be in each."""
    known, logs = known_of(tx), place_logs(tx)
    specimens = _in_work(tx, known)
    rows = []
    for place in known.room.places:
        here = [one for one in specimens if parts_here(one, place.key)]
        lost = sum(any(part.missing is not None for part in parts_here(one, place.key)) for one in here)
        count = logs[place.key].count if place.key in logs else None
        rows.append(PlaceRow(place.key, place.name, place.kind.value, len(here), None if count is None else count.at, lost))
    return PlaceListCard(tuple(rows))


def show(tx: Reading, text: str, now: datetime) -> PlaceBookCard:
    """Return what should be in a place, and what its last count found."""
    place, known = place_named(tx, text), known_of(tx)
    log = place_logs(tx).get(place.key)
    return place_card(place, _in_work(tx, known), log.count if log is not None else None, _around(tx, known, now))


def _in_work(tx: Reading, known: Known) -> tuple[Specimen, ...]:
    return tuple(subject.specimen for subject in everything_in_work(tx, known))


def _around(tx: Reading, known: Known, now: datetime) -> Around:
    names = names_of(surroundings(tx, known, now))
    people = names_of_people(tx)

    def last_seen(specimen: Specimen) -> LastSeen | None:
        story, _ = story_of(tx, specimen_subject(specimen.id))
        seen = [entry for entry in story.entries if _saw(entry, specimen)]
        if not seen:
            return None
        entry = seen[-1]
        return LastSeen(told(entry, names), entry, people.get(entry.who or ""))

    return Around(known, people, tuple(all_baths(tx, live=True)), last_seen)


def _saw(entry: Entry, specimen: Specimen) -> bool:
    if isinstance(entry.what, Counted):
        return specimen_subject(specimen.id) in {root_of(subject) for subject in entry.what.seen}
    return isinstance(entry.what, SAW)


@dataclass(frozen=True, slots=True)
class Count:
    """A count as somebody gives it: how many, the tags that were read, and what was ticked."""

    found: int | None = None
    tags: Sequence[str] = ()
    ticked: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class _Read:
    seen: dict[str, None]
    specimens: dict[str, Specimen]
    unknown: tuple[str, ...]


def count(tx: Writing, pen: Pen, text: str, counted: Count) -> Kept:
    """Store a count. Tags nobody knows are kept as they were read; what should be here and was not seen is missing."""
    place, known = place_named(tx, text), known_of(tx)
    _check(counted)
    specimens = _in_work(tx, known)
    read = _read(tx, place, specimens, counted)
    expected = should_be(place, specimens, _around(tx, known, pen.now))
    # Only a number says nothing of which are there, but none is none.
    by_tag = bool(counted.tags or counted.ticked) or counted.found == 0
    missing = [subject for item in expected for subject in item.subject if by_tag and subject not in read.seen]
    what = Counted(place.key, counted.found, tuple(read.seen), tuple(missing), read.unknown, len(expected))
    subjects = (place_subject(place.key), *read.seen, *missing)
    return record(tx, [write_entry(tx, pen, what, subjects, exactly(pen.now))], pen.now)


def _check(counted: Count) -> None:
    if counted.found is None and not counted.tags and not counted.ticked:
        raise InputError(
            "count.nothing", "say how many there are, or tick or scan the tags that are there; write 0 where it is empty"
        )
    if counted.found is not None and not 0 <= counted.found <= MOST_FOUND:
        raise OutsideRange("count.number", "{count} pieces in one place cannot be; count again", count=counted.found)


def _read(tx: Reading, place: Place, specimens: Sequence[Specimen], counted: Count) -> _Read:
    """Sort what was ticked and read into what is known and what is not."""
    seen: dict[str, None] = {subject: None for subject in counted.ticked if subject.startswith("specimen:")}
    there = {specimen_subject(one.id): one for one in specimens}
    unknown = [subject for subject in counted.ticked if root_of(subject) not in there]
    seen = {subject: None for subject in seen if root_of(subject) in there}
    found: dict[str, Specimen] = {}
    for tag in dict.fromkeys(" ".join(tag.split()) for tag in counted.tags if tag.strip()):
        try:
            specimen = specimen_by_tag(tx, tag)
        except UnknownName:
            unknown.append(tag)
            continue
        found[specimen.id] = specimen
        main = main_part(specimen)
        here = parts_here(specimen, place.key)
        subjects = subject_of_parts(specimen, here or ((main,) if main is not None else ()))
        seen |= dict.fromkeys(subjects or (specimen_subject(specimen.id),))
    return _Read(seen, found, tuple(unknown))
