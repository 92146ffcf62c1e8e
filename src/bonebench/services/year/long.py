"""The last day for a holiday in a large room, or by more replays: worked out in a process of its own, kept, shown again."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from bonebench.errors import OutsideRange
from bonebench.planning.promise import PROMISE_REPLAYS, QUOTE_REPLAYS
from bonebench.records import plans
from bonebench.records.book import Reading, Writing
from bonebench.said import Said, said
from bonebench.services import jobs
from bonebench.services.at_length import age_words, keep_answer, kept_answer, read_back
from bonebench.services.gather import known_of
from bonebench.services.promise.do import for_quote
from bonebench.services.promise.quote import Gathered
from bonebench.services.year.cards import HolidayCard, HolidayKeptCard
from bonebench.services.year.do import AskedSeason, holiday, read_holiday

KIND = "holiday"
CLOSER_REPLAYS = PROMISE_REPLAYS  # a closer look: as many as a promise rests on
MOST_REPLAYS = 5000
Report = Callable[[float, Said, HolidayCard | None], None]


@dataclass(frozen=True, slots=True)
class Long:
    """What was asked, by how many replays, of which room, and the revision of the book that room is of."""

    asked: AskedSeason
    replays: int
    room: Gathered
    work_revision: int


def as_asked(day: str, species: str, replays: int = QUOTE_REPLAYS) -> dict[str, Any]:
    """Return a question as it is written down with the work."""
    return {"holiday": day, "species": species, "replays": replays}


def for_long(tx: Reading, now: datetime, asked: Mapping[str, Any]) -> Long:
    """Return what the work needs; what cannot be is refused before it begins."""
    wanted, replays = AskedSeason(holiday=asked["holiday"], species=asked["species"]), asked["replays"]
    if not 1 <= replays <= MOST_REPLAYS:
        raise OutsideRange(
            "season.replays", "{replays} replays were asked for; it is 1 to {most}", replays=replays, most=MOST_REPLAYS
        )
    read_holiday(wanted, known_of(tx), now)
    return Long(wanted, replays, for_quote(tx, now), plans.work_revision(tx))


def work_out(long: Long, report: Report) -> HolidayCard:
    """Replay the room for one day after another, halving what is left; tells how far it is."""
    words = said("season.holiday.replaying", "replaying the room {replays} times for each day that is tried", replays=long.replays)
    return holiday(long.asked, long.room, replays=long.replays, heard=lambda share: report(share, words, None))


def keep(tx: Writing, now: datetime, long: Long, card: HolidayCard) -> Mapping[str, Any]:
    """Keep the card in place of the one before, with the revision it was made for."""
    del now
    asked = as_asked(long.asked.holiday or "", long.asked.species or "", long.replays)
    keep_answer(tx, KIND, asked, card, work_revision=long.work_revision, made_at=long.room.now)
    return {"last_day": card.last_day.isoformat() if card.last_day is not None else None, "replays": long.replays}


def kept(tx: Reading, now: datetime) -> HolidayKeptCard:
    """Return the newest work of this kind and the answer that is kept."""
    newest = next(iter(jobs.newest(tx, now, KIND).jobs), None)
    answered = kept_answer(tx, KIND)
    card = read_back(answered.card, HolidayCard) if answered is not None else None
    if answered is None or card is None:
        return HolidayKeptCard(newest, None, None, None, None, None)
    return HolidayKeptCard(
        newest, card, answered.asked["replays"], answered.made_at, answered.current, age_words(answered, now)
    )  # fmt: skip
