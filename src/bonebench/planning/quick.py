"""The compiled dispatch for one problem: the same times as `dispatch`, many times faster, without words.

A test holds the two equal. It needs numba and is imported only where much is to be tried, or a room is large (`planned`); `told`
makes a plan with its words from these times.
"""

from collections.abc import Sequence
from datetime import UTC, datetime
from functools import cached_property
from zoneinfo import ZoneInfo

import numpy as np

from bonebench.planning.prepared import Leg, Prepared
from bonebench.planning.problem import Piece, Problem, Stage
from bonebench.science.scheduling import Tables, Times, times
from bonebench.science.scheduling.tables import LEG_COLUMNS, NEVER, PIECE_COLUMNS, ROOM_COLUMNS, Floats, Ints

MOST_KINDS = 60  # kinds of place are watched as bits of one number


class QuickRoom:
    """One prepared problem as tables."""

    def __init__(self, prepared: Prepared) -> None:
        self.prepared = prepared
        self.keys = tuple(prepared.pieces)
        self.number = {key: at for at, key in enumerate(self.keys)}
        self._works: dict[tuple[tuple[str, int], tuple[int, ...]], int] = {}
        self.tables = _tables(prepared, self._works)

    @classmethod
    def of(cls, problem: Problem) -> "QuickRoom":
        """Prepare a problem and make its tables."""
        return cls(Prepared(problem))

    @cached_property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of place, by their number in the tables."""
        return _kinds(self.prepared)

    @cached_property
    def boxes(self) -> tuple[str, ...]:
        """The places, by their number in the tables, and behind them the unknown ones that something is said to run in."""
        return tuple(_boxes(self.prepared))

    @cached_property
    def works(self) -> tuple[str, ...]:
        """The kinds of work, by their number in the tables."""
        return tuple(key[0][0] for key in self._works)

    def order_of(self, keys: Sequence[str]) -> Ints:
        """Return an order of keys as numbers."""
        return np.array([self.number[key] for key in keys], np.int64)

    def times(self, order: Ints, tables: Tables | None = None) -> Times:
        """Turn an order into times, on these tables or a draw of them."""
        problem = self.prepared.problem
        return times(
            self.tables if tables is None else tables,
            order,
            lateness_bound=self.prepared.lateness_bound,
            horizon_days=problem.horizon_days,
        )


def _kinds(prepared: Prepared) -> tuple[str, ...]:
    of_places = [place.kind for place in prepared.problem.places]
    of_legs = [leg.kind for ready in prepared.pieces.values() for leg in ready.legs if leg.kind is not None]
    return tuple(dict.fromkeys([*of_places, *of_legs]))


def _tables(prepared: Prepared, works: dict[tuple[tuple[str, int], tuple[int, ...]], int]) -> Tables:
    problem, calendar = prepared.problem, prepared.calendar
    kinds = {kind: at for at, kind in enumerate(_kinds(prepared))}
    if len(kinds) > MOST_KINDS:
        raise NotImplementedError(f"{len(kinds)} kinds of place are more than the compiled dispatch watches")
    rooms = {place.key: at for at, place in enumerate(problem.places)}
    boxes = _boxes(prepared)
    ready = list(prepared.pieces.values())
    legs = [leg for one in ready for leg in one.legs]
    for leg in legs:
        works.setdefault((leg.hands_key, leg.people), len(works))
    kind_first, kind_room = _grouped([[at for at, p in enumerate(problem.places) if p.kind == kind] for kind in kinds])
    work_first, work_who = _grouped([list(people) for _, people in works])
    window_first, window = _windows(prepared)
    days = problem.horizon_days + 4
    return Tables(
        horizon=calendar.horizon,
        day_start=np.array([calendar.start_of(day) for day in range(days)], np.int64),
        first=np.cumsum([0, *(len(one.legs) for one in ready)]).astype(np.int64),
        leg=_array([_leg_row(leg, kinds, works) for leg in legs], LEG_COLUMNS),
        piece=_array([_piece_row(prepared, key, rooms, boxes) for key in prepared.pieces], PIECE_COLUMNS),
        load=_floats([one.load for one in ready], 3),
        food=_floats([(f.tissue_kg, f.tail_kg, f.rate, f.tail_rate) for f in (one.food for one in ready)], 4),
        weight=np.array([one.piece.weight for one in ready], np.float64),
        room=_array([(kinds[p.kind], p.open, p.kind in problem.batch_kinds) for p in problem.places], ROOM_COLUMNS),
        limit=_floats([[_limit(v) for v in (p.count, p.volume_l, p.mass_kg)] for p in problem.places], 3),
        kind_first=kind_first,
        kind_room=kind_room,
        work_first=work_first,
        work_who=work_who,
        window_first=window_first,
        window=window,
        appetite=np.array([appetite_row(prepared, box, days) for box in boxes], np.float64).reshape(len(boxes), days),
    )


def _limit(value: float | None) -> float:
    return float(NEVER) if value is None else value + 1e-9  # as Claims has it


def _array(rows: Sequence[Sequence[int]], columns: int) -> Ints:
    return np.array(rows, np.int64).reshape(len(rows), columns)


def _floats(rows: Sequence[Sequence[float]], columns: int) -> Floats:
    return np.array(rows, np.float64).reshape(len(rows), columns)


def _grouped(groups: Sequence[Sequence[int]]) -> tuple[Ints, Ints]:
    first = np.cumsum([0, *(len(group) for group in groups)]).astype(np.int64)
    return first, np.array([one for group in groups for one in group], np.int64)


def _boxes(prepared: Prepared) -> dict[str, int]:
    boxes = {place.key: at for at, place in enumerate(prepared.problem.places)}
    for piece in prepared.problem.pieces:
        if piece.running is not None:
            boxes.setdefault(piece.running.place, len(boxes))
    return boxes


def appetite_row(prepared: Prepared, box: str, days: int) -> list[float]:
    """Return what a box eats on each day from today."""
    problem = prepared.problem
    by_day, otherwise = problem.appetite_kg_per_day.get(box, {}), problem.appetite_otherwise.get(box, 0.0)
    return [by_day.get(prepared.calendar.date_of(day), otherwise) for day in range(days)]


def _windows(prepared: Prepared) -> tuple[Ints, Ints]:
    calendar = prepared.calendar
    groups = []
    for number, person in enumerate(calendar.people):
        days = range(calendar.last_day + 1) if person.hours else range(0)
        groups.append([span for day in days for span in calendar.windows(number, day)])
    first = np.cumsum([0, *(len(group) for group in groups)]).astype(np.int64)
    return first, np.array([span for group in groups for span in group], np.int64).reshape(int(first[-1]), 2)


def _leg_row(leg: Leg, kinds: dict[str, int], works: dict[tuple[tuple[str, int], tuple[int, ...]], int]) -> tuple[int, ...]:
    return (
        -1 if leg.kind is None else kinds[leg.kind], leg.stay, leg.length, leg.hands, works[leg.hands_key, leg.people],
        leg.split, leg.eats, leg.least, -1 if leg.most is None else leg.most, leg.keeps,
    )  # fmt: skip


def _piece_row(prepared: Prepared, key: str, rooms: dict[str, int], boxes: dict[str, int]) -> tuple[int, ...]:
    ready, calendar = prepared.pieces[key], prepared.calendar
    piece = ready.piece
    since = 0 if piece.running is None else calendar.seconds(piece.running.since)
    runs = -1 if piece.running is None else boxes[piece.running.place]
    sits = -1 if piece.place is None else rooms.get(piece.place, -1)
    due = NEVER if piece.due is None else (piece.due - calendar.today).days
    return ready.release, piece.held is not None, since, runs, sits, due


def warm() -> None:
    """Compile what no earlier process has kept, so that the first who asks need not wait for it."""
    now = datetime(2026, 1, 1, tzinfo=UTC)
    piece = Piece("warm", (Stage("warm", 1, None, stay=True, days=1),), now, now)
    quick = QuickRoom.of(Problem(now, ZoneInfo("UTC"), (piece,), (), (), {}, {}))
    quick.times(quick.order_of(quick.keys))
