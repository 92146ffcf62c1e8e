"""What would be otherwise: one change of the room each, planned the same way and laid side by side in dates and lateness."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from bonebench.errors import OutsideRange, UnknownName
from bonebench.planning.problem import Hands, Piece, Plan, Problem
from bonebench.planning.search import OutOfTime, search

Change = Callable[[Problem], Problem]


@dataclass(frozen=True, slots=True)
class Side:
    """One way the room could be: how late things are, when pieces are through, and what finds no time."""

    name: str
    problem: Problem
    plan: Plan
    weighted_late_days: float
    late_pieces: int
    unplaced: int
    last_through: date | None
    mean_days: float | None
    ends: Mapping[str, date]


def more_of(kind: str, number: int = 1) -> Change:
    """Return the change *so many more places like the first open one of this kind*: one more pot, tub, box, rack."""

    def change(problem: Problem) -> Problem:
        like = next((room for room in problem.places if room.kind == kind and room.open), None)
        if like is None:
            raise UnknownName(
                "whatif.no_such_place",
                "there is no open {kind} in the room to have one more of: add one to the room first",
                could_be=tuple(sorted({room.kind for room in problem.places}))[:5],
                kind=kind,
            )
        taken = {room.key for room in problem.places}
        names = [name for at in range(1, len(taken) + number + 1) if (name := f"another {kind} {at}") not in taken]
        new = [replace(like, key=name) for name in names[:number]]
        by_day, otherwise = dict(problem.appetite_kg_per_day), dict(problem.appetite_otherwise)
        for room in new:
            # A second box eats like the first once it is as strong; until then it eats less.
            if like.key in by_day:
                by_day[room.key] = by_day[like.key]
            if like.key in otherwise:
                otherwise[room.key] = otherwise[like.key]
        return replace(problem, places=(*problem.places, *new), appetite_kg_per_day=by_day, appetite_otherwise=otherwise)

    return change


def helper(key: str, days: Sequence[int], begins: time, ends: time, trained: Sequence[str]) -> Change:
    """Return the change *one more pair of hands*, on these weekdays (0 is Monday) from then to then."""
    hands = Hands(key, dict.fromkeys(days, ((begins, ends),)), frozenset(trained))
    return lambda problem: replace(problem, people=(*problem.people, hands))


def hungrier(factor: float) -> Change:
    """Return the change *every box eats so many times as much*: a warmer box, a stronger colony."""
    if not 0 < factor <= 10:
        raise OutsideRange(
            "whatif.factor", "{factor} times the appetite cannot be: give a factor above 0 and up to 10", factor=factor
        )

    def change(problem: Problem) -> Problem:
        by_day = {box: {day: kg * factor for day, kg in days.items()} for box, days in problem.appetite_kg_per_day.items()}
        return replace(
            problem,
            appetite_kg_per_day=by_day,
            appetite_otherwise={box: kg * factor for box, kg in problem.appetite_otherwise.items()},
        )

    return change


def without(*steps: str) -> Change:
    """Return the change *these steps are left out*, the first of them with all that follows from it: no whitening, and its rinse.

    Where the first has begun all of them stay: what lies in peroxide is rinsed.
    """

    def change(problem: Problem) -> Problem:
        return replace(problem, pieces=tuple(_without(piece, steps) for piece in problem.pieces))

    return change


def _without(piece: Piece, steps: Sequence[str]) -> Piece:
    begun = 1 if piece.running is not None else 0
    if all(stage.step != steps[0] for stage in piece.stages[begun:]):
        return piece
    return replace(piece, stages=piece.stages[:begun] + tuple(s for s in piece.stages[begun:] if s.step not in steps))


def refuse_until(day: date) -> Change:
    """Return the change *nothing new is taken in before that day*: what would come before it does not come."""

    def change(problem: Problem) -> Problem:
        opens = datetime.combine(day, time(0), problem.zone)
        kept = tuple(piece for piece in problem.pieces if not problem.now < piece.release < opens)
        return replace(problem, pieces=kept)

    return change


def longer_hours(person: str, minutes: float) -> Change:
    """Return the change *this person stays so much longer* on each day they are there."""

    def change(problem: Problem) -> Problem:
        if all(one.key != person for one in problem.people):
            known = tuple(one.key for one in problem.people)
            raise UnknownName("whatif.no_such_person", "nobody is called {person}", could_be=known[:5], person=person)
        return replace(problem, people=tuple(_longer(one, minutes) if one.key == person else one for one in problem.people))

    return change


def _longer(person: Hands, minutes: float) -> Hands:
    hours = {}
    for day, spans in person.hours.items():
        *before, (begins, ends) = sorted(spans)
        last = datetime.combine(date(2000, 1, 1), ends) + timedelta(minutes=minutes)
        hours[day] = (*before, (begins, time(0) if last.date() > date(2000, 1, 1) else last.time()))
    return replace(person, hours=hours)


def side_by_side(
    problem: Problem,
    changes: Mapping[str, Change],
    *,
    moves: int = 300,
    seed: int = 1,
    start: Sequence[str] | None = None,
    out_of_time: OutOfTime = lambda: False,
) -> Iterator[Side]:
    """Plan the room as it is and once for each change, all with the same effort; each side is given as soon as it is planned.

    The room as it is comes first. All go on from one order that was looked for before, with the same dice, so that a change is not
    praised for a longer search.
    """
    rooms = {"as it is": problem, **{name: change(problem) for name, change in changes.items()}}
    found = search(problem, moves=moves, seed=seed, start=start, out_of_time=out_of_time).plan
    for name, room in rooms.items():
        yield _side(name, room, search(room, moves=moves, seed=seed, start=found.order, out_of_time=out_of_time).plan)


def _side(name: str, problem: Problem, plan: Plan) -> Side:
    off = {one.piece for one in plan.unplaced}
    weights = {piece.key: piece.weight for piece in problem.pieces}
    last = {slot.piece: slot.end for slot in plan.slots if slot.piece not in off}
    days = [(end - problem.now).total_seconds() / 86400 for end in last.values()]
    ends = {key: end.astimezone(problem.zone).date() for key, end in last.items()}
    return Side(
        name=name,
        problem=problem,
        plan=plan,
        weighted_late_days=float(sum(weights[one.piece] * one.days for one in plan.late)),
        late_pieces=len(plan.late),
        unplaced=len(off),
        last_through=max(ends.values(), default=None),
        mean_days=sum(days) / len(days) if days else None,
        ends=ends,
    )
