"""The one function that turns an order of pieces into times under every rule of the room.

Time goes on from event to event: a stage ends, a person is free, room is given up. At each, the pieces are gone through in
the order given, and each starts its next stage if that can start at that very instant: place, hands and, in the beetle box,
an appetite that ends within the horizon. Stages tied to it by a longest wait are settled with it, each at its earliest, or it
does not start. What has been settled is never taken back, so nothing is promised twice.

What sits where: a stay takes its place until the next stage in another kind of place begins. An act takes its bench for its
minutes only; the piece leaves the place it was in unless the act keeps it. Work longer than anyone's hours in one go is begun
in the first free minute of one person and goes on through all their next free hours until it is done.
"""

from bisect import insort
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from heapq import heappop, heappush

from bonebench.planning.appetite import Eater
from bonebench.planning.calendars import NEVER
from bonebench.planning.checks import check_order
from bonebench.planning.fitting import Fit, Refusal, fit_chain
from bonebench.planning.floor import Block, Course, Floor
from bonebench.planning.outcome import plan_of
from bonebench.planning.places import Claims
from bonebench.planning.prepared import Leg, Prepared
from bonebench.planning.problem import Plan, Problem, Slot

NOBODY = -1
# An end later than the piece alone would need by more than this was the box's doing.
NOTICED_SECONDS = 60


def dispatch(problem: Problem, order: Sequence[str], rule: str = "") -> Plan:
    """Turn an order of pieces into times under every rule; the same problem and order give the same plan."""
    return dispatch_prepared(Prepared(problem), order, rule)


def dispatch_prepared(prepared: Prepared, order: Sequence[str], rule: str = "") -> Plan:
    """Dispatch one of many orders of the same problem."""
    check_order(prepared.problem, order)
    run = _Run(prepared, order)
    run.take_over()
    run.go()
    return plan_of(prepared, order, rule, run.slots(), run.courses)


@dataclass(slots=True)
class _Row:
    """One stage with its settled times, before it is written as a slot."""

    course: Course
    leg: Leg
    start: int
    end: int
    place: str | None
    person: int
    limit: Block
    hands_end: int = 0
    since: datetime | None = None


class _Run:
    """One dispatch."""

    def __init__(self, prepared: Prepared, order: Sequence[str]) -> None:
        self._prepared = prepared
        self._calendar = prepared.calendar
        self._floor = Floor(prepared)
        self._now = 0
        self._rows: list[_Row] = []
        self._eating: dict[int, _Row] = {}
        self._events: list[tuple[int, int]] = []
        # Those who wait, by the work they need: when no one has time for it, all of them are passed over at once.
        self._waiting: dict[tuple[str, int], list[int]] = {}
        self._by_key: dict[int, Course] = {}
        self._hands_at: dict[tuple[str, int], int] = {}
        self.courses = [Course(number, number, prepared.pieces[key]) for number, key in enumerate(order)]

    # What is there already

    def take_over(self) -> None:
        """Put what is running and what sits somewhere into the room, whether it fits or not."""
        running = [course for course in self.courses if course.ready.piece.running and course.ready.legs]
        for course in self.courses:
            self._sit(course)
        for course in sorted(running, key=self._since):
            self._go_on(course)
        self._floor.advance(0)
        tied = [course for course in running if course.next == 1 and not course.dead and not course.ended]
        for course in sorted((one for one in tied if one.ready.legs[0].most is not None), key=lambda one: (one.ready_at, one.rank)):
            self._settle_tie(course)
        for course in self.courses:
            if not course.dead and not (course.ended and course.next == 0):
                self._wake_at(course.ready_at, course.number)

    def _since(self, course: Course) -> tuple[int, int]:
        running = course.ready.piece.running
        return (min(0, self._calendar.seconds(running.since)) if running else 0, course.rank)

    def _sit(self, course: Course) -> None:
        piece = course.ready.piece
        course.dead = piece.held is not None
        sits = piece.place if piece.running is None else piece.running.place if not piece.stages else None
        if sits in self._floor.places and (piece.stages or piece.held):
            course.at = self._floor.places[sits]
            course.at.enter(course.ready.load, 0)

    def _go_on(self, course: Course) -> None:
        """Let the first stage run to its end; the piece is ready then, or now when that is past."""
        piece, leg = course.ready.piece, course.ready.legs[0]
        if piece.running is None:
            return
        since = self._calendar.seconds(piece.running.since)
        end = since + max(leg.length, leg.hands)
        limit = Block("ready")
        if leg.eats:
            offer = self._floor.box(piece.running.place).offer(min(since, 0) - 1, course.rank, course.ready.food)
            self._floor.box(piece.running.place).accept(offer, fixed=False, owner=NOBODY)
            end, limit, course.fed = offer.eater.end, Block("appetite", piece.running.place, "not eaten"), True
        self._sit_running(course, leg, max(0, end))
        if course.dead:
            return
        if end > self._floor.horizon:
            course.dead, course.block = True, limit if leg.eats else Block("wait", None, "horizon")
            return
        row = _Row(course, leg, since, end, piece.running.place, NOBODY, Block("ready"), since=piece.running.since)
        self._rows.append(row)
        self._pass_on(course, leg, end, self._slowed(course, leg, 0, end, piece.running.place))
        course.next = 1
        self._leave_at_last(course, leg, max(0, end))

    def _sit_running(self, course: Course, leg: Leg, end: int) -> None:
        piece, places = course.ready.piece, self._floor.places
        place = places.get(piece.running.place) if piece.running else None
        kept = places.get(piece.place) if piece.place else None
        if place is not None:
            place.enter(course.ready.load, 0)
            if leg.stay or kept is place or course.dead:
                course.at = place
            else:
                place.leave(course.ready.load, end)
        if leg.keeps and kept is not None and kept is not place:
            kept.enter(course.ready.load, 0)
            course.home = kept

    def _settle_tie(self, course: Course) -> None:
        """Settle what must follow a running stage soon; where that cannot be done yet, it goes before everything else."""
        found = fit_chain(self._floor, course, course.ready_at, exact=False)
        if isinstance(found, Refusal):
            course.block = found.block
            course.key = course.rank - len(self.courses)
        else:
            self._commit(course, found)
            self._floor.settle(0)

    # From event to event

    def _wake_at(self, at: int, number: int = NOBODY) -> None:
        heappush(self._events, (at, number))

    def go(self) -> None:
        """Go on from event to event until nothing more can happen within the horizon."""
        events, horizon = self._events, self._floor.horizon
        while events and events[0][0] <= horizon:
            now = self._now = events[0][0]
            while events and events[0][0] == now:
                number = heappop(events)[1]
                if number != NOBODY:
                    self._ready(self.courses[number], now)
            self._floor.advance(now)
            while self._sweep(now):
                pass
        self._leave_waiting()

    def _leave_waiting(self) -> None:
        """Say of those who still wait for hands that it is hands they wait for."""
        for work, keys in self._waiting.items():
            for key in keys if self._hands_at.get(work, 0) > self._floor.horizon else ():
                self._by_key[key].block = Block("hands", work[0], "no time")

    def _ready(self, course: Course, now: int) -> None:
        if course.ready_at > now or course.dead or course.key in self._by_key:
            return
        if course.ended:
            self._leave_all(course, now)
            return
        course.not_before = now
        self._by_key[course.key] = course
        course.hands_key = course.leg.hands_key
        insort(self._waiting.setdefault(course.hands_key, []), course.key)

    def _stop_waiting(self, course: Course) -> None:
        self._waiting[course.leg.hands_key].remove(course.key)
        del self._by_key[course.key]

    def _sweep(self, now: int) -> bool:
        """Start what can start, in order; True when one passed over may start after all, so that all must be asked again."""
        hands_at, passed, asked = self._hands_at, [], []
        for work, keys in self._waiting.items():
            if keys and hands_at.get(work, 0) <= now:
                asked += keys
        asked.sort()
        for key in asked:
            course = self._by_key[key]
            if hands_at.get(course.hands_key, 0) > now:
                continue
            if course.still_blocked(now):
                passed.append(course)
                continue
            if course.leg.hands and not self._has_hands(course.leg, now):
                continue
            found = fit_chain(self._floor, course, now, exact=True)
            if isinstance(found, Refusal):
                self._refused(course, found)
                passed.append(course)
                continue
            self._stop_waiting(course)
            self._commit(course, found)
            self._floor.settle(now)
            if any(not (other.dead or other.still_blocked(now)) for other in passed):
                return True
        return False

    def _has_hands(self, leg: Leg, now: int) -> bool:
        """Whether anyone could begin the work now; if not, all who need it are passed over until someone can."""
        if not leg.people:
            return True
        # People's time is only ever taken, never given back: a *no* holds until the time it names.
        at, _ = self._floor.crew.earliest(leg.people, now, leg.hands, split=leg.split)
        if at <= now:
            return True
        self._hands_at[leg.hands_key] = at
        if at < NEVER:
            self._wake_at(at)
        return False

    def _refused(self, course: Course, refusal: Refusal) -> None:
        course.block = self._last_block(course, refusal)
        legs = course.ready.legs[course.next :]
        tied = legs[: 1 + next((number for number, leg in enumerate(legs) if leg.most is None), len(legs))]
        # Split work begun later may end sooner, in another's longer hours, and how far eating moves with its start is found by
        # trying: a refusal of these says nothing about the next event.
        unsure = any((leg.split and leg.people) or (leg.eats and leg.most is not None) for leg in tied)
        if refusal.final and not unsure:
            course.dead = True
            self._stop_waiting(course)
            return
        if refusal.until < NEVER:
            self._wake_at(refusal.until)
        course.not_before = self._now + 1 if unsure else refusal.until
        kinds = {leg.kind for leg in tied if leg.kind is not None}
        if refusal.until == NEVER and refusal.block.limit == "place" and refusal.block.name is not None:
            kinds = {refusal.block.name}
        course.watch = tuple(self._floor.kind(kind) for kind in kinds)
        course.seen = sum(kind.version for kind in course.watch)

    def _last_block(self, course: Course, refusal: Refusal) -> Block:
        """Return what kept a piece; that it is too late now says less than what it had waited for until now."""
        if refusal.block.code != "horizon" or course.ready_at >= self._now:
            return refusal.block
        # Only those passed over for want of hands have waited without ever being refused.
        return course.block or Block("hands", course.leg.stage.work, "no time")

    # What has been settled

    def _commit(self, course: Course, fits: list[Fit]) -> None:
        for number, fit in enumerate(fits):
            place = fit.place.key if fit.place is not None and fit.leg.kind is not None else None
            row = _Row(
                course,
                fit.leg,
                fit.start,
                fit.end,
                place,
                fit.person,
                self._limit(course, fit),
                fit.spans[-1][1] if fit.spans else 0,
            )
            self._rows.append(row)
            if fit.person >= 0:
                self._floor.crew.book(fit.person, fit.spans)
            self._move(course, fit)
            slowed = None
            if fit.offer is not None and fit.place is not None:
                self._eating[course.number] = row
                moved = self._floor.box(fit.place.key).accept(fit.offer, fixed=number < len(fits) - 1, owner=course.number)
                self._put_off(moved)
                slowed = self._slowed(course, fit.leg, fit.start, fit.end, fit.place.key)
            course.fed = course.fed or fit.leg.eats
            course.next += 1
            self._pass_on(course, fit.leg, fit.end, slowed)
        course.block = None
        self._leave_at_last(course, fits[-1].leg, fits[-1].end)
        self._wake_at(course.ready_at, course.number)

    def _pass_on(self, course: Course, leg: Leg, end: int, slowed: Block | None) -> None:
        course.ready_at = max(0, end + leg.least)
        course.ready_block = slowed or Block("wait" if leg.least else "ready")

    def _slowed(self, course: Course, leg: Leg, start: int, end: int, box: str) -> Block | None:
        food = course.ready.food
        if not leg.eats or food.rate <= 0:
            return None
        alone = start + max(leg.hands, 86400 * food.days_for(food.tissue_kg, food.tissue_kg))
        return Block("appetite", box) if end > alone + NOTICED_SECONDS else None

    def _limit(self, course: Course, fit: Fit) -> Block:
        """Return what kept a stage from starting earlier."""
        if fit.start <= course.ready_at:
            return course.ready_block
        block = fit.block or course.block or course.ready_block
        # Nobody had the time until this very instant, whatever else was in the way before.
        if fit.block is None and self._hands_at.get(fit.leg.hands_key) == fit.start:
            block = Block("hands", fit.leg.stage.work)
        if block.limit == "hands":
            closed = self._calendar.first_closed(fit.leg.people, course.ready_at, fit.start)
            if closed is not None:
                return Block("closed", closed.isoformat())
        return block

    def _move(self, course: Course, fit: Fit) -> None:
        before, after = (course.at, course.home), fit.after
        load = course.ready.load
        for place in before:
            if place is not None and place not in after:
                self._leave(place, course, fit.start)
        for place in after:
            if place is not None and place not in before:
                place.enter(load, fit.start)
        if fit.bench and fit.place is not None and fit.spans:
            fit.place.enter(load, fit.start)
            self._leave(fit.place, course, fit.spans[-1][1])
        course.at, course.home = after

    def _leave(self, place: Claims, course: Course, at: int) -> None:
        place.leave(course.ready.load, at)
        if at > self._now:
            self._wake_at(at)

    def _leave_at_last(self, course: Course, leg: Leg, end: int) -> None:
        """Free the places of a piece that has been through; the end of eating may still move, so that waits for its day."""
        if course.ended and not leg.eats:
            self._leave_all(course, end)

    def _leave_all(self, course: Course, at: int) -> None:
        for place in (course.at, course.home):
            if place is not None:
                self._leave(place, course, at)
        course.at = course.home = None

    def _put_off(self, moved: list[Eater]) -> None:
        """Carry on to the pieces settled to enter a box later that another has gone in before them."""
        for eater in moved:
            course, row = self.courses[eater.owner], self._eating[eater.owner]
            row.end = max(eater.end, row.hands_end)
            self._pass_on(course, row.leg, row.end, Block("appetite", row.place))
            self._wake_at(course.ready_at, course.number)

    # The plan

    def slots(self) -> list[Slot]:
        """Return every settled stage, in the order they begin."""
        people, at = self._prepared.problem.people, self._calendar.instant
        rows = sorted(self._rows, key=lambda row: (row.start, row.course.rank))
        return [
            Slot(
                piece=row.course.ready.piece.key,
                step=row.leg.stage.step,
                visit=row.leg.stage.visit,
                place=row.place,
                start=at(row.start) if row.since is None else row.since.astimezone(UTC),
                end=at(row.end),
                person=people[row.person].key if row.person >= 0 else None,
                limited_by=row.limit.limit,
                limited_name=row.limit.name or None,
            )
            for row in rows
        ]
