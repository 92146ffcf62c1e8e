"""The cards of the season ahead."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Basis, Caution, Flag, Said, SpeciesName
from bonebench.services.jobs import JobCard


@dataclass(frozen=True)
class KindCard:
    """Piece-days asked of one kind of place in a month against those there are."""

    kind: str
    wanted_days: float
    there_days: float
    share: float | None


@dataclass(frozen=True)
class HandsCard:
    """Hours asked of the people trained for any of these kinds of work in a month against those they are there.

    ``share`` is None where something is wanted and nobody trained for it is there.
    """

    work: tuple[str, ...]
    wanted_hours: float
    there_hours: float
    share: float | None


@dataclass(frozen=True)
class MonthCard:
    """What comes in during one month; the first counts what is in the room already, for the days left of it.

    ``appetite_kg`` is None where no box says what its beetles eat; ``tightest`` is a kind of place, *appetite* or *hands*, None
    where nothing is asked for; ``share`` is None beside it where hands are wanted that nobody has. ``hands`` are the kinds of
    work one by one, then all of them together; ``tightest_hands`` is the set of them that is asked for most: who is trained for
    everything has one pair of hands. Both are empty where nobody said who works when. ``hands_words`` says how much of them is
    asked for where something else is tighter.
    """

    first: date
    pieces: float
    tissue_kg: float
    appetite_kg: float | None
    kinds: tuple[KindCard, ...]
    hands: tuple[HandsCard, ...]
    tightest_hands: HandsCard | None
    tightest: str | None
    share: float | None
    words: Said
    hands_words: Said | None


@dataclass(frozen=True)
class LevelCard:
    """The most that is in the freezer during the week from one day."""

    day: date
    level: float


@dataclass(frozen=True)
class FreezerCard:
    """How full the freezer gets, week by week, in ``measure``: pieces, L or kg. ``holds`` is None where nobody said."""

    measure: str
    holds: float | None
    most: float
    most_on: date
    full_on: date | None
    weeks: tuple[LevelCard, ...]
    words: Said


@dataclass(frozen=True)
class HolidayCard:
    """The last day to take in such a piece so that four of five are through by a day; None: not even today.

    The dates are those of a piece taken in on that day, or today.
    """

    species: SpeciesName
    through_by: date
    last_day: date | None
    p50: date | None
    p80: date | None
    p95: date | None
    words: Said


@dataclass(frozen=True)
class SeasonCard:
    """The season ahead; ``arrivals_a_year`` is None where too few came in the last year to expect anybody."""

    months: tuple[MonthCard, ...]
    freezer: FreezerCard | None
    holiday: HolidayCard | None
    in_work: int
    arrivals_a_year: float | None
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "season/1"


@dataclass(frozen=True)
class HolidayKeptCard:
    """The last day for a holiday that was worked out beside the pages last, with its age; ``job`` is the newest such work.

    ``current`` says whether nothing was written in the book since; ``replays`` on how many it rests. None where none is kept.
    """

    job: JobCard | None
    holiday: HolidayCard | None
    replays: int | None
    made_at: datetime | None
    current: bool | None
    age: Said | None
    schema: str = "season.holiday.kept/1"
