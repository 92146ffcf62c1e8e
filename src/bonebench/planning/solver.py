"""The only file that knows OR-Tools: a room as constraints, one method for each rule, named after the rule.

What it asks of a plan is a little less than `dispatch` asks (whole units of time, no room kept for a piece that is away, beetles
all eat at once), so its bound holds for every plan, and its answer is only a proposal: times are read as an order, and the order is
kept where `dispatch` finds it better. One worker, a fixed seed and deterministic time make the same answer everywhere. OR-Tools is
imported when it is needed; without it the room still plans (`available` says so).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.util import find_spec
from itertools import pairwise
from math import ceil, floor, gcd
from typing import Any, Literal

from bonebench.errors import SetUpError
from bonebench.planning.calendars import DAY
from bonebench.planning.prepared import Leg, Prepared, Ready
from bonebench.planning.problem import Room

Goal = Literal["lateness", "through"]
Status = Literal["optimal", "found", "impossible", "unknown"]

MINUTE = 60
# Weights and loads are numbers with parts; the solver counts in whole ones.
GRAIN = 1000


def available() -> bool:
    """Whether OR-Tools is installed."""
    return find_spec("ortools") is not None


@dataclass(frozen=True, slots=True)
class Busy:
    """What is taken already by pieces that are not to be moved: (place or person, from, to[, load]) in seconds from now."""

    places: tuple[tuple[str, int, int, tuple[float, float, float]], ...] = ()
    hands: tuple[tuple[int, int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found.

    ``value`` and ``bound`` are weighted late days, or for the goal *through* the days until the last piece is through. No plan can
    come below the bound. ``starts`` are seconds from now for each stage of each piece.
    """

    status: Status
    value: float | None
    bound: float | None
    starts: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    ends: Mapping[str, int] = field(default_factory=dict)

    def orders(self) -> tuple[tuple[str, ...], ...]:
        """Return the orders the times may be read as: by first start, by last start, by end."""
        keys = list(self.starts)
        by_first = sorted(keys, key=lambda key: self.starts[key][:1])
        by_last = sorted(keys, key=lambda key: self.starts[key][-1:])
        by_end = sorted(keys, key=lambda key: self.ends[key])
        return tuple(dict.fromkeys((tuple(by_first), tuple(by_last), tuple(by_end))))


def solve(
    prepared: Prepared,
    *,
    keys: Iterable[str] | None = None,
    busy: Busy | None = None,
    goal: Goal = "lateness",
    effort: float = 10.0,
    seed: int = 1,
    hint: Mapping[str, Sequence[int]] | None = None,
) -> Solved:
    """Look for the best times of these pieces (all that are not held unless told) with so much deterministic effort."""
    chosen = tuple(keys) if keys is not None else tuple(key for key, one in prepared.pieces.items() if one.piece.held is None)
    model = RoomModel(prepared, chosen, busy or Busy())
    model.every_rule()
    first = model.lateness() if goal == "lateness" else model.all_through()
    model.hint(hint or {})
    found = model.run(first, effort=effort * (0.7 if goal == "lateness" else 1.0), seed=seed, name=goal)
    if goal == "lateness" and found.value is not None:
        model.at_most(first, model.value)
        model.hint(found.starts)
        better = model.run(model.finish(), effort=effort * 0.3, seed=seed, name=None)
        if better.starts:
            return Solved(found.status, found.value, found.bound, better.starts, better.ends)
    return found


class RoomModel:
    """The rules of one room for some of its pieces. With ``asked`` each group of rules can be taken away, to see which clash."""

    def __init__(self, prepared: Prepared, keys: Sequence[str], busy: Busy, *, asked: bool = False) -> None:
        if not available():
            raise SetUpError("plan.no_solver", "OR-Tools is not installed: plans are made without it; install it for better ones")
        from ortools.sat.python import cp_model  # noqa: PLC0415  a third of a second and a third of the install

        self._cp: Any = cp_model
        self._model: Any = cp_model.CpModel()
        self._prepared, self._busy = prepared, busy
        self._ready = {key: prepared.pieces[key] for key in keys}
        common = _common_unit(prepared, self._ready.values(), busy)
        self._unit, self._exact = max(MINUTE, common), common >= MINUTE
        self._day = DAY // self._unit
        self._last = ceil(prepared.calendar.horizon / self._unit)
        # How far each midnight is from where days of even length would put it: the clocks change.
        midnights = (prepared.calendar.start_of(day) for day in range(prepared.calendar.last_day + 1))
        self._uneven = [self._before(midnight) - day * self._day for day, midnight in enumerate(midnights)]
        self._asked: dict[str, Any] | None = {} if asked else None
        self._names: dict[str, tuple[str, ...]] = {}
        self.value = 0
        self._starts: dict[str, list[Any]] = {}
        self._lengths = {key: [_least(ready, leg, self._unit) for leg in ready.legs] for key, ready in self._ready.items()}
        self._lates: dict[str, Any] = {}
        for key, ready in self._ready.items():
            self._starts[key] = [self._model.new_int_var(0, self._last, f"{key} {leg.stage.step}") for leg in ready.legs]

    # Rules

    def every_rule(self) -> None:
        """Lay down all of them."""
        self.what_runs_goes_on()
        self.nothing_before_it_comes()
        self.steps_follow_one_another()
        self.a_place_holds_so_much()
        self.hands_do_one_thing_at_a_time()

    def what_runs_goes_on(self) -> None:
        """A running stage began when it began."""
        for key, ready in self._ready.items():
            if ready.piece.running is not None and ready.legs:
                self._model.add(self._starts[key][0] == 0)

    def nothing_before_it_comes(self) -> None:
        """Nothing begins before its piece may."""
        for key, ready in self._ready.items():
            if ready.piece.running is None and ready.legs:
                self._model.add(self._starts[key][0] >= floor(ready.release / self._unit))

    def steps_follow_one_another(self) -> None:
        """Each stage waits for the one before, at least so long and at most so long, and ends within the horizon."""
        for key, ready in self._ready.items():
            starts, lengths = self._starts[key], self._lengths[key]
            for at, (leg, _) in enumerate(pairwise(ready.legs)):
                end = starts[at] + lengths[at]
                if _is_free(self._prepared, ready.legs[at + 1]):
                    self._model.add(starts[at + 1] == end + floor(leg.least / self._unit))
                    continue
                self._model.add(starts[at + 1] >= end + floor(leg.least / self._unit))
                if leg.most is not None and not leg.eats and not leg.split and not (at == 0 and ready.piece.running is not None):
                    tie = self._model.add(starts[at + 1] <= end + ceil(leg.most / self._unit) + 1)
                    self._only_if(tie, f"wait {key} {at}", ("wait", leg.stage.step, ready.legs[at + 1].stage.step, key))
            if starts:
                self._model.add(starts[-1] + lengths[-1] <= self._last)

    def a_place_holds_so_much(self) -> None:
        """At no time is more in a place than it holds: count, litres, kilograms."""
        uses: dict[str, list[tuple[Any, tuple[float, float, float]]]] = {}
        for key, ready in self._ready.items():
            for begin, end, kind, own in self._sittings(key, ready):
                rooms = [own] if own is not None else [room for room in self._rooms(kind) if _could_hold(room, ready.load)]
                if any(_unlimited(room) for room in rooms):
                    continue
                for interval, room in self._choose(begin, end, rooms, kind):
                    uses.setdefault(room.key, []).append((interval, ready.load))
        for place, since, until, load in self._busy.places:
            if until > since:
                begin, length = floor(since / self._unit), max(0, floor(until / self._unit) - ceil(since / self._unit))
                uses.setdefault(place, []).append((self._model.new_fixed_size_interval_var(begin, length, place), load))
        rooms_by_key = {room.key: room for room in self._prepared.problem.places}
        for place, used in uses.items():
            self._hold(rooms_by_key[place], used)

    def hands_do_one_thing_at_a_time(self) -> None:
        """Hands begin a stage within their hours, one person at one thing, and only who is trained for it."""
        at_work: dict[int, list[Any]] = {}
        for key, ready in self._ready.items():
            for at, leg in enumerate(ready.legs):
                running = at == 0 and ready.piece.running is not None
                length = floor(leg.hands / self._unit)
                if running or not length or leg.split or not leg.people:
                    continue
                start, on = self._starts[key][at], self._rule(f"hands {leg.stage.work}", ("hands", leg.stage.work))
                chosen = [self._model.new_bool_var("") for _ in leg.people] if len(leg.people) > 1 or on is not None else [None]
                if chosen[0] is not None:
                    self._model.add_exactly_one([*chosen, *([on.Not()] if on is not None else [])])
                for person, by in zip(leg.people, chosen, strict=True):
                    at_work.setdefault(person, []).append(self._interval(start, length, by))
        for person, since, until in self._busy.hands:
            length = max(0, floor(until / self._unit) - ceil(since / self._unit))
            at_work.setdefault(person, []).append(self._model.new_fixed_size_interval_var(ceil(since / self._unit), length, ""))
        for person, intervals in at_work.items():
            self._model.add_no_overlap([*intervals, *self._off_hours(person)])

    def due_days_are_kept(self, keys: Iterable[str]) -> None:
        """These pieces are through on their due days."""
        for key in keys:
            ready = self._ready[key]
            if ready.piece.due is not None and ready.legs:
                kept = self._model.add(self._starts[key][-1] + self._lengths[key][-1] <= self._due(ready))
                self._only_if(kept, f"due {key}", ("due", key))

    # Goals

    def lateness(self) -> Any:
        """The weighted late days."""
        terms = []
        for key, ready in self._ready.items():
            if ready.piece.due is None or not ready.legs or not ready.piece.weight:
                continue
            late = self._model.new_int_var(0, 2 + self._last // self._day + max(0, -self._due(ready) // self._day), "")
            end = self._starts[key][-1] + self._lengths[key][-1]
            self._model.add(end <= self._due(ready) + self._day * late)
            self._lates[key] = late
            terms.append(round(GRAIN * ready.piece.weight) * late)
        return sum(terms) if terms else self._model.new_constant(0)

    def all_through(self) -> Any:
        """The minute the last piece is through."""
        last = self._model.new_int_var(0, self._last, "all through")
        for key, starts in self._starts.items():
            if starts:
                self._model.add(last >= starts[-1] + self._lengths[key][-1])
        return last

    def finish(self) -> Any:
        """The weighted sum of finishing times."""
        return sum(
            max(1, round(10 * ready.piece.weight)) * (self._starts[key][-1] + self._lengths[key][-1])
            for key, ready in self._ready.items()
            if ready.legs
        )

    def at_most(self, goal: Any, value: int) -> None:
        """Keep what was reached."""
        self._model.add(goal <= value)

    def hint(self, starts: Mapping[str, Sequence[int]]) -> None:
        """Begin the search from these times (seconds from now)."""
        self._model.clear_hints()
        for key, seconds in starts.items():
            for variable, second in zip(self._starts.get(key, ()), seconds, strict=False):
                self._model.add_hint(variable, max(0, min(self._last, second // self._unit)))

    def run(self, goal: Any, *, effort: float, seed: int, name: Goal | None) -> Solved:
        """Solve for a goal with so much deterministic effort."""
        self._model.minimize(goal)
        solver = self._solver(effort, seed)
        status = {
            self._cp.OPTIMAL: "optimal", self._cp.FEASIBLE: "found", self._cp.INFEASIBLE: "impossible",
        }.get(solver.solve(self._model), "unknown")  # fmt: skip
        if status not in ("optimal", "found"):
            return Solved(status, None, None)  # type: ignore[arg-type]  # one of the four
        self.value = round(solver.objective_value)
        per = GRAIN if name == "lateness" else self._day
        starts = {key: tuple(self._unit * solver.value(one) for one in kept) for key, kept in self._starts.items()}
        ends = {key: kept[-1] + self._unit * self._lengths[key][-1] if kept else 0 for key, kept in starts.items()}
        bound = max(0.0, solver.best_objective_bound) / per
        return Solved(status, solver.objective_value / per, bound, starts, ends)  # type: ignore[arg-type]

    def clash(self, *, effort: float, seed: int = 1) -> tuple[tuple[str, ...], ...] | None:
        """Return rules that cannot all be kept, none of which could be left out; None when they can, or that is not known.

        Asked without a goal: assumptions beside one are not supported by the solver.
        """
        assert self._asked is not None
        core = list(self._asked)
        if not self._impossible(core, effort, seed):
            return None
        for name in list(core):
            fewer = [one for one in core if one != name]
            if name in core and self._impossible(fewer, effort, seed):
                core = fewer
        return tuple(self._names[name] for name in core)

    # Parts

    def _impossible(self, names: Sequence[str], effort: float, seed: int) -> bool:
        assert self._asked is not None
        self._model.clear_assumptions()
        self._model.add_assumptions([self._asked[name] for name in names])
        return bool(self._solver(effort, seed).solve(self._model) == self._cp.INFEASIBLE)

    def _solver(self, effort: float, seed: int) -> Any:
        solver = self._cp.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed
        solver.parameters.max_deterministic_time = effort
        return solver

    def _rule(self, name: str, words: tuple[str, ...]) -> Any | None:
        if self._asked is None:
            return None
        if name not in self._asked:
            self._asked[name] = self._model.new_bool_var(name)
            self._names[name] = words
        return self._asked[name]

    def _only_if(self, constraint: Any, name: str, words: tuple[str, ...]) -> None:
        on = self._rule(name, words)
        if on is not None:
            constraint.only_enforce_if(on)

    def _before(self, midnight: int) -> int:
        """The last whole unit before a midnight; the one after where times are not whole, so that the bound holds."""
        return floor((midnight - 1) / self._unit) if self._exact else ceil(midnight / self._unit)

    def _due(self, ready: Ready) -> int:
        """When a piece must be through not to be late; later midnights are never further off than whole days from here."""
        due = ready.piece.due
        assert due is not None
        days = (due - self._prepared.calendar.today).days + 1
        ahead = self._uneven[max(0, min(days, len(self._uneven) - 1)) :]
        return days * self._day + max(ahead)

    def _rooms(self, kind: str) -> list[Room]:
        return [room for room in self._prepared.problem.places if room.kind == kind and room.open]

    def _sittings(self, key: str, ready: Ready) -> list[tuple[Any, Any, str, Room | None]]:
        """Return since when and to when (or, as a whole number, how long) a piece sits in which kind of place.

        The room comes with it where it is there already.
        """
        starts, lengths = self._starts[key], self._lengths[key]
        rooms = {room.key: room for room in self._prepared.problem.places}
        piece = ready.piece
        own = rooms.get(piece.running.place if piece.running is not None else piece.place or "")
        sits: list[tuple[Any, Any, str, Room | None]] = []
        since: Any = 0
        kind, here = (own.kind, own) if own is not None else (None, None)
        for at, leg in enumerate(ready.legs):
            running = at == 0 and piece.running is not None
            if running and not leg.stay:
                kind = here = None
                continue
            if running or leg.kind is None or (leg.kind == kind and (here is None or here.open)):
                continue
            if kind is not None:
                # Where the next can always begin at once the end is known, which the solver is much quicker with.
                alone = at > 0 and since is starts[at - 1] and _is_free(self._prepared, leg)
                sits.append(
                    (since, lengths[at - 1] + floor(ready.legs[at - 1].least / self._unit) if alone else starts[at], kind, here)
                )
            here = None
            if leg.stay:
                since, kind = starts[at], leg.kind
            else:
                kind = None
                if leg.hands and not leg.split:
                    sits.append((starts[at], floor(leg.hands / self._unit), leg.kind, None))
        if kind is not None and starts:
            alone = since is starts[-1]
            sits.append((since, lengths[-1] if alone else starts[-1] + lengths[-1], kind, here))
        return sits

    def _choose(self, begin: Any, end: Any, rooms: Sequence[Room], kind: str) -> list[tuple[Any, Room]]:
        on = self._rule(f"room {kind}", ("room", kind))
        if len(rooms) == 1 and on is None:
            return [(self._stretch(begin, end, None), rooms[0])]
        taken = [self._model.new_bool_var("") for _ in rooms]
        self._model.add_exactly_one([*taken, *([on.Not()] if on is not None else [])])
        return [(self._stretch(begin, end, by), room) for by, room in zip(taken, rooms, strict=True)]

    def _stretch(self, begin: Any, end: Any, by: Any | None) -> Any:
        if isinstance(end, int):
            return self._interval(begin, end, by)
        size = self._model.new_int_var(0, self._last, "")
        if by is None:
            return self._model.new_interval_var(begin, size, end, "")
        return self._model.new_optional_interval_var(begin, size, end, by, "")

    def _interval(self, start: Any, length: int, by: Any | None) -> Any:
        if by is None:
            return self._model.new_fixed_size_interval_var(start, length, "")
        return self._model.new_optional_fixed_size_interval_var(start, length, by, "")

    def _hold(self, room: Room, used: Sequence[tuple[Any, tuple[float, float, float]]]) -> None:
        for part, limit in enumerate((room.count, room.volume_l, room.mass_kg)):
            if limit is None:
                continue
            needs = [floor(GRAIN * load[part]) for _, load in used]
            holds = max(ceil(GRAIN * limit), self._there_already(room, part))
            least = sorted(need for need in needs if need)[:2]
            if len(least) == 2 and sum(least) > holds:
                self._model.add_no_overlap([one for (one, _), need in zip(used, needs, strict=True) if need])
            elif any(needs):
                self._model.add_cumulative([one for one, _ in used], needs, holds)

    def _there_already(self, room: Room, part: int) -> int:
        """What sits in a room now may be more than it holds: nobody is sent away for that."""
        there = (
            one.load[part]
            for one in self._ready.values()
            if room.key == (one.piece.running.place if one.piece.running is not None else one.piece.place)
        )
        return ceil(GRAIN * sum(there))

    def _off_hours(self, person: int) -> list[Any]:
        calendar, off, at = self._prepared.calendar, [], 0
        for day in range(calendar.last_day + 1):
            for begins, ends in calendar.windows(person, day):
                if floor(begins / self._unit) > at:
                    off.append(self._model.new_fixed_size_interval_var(at, floor(begins / self._unit) - at, ""))
                at = ceil(ends / self._unit)
        if at < self._last:
            off.append(self._model.new_fixed_size_interval_var(at, self._last + self._day - at, ""))
        return off


def _common_unit(prepared: Prepared, pieces: Iterable[Ready], busy: Busy) -> int:
    """The longest unit of time all times of a room are whole numbers of, in seconds: the fewer instants, the quicker."""
    unit = DAY
    for ready in pieces:
        if any(leg.eats or leg.split for leg in ready.legs):
            return 1  # how long these take is found by trying
        unit = gcd(unit, ready.release, ready.elapsed)
        for leg in ready.legs:
            unit = gcd(unit, leg.length, leg.hands, leg.least, leg.most or 0)
            for person in leg.people if leg.hands else ():
                spans = (span for day in range(prepared.calendar.last_day + 1) for span in prepared.calendar.windows(person, day))
                unit = gcd(unit, *(edge for span in spans for edge in span)) if unit > MINUTE else unit
    unit = gcd(unit, *(edge for _, since, until, _ in busy.places for edge in (since, until)))
    return gcd(unit, *(edge for _, since, until in busy.hands for edge in (since, until)))


def _least(ready: Ready, leg: Leg, unit: int) -> int:
    """The least time a stage takes, in whole units; what is left of it when it runs."""
    seconds = max(leg.length, leg.hands)
    if leg.eats:
        # Only the first such stage finds anything to eat.
        hungry = next(one for one in ready.legs if one.eats) is leg and ready.food.tissue_kg and ready.food.rate > 0
        alone = floor(DAY * ready.food.days_for(ready.food.tissue_kg, ready.food.tissue_kg)) if hungry else 0
        seconds = max(leg.hands, alone)
    if ready.piece.running is not None and leg is ready.legs[0] and not leg.eats:
        seconds = max(0, seconds - ready.elapsed)
    return floor(seconds / unit)


def _is_free(prepared: Prepared, leg: Leg) -> bool:
    """Whether a stage can always begin at once and wait for nothing: room without limit, no hands, no tie behind it."""
    rooms = [room for room in prepared.problem.places if room.kind == leg.kind and room.open]
    return not leg.hands and leg.most is None and not leg.eats and any(_unlimited(room) for room in rooms)


def _unlimited(room: Room) -> bool:
    return room.count is None and room.volume_l is None and room.mass_kg is None


def _could_hold(room: Room, load: tuple[float, float, float]) -> bool:
    limits = (room.count, room.volume_l, room.mass_kg)
    return all(limit is None or need <= limit + 1e-9 for need, limit in zip(load, limits, strict=True))
