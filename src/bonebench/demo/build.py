"""Build the invented room for a given day: the same entries for the same seed and day."""

import random
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bonebench.demo import room as invented
from bonebench.door import Door
from bonebench.records.book import Book, Writing, about, remove_file, set_demo
from bonebench.services.log.record import Pen, record, write_entry
from bonebench.services.rooms.do import new_person, set_up
from bonebench.services.specimens.do import next_tag
from bonebench.shop.entries import (
    Done,
    Entry,
    Held,
    Joined,
    Moved,
    PersonSet,
    Received,
    RoomDescribed,
    What,
    exactly,
    specimen_subject,
)
from bonebench.shop.fold import FOLD_VERSION
from bonebench.shop.identity import uuid7

SEED = 8437
WRITER = "demo"
OFFERED_FRESH_AFTER = timedelta(days=14)
# The hour the demo is made for; everything happened before it.
MORNING = time(7, 30)


def make_demo(where: str | Path, day: date, *, seed: int = SEED) -> None:
    """Make the demo book for a local day; refuses where something is already."""
    rng = random.Random(seed)
    zone = ZoneInfo(invented.ZONE)
    now = datetime.combine(day, MORNING, zone)
    start = now - timedelta(days=120)
    book = Book.create(where, kind="demo", book_id=uuid7(start, rng), now=start, fold_version=FOLD_VERSION)
    try:
        with book.writing() as tx:
            _furnish(tx, start, rng)
            for story in invented.STORIES:
                _live(tx, story, now, rng)
            set_demo(tx, day, about(tx).entries)
        Door(book, clock=lambda: now, rng=rng, writer=WRITER).make_current(now)
    finally:
        book.close()


def _pen(at: datetime, rng: random.Random) -> Pen:
    return Pen(WRITER, None, lambda: uuid7(at, rng), at)


def _furnish(tx: Writing, at: datetime, rng: random.Random) -> None:
    pen = _pen(at, rng)
    people = [(worker, new_person(tx, pen, worker.name)) for worker in invented.WORKERS]
    for name in invented.OWNERS:
        new_person(tx, pen, name)
    settings: list[What] = [RoomDescribed(invented.NAME, invented.ZONE, invented.UNITS), *invented.PLACES]
    settings += [PersonSet(person, worker.hours, worker.trained) for worker, person in people]
    set_up(tx, pen, settings)


def _live(tx: Writing, story: invented.Story, now: datetime, rng: random.Random) -> None:
    """Write what happened to one specimen."""
    specimen = uuid7(now - timedelta(days=story.arrived), rng)
    pen = _pen(now - timedelta(days=story.arrived), rng)
    owner = new_person(tx, pen, story.owner)
    arrived = Received(
        tag=next_tag(tx),
        species=story.species,
        owner=owner,
        head_mass_kg=story.head_kg,
        sex=story.sex,
        finish=story.finish,
        measure=story.measure,
        promised=None if story.promised_in is None else (now + timedelta(days=story.promised_in)).date(),
        parts=story.parts,
    )
    subject = (specimen_subject(specimen),)
    came = now - timedelta(days=story.arrived)
    entries = [_entry(tx, arrived, subject, came, rng)]
    if story.lot is not None:
        entries.append(_entry(tx, Joined("tray-of-mice", story.lot, tray=True), subject, came, rng))
    entries += [_entry(tx, what, subject, now - timedelta(days=days), rng) for days, what in _whats(story)]
    record(tx, entries, now)


def _whats(story: invented.Story) -> Iterator[tuple[float, What]]:
    for event in story.happened:
        if event.kind == "moved" and event.place is not None:
            yield event.days_ago, Moved(event.place, event.step)
        elif event.kind == "done" and event.step is not None:
            yield event.days_ago, Done(event.step)
        elif event.kind == "held":
            yield event.days_ago, Held(event.text)
        else:
            raise ValueError(f"the invented room holds a {event.kind} that nobody can write")


def _entry(tx: Writing, what: What, subjects: tuple[str, ...], at: datetime, rng: random.Random) -> Entry:
    return write_entry(tx, _pen(at, rng), what, subjects, exactly(at))


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
    return True


def ensure_demo(where: str | Path, now: datetime) -> None:
    """Make the demo book if there is none, and anchor it to today while it is untouched."""
    day = now.astimezone(ZoneInfo(invented.ZONE)).date()
    if Path(where).exists():
        freshen(where, day)
    else:
        make_demo(where, day)
