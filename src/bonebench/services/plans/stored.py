"""The plan as it is kept in the book: times for every piece, and when each would be through if all went quickly or slowly."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

import msgspec

from bonebench.planning.problem import Late, Slot, Unplaced
from bonebench.planning.replan import Before
from bonebench.said import Said


@dataclass(frozen=True, slots=True)
class Finish:
    """The day a piece is through, by working, quick and slow durations; None where it found no time."""

    working: date | None = None
    quick: date | None = None
    slow: date | None = None


@dataclass(frozen=True, slots=True)
class StoredMove:
    """A piece whose last day is another than in the plan of the day before; ``why`` names pieces and places by their keys."""

    piece: str
    was: date | None
    now: date | None
    why: Said


@dataclass(frozen=True, slots=True)
class StoredPlan:
    """One plan with the revision of the book and the local day it was made for.

    ``score`` is the plan's own (less is better), ``bound`` what no plan can go below in late days, where that is known; ``moved``
    is what changed since the day before; ``notes`` say what is odd. Both name pieces and places by their keys.
    """

    work_revision: int
    made_at: datetime
    day: date
    rule: str
    order: tuple[str, ...]
    slots: tuple[Slot, ...]
    late: tuple[Late, ...]
    unplaced: tuple[Unplaced, ...]
    finish: dict[str, Finish] = field(default_factory=dict)
    status: str = "by rule"
    score: tuple[float, ...] = ()
    bound: float | None = None
    moved: tuple[StoredMove, ...] = ()
    notes: tuple[Said, ...] = ()

    def as_before(self) -> Before:
        """Return what is needed of this plan to say what moved since."""
        return Before(self.order, self.slots, frozenset(one.piece for one in self.unplaced))

    def ahead(self, piece: str, step: str, visit: int) -> Slot | None:
        """Return the times of one step of one piece."""
        return next((s for s in self.slots if s.piece == piece and s.step == step and s.visit == visit), None)

    def why_not(self, piece: str) -> Unplaced | None:
        """Return why a piece, or the rest of it, found no time."""
        return next((u for u in self.unplaced if u.piece == piece), None)


@dataclass(frozen=True, slots=True)
class Limit:
    """What kept a piece longest, in a share of the replays; ``limit`` and ``name`` as in a slot, or "itself"."""

    limit: str
    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Promise:
    """The days by which a piece was through in half, four of five and nineteen of twenty replays; None: not within the horizon."""

    p50: date | None
    p80: date | None
    p95: date | None
    limited_by: tuple[Limit, ...] = ()
    unfinished: float = 0.0


@dataclass(frozen=True, slots=True)
class Promises:
    """What replays of a plan came to, with the revision of the book they were made for."""

    work_revision: int
    made_at: datetime
    replays: int
    pieces: dict[str, Promise]


def plan_to_json(plan: StoredPlan) -> dict[str, Any]:
    """Return a plan as plain JSON values."""
    plain: dict[str, Any] = msgspec.to_builtins(plan)
    return plain


def plan_from_json(plain: Mapping[str, Any]) -> StoredPlan:
    """Read a plan back."""
    return msgspec.convert(dict(plain), StoredPlan)


def promises_to_json(promises: Promises) -> dict[str, Any]:
    """Return promises as plain JSON values."""
    plain: dict[str, Any] = msgspec.to_builtins(promises)
    return plain


def promises_from_json(plain: Mapping[str, Any]) -> Promises:
    """Read promises back."""
    return msgspec.convert(dict(plain), Promises)
