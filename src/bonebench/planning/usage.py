"""What a plan asks of the room from now on: hands, days in each place, steps begun. Money is put on it elsewhere."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from bonebench.planning.calendars import DAY, Calendar
from bonebench.planning.problem import Plan, Problem, Slot, Stage


@dataclass(frozen=True, slots=True)
class Use:
    """How long a place holds any of the pieces, and how often it begins anew after it stood empty.

    Attributes
    ----------
    days : float
        Time with at least one piece in it. [d]
    starts : int
        How often it was taken up empty; what runs already counts as none.
    """

    days: float
    starts: int


@dataclass(frozen=True, slots=True)
class Usage:
    """What a plan asks of the room for some of its pieces, from now until the last of them is through.

    Attributes
    ----------
    minutes : mapping
        Hands-on minutes by person; *None* is work nobody was named for. [min]
    begun : mapping
        How many of each step begin from now on.
    places : mapping
        By place, for stays only.
    until : datetime or None
        When the last is through; None where there is nothing to do.
    """

    minutes: Mapping[str | None, float]
    begun: Mapping[str, int]
    places: Mapping[str, Use]
    until: datetime | None


def usage(problem: Problem, plan: Plan, keys: Collection[str]) -> Usage:
    """Return what a plan asks of the room for these pieces; a step that runs already has had its hands."""
    stages = {(piece.key, stage.step, stage.visit): stage for piece in problem.pieces for stage in piece.stages}
    slots = [slot for slot in plan.slots if slot.piece in keys]
    minutes: dict[str | None, float] = {}
    begun: dict[str, int] = {}
    for slot in slots:
        if slot.start < problem.now:
            continue
        hands = stages[slot.piece, slot.step, slot.visit].minutes
        if hands:
            minutes[slot.person] = minutes.get(slot.person, 0.0) + hands
        begun[slot.step] = begun.get(slot.step, 0) + 1
    until = max((slot.end for slot in slots), default=None)
    return Usage(minutes, begun, _places(problem, slots, stages), until)


def _places(problem: Problem, slots: Collection[Slot], stages: Mapping[tuple[str, str, int], Stage]) -> dict[str, Use]:
    """Return how long each place is in use: a piece is in it until its next step begins somewhere else."""
    spans: dict[str, list[tuple[datetime, datetime]]] = {}
    of_piece: dict[str, list[Slot]] = {}
    for slot in slots:
        of_piece.setdefault(slot.piece, []).append(slot)
    stays = {key for key, stage in stages.items() if stage.stay}
    for line in of_piece.values():
        line.sort(key=lambda slot: slot.start)
        for at, slot in enumerate(line):
            if slot.place is None or (slot.piece, slot.step, slot.visit) not in stays:
                continue
            leaves = next((later.start for later in line[at + 1 :] if later.place not in (None, slot.place)), slot.end)
            spans.setdefault(slot.place, []).append((slot.start, max(leaves, slot.end)))
    return {place: _use(problem.now, sorted(times)) for place, times in spans.items()}


def _use(now: datetime, spans: list[tuple[datetime, datetime]]) -> Use:
    days, starts = 0.0, 0
    until: datetime | None = None
    for begins, ends in spans:
        if until is None or begins > until:
            starts += begins >= now
            until = begins
        since = max(now, until)
        days += max(0.0, (ends - since) / timedelta(days=1))
        until = max(until, ends)
    return Use(days, starts)


def attended_hours(problem: Problem, person: str, until: datetime | None) -> float:
    """Return the hours somebody is there from now until then, closed days left out."""
    if until is None or until <= problem.now:
        return 0.0
    calendar = Calendar(problem)
    number = next(at for at, hands in enumerate(problem.people) if hands.key == person)
    last = calendar.seconds(until)
    days = range(calendar.day_of(last) + 1)
    spans = (span for day in days for span in calendar.windows(number, day))
    return sum(max(0, min(ends, last) - begins) for begins, ends in spans) / (DAY / 24)
