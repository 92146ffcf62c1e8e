"""Gather what a plan is made from, make it outside any transaction, and keep it if the book has not moved on meanwhile."""

from dataclasses import dataclass
from datetime import datetime

from bonebench.records import plans
from bonebench.records.book import Reading, Writing
from bonebench.services.gather import everything_in_work, kept_plan, known_of
from bonebench.services.known import Known
from bonebench.services.plans.make import NONE_EARLIER, Earlier, make_plan
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.stored import StoredPlan, plan_from_json, plan_to_json

KIND, DAY_BEFORE = "working", "day before"


@dataclass(frozen=True, slots=True)
class Gathered:
    """Everything a plan is made from, at one revision of the book."""

    known: Known
    subjects: tuple[Subject, ...]
    now: datetime
    work_revision: int
    earlier: Earlier = NONE_EARLIER


def plan_of_day_before(tx: Reading) -> StoredPlan | None:
    """Return the last plan of an earlier day."""
    plain = plans.latest(tx, DAY_BEFORE)
    return None if plain is None else plan_from_json(plain)


def gather(tx: Reading, now: datetime) -> Gathered | None:
    """Return what a new plan needs, or None while the kept one is of this revision and this day."""
    known = known_of(tx, now)
    plan = kept_plan(tx)
    revision = plans.work_revision(tx)
    if plan is not None and plan.work_revision == revision and plan.day == known.room.day(now):
        return None
    return Gathered(known, everything_in_work(tx, known), now, revision, Earlier(plan, plan_of_day_before(tx)))


def compute(gathered: Gathered) -> StoredPlan:
    """Make the plan."""
    return make_plan(
        gathered.subjects, gathered.known, now=gathered.now, work_revision=gathered.work_revision, earlier=gathered.earlier
    )


def keep(tx: Writing, plan: StoredPlan) -> bool:
    """Keep a plan; False where the book has moved on since it was gathered. The last plan of a day stays for the next."""
    last = kept_plan(tx)
    if last is not None and last.day < plan.day:
        plans.put(tx, DAY_BEFORE, plan_to_json(last), work_revision=last.work_revision, made_at=last.made_at)
    return plans.keep(tx, KIND, plan_to_json(plan), work_revision=plan.work_revision, made_at=plan.made_at)
