"""The door to the compiled dispatch: tables and an order in, times and a score out."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from bonebench.errors import Impossible
from bonebench.science.kernel import at_hand, compiled, no_collecting
from bonebench.science.scheduling.run import run
from bonebench.science.scheduling.tables import (
    AT,
    B_LIMIT,
    BATCH,
    COUNTERS,
    COURSE_COLUMNS,
    DAY,
    EATER_COLUMNS,
    END,
    FIT_COLUMNS,
    FREE_CLAIM,
    HELD,
    HOME,
    KEY,
    LAST_DAY,
    LEG_NOW,
    NEXT,
    NEXT_FREE,
    NOTHING,
    PLACE,
    RB_NAME,
    READY_AT,
    RELEASE,
    START,
    TIME_COLUMNS,
    UNSET,
    Ints,
    State,
    Tables,
)

MOST_ROOM = 64


class Times(NamedTuple):
    """What came of an order.

    Attributes
    ----------
    time : ndarray, shape (m, 8)
        One row for each leg, in the columns `START` to `READIED` of `tables`; a leg that found no time starts at `UNSET`.
    unplaced : ndarray, shape (n,)
        Whether a piece, or the rest of it, found no time.
    late_days : ndarray, shape (n,)
        Days after its due day; 0 where it is in time, has none, or found no time.
    course : ndarray, shape (k, 18)
        How far each piece of the order came and what keeps it, by its place in the order, in the columns `NEXT` to `LEG_NOW`.
    score : tuple of float
        Weighted late days (each piece without a time counts `lateness_bound`), weighted finishing days, starts of batch places.
    """

    time: Ints
    unplaced: npt.NDArray[np.bool_]
    late_days: Ints
    course: Ints
    score: tuple[float, float, float]


@compiled
def _state(t: Tables, order: Ints, room: int) -> State:
    """Work space for one plan; ``room`` is how generous it is."""
    n, rooms, boxes, days = order.size, t.limit.shape[0], t.appetite.shape[0], t.day_start.size
    longest = 1
    for piece in range(n):
        longest = max(longest, t.first[piece + 1] - t.first[piece])
    course = np.zeros((n, COURSE_COLUMNS), np.int64)
    for number in range(n):
        course[number, AT], course[number, HOME] = -1, -1
        course[number, KEY], course[number, READY_AT] = number, t.piece[order[number], RELEASE]
        course[number, B_LIMIT], course[number, RB_NAME] = NOTHING, -1
        course[number, LEG_NOW] = t.first[order[number]]
    claims = (n + 4) * 2 * room + 2 * longest
    claim = np.empty((claims, 2), np.int64)
    for row in range(claims):
        claim[row, 1] = row + 1
    claim[claims - 1, 1] = -1
    windows = t.window.shape[0]
    free = np.empty((windows + t.leg.shape[0] * room + 8, 3), np.int64)
    head = np.full(t.window_first.size - 1, -1, np.int64)
    for person in range(head.size):
        first, last = t.window_first[person], t.window_first[person + 1]
        for row in range(first, last):
            free[row, 0], free[row, 1], free[row, 2] = t.window[row, 0], t.window[row, 1], row + 1
        if last > first:
            head[person], free[last - 1, 2] = first, -1
    eaten = np.zeros((boxes, days))
    for box in range(boxes):
        eaten[box, 0] = t.appetite[box, 0] * (1 - (t.day_start[1] - 0) / (t.day_start[1] - t.day_start[0]))
    count = np.zeros(COUNTERS, np.int64)
    count[FREE_CLAIM], count[NEXT_FREE] = 0, windows
    time = np.full((t.leg.shape[0], TIME_COLUMNS), UNSET, np.int64)
    return State(
        order, course, time, claim, np.empty((claims, 3)), np.full(rooms, -1, np.int64), np.zeros((rooms, 3)),
        np.zeros(t.kind_first.size - 1, np.int64), free, head, np.empty((t.leg.shape[0] + n + 16) * 8 * room, np.int64),
        np.empty(n + 1, np.int64), np.empty(n + 1, np.int64), np.empty(n + 1, np.int64), np.zeros(t.work_first.size - 1, np.int64),
        np.empty((longest + 1, FIT_COLUMNS), np.int64), np.zeros(FIT_COLUMNS, np.int64), np.empty(longest + 2, np.int64),
        np.empty((longest + 2, 4), np.int64), np.empty(rooms + 1, np.int64), np.zeros(boxes + 1, np.int64),
        np.zeros((n, EATER_COLUMNS), np.int64), np.empty((n, days)), eaten, np.empty((boxes, n), np.int64),
        np.zeros(boxes, np.int64), count, np.empty(days), np.empty((n, days)), np.empty((n, 3), np.int64),
    )  # fmt: skip


@compiled
def _outcome(
    t: Tables, s: State, bound: float, horizon_days: int, unplaced: npt.NDArray[np.bool_], late: Ints
) -> tuple[float, float, float]:
    """Who is late, who found no time, and how good it is."""
    lateness = finish = 0.0
    began = np.zeros((s.claim_head.size, t.day_start.size), np.bool_)
    for number in range(s.order.size):
        piece = s.order[number]
        first, last = t.first[piece], t.first[piece] + s.course[number, NEXT]
        held = t.piece[piece, HELD] > 0
        unplaced[piece] = held or last < t.first[piece + 1]
        if unplaced[piece]:
            lateness += 0.0 if held else bound
            finish += 0.0 if held else t.weight[piece] * horizon_days
        elif last > first:
            end = s.time[last - 1, END]
            day = (
                int(np.searchsorted(t.day_start, end, side="right")) - 1 if end >= t.day_start[0] else (end - t.day_start[0]) // DAY
            )
            late[piece] = max(0, day - t.piece[piece, LAST_DAY])
            lateness += t.weight[piece] * late[piece]
            finish += t.weight[piece] * (end / DAY)
        for leg in range(first, last):
            place, start = s.time[leg, PLACE], s.time[leg, START]
            if 0 <= place < began.shape[0] and t.room[place, BATCH] and start >= 0:
                began[place, int(np.searchsorted(t.day_start, start, side="right")) - 1] = True
    return lateness, finish, float(began.sum())


@compiled
def _times(
    t: Tables, order: Ints, room: int, bound: float, horizon_days: int, unplaced: npt.NDArray[np.bool_], late: Ints
) -> tuple[int, Ints, Ints, tuple[float, float, float]]:
    s = _state(t, order, room)
    short = run(t, s)
    return short, s.time, s.course, _outcome(t, s, bound, horizon_days, unplaced, late)


def is_at_hand() -> bool:
    """Say whether `times` can be called without most of a minute of compiling first.

    Returns
    -------
    bool
        Whether this process has called it, or an earlier one has kept its code.
    """
    return at_hand(_times)


def times(tables: Tables, order: Ints, *, lateness_bound: float, horizon_days: int) -> Times:
    """Turn an order of pieces into times.

    Parameters
    ----------
    tables : Tables
        The room and its pieces.
    order : ndarray, shape (n,)
        Every piece once, by its number in the tables.
    lateness_bound : float
        What a piece that found no time counts as lateness. [weighted days]
    horizon_days : int
        What such a piece counts as finishing. [d]

    Returns
    -------
    Times
        The times of every leg and the score.

    Raises
    ------
    Impossible
        If the work space runs out however large it is made.
    """
    for room in (1, 4, 16, MOST_ROOM):
        unplaced, late = np.zeros(tables.weight.size, np.bool_), np.zeros(tables.weight.size, np.int64)
        with no_collecting():
            short, time, course, score = _times(tables, order, room, lateness_bound, horizon_days, unplaced, late)
        if not short:
            return Times(time, unplaced, late, course, score)
    raise Impossible(
        "plan.too_many_events", "this plan of {pieces} pieces has too many events: shorten its horizon", pieces=order.size
    )
