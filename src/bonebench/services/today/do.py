"""Today in an open transaction."""

from datetime import date, datetime

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading
from bonebench.services.baths.do import scene_of
from bonebench.services.baths.keep import all_baths
from bonebench.services.gather import everything_in_work, finished, kept_plan, known_of, names_of_people, place_logs
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.stored import StoredPlan
from bonebench.services.today.baths import bath_tasks
from bonebench.services.today.cards import TodayCard
from bonebench.services.today.colony import fed_boxes
from bonebench.services.today.rounds import RoundBook
from bonebench.services.today.show import Morning, today_card
from bonebench.services.today.tasks import Sorted
from bonebench.shop.rounds import ROOM_PLACE


def round_book(tx: Reading, known: Known, subjects: tuple[Subject, ...], now: datetime) -> RoundBook:
    """Return what the log says of the places, when each was set up, since when each holds something, what boxes were fed."""
    room, logs = known.room, place_logs(tx)
    since = {place.key: room.day(place.since) for place in room.places if place.since is not None}
    if since:
        since[ROOM_PLACE] = min(since.values())
    in_use: dict[str, date] = {}
    for part in (part for subject in subjects for part in subject.specimen.parts):
        if part.place is not None and part.since is not None:
            in_use[part.place] = min(room.day(part.since), in_use.get(part.place, date.max))
    return RoundBook(logs, since, in_use, fed_boxes(known, logs, subjects, now))


def _at_baths(tx: Reading, now: datetime) -> tuple[Sorted, ...]:
    baths = all_baths(tx, live=True)
    return tuple(bath_tasks(baths, scene_of(tx, baths, now))) if baths else ()


def today(tx: Reading, now: datetime, *, demo: bool, minutes: float | None = None, who: str | None = None) -> TodayCard:
    """Return the day's work from the plan that is kept."""
    known = known_of(tx, now)
    plan = kept_plan(tx) or StoredPlan(-1, now, known.room.day(now), "", (), (), (), ())
    subjects = everything_in_work(tx, known)
    return today_card(
        Morning(
            now=now,
            known=known,
            subjects=subjects,
            handed_over=finished(tx, known),
            plan=plan,
            people=names_of_people(tx),
            demo=demo,
            rounds=round_book(tx, known, subjects, now),
            who=who,
            clashes=len(log_rows.asides(tx)),
            at_baths=_at_baths(tx, now),
        ),
        minutes=minutes,
    )
