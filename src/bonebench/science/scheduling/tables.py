"""What a plan is made from and what it is while it is being made, as a few arrays with named columns.

Instants are whole seconds from now; a number below 0 in a column that names something means nothing of the kind.
"""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

NEVER = 1 << 60
DAY = 86400
UNSET = -(1 << 60)

# Columns of a leg.
KIND, STAY, LENGTH, HANDS, WORK, SPLIT, EATS, LEAST, MOST, KEEPS, LEG_COLUMNS = range(11)
# Columns of a piece; RUNS and SITS name rooms. LAST_DAY is its due day counted from today, or NEVER.
RELEASE, HELD, SINCE, RUNS, SITS, LAST_DAY, PIECE_COLUMNS = range(7)
# Columns of a room.
ROOM_KIND, OPEN, BATCH, ROOM_COLUMNS = range(4)
# Columns of food.
TISSUE, TAIL, RATE, TAIL_RATE = range(4)
# Columns of a settled time, one row for each leg; READIED is when the leg could have begun at the earliest.
START, END, PLACE, PERSON, LIMIT, NAME, HANDS_END, READIED, TIME_COLUMNS = range(9)
# Columns of a piece on its way; B_ is what keeps it now, RB_ what made it ready no sooner.
NEXT, AT, HOME, FED, DEAD, KEY, READY_AT, NOT_BEFORE, WATCH, SEEN, WAITS = range(11)
B_LIMIT, B_NAME, B_CODE, B_AHEAD, RB_LIMIT, RB_NAME, LEG_NOW, COURSE_COLUMNS = range(11, 19)
# Columns of a time found for one leg but not settled, or of a refusal.
F_START, F_END, F_PLACE, F_BENCH, F_PERSON, F_HANDS_END, F_LIMIT, F_NAME, F_CODE, F_OFFER, F_AT, F_HOME, F_UNTIL, F_FINAL = range(
    14
)
# What hinders lies so many legs further on along a chain of ties.
F_AHEAD = 14
FIT_COLUMNS = 15
# Columns of one who eats; its row is its place in the order.
E_START, E_END, E_FIXED, E_OWNED, E_FIRST, E_COUNT, E_BOX, EATER_COLUMNS = range(8)
# Counters of a run.
HEAP_SIZE, FREE_CLAIM, NEXT_FREE, OVERFLOW, WAITING, NOW, COUNTERS = range(7)
# What limits a start.
NOTHING, L_READY, L_HANDS, L_PLACE, L_APPETITE, L_WAIT = -1, 0, 1, 2, 3, 4
# What limits it, more closely; a name below -1 is that of a kind of room, counted back from -2, where a room is named otherwise.
NO_CODE, HORIZON_CODE, NOWHERE, FULL, UNTRAINED, NO_TIME, NOT_EATEN, TIED = range(8)


class Tables(NamedTuple):
    """A room, its people and its pieces.

    Attributes
    ----------
    horizon : int
        The last instant planned for. [s]
    day_start : ndarray, shape (d + 1,)
        When each local day begins, today first. [s]
    first : ndarray, shape (n + 1,)
        Where the legs of each piece begin.
    leg, piece, room : ndarray
        Columns as named above.
    load, food : ndarray, shape (n, 3), (n, 4)
        Count, litres, kg; tissue, slow part of it [kg], rate, rate of the slow part [kg/d].
    limit : ndarray, shape (q, 3)
        What each room holds.
    kind_first, kind_room, work_first, work_who, window_first, window : ndarray
        The rooms of each kind, the people who may do each work, and each person's hours. [s]
    appetite : ndarray, shape (q, d)
        What each room's beetles eat in a day. [kg]
    weight : ndarray, shape (n,)
        How much a late day of a piece matters.
    """

    horizon: int
    day_start: Ints
    first: Ints
    leg: Ints
    piece: Ints
    load: Floats
    food: Floats
    weight: Floats
    room: Ints
    limit: Floats
    kind_first: Ints
    kind_room: Ints
    work_first: Ints
    work_who: Ints
    window_first: Ints
    window: Ints
    appetite: Floats


class State(NamedTuple):
    """One plan while it is being made.

    Attributes
    ----------
    order : ndarray, shape (n,)
        The piece at each place of the order; all rows named *course* go by that place.
    course, time, eater, fits, found : ndarray
        Columns as named above.
    claim, claim_load, claim_head, used, version : ndarray
        Changes settled for later in each room as linked rows, what is in it now, how often each kind gave up room.
    free, free_head : ndarray
        Each person's free hours as linked rows of begin, end and next.
    heap, waiting, asked, passed, hands_at, earliest, pushed, spots, put_off : ndarray
        Work space.
    eaten, takes, line, line_count : ndarray
        What is taken of each day's appetite, what each eater takes day by day, who is in each box in order of entry.
    counter : ndarray
        Counters.
    eaten_before, takes_new, told : ndarray
        Work space for thinking a box over again.
    """

    order: Ints
    course: Ints
    time: Ints
    claim: Ints
    claim_load: Floats
    claim_head: Ints
    used: Floats
    version: Ints
    free: Ints
    free_head: Ints
    heap: Ints
    waiting: Ints
    asked: Ints
    passed: Ints
    hands_at: Ints
    fits: Ints
    found: Ints
    earliest: Ints
    pushed: Ints
    spots: Ints
    put_off: Ints
    eater: Ints
    takes: Floats
    eaten: Floats
    line: Ints
    line_count: Ints
    counter: Ints
    eaten_before: Floats
    takes_new: Floats
    told: Ints
