"""Look at the plan that is kept."""

from datetime import datetime

from bonebench.errors import OutsideRange
from bonebench.records.book import Reading
from bonebench.services.calendar.cards import PlanCard
from bonebench.services.calendar.show import MOST_WEEKS, plan_card
from bonebench.services.gather import everything_in_work, known_of, surroundings
from bonebench.services.plans.stored import StoredPlan


def plan(tx: Reading, now: datetime, days: int) -> PlanCard:
    """Return the plan for so many days from today; Today and this one read the same kept plan."""
    if not 1 <= days <= 7 * MOST_WEEKS:
        raise OutsideRange(
            "plan.days", "{days} days were asked for; the calendar shows 1 to {most}", days=days, most=7 * MOST_WEEKS
        )
    known = known_of(tx, now)
    around = surroundings(tx, known, now)
    kept = around.plan or StoredPlan(-1, now, known.room.day(now), "", (), (), (), ())
    return plan_card(everything_in_work(tx, known), around, kept, days=days)
