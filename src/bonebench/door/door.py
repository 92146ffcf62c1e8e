"""One open book, with a clock and dice from outside."""

import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from pathlib import Path
from types import TracebackType
from typing import Any, Literal, TypeVar
from zoneinfo import ZoneInfo

from bonebench.door.baths import Baths
from bonebench.door.colony import Colonies
from bonebench.door.parts import Parts
from bonebench.door.photos import Photos
from bonebench.door.prints import Prints
from bonebench.door.settings import Settings
from bonebench.door.teeth import Teeth
from bonebench.errors import BookError, BookNotWritable
from bonebench.records.backup import backup, check
from bonebench.records.book import Book, Writing
from bonebench.records.moving import move_book
from bonebench.said import Said
from bonebench.services import books, jobs, keeping
from bonebench.services.books import BookCard
from bonebench.services.calendar import do as calendar
from bonebench.services.calendar.cards import PlanCard
from bonebench.services.catchup import do as catchup
from bonebench.services.catchup.cards import CatchUpCard
from bonebench.services.colony.farecard import with_piece
from bonebench.services.gather import known_of
from bonebench.services.jobs import JobCard, JobsCard
from bonebench.services.known import Known
from bonebench.services.log.record import Pen, StoredAs, record
from bonebench.services.rooms import do as rooms
from bonebench.services.rooms import settings
from bonebench.services.rooms.cards import RoomCard
from bonebench.services.search import do as search
from bonebench.services.search.cards import SearchCard
from bonebench.services.species import do as species_service
from bonebench.services.species.cards import SpeciesCard, SpeciesListCard
from bonebench.services.specimens import do as specimens
from bonebench.services.specimens.cards import AddedCard, LoggedCard, SpecimenCard, SpecimenListCard
from bonebench.services.specimens.intake import Intake
from bonebench.services.specimens.notes import with_note_kept
from bonebench.services.today import do as today_service
from bonebench.services.today.cards import TodayCard
from bonebench.shop.fold import FOLD_VERSION
from bonebench.shop.identity import uuid7
from bonebench.units import Reader

T = TypeVar("T")

# How often a plan is made again because somebody wrote in between; after that the newest stays for the next look.
TRIES = 3


@dataclass(frozen=True, slots=True)
class Surface:
    """What every page says of the room before its own card."""

    room_name: str
    zone: str
    demo: bool
    people: Mapping[str, str]
    reader: Reader


class Door(Settings, Baths, Colonies, Photos, Teeth, Prints, Parts):
    """One open book with a clock, dice, and the name of the device that writes."""

    def __init__(
        self, book: Book, *, clock: Callable[[], datetime], rng: random.Random, writer: str, who: str | None = None
    ) -> None:
        self.book = book
        self._clock = clock
        self._rng = rng
        self._writer = writer
        self._who = who

    @classmethod
    def open(
        cls, where: str | Path, *, clock: Callable[[], datetime], rng: random.Random, writer: str, who: str | None = None
    ) -> "Door":
        """Open a book that is there."""
        door = cls(Book.open(where), clock=clock, rng=rng, writer=writer)
        door._fold_if_older()
        if who is not None:
            with door.book.reading() as tx:
                door._who = rooms.person_named(tx, who)
        return door

    @classmethod
    def make(
        cls,
        where: str | Path,
        *,
        name: str,
        zone: str,
        units: str,
        clock: Callable[[], datetime],
        rng: random.Random,
        writer: str,
        places: bool = True,
    ) -> "Door":
        """Make a new book, with one place of each kind unless ``places`` is False; refuses what cannot be beforehand."""
        described = rooms.checked_setting(settings.read_room(name, zone, units), ())
        now = clock()
        book = Book.create(where, kind="room", book_id=uuid7(now, rng), now=now, fold_version=FOLD_VERSION)
        door = cls(book, clock=clock, rng=rng, writer=writer)
        door.write(lambda tx, pen: rooms.set_up(tx, pen, [described, *(rooms.starter_places() if places else ())]))
        return door

    def __enter__(self) -> "Door":
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """Let the book go."""
        self.book.close()

    def now(self) -> datetime:
        """Read this door's clock."""
        return self._clock()

    def pen(self, who: str | None = None) -> Pen:
        """Return what entries are written with now."""
        now = self.now()
        return Pen(self._writer, who or self._who, lambda: uuid7(now, self._rng), now)

    def surface(self) -> Surface:
        """Return what every page says of the room."""
        with self.book.reading() as tx:
            room = rooms.room_of(tx)
            return Surface(
                room.name or "Bone room", room.zone, self.book.demo, rooms.names_of_workers(tx), self._reader(room.units, room.zone)
            )

    def reader(self) -> Reader:
        """Return how this room's people read quantities."""
        with self.book.reading() as tx:
            room = rooms.room_of(tx)
            return self._reader(room.units, room.zone)

    def _reader(self, units: Literal["metric", "us"], zone: str) -> Reader:
        return Reader(units, self.now().astimezone(ZoneInfo(zone)).date())

    # -- looking ---------------------------------------------------------------------------------------------------------------

    def today(self, *, on: date | None = None, minutes: float | None = None, who: str | None = None) -> TodayCard:
        """Return the day's work; on another day, what the plan as it stands has for it."""
        now = self.now()
        self.make_current(now)
        with self.book.reading() as tx:
            at = now
            if on is not None and on != rooms.room_of(tx).day(now):
                at = datetime.combine(on, time(7), ZoneInfo(rooms.room_of(tx).zone))
            return today_service.today(tx, at, demo=self.book.demo, minutes=minutes, who=who or self._who)

    def specimens(
        self, *, step: str | None = None, place: str | None = None, owner: str | None = None, late: bool = False
    ) -> SpecimenListCard:
        """Return the list, as it was asked for."""
        now = self.now()
        self.make_current(now)
        with self.book.reading() as tx:
            return specimens.listed(tx, now, step=step, place=place, owner=owner, late=late)

    def work(self, act: Callable[[Known], T]) -> T:
        """Do one calculation that needs what is known in the room, and no entry."""
        with self.book.reading() as tx:
            return act(known_of(tx))

    def find(self, asked: str) -> SearchCard:
        """Return what answers to some words: tag, owner, species, place, note."""
        with self.book.reading() as tx:
            return search.find(tx, asked)

    def specimen(self, tag: str) -> SpecimenCard:
        """Return one specimen, whole."""
        now = self.now()
        self.make_current(now)
        with self.book.reading() as tx:
            return with_piece(tx, specimens.show(tx, tag, now), now)

    def catch_up(self) -> CatchUpCard:
        """Return the walk through the room after days without a word."""
        now = self.now()
        with self.book.reading() as tx:
            return catchup.catch_up(tx, now)

    def room(self) -> RoomCard:
        """Return the room as it stands."""
        now = self.now()
        self.make_current(now)
        with self.book.reading() as tx:
            return rooms.show(tx, now, demo=self.book.demo)

    def species(self, query: str) -> SpeciesCard:
        """Return one species with the standing of every value."""
        reader = self.reader()
        with self.book.reading() as tx:
            return species_service.show(tx, query, reader)

    def species_list(self, query: str) -> SpeciesListCard:
        """Return the species that answer to a word."""
        with self.book.reading() as tx:
            return species_service.listed(tx, query)

    def told(self, entry: str) -> Said | None:
        """Return one entry in words; None if there is none."""
        with self.book.reading() as tx:
            return specimens.tell_entry(tx, entry)

    # -- writing ---------------------------------------------------------------------------------------------------------------

    def write(self, act: Callable[[Writing, Pen], T], who: str | None = None) -> T:
        """Do one thing in one write transaction, then make the plan current."""
        pen = self.pen(who)
        with self.book.writing() as tx:
            result = act(tx, pen)
        self.make_current(pen.now)
        return result

    def add(self, intake: Intake, who: str | None = None) -> AddedCard:
        """Take a specimen in and say when it will be ready."""
        added = self.write(lambda tx, pen: specimens.add(tx, pen, intake), who)
        with self.book.reading() as tx:
            return specimens.added(tx, added, self.now())

    def tap(
        self,
        *,
        kind: str,
        subjects: Sequence[str],
        values: Mapping[str, Any],
        task: str | None = None,
        at: str | None = None,
        about: str | None = None,
        who: str | None = None,
        entry_id: str | None = None,
    ) -> LoggedCard:
        """Store one entry and say how it went."""
        asked = specimens.Asked(kind, tuple(subjects), dict(values), task, at, about, entry_id)
        kept = self.write(lambda tx, pen: specimens.log(tx, pen, asked), who)
        with self.book.reading() as tx:
            return specimens.logged(tx, kept, self.now())

    def log(
        self, tag: str, kind: str, pairs: Sequence[str], *, parts: Sequence[str] = (), at: str | None = None,
        about: str | None = None, entry_id: str | None = None,
    ) -> LoggedCard:  # fmt: skip
        """Store one entry about a specimen by its tag, its values written like name=value."""
        with self.book.reading() as tx:
            subjects = specimens.subjects_of_tag(tx, tag, parts)
        return self.tap(kind=kind, subjects=subjects, values=settings.read_pairs(pairs), at=at, about=about, entry_id=entry_id)

    def take(self, sent: Mapping[str, Any]) -> StoredAs:
        """Store one entry that was written elsewhere, with its own id, writer, number and times."""
        entry = specimens.entry_sent(sent, self.now())
        with self.book.writing() as tx:
            return record(tx, [with_note_kept(tx, entry)], self.now()).how[entry.id]

    def undo_last(self, tag: str, entry: str | None = None) -> LoggedCard:
        """Take back the last entry about a specimen that still counts, or the one named."""
        with self.book.reading() as tx:
            target = specimens.last_counting(tx, tag) if entry is None else specimens.entry_about(tx, tag, entry)
        return self.undo(target)

    def undo(self, entry: str, who: str | None = None) -> LoggedCard:
        """Take one entry back, for everything it was about."""
        kept = self.write(lambda tx, pen: specimens.undo(tx, pen, entry), who)
        with self.book.reading() as tx:
            return specimens.logged(tx, kept, self.now())

    def set_species(self, name: str, pairs: Sequence[str], who: str | None = None) -> SpeciesCard:
        """Set the room's own figures for a species, or add one."""
        with self.book.reading() as tx:
            what = settings.read_species(tx, name, pairs)
        self.write(lambda tx, pen: rooms.set_up(tx, pen, [what]), who)
        return self.species(what.key)

    # -- the book itself -------------------------------------------------------------------------------------------------------

    def check(self, folded: int | None = None) -> BookCard:
        """Look whether the book is whole."""
        looked = check(self.book)
        with self.book.reading() as tx:
            return books.card(tx, self.book.where, looked.faults, looked.counts, folded)

    def backup(self, to: Path) -> BookCard:
        """Copy the book; the copy is checked before it gets its name."""
        lost = backup(self.book, to)
        return replace(self.check(), flags=(*books.flags_of_copies(self.erased()), *books.flags_of_lost(lost)))

    def erased(self) -> int:
        """How many people were erased from this book."""
        with self.book.reading() as tx:
            return books.erased(tx)

    def erase_person(self, name: str) -> int:
        """Blank a person and the notes about them; the log keeps only an id. Returns how many rows were blanked."""
        with self.book.writing() as tx:
            return rooms.erase(tx, name, self.now())

    def move(self, to: str) -> BookCard:
        """Carry the whole book to another address; this one stays."""
        now = self.now()
        move_book(self.book, to, now=now, book_id=uuid7(now, self._rng), fold_version=FOLD_VERSION)
        with Door.open(to, clock=self._clock, rng=self._rng, writer=self._writer) as moved:
            return moved.check()

    def rebuild(self) -> BookCard:
        """Fold the whole log again."""
        with self.book.writing() as tx:
            folded = books.rebuild(tx)
        self.make_current(self.now())
        return self.check(folded)

    def health(self) -> tuple[bool, bool]:
        """Whether the book can be read, and whether it can be written."""
        try:
            with self.book.reading() as tx:
                books.fold_is_current(tx)
        except BookError:
            return False, False
        try:
            with self.book.writing():
                return True, True
        except BookError:
            return True, False

    def _fold_if_older(self) -> None:
        """A book whose kept states are of another fold is folded again on opening."""
        with self.book.reading() as tx:
            current = books.fold_is_current(tx)
        if not current:
            with self.book.writing() as tx:
                books.rebuild(tx)

    def plan(self, days: int = 28) -> PlanCard:
        """Return the weeks ahead by the plan that is kept."""
        now = self.now()
        self.make_current(now)
        with self.book.reading() as tx:
            return calendar.plan(tx, now, days)

    def book_id(self) -> str:
        """Return the name no other book has."""
        with self.book.reading() as tx:
            return books.identity(tx)

    # -- long work -------------------------------------------------------------------------------------------------------------

    def long_work(self, kind: str | None = None) -> JobsCard:
        """Return the newest pieces of long work."""
        with self.book.reading() as tx:
            return jobs.newest(tx, self.now(), kind)

    def long_work_of(self, job: str) -> JobCard:
        """Return one piece of long work, as far as it is."""
        with self.book.reading() as tx:
            return jobs.job(tx, job, self.now())

    def stop_work(self, job: str) -> JobCard:
        """Ask a piece of long work to stop."""
        with self.book.writing() as tx:
            return jobs.ask_to_stop(tx, job, self.now())

    # -- the plan --------------------------------------------------------------------------------------------------------------

    def make_current(self, now: datetime) -> bool:
        """Make the plan again if the book or the day moved on; returns whether the kept plan is current afterwards."""
        for _ in range(TRIES):
            with self.book.reading() as tx:
                gathered = keeping.gather(tx, now)
            if gathered is None:
                return True
            plan = keeping.compute(gathered)
            try:
                with self.book.writing() as tx:
                    if keeping.keep(tx, plan):
                        return True
            except BookNotWritable:
                # A book that takes no writing can still be looked at, with the plan it has.
                return False
        return False
