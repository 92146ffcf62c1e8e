"""The card of Today, from plain values."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from bonebench.said import Said, said
from bonebench.services.cards import Alert, Basis
from bonebench.services.catchup.show import SILENCE_DAYS, silent_days
from bonebench.services.known import Known
from bonebench.services.plans.problem import NOT_PLANNED, Subject, box_appetite_known
from bonebench.services.plans.stored import StoredPlan
from bonebench.services.today.cards import TaskCard, TodayCard
from bonebench.services.today.colony import colony_alerts
from bonebench.services.today.pieces import piece_alerts
from bonebench.services.today.rounds import RoundBook, leaving, round_tasks, wrong_alerts
from bonebench.services.today.tasks import Sorted, look_back_tasks, look_task, next_slot, step_task
from bonebench.services.today.trays import merge_trays
from bonebench.shop.checks import check_specimen
from bonebench.shop.flags import Flag
from bonebench.shop.gloves import change
from bonebench.shop.leaving import missing_alarms
from bonebench.shop.steps import Step

COMING_DAYS = 3
# Problems that spoil other pieces or the collection while they wait.
URGENT_PROBLEMS = frozenset({"insects", "mould", "mixed up", "chalky"})


@dataclass(frozen=True, slots=True)
class Morning:
    """Everything Today is made from."""

    now: datetime
    known: Known
    subjects: tuple[Subject, ...]
    handed_over: tuple[Subject, ...]
    plan: StoredPlan
    people: Mapping[str, str]
    demo: bool
    rounds: RoundBook
    who: str | None = None
    clashes: int = 0
    at_baths: tuple[Sorted, ...] = ()


def today_card(morning: Morning, *, minutes: float | None = None) -> TodayCard:
    """Return the day's work; with ``minutes``, the best of it that fits."""
    day = morning.known.room.day(morning.now)
    ready, coming = _tasks(morning)
    ready = merge_trays(ready) + round_tasks(morning.known, morning.rounds, morning.now) + list(morning.at_baths)
    chosen, left_out = _fit(ready, minutes)
    tasks = tuple(_with_gloves(sorted(chosen, key=lambda item: (item.dirt, item.task.place or "", item.starts))))
    return TodayCard(
        date=day,
        room=morning.known.room.name,
        zone=morning.known.room.zone,
        demo=morning.demo,
        plan_made=morning.plan.made_at,
        plan_rule=morning.plan.rule,
        minutes=sum(task.minutes for task in tasks),
        alerts=tuple(_alerts(morning)),
        tasks=tasks,
        left_out=left_out,
        leaving=leaving(morning.known, morning.rounds, morning.now),
        silent_days=round(silent_days(morning.subjects, morning.now), 1),
        coming=tuple(item.task for item in sorted(merge_trays(coming), key=lambda item: item.starts)),
        teach=_teach(morning, tasks),
        basis=_basis(tasks, morning),
        flags=tuple(_flags(morning)),
        cautions=(morning.known.defer,),
    )


def _tasks(morning: Morning) -> tuple[list[Sorted], list[Sorted]]:
    """Return what is to be done today and what comes in the next days."""
    known, now = morning.known, morning.now
    day = known.room.day(now)
    ready: list[Sorted] = []
    coming: list[Sorted] = []
    for subject in morning.subjects:
        if subject.specimen.held is not None:
            continue
        look = look_task(subject, known=known, now=now)
        upcoming = next_slot(subject, morning.plan)
        if upcoming is None:
            continue
        leg, slot = upcoming
        if slot is None and leg.step not in NOT_PLANNED:
            ready += [look] if look is not None else []
            continue
        if slot is None and subject.standing.running:
            continue
        task = step_task(subject, leg, slot, known=known, now=now, people=morning.people, who=morning.who)
        starts = known.room.day(slot.start) if slot is not None else day
        if starts <= day:
            ready.append(task)
            continue
        ready += [look] if look is not None else []
        if starts <= day + timedelta(days=COMING_DAYS):
            coming.append(task)
    for subject in morning.handed_over:
        ready += look_back_tasks(subject, known=known, now=now)
    return ready, coming


def _with_gloves(items: Iterable[Sorted]) -> Iterable[TaskCard]:
    """Say what to put on where the work crosses from cleaner to dirtier, and at the first task."""
    worn = None
    for item in items:
        yield item.task if item.hands == worn else replace(item.task, gloves=change(item.hands))
        worn = item.hands


def _urgency(item: Sorted) -> tuple[int, int, str, datetime]:
    """A late piece spoils and comes first, then late rounds; then what cannot wait longest, then the plan's own order."""
    late, piece = item.task.late_days > 0, item.task.specimen is not None or bool(item.task.members)
    return (
        (0 if piece else 1) if late else 2,
        -item.task.late_days,
        item.task.due_by.isoformat() if item.task.due_by is not None else "9999",
        item.starts,
    )


def _fit(ready: list[Sorted], minutes: float | None) -> tuple[list[Sorted], int]:
    if minutes is None:
        return ready, 0
    chosen: list[Sorted] = []
    left = minutes
    for item in sorted(ready, key=_urgency):
        if item.task.minutes <= left:
            chosen.append(item)
            left -= item.task.minutes
    return chosen, len(ready) - len(chosen)


def _alerts(morning: Morning) -> Iterable[Alert]:
    if morning.clashes:
        yield Alert(
            "look",
            said("alert.clash", "{count} entries came twice with different content", count=morning.clashes),
            said("alert.clash.why", "both are kept; look at them and take the wrong ones back"),
        )
    silence = silent_days(morning.subjects, morning.now)
    if silence >= SILENCE_DAYS:
        yield Alert(
            "look",
            said("alert.silent", "nobody wrote a word for {days:days}", days=round(silence, 1)),
            said("alert.silent.why", "walk the room once and say what is still there: catch up"),
        )
    yield from wrong_alerts(morning.known, morning.rounds)
    yield from colony_alerts(morning.known, morning.rounds.logs, morning.subjects, morning.now)
    yield from piece_alerts(morning.known, morning.rounds.logs, morning.subjects, morning.now)
    for subject in morning.subjects:
        tag = subject.specimen.tag
        for problem in subject.specimen.problems:
            level = "act" if problem.what in URGENT_PROBLEMS else "look"
            yield Alert(
                level,
                said("alert.problem", "{tag}: {what}", tag=tag, what=problem.what),
                said("alert.problem.why", "said on {day:day}, not settled yet", day=morning.known.room.day(problem.at)),
            )
        for flag in check_specimen(subject.specimen, subject.standing, morning.known.room, morning.now):
            if flag.what.key in ("flag.too_long", "flag.dry_part", "flag.teeth.glue"):
                yield Alert("act", _tagged(tag, flag.what), flag.next)
            elif flag.what.key in ("flag.promise", "flag.teeth.missing", "flag.teeth.leaving"):
                yield Alert("look", _tagged(tag, flag.what), flag.next)
    yield from _no_time(morning)


def _tagged(tag: str, what: Said) -> Said:
    return said(f"{what.key}.tagged", "{tag}: " + what.template, **{**what.values, "tag": tag})


def _no_time(morning: Morning) -> Iterable[Alert]:
    """Say once for each reason how many pieces found no time in the plan."""
    tags = {subject.specimen.id: subject.specimen.tag for subject in morning.subjects if subject.specimen.held is None}
    reasons: dict[str, tuple[Said, list[str]]] = {}
    for rest in morning.plan.unplaced:
        if rest.piece in tags:
            reasons.setdefault(rest.why.text, (rest.why, []))[1].append(tags[rest.piece])
    for why, pieces in reasons.values():
        yield Alert("look", said("alert.no_time", "no time in the plan for {tags}", tags=", ".join(sorted(pieces))), why)


def _teach(morning: Morning, tasks: tuple[TaskCard, ...]) -> Said | None:
    if not morning.known.room.places:
        return said(
            "teach.room", "This room has no places yet. Set the room up first: walk along the wall and say what stands there."
        )
    if not morning.subjects:
        return said("teach.first", "Nothing is in the room. Add the first specimen; its steps and dates follow from that.")
    if not any(task.specimen or task.members for task in tasks):
        return said("teach.quiet", "No specimen needs hands today. What sits in the room goes on by itself; the rounds stay.")
    return None


def _basis(tasks: tuple[TaskCard, ...], morning: Morning) -> tuple[Basis, ...]:
    """The methods behind today's tasks: how wide their times are and how well they are known."""
    lines: dict[str, Basis] = {}
    ids = {task.specimen_id for task in tasks}
    for subject in morning.subjects:
        leg = subject.standing.leg
        if leg is not None and subject.specimen.id in ids:
            key = f"{leg.step.value}, {leg.method.name}"
            line = Basis(key, leg.span.p10, leg.span.p90, "days", leg.method.standing, leg.method.source)
            seen = lines.get(key)
            lines[key] = line if seen is None else replace(line, low=min(line.low, seen.low), high=max(line.high, seen.high))
    return tuple(lines.values())


def _flags(morning: Morning) -> Iterable[Flag]:
    yield from morning.known.room.flags
    yield from morning.known.flags
    room = morning.known.room
    yield from missing_alarms(room.features)
    if room.places and not room.people:
        yield Flag(
            said(
                "flag.no_hours", "nobody's hours are set; planned as if somebody were here every day from 9 to 17, trained for all"
            ),
            said("flag.no_hours.next", "say who works when, and what each is trained for"),
        )
    if any(s.standing.leg is not None and s.standing.leg.step is Step.BEETLES for s in morning.subjects) and not box_appetite_known(
        morning.known
    ):
        yield Flag(
            said("flag.no_appetite", "nobody has said what the colony eats in a day; times in the box are common practice only"),
            said("flag.no_appetite.next", "weigh a head before and after, or set the box's grams a day"),
        )
