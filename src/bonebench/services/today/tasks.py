"""From a specimen and its times in the plan to one task: what, where, why, by when, and the buttons."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from bonebench.planning.problem import Slot
from bonebench.said import Said, said
from bonebench.services.cards import Answer
from bonebench.services.known import Known, cautions_for, has_hazard, look_by
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.stored import StoredPlan
from bonebench.services.specimens.answers import answers_to, done_answer, leg_task, look_answer
from bonebench.services.specimens.names import species_name
from bonebench.services.today.cards import HazardCard, TaskCard
from bonebench.shop import words
from bonebench.shop.entries import ROOM, specimen_subject
from bonebench.shop.gloves import hands_for
from bonebench.shop.identity import task_id
from bonebench.shop.routes import Leg, days_in_step, main_part
from bonebench.shop.steps import CLEAN_TO_DIRTY, LOOK_BACKS, PlaceKind, Step

# Where a look in between is a task of its own. In the box and on the shelf it belongs to the round of the place.
BATHS = frozenset({PlaceKind.POT, PlaceKind.TUB})

# Months after hand-over at which a skull is asked after. The route of the trade; the days are the calendar's.
LOOK_BACK_DAYS = {Step.LOOK_BACK_3: 91, Step.LOOK_BACK_6: 182, Step.LOOK_BACK_12: 365}


@dataclass(frozen=True, slots=True)
class Sorted:
    """A task with what it is sorted by: how dirty the hands get, then when the plan wants it."""

    dirt: int
    starts: datetime
    task: TaskCard
    hands: str = "clean"
    tray: tuple[str, ...] | None = None


def dirt_of(*kinds: PlaceKind | None) -> int:
    """Return how dirty hands get between these kinds of place, 0 the cleanest."""
    return max((CLEAN_TO_DIRTY.index(kind) for kind in kinds if kind is not None), default=0)


def where_now(subject: Subject, known: Known) -> tuple[str | None, str, PlaceKind | None]:
    """Return the key, name and kind of the place a specimen is in."""
    part = main_part(subject.specimen)
    place = known.room.place(part.place) if part is not None else None
    return (None, "no place recorded", None) if place is None else (place.key, place.name, place.kind)


def due_by(subject: Subject, known: Known) -> date | None:
    """Return the last day the next step can wait for: a bath's longest stay, or a wait the method bounds."""
    leg, since = subject.standing.leg, subject.standing.since
    if leg is not None and since is not None and leg.step is Step.THAW:
        look = look_by(subject.head.head_kg, known.room)
        if look is not None:
            return known.room.day(since + timedelta(days=look.low))
    if leg is not None and since is not None and leg.longest_days is not None:
        return known.room.day(since + timedelta(days=leg.longest_days))
    if leg is not None and since is not None and leg.method.most_wait_days is not None:
        return known.room.day(since + timedelta(days=leg.span.p50 + leg.method.most_wait_days))
    at = subject.standing
    if leg is None and since is not None and 0 <= at.at < len(at.route):
        wait = at.route[at.at].method.most_wait_days
        return None if wait is None else known.room.day(since + timedelta(days=wait))
    return None


def _standing(leg: Leg) -> str:
    """Say how well the days of a leg are known, with the room's own pieces behind them."""
    return leg.known.value if not leg.pieces else f"{leg.known.value}, {leg.pieces} of your own"


def why_now(subject: Subject, known: Known, now: datetime) -> Said:
    """Say why this comes next: what ran out, or what it waits for, and whom it was promised to."""
    standing, promised = subject.standing, subject.specimen.promised
    end = "" if promised is None else "; promised for {promised:day}"
    values: dict[str, str | float | date | None] = {} if promised is None else {"promised": promised}
    leg = standing.leg
    if leg is not None and standing.since is not None and leg.span.p90 == 0:
        values |= {"step": leg.step.value, "since": known.room.day(standing.since)}
        return said("why.held_ready", "{step} since {since:day}; the plan has room for it now" + end, **values)
    if leg is not None and standing.since is not None:
        values |= {
            "step": leg.step.value, "since": known.room.day(standing.since), "days": round(days_in_step(standing, now), 2),
            "p50": leg.span.p50, "p10": leg.span.p10, "p90": leg.span.p90, "standing": _standing(leg),
        }  # fmt: skip
        if leg.step is Step.BEETLES:
            return said(
                "why.eaten", "in the box since {since:day}, {days:days}; by now there should be little left" + end, **values
            )
        return said(
            "why.over",
            "{step} since {since:day}, {days:days}; it takes about {p50:days}, from {p10:days} to {p90:days} ({standing})" + end,
            **values,
        )
    last = standing.route[standing.at].step.value if standing.at >= 0 else "it came in"
    if standing.since is not None:
        values |= {"last": last, "since": known.room.day(standing.since)}
        return said("why.next", "{last} was on {since:day}; this comes next" + end, **values)
    return said("why.unknown", "this comes next" + end, **values)


def step_task(
    subject: Subject,
    leg: Leg,
    slot: Slot | None,
    *,
    known: Known,
    now: datetime,
    people: Mapping[str, str],
    who: str | None = None,
) -> Sorted:
    """Return the task that begins a leg."""
    specimen = subject.specimen
    key, name, kind = where_now(subject, known)
    target = known.room.place(slot.place) if slot is not None else None
    if not leg.kind.stay and target is not None:
        key, name = target.key, target.name
    last_day, today = due_by(subject, known), known.room.day(now)
    place_name = target.name if target is not None else (leg.place_kind.value if leg.place_kind is not None else None)
    if leg.step is Step.JUDGE_CLEAN:
        key, name, _ = where_now(subject, known)
    task = TaskCard(
        id=leg_task(specimen, leg),
        place=key,
        place_name=name,
        specimen=specimen.tag,
        specimen_id=specimen.id,
        species=species_name(specimen.species, known),
        about=said("about.specimen", "{tag}, {species}", tag=specimen.tag, species=subject.head.species.common_name),
        action=words.action(leg.step, specimen.tag, place_name),
        why=why_now(subject, known, now),
        due_from=known.room.day(slot.start) if slot is not None else today,
        due_by=last_day,
        late_days=max(0, (today - last_day).days) if last_day is not None else 0,
        minutes=leg.minutes,
        who=people.get(slot.person or "") if slot is not None else None,
        answers=answers_to(subject, leg, known, slot.place if slot is not None else None),
        cautions=cautions_for(subject.specimen, leg, known),
        hazard=hazard_of(leg, known=known, now=now, who=who),
    )
    tray = None if specimen.lot is None else (specimen.lot, leg.step.value, str(leg.visit), task.place or "", place_name or "")
    # An act is as clean as its bench; a stay also takes hands to where the piece was before.
    kinds = (kind, leg.place_kind) if leg.kind.stay else (leg.place_kind,)
    return Sorted(dirt_of(*kinds), slot.start if slot is not None else now, task, hands_for(*kinds), tray)


# Dangers said yes to are asked again after a year.
ASKED_AGAIN = timedelta(days=365)


def hazard_of(leg: Leg, *, known: Known, now: datetime, who: str | None) -> HazardCard | None:
    """Return the danger of a method that has to be said yes to, once a year by each person; None where there is none."""
    if not has_hazard(leg.method, known):
        return None
    at = known.room.acknowledged_at(leg.method.key, who)
    valid = known.room.day(at) if at is not None and now - at < ASKED_AGAIN else None
    answer = None
    if valid is None and who is not None:
        values = {"method": leg.method.key, "person": who}
        answer = Answer(
            "acknowledge", said("tap.acknowledge", "I have read this and do it so"), "hazard-acknowledged", (ROOM,), values
        )
    words = said("hazard", "{method}: {harm}", method=leg.method.name, harm=leg.method.harm)
    return HazardCard(leg.method.key, leg.method.name, words, valid, answer)


def look_task(subject: Subject, *, known: Known, now: datetime) -> Sorted | None:
    """Return the look that a bath asks for in between, when the last one is long enough ago."""
    leg, since = subject.standing.leg, subject.standing.since
    if leg is None or since is None or leg.method.look_every_days is None or leg.place_kind not in BATHS:
        return None
    looks = [mark.at for mark in subject.specimen.looks if mark.step is leg.step and mark.visit == leg.visit]
    last = max([since, *looks])
    every = leg.method.look_every_days
    if now - last < timedelta(days=every):
        return None
    key, name, kind = where_now(subject, known)
    specimen = subject.specimen
    task = TaskCard(
        id=task_id(specimen_subject(specimen.id), f"look {leg.step.value}", len(looks) + 1),
        place=key,
        place_name=name,
        specimen=specimen.tag,
        specimen_id=specimen.id,
        species=species_name(specimen.species, known),
        about=said("about.specimen", "{tag}, {species}", tag=specimen.tag, species=subject.head.species.common_name),
        action=said("do.look", "Look at {tag} in {place}", tag=specimen.tag, place=name),
        why=said(
            "why.look", "looked at last on {last:day}; every {every:days} for this method", last=known.room.day(last), every=every
        ),
        due_from=known.room.day(last + timedelta(days=every)),
        due_by=None,
        late_days=0,
        minutes=2.0,
        who=None,
        answers=(look_answer(specimen, leg), *_ends(subject, known)),
        cautions=cautions_for(subject.specimen, leg, known),
    )
    return Sorted(dirt_of(kind), last + timedelta(days=every), task, hands_for(kind))


def _ends(subject: Subject, known: Known) -> tuple[Answer, ...]:
    """The buttons for what was seen to be ready at a look: on to the next step."""
    following = subject.standing.next
    return () if following is None else answers_to(subject, following, known)


def look_back_tasks(subject: Subject, *, known: Known, now: datetime) -> list[Sorted]:
    """Return the looks back that are due on a specimen that was handed over."""
    specimen = subject.specimen
    handed = specimen.ending(Step.HAND_OVER)
    if handed is None:
        return []
    tasks = []
    for leg in subject.standing.route:
        if leg.step not in LOOK_BACKS or specimen.ending(leg.step) is not None:
            continue
        due = handed.at + timedelta(days=LOOK_BACK_DAYS[leg.step])
        if due <= now:
            tasks.append(Sorted(0, due, _look_back(subject, leg, known, due)))
    return tasks[-1:]


def _look_back(subject: Subject, leg: Leg, known: Known, due: datetime) -> TaskCard:
    specimen = subject.specimen
    return TaskCard(
        id=leg_task(specimen, leg),
        place=None,
        place_name="with its owner",
        specimen=specimen.tag,
        specimen_id=specimen.id,
        species=species_name(specimen.species, known),
        about=said("about.specimen", "{tag}, {species}", tag=specimen.tag, species=subject.head.species.common_name),
        action=words.action(leg.step, specimen.tag, None),
        why=said("why.look_back", "grease and yellow show after months; due {due:day}", due=known.room.day(due)),
        due_from=known.room.day(due),
        due_by=None,
        late_days=0,
        minutes=leg.minutes,
        who=None,
        answers=(done_answer(specimen, leg),),
        cautions=(),
    )


def next_slot(subject: Subject, plan: StoredPlan) -> tuple[Leg, Slot | None] | None:
    """Return the next leg that hands begin, with its times in the plan; None while there is nothing to begin."""
    for leg in subject.standing.ahead:
        if leg.step in LOOK_BACKS:
            return None
        if not leg.kind.begins_itself:
            return leg, plan.ahead(subject.specimen.id, leg.step.value, leg.visit)
    return None
