"""Planning again on another day: yesterday's plan is kept where it can be, and what moved is said with why."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bonebench.planning.planned import planned
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Plan, Problem, Slot
from bonebench.planning.search import OutOfTime, completed, search_prepared
from bonebench.said import Said, said

# Another order is worth the stir only where it saves at least so many weighted late days, and such a share of them.
WORTH_DAYS = 2.0
WORTH_SHARE = 0.1
PUSHED_BY = {
    "ready": "the step before {step} is over later than planned",
    "wait": "the step before {step} is over later than planned",
    "hands": "{step} waits for hands for {what}",
    "appetite": "{step} is put off: the beetles in {what} are slower than planned",
    "place": "{step} waits for room in {what}",
}


@dataclass(frozen=True, slots=True)
class Before:
    """What is known of the plan made before: its order, its slots and what found no time."""

    order: tuple[str, ...]
    slots: tuple[Slot, ...]
    unplaced: frozenset[str] = frozenset()

    @classmethod
    def of(cls, plan: Plan) -> "Before":
        """Take what is needed of a plan."""
        return cls(plan.order, plan.slots, frozenset(one.piece for one in plan.unplaced))


@dataclass(frozen=True, slots=True)
class Moved:
    """A piece whose last day is another than before: later is more than 0 days. None is no time found."""

    piece: str
    was: date | None
    now: date | None
    days: int | None
    why: Said


@dataclass(frozen=True, slots=True)
class Replanned:
    """The plan, what moved and why, and whether yesterday's order was kept; ``saves`` weighted late days where it was not."""

    plan: Plan
    moves: tuple[Moved, ...]
    kept_order: bool
    saves: float


def replan(
    before: Before,
    problem: Problem,
    *,
    moves: int = 0,
    seed: int = 1,
    out_of_time: OutOfTime = lambda: False,
) -> Replanned:
    """Plan again in yesterday's order, new pieces put in by due day; with ``moves`` look for another that is worth the stir."""
    prepared = Prepared(problem)
    kept = planned(prepared, completed(before.order, prepared), "as before")
    plan, saves = kept, 0.0
    if moves > 0:
        found = search_prepared(prepared, moves=moves, seed=seed, start=kept.order, out_of_time=out_of_time).plan
        saves = kept.score[0] - found.score[0]
        if saves >= max(WORTH_DAYS, WORTH_SHARE * kept.score[0]):
            plan = found
        else:
            saves = 0.0
    return Replanned(plan, moved_since(before, prepared, plan), plan is kept, saves)


def moved_since(before: Before, prepared: Prepared, plan: Plan) -> tuple[Moved, ...]:
    """Return every piece whose last day is another than it was, with why."""
    zone = prepared.problem.zone
    off = {one.piece: one.why for one in plan.unplaced}
    was, now = _last_slots(before.slots), _last_slots(plan.slots)
    moved = []
    for key in plan.order:
        known = key in was and key not in before.unplaced
        if key not in before.order:
            continue
        then = was[key].end.astimezone(zone).date() if known else None
        ends = now[key].end.astimezone(zone).date() if key in now and key not in off else None
        if ends is None and not prepared.pieces[key].legs and key not in off:
            continue  # through: nothing is left to move
        if then != ends:
            days = (ends - then).days if ends is not None and then is not None else None
            why = off[key] if key in off else _why(before, prepared, plan, key)
            moved.append(Moved(key, then, ends, days, why))
    return tuple(moved)


def _last_slots(slots: Sequence[Slot]) -> dict[str, Slot]:
    last: dict[str, Slot] = {}
    for slot in slots:
        if slot.piece not in last or slot.end >= last[slot.piece].end:
            last[slot.piece] = slot
    return last


def _why(before: Before, prepared: Prepared, plan: Plan, key: str) -> Said:
    """Say what came between: the piece itself, another that came in or goes first now, or what it waits for."""
    old = {(slot.step, slot.visit): slot for slot in before.slots if slot.piece == key}
    new = [slot for slot in plan.slots if slot.piece == key]
    first = next((slot for slot in new if _differs(old.get((slot.step, slot.visit)), slot)), None)
    if first is None:
        return said("plan.moved.route", "its route is another one now")
    then = old.get((first.step, first.visit))
    if then is None:
        return said("plan.moved.step", "{step} was not in its plan before", step=first.step)
    zone = prepared.problem.zone
    running = prepared.pieces[key].piece.running is not None and first is new[0]
    if running or then.start < prepared.problem.now <= first.start:
        said_then = then.end if running else then.start
        template = "{step} was to be over on {day:day}" if running else "{step} was to begin on {day:day} and has not begun"
        return said("plan.moved.itself", template, step=first.step, day=said_then.astimezone(zone).date())
    if first.start <= then.start:
        return said("plan.moved.sooner", "{step} can begin sooner: what it waited for is free", step=first.step)
    return _pushed(before, prepared, plan, first, then)


def _differs(old: Slot | None, new: Slot) -> bool:
    return old is None or abs((new.start - old.start).total_seconds()) > 3600 or abs((new.end - old.end).total_seconds()) > 3600


def _pushed(before: Before, prepared: Prepared, plan: Plan, first: Slot, then: Slot) -> Said:
    kinds = {room.key: room.kind for room in prepared.problem.places}
    known = set(before.order)
    ahead = [slot for slot in plan.slots if slot.piece != first.piece and slot.start < first.start]
    ahead = [slot for slot in ahead if first.limited_by != "place" or kinds.get(slot.place or "") == first.limited_name]
    there = [slot for slot in ahead if slot.start >= then.start]
    came = [slot.piece for slot in ahead if slot.piece not in known]
    what = first.limited_name or ""
    if came:
        return said(
            "plan.moved.came",
            "{step} waits for {what}: {other} came in and goes first",
            step=first.step,
            what=what or "room",
            other=came[0],
        )
    rank = {key: at for at, key in enumerate(before.order)}
    overtook = [
        slot.piece for slot in there if rank.get(slot.piece, -1) > rank.get(first.piece, -1) and _goes_first(plan, slot, first)
    ]
    if overtook:
        return said(
            "plan.moved.order",
            "{step} waits for {what}: {other} goes first now",
            step=first.step,
            what=what or "room",
            other=overtook[0],
        )
    if first.limited_by == "closed":
        return said("plan.moved.closed", "{step} waits: {day:day} is closed", step=first.step, day=date.fromisoformat(what))
    return said(f"plan.moved.{first.limited_by}", PUSHED_BY[first.limited_by], step=first.step, what=what or "it")


def _goes_first(plan: Plan, slot: Slot, first: Slot) -> bool:
    rank = {key: at for at, key in enumerate(plan.order)}
    return rank[slot.piece] < rank[first.piece]
