"""What kept the pieces: from the compiled times, the place, hands or appetite each waited for longest."""

import numpy as np

from bonebench.planning.quick import QuickRoom
from bonebench.science.scheduling import Tables
from bonebench.science.scheduling.tables import (
    DAY,
    EATS,
    END,
    HANDS,
    L_APPETITE,
    L_HANDS,
    L_PLACE,
    LEAST,
    LIMIT,
    NAME,
    PLACE,
    RATE,
    RELEASE,
    RUNS,
    START,
    TAIL,
    TAIL_RATE,
    TISSUE,
    UNSET,
    Floats,
    Ints,
)

Waited = tuple[str, str]
ITSELF: Waited = ("itself", "")
# Waiting for less than this in all is nobody's fault: the piece took its own time.
NOTICED_DAYS = 0.5


class Waits:
    """Adds up for one room what each piece waits for, replay after replay."""

    def __init__(self, room: QuickRoom) -> None:
        places = [place.key for place in room.prepared.problem.places]
        self.labels: tuple[Waited, ...] = (
            *(("hands", name) for name in room.works),
            *(("place", name) for name in room.kinds),
            *(("appetite", name) for name in [*places, ""]),
        )
        self._place_from, self._box_from = len(room.works), len(room.works) + len(room.kinds)
        self._boxes = len(places)
        tables = room.tables
        # Where no box of a kind would do, the wait is put down to the first of them; the last entry is for what names no kind.
        rooms = np.append(tables.kind_room, -1)
        self._of_kind = np.append(np.where(np.diff(tables.kind_first) > 0, rooms[tables.kind_first[:-1]], -1), -1)
        self._owner = np.repeat(np.arange(len(room.keys)), np.diff(tables.first))
        self._first = np.zeros(len(tables.leg), np.bool_)
        self._first[tables.first[:-1][np.diff(tables.first) > 0]] = True
        self._running = self._first & (tables.piece[self._owner, RUNS] >= 0)

    def of(self, tables: Tables, time: Ints) -> Floats:
        """Return the seconds each piece waited for each label, shape (pieces, labels)."""
        set_ = time[:, START] != UNSET
        ready = np.maximum(0, np.roll(time[:, END] + tables.leg[:, LEAST], 1))
        ready[self._first] = tables.piece[self._owner[self._first], RELEASE]
        limit, name = time[:, LIMIT], time[:, NAME]
        known = (limit == L_HANDS) | (limit == L_PLACE) | (limit == L_APPETITE)
        waits = np.where(set_ & known & ~self._running, np.maximum(0, time[:, START] - ready), 0)
        column = np.where(limit == L_HANDS, name, np.where(limit == L_PLACE, self._place_from + name, self._box(name)))
        total = np.zeros((len(tables.weight), len(self.labels)))
        rows = waits > 0
        np.add.at(total, (self._owner[rows], column[rows]), waits[rows])
        eats = np.flatnonzero(set_ & (tables.leg[:, EATS] > 0))
        alone = np.maximum(tables.leg[eats, HANDS], DAY * _alone_days(tables.food[self._owner[eats]]))
        drawn_out = time[eats, END] - np.maximum(0, time[eats, START]) - alone
        np.add.at(total, (self._owner[eats], self._box(time[eats, PLACE])), np.maximum(0.0, drawn_out))
        return total

    def _box(self, number: Ints) -> Ints:
        """The column of a box; what sits in a place the problem does not list goes by no name."""
        kind = np.clip(-2 - number, 0, len(self._of_kind) - 1)
        number = np.where(number < -1, self._of_kind[kind], number)
        column: Ints = self._box_from + np.where((number < 0) | (number >= self._boxes), self._boxes, number)
        return column

    def longest(self, total: Floats) -> list[Waited]:
        """Return what each piece waited for longest, or *itself*."""
        best = np.argmax(total, axis=1)
        most = total[np.arange(len(total)), best]
        return [
            self.labels[at] if wait >= NOTICED_DAYS * DAY else ITSELF for at, wait in zip(best.tolist(), most.tolist(), strict=True)
        ]


def _alone_days(food: Floats) -> Floats:
    """Days each piece would take if nobody else ate."""
    quick = np.maximum(0.0, food[:, TISSUE] - food[:, TAIL])
    rate = np.where(food[:, RATE] > 0, food[:, RATE], np.inf)
    slow = np.where(food[:, TAIL_RATE] > 0, food[:, TAIL_RATE], np.inf)
    days: Floats = quick / rate + (food[:, TISSUE] - quick) / slow
    return days
