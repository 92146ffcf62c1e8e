"""What a plan comes to: who is late, how good it is, and in words why a piece found no time."""

from collections.abc import Iterable, Sequence

from bonebench.planning.floor import Block, Course
from bonebench.planning.prepared import Leg, Prepared
from bonebench.planning.problem import Late, Plan, Room, Slot, Unplaced
from bonebench.said import Plain, Said, said


def plan_of(prepared: Prepared, order: Sequence[str], rule: str, slots: Sequence[Slot], courses: Iterable[Course]) -> Plan:
    """Put a plan together from the times that were found."""
    ends = {slot.piece: slot for slot in slots}
    unplaced = tuple(_unplaced(prepared, course) for course in courses if course.ready.piece.held or not course.ended)
    off = {one.piece for one in unplaced}
    late = tuple(_late(prepared, slot) for key, slot in ends.items() if key not in off)
    kept = tuple(one for one in late if one is not None)
    return Plan(tuple(order), rule, tuple(slots), kept, unplaced, _score(prepared, slots, kept, unplaced))


def _late(prepared: Prepared, slot: Slot) -> Late | None:
    due = prepared.pieces[slot.piece].piece.due
    if due is None:
        return None
    ends = slot.end.astimezone(prepared.problem.zone).date()
    return Late(slot.piece, due, ends, (ends - due).days) if ends > due else None


def _score(prepared: Prepared, slots: Sequence[Slot], late: Sequence[Late], unplaced: Sequence[Unplaced]) -> tuple[float, ...]:
    """Lateness, then the weighted sum of finishing days, then separate starts of pots, tubs and rinses."""
    problem, now = prepared.problem, prepared.calendar.now
    off = {one.piece for one in unplaced if prepared.pieces[one.piece].piece.held is None}
    lateness = sum(prepared.pieces[one.piece].piece.weight * one.days for one in late) + prepared.lateness_bound * len(off)
    ends = {slot.piece: (slot.end - now).total_seconds() / 86400 for slot in slots}
    finish = sum(prepared.pieces[key].piece.weight * (problem.horizon_days if key in off else end) for key, end in ends.items())
    finish += sum(prepared.pieces[key].piece.weight * problem.horizon_days for key in off if key not in ends)
    kinds = {place.key: place.kind for place in problem.places}
    starts = {
        (slot.place, slot.start.astimezone(problem.zone).date())
        for slot in slots
        if kinds.get(slot.place or "") in problem.batch_kinds and slot.start >= now
    }
    return float(lateness), float(finish), float(len(starts))


def _unplaced(prepared: Prepared, course: Course) -> Unplaced:
    piece = course.ready.piece
    step = piece.stages[min(course.next, len(piece.stages) - 1)].step if piece.stages else ""
    return Unplaced(piece.key, step, piece.held or _why(prepared, course))


def _why(prepared: Prepared, course: Course) -> Said:
    block = course.block
    if block is None:
        return said(
            "plan.why.release",
            "it may not begin before {day:day}, after the plan's last day",
            day=prepared.calendar.local_date(course.ready_at),
        )
    leg = course.ready.legs[min(course.next + block.ahead, len(course.ready.legs) - 1)]
    template, values = _reason(prepared, course, leg, block)
    if block.ahead:
        before = course.ready.legs[course.next + block.ahead - 1]
        template = "{before} must be followed by {step} within {most:days}, and " + template
        values |= {"before": before.stage.step, "step": leg.stage.step, "most": before.stage.most_wait_days}
    key = f"plan.why.{block.code.replace(' ', '_') or block.limit}"
    return said(key, template, **values)


REASONS = {
    "none": "there is no {kind} in this room",
    "not open": "no {kind} is open",
    "untrained": "no one is trained for {work}",
    "no hours": "no one who may do {work} has working hours",
    "no time": "no one who may do {work} has {minutes:minutes} free within {days:days}",
    "no time then": "no one who may do {work} has {minutes:minutes} free at that time within {days:days}",
    "no rate": "nothing says how fast the beetles can eat it: give it an eating rate",
    "not eaten": "the beetles do not get through {mass:mass} of tissue within {days:days}",
    "tied": "the steps that must follow it closely never find time together within {days:days}",
    "horizon": "{step} would not end within the {days:days} this plan looks ahead",
}


def _reason(prepared: Prepared, course: Course, leg: Leg, block: Block) -> tuple[str, dict[str, Plain]]:
    if block.code == "too big":
        return _too_big(prepared, course, leg)
    if block.code == "full":
        return _full(prepared, leg)
    return REASONS[_code(prepared, course, leg, block)], {
        "kind": leg.kind,
        "work": leg.stage.work or "this",
        "minutes": leg.stage.minutes,
        "mass": course.ready.food.tissue_kg,
        "step": leg.stage.step,
        "days": prepared.problem.horizon_days,
    }


def _code(prepared: Prepared, course: Course, leg: Leg, block: Block) -> str:
    if block.code == "no time" and not any(prepared.problem.people[person].hours for person in leg.people):
        return "no hours"
    if block.code == "not eaten" and course.ready.food.rate <= 0:
        return "no rate"
    if block.code == "no time" and block.ahead:
        return "no time then"
    return block.code or "horizon"


def _open_places(prepared: Prepared, leg: Leg) -> list[Room]:
    return [place for place in prepared.problem.places if place.kind == leg.kind and place.open]


def _too_big(prepared: Prepared, course: Course, leg: Leg) -> tuple[str, dict[str, Plain]]:
    place, load = _open_places(prepared, leg)[0], course.ready.piece.load
    values: dict[str, Plain] = {"kind": leg.kind, "place": place.key}
    opening = "it does not fit in any {kind}, not even an empty one: "
    if place.count is not None and load.count > place.count:
        return opening + "{place} holds {holds} and it counts as {takes}", values | {"holds": place.count, "takes": load.count}
    if place.volume_l is not None and load.volume_l > place.volume_l:
        return opening + "{place} holds {holds:volume} and it takes {takes:volume}", values | {
            "holds": place.volume_l,
            "takes": load.volume_l,
        }
    return opening + "{place} holds {holds:mass} and it weighs {takes:mass}", values | {
        "holds": place.mass_kg,
        "takes": load.mass_kg,
    }


def _full(prepared: Prepared, leg: Leg) -> tuple[str, dict[str, Plain]]:
    places = _open_places(prepared, leg)
    values: dict[str, Plain] = {"kind": leg.kind, "days": prepared.problem.horizon_days}
    if len(places) == 1 and places[0].count is not None:
        return "{place} holds {holds} and is not free for it within {days:days}", values | {
            "place": places[0].key,
            "holds": places[0].count,
        }
    return "no {kind} is free for it within {days:days}", values
