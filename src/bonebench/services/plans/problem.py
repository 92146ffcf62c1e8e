"""From specimens and the room to a scheduling problem: every leg ahead becomes a stage."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, time
from math import exp, hypot, log
from typing import Literal
from zoneinfo import ZoneInfo

from bonebench.planning.appetite import Food
from bonebench.planning.problem import Hands, Piece, Problem, Running, Spread, Stage
from bonebench.planning.problem import Room as PlanPlace
from bonebench.said import Said, said
from bonebench.science.cleaning import TAIL_SHARE, TAIL_SLOWNESS, CleanBy, clean_by
from bonebench.services.appetites import BoxDays
from bonebench.services.known import Head, Known, head_of, standing_of
from bonebench.services.plans.loads import load_of
from bonebench.services.plans.sights import seen_inside
from bonebench.shop.methods import Span
from bonebench.shop.room import Place, Worker
from bonebench.shop.routes import Leg, Standing, days_in_step, main_part
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import LOOK_BACKS, PlaceKind, Step

Pace = Literal["quick", "working", "slow"]

# Nobody plans these: the owner comes when he comes, and a look back is a date, not work in the room.
NOT_PLANNED = frozenset({Step.RECEIVE, Step.HAND_OVER, *LOOK_BACKS})
# A head that was looked at and is not clean is looked at again so many days later. Common practice, no source.
LOOK_AGAIN_DAYS = 0.9


def days_of(span: Span, pace: Pace) -> float:
    """Return the working days of a span, or one in ten quicker, or one in ten slower."""
    return {"quick": span.p10, "working": span.p50, "slow": span.p90}[pace]


@dataclass(frozen=True, slots=True)
class Subject:
    """One specimen with what is known of it and where it stands."""

    specimen: Specimen
    head: Head
    standing: Standing


def subjects_of(specimens: Iterable[Specimen], known: Known) -> tuple[Subject, ...]:
    """Join every specimen that is still in work with what is known of it."""
    return tuple(subject_of(specimen, known) for specimen in specimens if not specimen.finished and specimen.received is not None)


def subject_of(specimen: Specimen, known: Known) -> Subject:
    """Join one specimen with what is known of it and where it stands."""
    head = head_of(specimen, known)
    return Subject(specimen, head, standing_of(specimen, known, head.facts))


def problem_of(subjects: Iterable[Subject], known: Known, now: datetime, pace: Pace = "working") -> Problem:
    """Return the problem of the whole room at one pace."""
    room = known.room
    boxes = [place for place in room.places if place.kind is PlaceKind.ENCLOSURE]
    counted = known.appetites.boxes if known.appetites is not None else {}
    return Problem(
        now=now,
        zone=ZoneInfo(room.zone),
        pieces=tuple(_piece(subject, known, now, pace) for subject in subjects),
        # The smallest that takes it is tried first: no squirrel in the bear's pot.
        places=tuple(_place(p) for p in sorted(room.places, key=lambda p: float("inf") if p.volume_l is None else p.volume_l)),
        people=tuple(_hands(worker) for worker in room.people) or (ANYBODY,),
        appetite_kg_per_day={box.key: counted[box.key].by_day() for box in boxes if box.key in counted},
        appetite_otherwise={box.key: kg for box in boxes if (kg := _appetite(box, counted)) is not None},
        closed=frozenset(room.closed),
        tail_share=TAIL_SHARE,
        tail_slowness=TAIL_SLOWNESS,
    )


def _appetite(box: Place, counted: Mapping[str, BoxDays]) -> float | None:
    """What a box eats on days beyond those worked out: as on the last of them, else what the room set."""
    return counted[box.key].cautious_kg[-1] if box.key in counted else box.appetite_kg_per_day


def _place(place: Place) -> PlanPlace:
    return PlanPlace(place.key, place.kind.value, place.count, place.volume_l, place.mass_kg, place.open)


# Until somebody says who works when, the plan counts on one pair of hands a day; the card says so.
ANYBODY = Hands(
    "", {day: ((time(9), time(17)),) for day in range(7)}, frozenset({"raw heads", "beetles", "hot baths", "peroxide", "teeth"})
)


def _hands(worker: Worker) -> Hands:
    return Hands(worker.person, worker.windows(), frozenset(worker.trained))


def _held(specimen: Specimen) -> Said | None:
    if specimen.held is None:
        return None
    return said("plan.held", "it is on hold: {reason}", reason=specimen.held)


def _piece(subject: Subject, known: Known, now: datetime, pace: Pace) -> Piece:
    specimen, head, standing = subject.specimen, subject.head, subject.standing
    part = main_part(specimen)
    place = part.place if part is not None and known.room.place(part.place) is not None else None
    leg = standing.leg
    planned = [leg_ahead for leg_ahead in standing.ahead if leg_ahead.step not in NOT_PLANNED]
    legs = ([leg] if leg is not None else []) + planned
    stages = tuple(_stage(index, legs, subject, known, now, pace=pace) for index in range(len(legs)))
    received = specimen.received or now
    return Piece(
        key=specimen.id,
        stages=stages,
        release=max(received, now),
        received=received,
        load=load_of(specimen, head),
        due=specimen.promised,
        tissue_kg=tissue_left_kg(subject, now, pace),
        whole_tissue_kg=_whole_tissue(head, pace),
        eating_kg_per_day=eating_kg_per_day(subject, now, pace),
        place=place,
        running=Running(place or "", standing.since) if leg is not None and standing.since is not None else None,
        held=_held(specimen),
    )


def _whole_tissue(head: Head, pace: Pace) -> float:
    tissue = head.tissue_kg
    return {"quick": tissue.low, "working": tissue.value, "slow": tissue.high}[pace]


def eating_kg_per_day(subject: Subject, now: datetime, pace: Pace) -> float:
    """Return what its surface gives a day, at the pace it was seen to go where somebody looked."""
    rate, seen = subject.head.eating_kg_per_day, as_seen(subject, now)
    if seen is not None:
        return rate.value * {"quick": seen.pace.high, "working": seen.pace.value, "slow": seen.pace.low}[pace]
    return {"quick": rate.high, "working": rate.value, "slow": rate.low}[pace]


def as_seen(subject: Subject, now: datetime) -> CleanBy | None:
    """Return what looks and weighings say of a piece with the beetles, None where nobody looked; appetite is the planner's."""
    leg, since = subject.standing.leg, subject.standing.since
    if leg is None or leg.step is not Step.BEETLES or since is None:
        return None
    readings = seen_inside(subject.specimen, subject.head, since, now).plain
    rate = subject.head.eating_kg_per_day.value
    if not readings or not rate > 0:
        return None
    return clean_by(days_in_step(subject.standing, now), subject.head.tissue_kg.value, rate, readings)


def tissue_left_kg(subject: Subject, now: datetime, pace: Pace = "working") -> float:
    """Return what is left to eat, from the days it was in the box at its own rate, slower at the end, or as it was seen.

    It comes down to nothing: then it is to be looked at. Who looked and found meat gives it one more day at the slow rate.
    """
    amount, rate = _whole_tissue(subject.head, pace), eating_kg_per_day(subject, now, pace)
    leg = subject.standing.leg
    if leg is None or leg.step is not Step.BEETLES:
        return amount
    slow = rate / TAIL_SLOWNESS
    quick_days = (1 - TAIL_SHARE) * amount / rate if rate > 0 else float("inf")
    days = days_in_step(subject.standing, now)
    left = amount - days * rate if days < quick_days else TAIL_SHARE * amount - (days - quick_days) * slow
    seen = as_seen(subject, now)
    if seen is not None:
        left = amount * {"quick": seen.left_share.low, "working": seen.left_share.value, "slow": seen.left_share.high}[pace]
    looks = [
        m.at for m in subject.specimen.looks if m.step is Step.JUDGE_CLEAN and m.visit == subject.specimen.visit(Step.JUDGE_CLEAN)
    ]
    if looks:
        since_look = max(0.0, (now - max(looks)).total_seconds() / 86400)
        left = max(left, min(amount, slow * (LOOK_AGAIN_DAYS - since_look)))
    return max(0.0, left)


def box_appetite_known(known: Known) -> bool:
    """Whether the room has said what its beetles eat in a day, or its colony was counted."""
    boxes = [place for place in known.room.places if place.kind is PlaceKind.ENCLOSURE]
    return any(b.appetite_kg_per_day is not None or (known.appetites is not None and b.key in known.appetites.boxes) for b in boxes)


def _place_kind(leg: Leg, known: Known) -> str | None:
    """The kind of place a stage needs; an act is done anywhere where the room names no bench for it."""
    kind = leg.place_kind
    if kind is None or (not leg.kind.stay and all(place.kind is not kind for place in known.room.places)):
        return None
    return kind.value


def _stage(index: int, legs: list[Leg], subject: Subject, known: Known, now: datetime, *, pace: Pace) -> Stage:
    leg, head = legs[index], subject.head
    following = legs[index + 1] if index + 1 < len(legs) else None
    comes_back = any(later.step is Step.FREEZE_AGAIN for later in legs[index + 1 :])
    eats = leg.step is Step.BEETLES and box_appetite_known(known) and head.tissue_kg.value > 0
    return Stage(
        step=leg.step.value,
        visit=leg.visit,
        place_kind=_place_kind(leg, known),
        stay=leg.kind.stay,
        days=days_of(leg.span, pace) if leg.kind.stay else 0.0,
        minutes=leg.minutes,
        work=leg.method.work,
        eats=eats,
        least_wait_days=following.span.p50 if following is not None and following.step is Step.MEASURE else 0.0,
        most_wait_days=_most_wait(leg),
        keeps_place=leg.step is Step.TEETH or (comes_back and leg.step in (Step.THAW, Step.TRIM)),
        spread=_spread_eating(subject, now) if eats else _spread(leg, head),
    )


def _spread(leg: Leg, head: Head) -> Spread | None:
    """How far a stay may be off; what errs together is the method on this kind of animal."""
    span = leg.span
    if not leg.kind.stay or not 0 < span.p10 <= span.p50 <= span.p90:
        return None
    return Spread(span.p10, span.p90, f"{leg.method.key} on {head.species.key}")


def _spread_eating(subject: Subject, now: datetime) -> Spread | None:
    """How far the days with the beetles may be off: by the tissue there was and by the rate, which err apart from each other."""
    head, left = subject.head, tissue_left_kg(subject, now)
    tissue, rate = head.tissue_kg, head.eating_kg_per_day
    if left <= 0 or min(tissue.low, rate.low) <= 0:
        return None
    tail = TAIL_SHARE * tissue.value
    days = Food(left, tail, rate.value, rate.value / TAIL_SLOWNESS).days_for(left, left)
    low = hypot(log(tissue.value / tissue.low), log(rate.high / rate.value))
    high = hypot(log(tissue.high / tissue.value), log(rate.value / rate.low))
    return Spread(days * exp(-low), days * exp(high), f"eating {head.species.key}")


def _most_wait(leg: Leg) -> float | None:
    """How long it may wait before the next step: a bath until its longest stay, else what the method says."""
    if leg.longest_days is not None and leg.kind.stay:
        return max(0.0, leg.longest_days - leg.span.p50)
    return leg.method.most_wait_days
