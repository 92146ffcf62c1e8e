"""Make the plan: the best of the simple rules once, then the same order with every step quick and every step slow."""

from collections.abc import Iterable
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bonebench.planning.dispatch import dispatch
from bonebench.planning.problem import Plan
from bonebench.planning.rules import best_plan
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, problem_of
from bonebench.services.plans.stored import Finish, StoredPlan


def make_plan(subjects: Iterable[Subject], known: Known, *, now: datetime, work_revision: int) -> StoredPlan:
    """Plan the whole room from now on."""
    subjects = tuple(subjects)
    working = best_plan(problem_of(subjects, known, now))
    quick = dispatch(problem_of(subjects, known, now, "quick"), working.order)
    slow = dispatch(problem_of(subjects, known, now, "slow"), working.order)
    zone = ZoneInfo(known.room.zone)
    ends = [finish_days(plan, zone) for plan in (working, quick, slow)]
    return StoredPlan(
        work_revision=work_revision,
        made_at=now,
        day=now.astimezone(zone).date(),
        rule=working.rule,
        order=working.order,
        slots=working.slots,
        late=working.late,
        unplaced=working.unplaced,
        score=working.score,
        finish={key: Finish(*(by_plan.get(key) for by_plan in ends)) for key in working.order},
    )


def finish_days(plan: Plan, zone: ZoneInfo) -> dict[str, date]:
    """Return the local day each piece is through; a piece with a step that found no time is not in it."""
    unplaced = {rest.piece for rest in plan.unplaced}
    ends: dict[str, datetime] = {}
    for slot in plan.slots:
        ends[slot.piece] = max(slot.end, ends.get(slot.piece, slot.end))
    return {key: end.astimezone(zone).date() for key, end in ends.items() if key not in unplaced}
