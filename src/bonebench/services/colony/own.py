"""The room's own colony, by its log, for the questions asked of it: where no size is typed, they begin from today's."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import TypeVar

from bonebench.errors import Impossible
from bonebench.records.book import Reading
from bonebench.said import Plain
from bonebench.services.colony.ahead import read_first_day
from bonebench.services.colony.asked import Asked, ByLog
from bonebench.services.colony.book import told_today, why_not_told
from bonebench.services.colony.keep import box_of
from bonebench.services.colony.news import boxes_of
from bonebench.services.gather import everything_in_work, known_of, room_of
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.shop.colony import counts_none, fold_colony
from bonebench.shop.room import Place
from bonebench.shop.rounds import place_subject

T = TypeVar("T")


def by_log(tx: Reading, now: datetime, asked: Asked, *, box: str | None = None, first_day: str | None = None) -> Asked:
    """Return the question with today's colony behind it; as it is where a size was typed.

    ``box`` says whose log, where there are several. Warmth, damp and kind are those of the log unless they were typed.
    """
    if asked.size:
        return asked
    known, room = known_of(tx), room_of(tx)
    place = _box(tx, known, box or "")
    log = fold_colony(story_of(tx, place_subject(place.key))[0])
    today = told_today(known, place, log, everything_in_work(tx, known), now)
    if today is None or log.last_count is None:
        raise _refused(
            "colony.own.uncounted", "{place} does not tell how many there are: {why}; or type a number",
            place=place.name, why=why_not_told(place, log, now).text,
        )  # fmt: skip
    counted = room.day(log.last_count.at)
    if counts_none(log.last_count.what):
        raise _refused(
            "colony.own.none", "nothing alive was counted in {place} on {day:day}: count again first, or type a number",
            place=place.name, day=counted.isoformat(),
        )  # fmt: skip
    if first_day and read_first_day(first_day) != room.day(now):
        raise _refused(
            "colony.own.day",
            "{place} is known as it is today; leave the first day empty, or type how many there are on {day}",
            place=place.name, day=first_day,
        )  # fmt: skip
    colony, mine, fed = today
    read = frozenset(name for name in ("temperature", "humidity") if not getattr(asked, name) and getattr(mine, name))
    return replace(
        asked,
        temperature=asked.temperature or mine.temperature,
        humidity=asked.humidity or mine.humidity,
        beetles=asked.beetles or mine.beetles,
        own=ByLog(colony, place.name, counted, fed, read),
    )


def _box(tx: Reading, known: Known, text: str) -> Place:
    """Return the box that is meant: the one that was named, else the only one that was ever counted."""
    counted = [
        place for place in boxes_of(known) if fold_colony(story_of(tx, place_subject(place.key))[0]).last_count is not None
    ]  # fmt: skip
    return counted[0] if not text.strip() and len(counted) == 1 else box_of(tx, text)


def _refused(key: str, template: str, **values: Plain) -> Impossible:
    return Impossible(key, template, **values)


def ask(
    tx: Reading, now: datetime, asked: Asked, act: Callable[[Known, Asked], T], *, box: str | None = None,
    first_day: str | None = None,
) -> T:  # fmt: skip
    """Ask something of a colony: the one that was typed, else today's by the log of its box."""
    return act(known_of(tx), by_log(tx, now, asked, box=box, first_day=first_day))
