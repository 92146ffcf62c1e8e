"""Build the invented room for a given day: the same entries for the same seed and day."""

import random
import shutil
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import msgspec

from bonebench.demo import room as invented
from bonebench.demo.baths import bath_entries
from bonebench.demo.beetles import SETTINGS, colony_entries
from bonebench.demo.kept import kept_entries
from bonebench.demo.photos import photo_entries
from bonebench.demo.stories import FINISHED_ON, PLACE_OF, STORIES, Story, seen_of, way_there
from bonebench.door import Door
from bonebench.records import attached, states
from bonebench.records.book import Book, Writing, about, remove_file, set_demo
from bonebench.reference.rounds import load_rounds
from bonebench.services.log.record import Pen, record, write_entry
from bonebench.services.rooms.do import new_person, room_of, set_up
from bonebench.services.specimens.do import next_tag
from bonebench.services.tags.do import issue
from bonebench.shop.entries import (
    Done,
    Entry,
    FeatureSet,
    Held,
    Joined,
    Left,
    Moved,
    PersonSet,
    Problem,
    Received,
    RoomDescribed,
    RoundDone,
    What,
    exactly,
    specimen_subject,
)
from bonebench.shop.fold import FOLD_VERSION
from bonebench.shop.identity import uuid7
from bonebench.shop.leaving import leaving_card
from bonebench.shop.prices import PricesSet
from bonebench.shop.room import WEEKDAYS
from bonebench.shop.rounds import ROOM_PLACE, History, due, place_subject
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import Step

SEED = 8437
WRITER = "demo"
OFFERED_FRESH_AFTER = timedelta(days=14)
# The hour the demo is made for; everything happened before it.
MORNING = time(7, 30)
ROOM_AGE_DAYS = 180
ROUNDS_DAYS = 56
ROUNDS_ON = ("mon", "tue", "wed", "thu", "fri", "sat")
ROUNDS_AT = time(9)


def make_demo(where: str | Path, day: date, *, seed: int = SEED) -> None:
    """Make the demo book for a local day; refuses where something is already."""
    rng = random.Random(seed)
    zone = ZoneInfo(invented.ZONE)
    now = datetime.combine(day, MORNING, zone)
    start = now - timedelta(days=ROOM_AGE_DAYS)
    book = Book.create(where, kind="demo", book_id=uuid7(start, rng), now=start, fold_version=FOLD_VERSION)
    try:
        with book.writing() as tx:
            people = _furnish(tx, start, rng)
            for story in sorted(((tuple(way_there(s, rng)), s) for s in STORIES), key=lambda pair: -pair[0][0][0]):
                _live(tx, *story, now, rng)
            _walk_rounds(tx, now, people, rng)
            issue(tx, _pen(now - timedelta(days=3), rng), 24, "Shed roll")
            record(tx, kept_entries(tx, now, lambda what, subjects, at: _entry(tx, what, subjects, at, rng)), now)
            record(tx, bath_entries(now, rng, lambda what, subjects, at: _entry(tx, what, subjects, at, rng)), now)
            record(tx, colony_entries(now, lambda what, subjects, at: _entry(tx, what, subjects, at, rng)), now)
            pieces = [msgspec.convert(state, Specimen) for state in states.specimens(tx, finished=False)]
            record(tx, photo_entries(tx, book, pieces, now, lambda what, about_it, at: _entry(tx, what, about_it, at, rng)), now)
            prices = PricesSet(invented.CURRENCY, start.date(), dict(invented.PRICES))
            set_up(tx, _pen(now - timedelta(days=2), rng), [prices])
            set_demo(tx, day, about(tx).entries)
        Door(book, clock=lambda: now, rng=rng, writer=WRITER).make_current(now)
    finally:
        book.close()


def _pen(at: datetime, rng: random.Random, who: str | None = None) -> Pen:
    return Pen(WRITER, who, lambda: uuid7(at, rng), at)


def _furnish(tx: Writing, at: datetime, rng: random.Random) -> list[str]:
    """Set the room up, and return the ids of its people."""
    pen = _pen(at, rng)
    people = [(worker, new_person(tx, pen, worker.name)) for worker in invented.WORKERS]
    for name in invented.OWNERS:
        new_person(tx, pen, name)
    settings: list[What] = [RoomDescribed(invented.NAME, invented.ZONE, invented.UNITS), *invented.PLACES]
    settings += [PersonSet(person, worker.hours, worker.trained) for worker, person in people]
    settings += [FeatureSet(invented.FEATURES), SETTINGS]
    set_up(tx, pen, settings)
    return [person for _, person in people]


def _live(tx: Writing, way: tuple[tuple[float, Step], ...], story: Story, now: datetime, rng: random.Random) -> None:
    """Write what happened to one specimen."""
    came = now - timedelta(days=way[0][0] + 0.05)
    specimen = uuid7(came, rng)
    pen = _pen(came, rng)
    arrived = Received(
        tag=next_tag(tx),
        species=story.species,
        owner=new_person(tx, pen, invented.OWNERS[story.owner]),
        head_mass_kg=story.head_kg,
        sex=story.sex,
        finish=story.finish,
        measure=story.measure,
        promised=None if story.promised_in is None else (now + timedelta(days=story.promised_in)).date(),
        parts=story.parts,
        answers=dict.fromkeys(("bite", "drug"), "no") | ({story.held[0]: "unknown"} if story.held is not None else {}),
    )
    subject = (specimen_subject(specimen),)
    entries = [_entry(tx, arrived, subject, came, rng)]
    if story.lot is not None:
        entries.append(_entry(tx, Joined("tray-of-mice", story.lot, tray=True), subject, came, rng))
    if story.held is not None:
        entries.append(_entry(tx, Held(story.held[1], story.held[0]), subject, came, rng))
    for ago, step in way:
        at = now - timedelta(days=ago)
        entries += [_entry(tx, what, about_it, at, rng) for what, about_it in _done(step, story, specimen)]
    entries += [_entry(tx, what, subject, now - timedelta(days=ago), rng) for ago, what in seen_of(story, way)]
    if story.problem is not None:
        entries.append(_entry(tx, Problem(story.problem), subject, now - timedelta(days=story.days / 2), rng))
    entries += [_entry(tx, what, subject, now - timedelta(days=ago), rng) for ago, what in story.teeth]
    record(tx, entries, now)


def _done(step: Step, story: Story, specimen: str) -> Iterator[tuple[What, tuple[str, ...]]]:
    """Return what is written when a step begins or is done, and about what; antlers stay out of every bath, dry on the rack."""
    whole = (specimen_subject(specimen),)
    wet = tuple(specimen_subject(specimen, part) for part in story.parts if part != "antlers")
    place = story.pot if step is Step.DEGREASE else PLACE_OF.get(step)
    if place is None:
        yield Done(step), whole
        if step is Step.FINISH:
            yield Moved(FINISHED_ON), whole
        return
    antlered = "antlers" in story.parts and step.position >= Step.BEETLES.position
    if antlered and step is Step.BEETLES:
        yield Moved("drying-rack"), (specimen_subject(specimen, "antlers"),)
    yield Moved(place, step), wet if antlered else whole


def _entry(tx: Writing, what: What, subjects: tuple[str, ...], at: datetime, rng: random.Random) -> Entry:
    return write_entry(tx, _pen(at, rng), what, subjects, exactly(at))


def _walk_rounds(tx: Writing, now: datetime, people: list[str], rng: random.Random) -> None:
    """Eight weeks of rounds, each done on a working day when it was due, and the leaving card at the end of the day."""
    room = room_of(tx)
    since = {place.key: room.day(now) - timedelta(days=ROUNDS_DAYS) for place in room.places}
    since[ROOM_PLACE] = min(since.values())
    done: dict[tuple[str, str], date] = {}
    entries: list[Entry] = []
    for ago in range(ROUNDS_DAYS, 0, -1):
        day = room.day(now) - timedelta(days=ago)
        if WEEKDAYS[day.weekday()] not in ROUNDS_ON:
            continue
        at = datetime.combine(day, ROUNDS_AT, ZoneInfo(room.zone))
        pen = _pen(at, rng, people[0])
        for one in due(load_rounds(), places=room.places, features=room.features, done=done, today=day, history=History(since)):
            done[one.round.key, one.place] = day
            what = RoundDone(one.round.key, one.due_by)
            entries.append(write_entry(tx, pen, what, (place_subject(one.place),), exactly(at), task=one.task))
        ticks = tuple(tick.key for tick in leaving_card(room.features))
        entries.append(write_entry(tx, pen, Left(ticks), (place_subject(ROOM_PLACE),), exactly(at + timedelta(hours=3))))
    record(tx, entries, now)


def freshen(where: str | Path, day: date) -> bool:
    """Make the demo again for today while nobody has added anything to it; returns whether it was."""
    book = Book.open(where)
    try:
        with book.reading() as tx:
            said = about(tx)
    finally:
        book.close()
    if said.kind != "demo" or said.demo_day == day or said.entries != said.demo_entries:
        return False
    building = Path(f"{where}.fresh")
    remove_file(str(building))
    make_demo(building, day)
    remove_file(str(where))
    building.replace(where)
    _move_folder(attached.folder_of(str(building)), attached.folder_of(str(where)))
    return True


def _move_folder(source: Path, to: Path) -> None:
    """Put the fresh demo's photos where those of the old one are; they are named by what they hold."""
    to.mkdir(exist_ok=True)
    for path in source.glob("*.jpg"):
        path.replace(to / path.name)
    shutil.rmtree(source, ignore_errors=True)


def ensure_demo(where: str | Path, now: datetime) -> None:
    """Make the demo book if there is none, and anchor it to today while it is untouched."""
    day = now.astimezone(ZoneInfo(invented.ZONE)).date()
    if Path(where).exists():
        freshen(where, day)
    else:
        make_demo(where, day)
