"""Today in an open transaction."""

from datetime import datetime

from bonebench.records import entries as log_rows
from bonebench.records.book import Reading
from bonebench.services.gather import everything_in_work, finished, kept_plan, known_of, names_of_people
from bonebench.services.plans.stored import StoredPlan
from bonebench.services.today.cards import TodayCard
from bonebench.services.today.show import Morning, today_card


def today(tx: Reading, now: datetime, *, demo: bool, minutes: float | None = None) -> TodayCard:
    """Return the day's work from the plan that is kept."""
    known = known_of(tx)
    plan = kept_plan(tx) or StoredPlan(-1, now, known.room.day(now), "", (), (), (), ())
    return today_card(
        Morning(
            now=now,
            known=known,
            subjects=everything_in_work(tx, known),
            handed_over=finished(tx, known),
            plan=plan,
            people=names_of_people(tx),
            demo=demo,
            clashes=len(log_rows.asides(tx)),
        ),
        minutes=minutes,
    )
