"""Look longer for a better plan, and work out what can be promised by it: the two long pieces of work of a plan.

Everything here is plain data, so that it can be done in a process of its own.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from time import monotonic
from zoneinfo import ZoneInfo

from bonebench.planning.draws import Uncertain
from bonebench.planning.problem import Piece, Problem, Stage
from bonebench.planning.promise import PROMISE_REPLAYS, Promised, promise
from bonebench.planning.rolling import search_rolling
from bonebench.planning.search import MOVES, Searched, search
from bonebench.said import Said, said
from bonebench.services.plans.make import Paces, stored_plan
from bonebench.services.plans.stored import Limit, Promise, Promises, StoredPlan

# A room of more pieces is searched stretch by stretch.
MANY = 250
SEED = 1
EVERY_S = 0.5  # how often it is told how far it is
Report = Callable[[float, Said], None]


@dataclass(frozen=True, slots=True)
class Searching:
    """What a search needs: the room, the order there is, and how much it may try. ``seconds`` is a ceiling, None for none."""

    paces: Paces
    before: StoredPlan
    uncertain: Uncertain
    work_revision: int
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
    """Search, then replay the best order; tells how far it is on the way."""
    began, told, problem = monotonic(), [0.0], searching.paces.working

    def out_of_time() -> bool:
        return searching.seconds is not None and monotonic() - began > searching.seconds

    def heard(tried: int, score: tuple[float, ...]) -> None:
        if monotonic() - told[0] < EVERY_S:
            return
        told[0] = monotonic()
        words = said("plan.tried", "{tried} orders tried, {late} late days", tried=tried, late=round(score[0], 1))
        report(0.8 * tried / max(searching.moves, 1), words)

    report(0.0, said("plan.begun", "looking for a better order"))
    look_for = search_rolling if len(problem.pieces) > MANY else _search(searching.moves)
    found = look_for(problem, seed=searching.seed, start=searching.before.order, out_of_time=out_of_time, progress=heard)
    report(0.8, said("plan.replaying", "replaying it {replays} times", replays=searching.replays))
    plan = stored_plan(searching.paces, found.plan, work_revision=searching.work_revision, status=_status(found))
    replayed = promise(problem, found.plan.order, searching.uncertain, replays=searching.replays)
    gain = searching.before.score[0] - found.plan.score[0] if searching.before.score else 0.0
    return Found(plan, promises_of(replayed, searching), found.tried, found.cut_short, gain)


def _search(moves: int) -> Callable[..., Searched]:
    def run(problem: Problem, **told: object) -> Searched:
        return search(problem, moves=moves, **told)  # type: ignore[arg-type]

    return run


def _status(found: Searched) -> str:
    return "proven" if found.proven else "searched, cut short" if found.cut_short else "searched"


def promises_of(replayed: dict[str, Promised], searching: Searching) -> Promises:
    """Return what is kept of replays."""
    kept = {key: promise_of(one) for key, one in replayed.items()}
    return Promises(searching.work_revision, searching.paces.working.now, searching.replays, kept)


def promise_of(one: Promised) -> Promise:
    """Return what is kept of one piece's replays."""
    limits = tuple(Limit(limit.limit, limit.name, round(limit.share, 3)) for limit in one.limited_by[:3])
    return Promise(one.p50, one.p80, one.p95, limits, round(one.unfinished, 4))


def warm_up(now: datetime) -> None:
    """Turn one piece of one step into times, twice: all that plans are made with is compiled after that."""
    stage = Stage("wait", 1, None, stay=True, days=1.0)
    piece = Piece("one", (stage,), now, now)
    problem = Problem(now, ZoneInfo("UTC"), (piece, replace(piece, key="other")), (), (), {}, {})
    promise(problem, ("one", "other"), Uncertain(), replays=1)
    search(problem, moves=1)
