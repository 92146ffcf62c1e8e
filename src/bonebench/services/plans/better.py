"""Look longer for a better plan, and work out what can be promised by it: the two long pieces of work of a plan.

Everything here is plain data, so that it can be done in a process of its own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic

from bonebench.planning.better import better_plan
from bonebench.planning.clash import why_nothing_fits
from bonebench.planning.draws import Uncertain
from bonebench.planning.promise import PROMISE_REPLAYS, Promised, promise
from bonebench.planning.quick import warm
from bonebench.planning.search import MOVES
from bonebench.said import Said, said
from bonebench.services.appetites import Appetites
from bonebench.services.plans.make import How, Paces, stored_plan
from bonebench.services.plans.stored import Limit, Promise, Promises, StoredPlan

SEED = 1
STATUS = {"optimal": "none is better", "found": "searched"}
EVERY_S = 0.5  # how often it is told how far it is
Report = Callable[[float, Said], None]


@dataclass(frozen=True, slots=True)
class Searching:
    """What a search needs: the room, the order there is, and how much it may try. ``seconds`` is a ceiling, None for none."""

    paces: Paces
    before: StoredPlan
    uncertain: Uncertain
    work_revision: int
    since: StoredPlan | None = None
    appetites: Appetites | None = None
    moves: int = MOVES
    seed: int = SEED
    seconds: float | None = None
    replays: int = PROMISE_REPLAYS


@dataclass(frozen=True, slots=True)
class Found:
    """What a search came to; ``cut_short`` where the ceiling in seconds was hit before everything was tried."""

    plan: StoredPlan
    promises: Promises
    tried: int
    cut_short: bool
    gain_days: float


def look(searching: Searching, report: Report) -> Found:
    """Search and let the solver propose, then replay the best order; tells how far it is on the way."""
    effort = _Effort(searching, report)
    report(0.0, said("plan.begun", "looking for a better order"))
    problem = searching.paces.working
    found = better_plan(
        problem, moves=searching.moves, seed=searching.seed, start=searching.before.order, out_of_time=effort.out_of_time
    )
    report(0.8, said("plan.replaying", "replaying it {replays} times", replays=searching.replays))
    late = [one.piece for one in found.plan.late]
    clash = why_nothing_fits(problem, late) if late and not effort.cut_short else ()
    how = How(STATUS[found.status], found.bound, (*found.notes, *clash))
    plan = stored_plan(searching.paces, found.plan, how, work_revision=searching.work_revision, since=searching.since)
    replayed = promise(problem, found.plan.order, searching.uncertain, replays=searching.replays)
    gain = searching.before.score[0] - found.plan.score[0] if searching.before.score else 0.0
    return Found(plan, promises_of(replayed, searching), found.tried, effort.cut_short, gain)


class _Effort:
    """Asked before each try: counts them, tells how far it is, and holds the ceiling."""

    def __init__(self, searching: Searching, report: Report) -> None:
        self._searching, self._report = searching, report
        self._began = self._told = monotonic()
        self._tried = 0
        self.cut_short = False

    def out_of_time(self) -> bool:
        self._tried += 1
        now, most = monotonic(), self._searching.seconds
        if now - self._told > EVERY_S:
            self._told = now
            share = max(self._tried / max(self._searching.moves, 1), (now - self._began) / most if most else 0.0)
            self._report(0.8 * min(share, 1.0), said("plan.tried", "{tried} orders tried", tried=self._tried))
        if most is not None and now - self._began > most:
            self.cut_short = True
        return self.cut_short


def promises_of(replayed: dict[str, Promised], searching: Searching) -> Promises:
    """Return what is kept of replays."""
    kept = {key: promise_of(one) for key, one in replayed.items()}
    return Promises(searching.work_revision, searching.paces.working.now, searching.replays, kept)


def promise_of(one: Promised) -> Promise:
    """Return what is kept of one piece's replays."""
    limits = tuple(Limit(limit.limit, limit.name, round(limit.share, 3)) for limit in one.limited_by[:3])
    return Promise(one.p50, one.p80, one.p95, limits, round(one.unfinished, 4))


def warm_up() -> None:
    """Compile all that plans are made with."""
    warm()
