"""Make the plan: the order kept from a search or the best of the simple rules, then the same order quick and slow."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from bonebench.planning.notes import notes
from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan, Problem
from bonebench.planning.replan import moved_since
from bonebench.planning.rules import best_plan
from bonebench.planning.search import completed
from bonebench.said import Said
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, problem_of
from bonebench.services.plans.stored import Finish, StoredMove, StoredPlan


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


@dataclass(frozen=True, slots=True)
class How:
    """How a plan was come by: its status in a word or two, what no plan can go below, and what was cut short or missing."""

    status: str = "by rule"
    bound: float | None = None
    notes: tuple[Said, ...] = ()


@dataclass(frozen=True, slots=True)
class Earlier:
    """The plans there were: the last one, whose order may be the best found, and the last of an earlier day."""

    last: StoredPlan | None = None
    day_before: StoredPlan | None = None

    def since(self, today: date) -> StoredPlan | None:
        """Return the plan that today's is held against."""
        return self.last if self.last is not None and self.last.day < today else self.day_before


NONE_EARLIER = Earlier()


def make_plan(
    subjects: Iterable[Subject], known: Known, *, now: datetime, work_revision: int, earlier: Earlier = NONE_EARLIER
) -> StoredPlan:
    """Plan the whole room from now on: by the order found before with who has come since, or by a simple rule if that is better."""
    paces = Paces.of(subjects, known, now)
    working = best_plan(paces.working)
    how, last = How(), earlier.last
    if last is not None and last.status != "by rule":
        kept = planned(prepared := Prepared(paces.working), completed(last.order, prepared), last.rule)
        if kept.score <= working.score:
            working, how = kept, How("searched before")
    return stored_plan(paces, working, how, work_revision=work_revision, since=earlier.since(known.room.day(now)))


def stored_plan(paces: Paces, working: Plan, how: How, *, work_revision: int, since: StoredPlan | None) -> StoredPlan:
    """Turn a plan into what is kept of it: its order also with every step quick and every step slow, and what moved ``since``."""
    quick, slow = (planned(Prepared(problem), working.order) for problem in (paces.quick, paces.slow))
    zone = paces.working.zone
    ends = [finish_days(plan, zone) for plan in (working, quick, slow)]
    moved = moved_since(since.as_before(), Prepared(paces.working), working) if since is not None else ()
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
        status=how.status,
        score=working.score,
        bound=how.bound,
        moved=tuple(StoredMove(one.piece, one.was, one.now, one.why) for one in moved),
        notes=(*how.notes, *notes(paces.working)),
    )


def finish_days(plan: Plan, zone: ZoneInfo) -> dict[str, date]:
    """Return the local day each piece is through; a piece with a step that found no time is not in it."""
    unplaced = {rest.piece for rest in plan.unplaced}
    ends: dict[str, datetime] = {}
    for slot in plan.slots:
        ends[slot.piece] = max(slot.end, ends.get(slot.piece, slot.end))
    return {key: end.astimezone(zone).date() for key, end in ends.items() if key not in unplaced}
