"""Make the plan: the order kept from a search or the best of the simple rules, then the same order quick and slow."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bonebench.planning.dispatch import dispatch, dispatch_prepared
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.rules import best_plan
from bonebench.planning.search import completed
from bonebench.said import Said
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, problem_of
from bonebench.services.plans.stored import Finish, StoredPlan


@dataclass(frozen=True, slots=True)
class Paces:
    """One room three times: with working durations, every step quick, every step slow. Plain data, so that it can travel."""

    working: Problem
    quick: Problem
    slow: Problem

    @classmethod
    def of(cls, subjects: Iterable[Subject], known: Known, now: datetime) -> "Paces":
        """Return the problems of a room."""
        subjects = tuple(subjects)
        return cls(*(problem_of(subjects, known, now, pace) for pace in ("working", "quick", "slow")))


def make_plan(
    subjects: Iterable[Subject], known: Known, *, now: datetime, work_revision: int, before: StoredPlan | None = None
) -> StoredPlan:
    """Plan the whole room from now on: by the order found before with who has come since, or by a simple rule if that is better."""
    paces = Paces.of(subjects, known, now)
    working = best_plan(paces.working)
    status = "by rule"
    if before is not None and before.status != "by rule":
        kept = dispatch_prepared(prepared := Prepared(paces.working), completed(before.order, prepared), before.rule)
        if kept.score <= working.score:
            working, status = kept, "searched before"
    return stored_plan(paces, working, work_revision=work_revision, status=status)


def stored_plan(
    paces: Paces, working: Plan, *, work_revision: int, status: str, bound: float | None = None, moved: tuple[Said, ...] = ()
) -> StoredPlan:
    """Turn a plan into what is kept of it: its order also with every step quick and every step slow."""
    quick, slow = (dispatch(problem, working.order) for problem in (paces.quick, paces.slow))
    zone = paces.working.zone
    ends = [finish_days(plan, zone) for plan in (working, quick, slow)]
    return StoredPlan(
        work_revision=work_revision,
        made_at=paces.working.now,
        day=paces.working.now.astimezone(zone).date(),
        rule=working.rule,
        order=working.order,
        slots=working.slots,
        late=working.late,
        unplaced=working.unplaced,
        finish={key: Finish(*(by_plan.get(key) for by_plan in ends)) for key in working.order},
        status=status,
        score=working.score,
        bound=bound,
        moved=moved,
    )


def finish_days(plan: Plan, zone: ZoneInfo) -> dict[str, date]:
    """Return the local day each piece is through; a piece with a step that found no time is not in it."""
    unplaced = {rest.piece for rest in plan.unplaced}
    ends: dict[str, datetime] = {}
    for slot in plan.slots:
        ends[slot.piece] = max(slot.end, ends.get(slot.piece, slot.end))
    return {key: end.astimezone(zone).date() for key, end in ends.items() if key not in unplaced}
