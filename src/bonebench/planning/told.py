"""A plan from compiled times: the same plan as `dispatch` makes, in the same words; a test holds the two equal.

The compiled dispatch keeps beside every time what limited it, and of every piece what keeps it still, as numbers. Here they become
slots and blocks again, and `outcome` says them.
"""

from collections.abc import Iterator, Sequence
from datetime import UTC
from typing import NamedTuple

import numpy as np

from bonebench.planning.checks import check_order
from bonebench.planning.floor import Block, Course
from bonebench.planning.outcome import plan_of
from bonebench.planning.prepared import Leg
from bonebench.planning.problem import Limit, Piece, Plan, Slot
from bonebench.planning.quick import QuickRoom
from bonebench.science.scheduling import Times
from bonebench.science.scheduling import tables as columns

LIMITS: dict[int, Limit] = {
    columns.L_READY: "ready",
    columns.L_HANDS: "hands",
    columns.L_PLACE: "place",
    columns.L_APPETITE: "appetite",
    columns.L_WAIT: "wait",
}
CODES = {
    columns.NO_CODE: "",
    columns.HORIZON_CODE: "horizon",
    columns.FULL: "full",
    columns.UNTRAINED: "untrained",
    columns.NO_TIME: "no time",
    columns.NOT_EATEN: "not eaten",
    columns.TIED: "tied",
}


def told_plan(quick: QuickRoom, order: Sequence[str], rule: str = "") -> Plan:
    """Dispatch one order by the compiled dispatch."""
    check_order(quick.prepared.problem, order)
    return plan_of_times(quick, order, rule, quick.times(quick.order_of(order)))


def plan_of_times(quick: QuickRoom, order: Sequence[str], rule: str, times: Times) -> Plan:
    """Put the plan of an order together from its times."""
    slots = [_slot(quick, row) for row in sorted(_rows(quick, order, times), key=lambda row: (row.time[columns.START], row.rank))]
    return plan_of(quick.prepared, order, rule, slots, _left(quick, order, times))


class _Row(NamedTuple):
    """One settled leg: its piece's place in the order and its row of times."""

    rank: int
    piece: Piece
    leg: Leg
    first: bool
    time: list[int]


def _rows(quick: QuickRoom, order: Sequence[str], times: Times) -> Iterator[_Row]:
    """Return the settled legs of each piece in turn; sorting keeps what begins at one instant in the order of its legs."""
    settled, first = times.time.tolist(), quick.tables.first.tolist()
    for rank, key in enumerate(order):
        ready = quick.prepared.pieces[key]
        begin = first[quick.number[key]]
        for number in range(int(times.course[rank, columns.NEXT])):
            yield _Row(rank, ready.piece, ready.legs[number], number == 0, settled[begin + number])


def _slot(quick: QuickRoom, row: _Row) -> Slot:
    calendar, problem, stage = quick.prepared.calendar, quick.prepared.problem, row.leg.stage
    start, end, place, person = (row.time[at] for at in (columns.START, columns.END, columns.PLACE, columns.PERSON))
    runs = row.piece.running if row.first else None
    limit, name = _limit(quick, row)
    return Slot(
        piece=row.piece.key,
        step=stage.step,
        visit=stage.visit,
        place=None if place < 0 else quick.boxes[place],
        start=calendar.instant(start) if runs is None else runs.since.astimezone(UTC),
        end=calendar.instant(end),
        person=problem.people[person].key if person >= 0 else None,
        limited_by=limit,
        limited_name=name or None,
    )


def _limit(quick: QuickRoom, row: _Row) -> tuple[Limit, str | None]:
    """Return what kept a stage from starting earlier, as `dispatch` has it: hands that a closed day kept away are a closed day."""
    limit, name = row.time[columns.LIMIT], row.time[columns.NAME]
    if limit == columns.L_HANDS:
        calendar = quick.prepared.calendar
        closed = calendar.first_closed(row.leg.people, row.time[columns.READIED], row.time[columns.START])
        if closed is not None:
            return "closed", closed.isoformat()
    return LIMITS[limit], _name(quick, limit, name)


def _name(quick: QuickRoom, limit: int, name: int) -> str | None:
    if limit == columns.L_HANDS:
        return quick.works[name]
    if limit == columns.L_PLACE:
        return quick.kinds[name] if name >= 0 else None
    if limit == columns.L_APPETITE and name != -1:
        return quick.boxes[name] if name >= 0 else quick.kinds[-2 - name]
    return None


def _left(quick: QuickRoom, order: Sequence[str], times: Times) -> Iterator[Course]:
    """Return the pieces that found no time, or not for all of their legs, as `dispatch` leaves them."""
    for rank in np.flatnonzero(times.unplaced[quick.order_of(order)]).tolist():
        row = times.course[rank].tolist()
        course = Course(rank, rank, quick.prepared.pieces[order[rank]])
        course.next, course.ready_at = row[columns.NEXT], row[columns.READY_AT]
        course.block = _block(quick, course, row)
        yield course


def _block(quick: QuickRoom, course: Course, row: list[int]) -> Block | None:
    limit, code, ahead = row[columns.B_LIMIT], row[columns.B_CODE], row[columns.B_AHEAD]
    if limit == columns.NOTHING:
        return None
    said = _nowhere(quick, course.ready.legs[course.next + ahead]) if code == columns.NOWHERE else CODES[code]
    return Block(LIMITS[limit], _name(quick, limit, row[columns.B_NAME]), said, ahead)


def _nowhere(quick: QuickRoom, leg: Leg) -> str:
    """Return why no place can take a piece at all."""
    places = [place for place in quick.prepared.problem.places if place.kind == leg.kind]
    return "none" if not places else "too big" if any(place.open for place in places) else "not open"
