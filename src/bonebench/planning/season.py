"""The season ahead: what comes in each month against what the colony eats and the pots hold, when the freezer is full, and the last
day to take in work for a holiday."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Literal

import numpy as np

from bonebench.errors import Impossible
from bonebench.planning.calendars import Calendar
from bonebench.planning.draws import Arrivals, Uncertain
from bonebench.planning.hands import HandHours, hand_hours, hours_are_set, minutes_wanted, people_over
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Piece, Problem
from bonebench.planning.promise import QUOTE_REPLAYS, Promised, quote
from bonebench.planning.quick import QuickRoom
from bonebench.planning.rules import first_come, work_days
from bonebench.science.scheduling.tables import DAY, PLACE, START, UNSET, Ints

DAYS_A_MONTH = 30.44
Heard = Callable[[float], None]
Measure = Literal["pieces", "L", "kg"]
MEASURES: tuple[Measure, ...] = ("pieces", "L", "kg")  # in the order of a load


@dataclass(frozen=True, slots=True)
class Month:
    """One month: pieces and tissue that come, what the colony can eat, days in each kind of place, and hours of hands.

    ``wanted`` and ``there`` count piece-days by kind of place; a place without a count is left out of both. ``hands`` is None
    where nobody's hours are known.
    """

    first: date
    pieces: float
    tissue_kg: float
    appetite_kg: float
    wanted: Mapping[str, float]
    there: Mapping[str, float]
    hands: HandHours | None = None

    @property
    def tightest(self) -> tuple[str, float]:
        """What is asked for most, as a share of what there is: a kind of place, *appetite* or *hands*."""
        shares = {kind: days / self.there[kind] for kind, days in self.wanted.items() if self.there.get(kind)}
        if self.tissue_kg:
            shares["appetite"] = self.tissue_kg / self.appetite_kg if self.appetite_kg else float("inf")
        if self.hands is not None and self.hands.tightest is not None:
            shares["hands"] = self.hands.tightest.share
        kind = max(shares, key=lambda one: shares[one], default="")
        return kind, shares.get(kind, 0.0)


@dataclass(frozen=True, slots=True)
class Filling:
    """What is in places of one kind day by day, and the first day it is more than they hold; None where it always fits.

    The numbers are pieces, litres or kilograms, as ``measure`` says.
    """

    kind: str
    measure: Measure
    days: tuple[float, ...]
    holds: float | None
    full_on: date | None


def inflow(problem: Problem, arrivals: Arrivals | None, months: int = 12) -> tuple[Month, ...]:
    """Return month by month what comes in (known and expected) against what the room can do."""
    calendar = Calendar(problem)
    return tuple(_month(problem, calendar, arrivals, _later(calendar.today.replace(day=1), at)) for at in range(months))


def _later(first: date, months: int) -> date:
    year, month = divmod(first.month - 1 + months, 12)
    return date(first.year + year, month + 1, 1)


def _month(problem: Problem, calendar: Calendar, arrivals: Arrivals | None, first: date) -> Month:
    begins, after = max(first, calendar.today), _later(first, 1)
    days = (after - begins).days
    # What is in the room already was to be done before: it counts to the first month.
    known = [piece for piece in problem.pieces if piece.held is None and begins <= _comes(problem, piece) < after]
    expected = arrivals.per_month.get(first.month, 0.0) * days / DAYS_A_MONTH if arrivals is not None else 0.0
    kinds = arrivals.kinds if arrivals is not None else ()
    share = expected / len(kinds) if kinds else 0.0
    counted = [(piece, 1.0) for piece in known] + [(piece, share) for piece in kinds]
    wanted: dict[str, float] = {}
    for piece, times in counted:
        for stage in piece.stages:
            if stage.stay and stage.place_kind is not None and not stage.eats:
                wanted[stage.place_kind] = wanted.get(stage.place_kind, 0.0) + times * stage.days * piece.load.count
    there: dict[str, float] = {}
    for room in problem.places:
        if room.open and room.count is not None:
            there[room.kind] = there.get(room.kind, 0.0) + room.count * days
    return Month(
        first=first,
        pieces=len(known) + expected,
        tissue_kg=sum(times * piece.tissue_kg for piece, times in counted),
        appetite_kg=sum(
            problem.appetite_kg_per_day.get(box, {}).get(begins + timedelta(days=day), kg)
            for box, kg in problem.appetite_otherwise.items()
            for day in range(days)
        ),
        wanted={kind: days_in for kind, days_in in wanted.items() if kind in there},
        there=there,
        hands=hand_hours(minutes_wanted(counted), people_over(calendar, begins, days)) if hours_are_set(calendar) else None,
    )


def _comes(problem: Problem, piece: Piece) -> date:
    return max(piece.release, problem.now).astimezone(problem.zone).date()


def filling(problem: Problem, arrivals: Arrivals | None, kind: str = "freezer", days: int = 365) -> Filling:
    """Return how full places of a kind get when the known and the expected come in and go on first come, first served.

    Who comes is laid out evenly over each month, so that it is one likely course and not a draw. Counted is what fills first of
    count, litres and kilograms; the numbers are in that measure.
    """
    expected = expected_pieces(problem, arrivals, days)
    # Those places must take everything here, or the piece would wait outside them unseen.
    rooms = tuple(replace(r, count=None, volume_l=None, mass_kg=None) if r.kind == kind else r for r in problem.places)
    full = replace(problem, pieces=(*problem.pieces, *expected), places=rooms)
    prepared = Prepared(full)
    quick = QuickRoom(prepared)
    times = quick.times(quick.order_of(first_come(prepared)))
    wanted = {at for at, room in enumerate(problem.places) if room.kind == kind and room.open}
    fillings = [_fill(problem, quick, times.time, wanted, part=part, days=days) for part in range(3)]
    limited = [one for one in fillings if one.holds is not None]
    full_ones = [one for one in limited if one.full_on is not None]
    if full_ones:
        return replace(min(full_ones, key=lambda one: one.full_on or date.max), kind=kind)
    return replace(max(limited, key=lambda one: max(one.days) / (one.holds or 1.0)) if limited else fillings[0], kind=kind)


def _fill(problem: Problem, quick: QuickRoom, time: Ints, wanted: set[int], *, part: int, days: int) -> Filling:
    level = np.zeros(days + 1)
    first = quick.tables.first
    for key, number in quick.number.items():
        ready = quick.prepared.pieces[key]
        amount = ready.load[part]
        piece = ready.piece
        sits = piece.running.place if piece.running is not None else piece.place
        here = next((at for at, room in enumerate(problem.places) if room.key == sits), -1)
        since: int | None = 0 if here in wanted else None
        if sits is None and piece.held is None:
            # What comes in waits there until its first step somewhere else.
            since = ready.release
        keeps = False
        for leg in range(int(first[number]), int(first[number + 1])):
            row = time[leg]
            if row[START] == UNSET:
                break
            inside, stage = int(row[PLACE]) in wanted, ready.legs[leg - int(first[number])]
            keeps = stage.keeps and (keeps or since is not None)
            if inside and since is None:
                since = max(0, int(row[START]))
            elif not inside and row[PLACE] >= 0 and since is not None and not keeps:
                level[since // DAY : max(0, int(row[START])) // DAY] += amount
                since = None
        if since is not None:
            level[since // DAY :] += amount
    limits = [(room.count, room.volume_l, room.mass_kg)[part] for at, room in enumerate(problem.places) if at in wanted]
    holds = None if not limits or any(limit is None for limit in limits) else float(sum(limit or 0.0 for limit in limits))
    over = np.flatnonzero(level > holds + 1e-9) if holds is not None else np.array([], np.int64)
    full_on = quick.prepared.calendar.date_of(int(over[0])) if len(over) else None
    return Filling("", MEASURES[part], tuple(level.tolist()), holds, full_on)


def expected_pieces(problem: Problem, arrivals: Arrivals | None, days: int) -> tuple[Piece, ...]:
    """Return the expected pieces: one whenever what is expected adds up to another whole one, promised as its kind was."""
    if arrivals is None or not arrivals.kinds:
        return ()
    pieces: list[Piece] = []
    total = 0.0
    for day in range(min(days, arrivals.days)):
        comes = problem.now + timedelta(days=day)
        total += arrivals.per_month.get(comes.astimezone(problem.zone).month, 0.0) / DAYS_A_MONTH
        while len(pieces) + 1 <= total:
            at = len(pieces) % len(arrivals.kinds)
            ahead = arrivals.ahead_days[at] if arrivals.ahead_days else None
            due = None if ahead is None else comes.astimezone(problem.zone).date() + timedelta(days=ahead)
            fresh = replace(arrivals.kinds[at], key=f"expected {len(pieces) + 1}", running=None, place=None)
            pieces.append(replace(fresh, release=comes, received=comes, due=due))
    return tuple(pieces)


@dataclass(frozen=True, slots=True)
class LastDay:
    """The last day on which a piece may come in and be through by a day in so many of the replays; None: not even today."""

    day: date | None
    through_by: date
    share: float
    promised: Promised | None


def last_day_to_accept(
    problem: Problem, order: Sequence[str], piece: Piece, uncertain: Uncertain, *, through_by: date, share: float = 0.8,
    replays: int = QUOTE_REPLAYS, heard: Heard = lambda share: None,
) -> LastDay:  # fmt: skip
    """Return the last day to take in a piece like this for a holiday, by promise: halving the days between now and then.

    ``heard`` is told before each quote which share of them is done.
    """
    today = problem.now.astimezone(problem.zone).date()
    not_past(through_by, today)
    quotes = 1 + max(1, (through_by - today).days).bit_length()
    asked_of = 0

    def holds(days: int) -> tuple[bool, Promised]:
        nonlocal asked_of
        heard(min(asked_of / quotes, 1.0))
        asked_of += 1
        comes = _morning(problem, today + timedelta(days=days))
        promised = quote(problem, order, replace(piece, release=comes, received=comes), uncertain, replays=replays)
        end = _morning(problem, through_by + timedelta(days=1))
        return promised.chance_by((end - problem.now).total_seconds() / DAY) >= share, promised

    known, promised = holds(0)
    if not known:
        return LastDay(None, through_by, share, promised)
    ready = Prepared(replace(problem, pieces=(piece,))).pieces[piece.key]
    low, high = 0, max(1, (through_by - today).days - int(min(work_days(ready), 9999)) // 2)
    while high - low > 1:
        middle = (low + high) // 2
        known, asked = holds(middle)
        if known:
            low, promised = middle, asked
        else:
            high = middle
    return LastDay(today + timedelta(days=low), through_by, share, promised)


def not_past(day: date, today: date) -> None:
    """Refuse a day that is not ahead."""
    if day <= today:
        raise Impossible("season.past", "{day:day} is not ahead: name a day after today", day=day.isoformat())


def _morning(problem: Problem, day: date) -> datetime:
    return max(problem.now, datetime.combine(day, time(0), problem.zone).astimezone(UTC))
