"""Which of the room's own heads may go into a box tonight, by its log and by what lies in it."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from bonebench.said import Said, said
from bonebench.science import cleaning
from bonebench.science.cleaning.tonight import DRYING
from bonebench.services.colony.asked import FLOOR
from bonebench.services.colony.cards import LimitCount
from bonebench.services.colony.heads import FLOOR_SHARE, MOST_TONIGHT
from bonebench.services.known import surface_of
from bonebench.services.plans.problem import Subject, tissue_left_kg
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.steps import Step

WORDS = {
    "appetite": "what they can eat",
    "floor": "the floor",
    "heater": "the heater",
    "none waiting": "nothing: no more wait",
    "count": "the count the room set for this box",
}


@dataclass(frozen=True)
class BoxTonight:
    """The heads that may go into one box now, by their tags in their order; ``waiting`` counts all that wait for any box."""

    tags: tuple[str, ...]
    waiting: int
    inside: int
    limit: str
    by: tuple[LimitCount, ...]
    worst_used: float
    words: Said


def waiting_of(subjects: Iterable[Subject]) -> tuple[Subject, ...]:
    """Return the heads that are ready for the beetles and not on hold, the first promised first."""
    ready = [s for s in subjects if s.specimen.held is None and _ready(s)]
    return tuple(sorted(ready, key=lambda s: (s.specimen.promised or date.max, s.specimen.id)))


def _ready(subject: Subject) -> bool:
    standing = subject.standing
    return (
        not (standing.leg is not None and standing.leg.step is Step.BEETLES)
        and standing.next is not None
        and standing.next.step is Step.BEETLES
    )


def inside_of(subjects: Iterable[Subject], place: Place) -> tuple[Subject, ...]:
    """Return the heads that lie with the beetles in this box, in the order they went in."""
    there = [s for s in subjects if s.standing.leg is not None and s.standing.leg.step is Step.BEETLES and _lies_in(s, place)]
    return tuple(
        sorted(there, key=lambda s: (s.standing.since is not None, s.standing.since.timestamp() if s.standing.since else 0))
    )


def _lies_in(subject: Subject, place: Place) -> bool:
    part = main_part(subject.specimen)
    return part is not None and part.place == place.key


def box_tonight(
    place: Place, subjects: Sequence[Subject], cautious_kg_per_day: Sequence[float], warm_c: float, now: datetime
) -> BoxTonight:  # fmt: skip
    """Work out how many of the room's waiting heads may go into this box now.

    ``cautious_kg_per_day`` is the appetite day by day that seven colonies in ten exceed. The heater's spare power is not known.
    """
    waiting, inside = waiting_of(subjects)[:MOST_TONIGHT], inside_of(subjects, place)[:MOST_TONIGHT]
    pieces = tuple(
        cleaning.InBox(
            s.head.tissue_kg.value, s.head.eating_kg_per_day.value, min(tissue_left_kg(s, now, "working"), s.head.tissue_kg.value)
        )
        for s in inside
    )
    used = tuple(_used(s, piece, warm_c, now) for s, piece in zip(inside, pieces, strict=True))
    free = max(0.0, FLOOR.value - math.fsum(_floor(s) for s in inside))
    found = cleaning.heads_tonight(
        cleaning.BoxNow(warm_c, tuple(cautious_kg_per_day), free, math.inf, pieces, used), [_head(s) for s in waiting]
    )
    by = [LimitCount(limit.value, count) for limit, count in found.by.items() if limit is not cleaning.Limit.HEATER]
    if place.count is not None:
        by.append(LimitCount("count", max(0, min(len(waiting), int(place.count) - len(inside)))))
    least = min(by, key=lambda one: one.count)
    limit = "none waiting" if least.count == len(waiting) else least.limit
    tags = tuple(s.specimen.tag for s in waiting[: least.count])
    return BoxTonight(tags, len(waiting), len(inside), limit, tuple(by), found.worst_used, _words(tags, len(waiting), limit))


def _head(subject: Subject) -> cleaning.Head:
    head, surface = subject.head, surface_of(subject.head.species, subject.head.head_kg).value
    return cleaning.Head(head.tissue_kg.value, head.eating_kg_per_day.value, surface, _floor(subject))


def _floor(subject: Subject) -> float:
    return surface_of(subject.head.species, subject.head.head_kg).value * FLOOR_SHARE.value


def _used(subject: Subject, piece: cleaning.InBox, warm_c: float, now: datetime) -> float:
    """Share of its rot clock that a piece has used since it went in: it was eaten and dried evenly, as far as anybody knows."""
    since = subject.standing.since
    days = 0.0 if since is None else max((now - since).total_seconds() / 86400.0, 0.0)
    if days == 0.0 or piece.tissue_kg <= 0:
        return 0.0
    left = (piece.left_kg if piece.left_kg is not None else piece.tissue_kg) / piece.tissue_kg
    wet = DRYING.value / days * (1.0 - math.exp(-days / DRYING.value))
    spell = cleaning.WetSpell(24.0 * days, warm_c, 0.5 * (1.0 + left), wet)
    return cleaning.warm_wet_hours([spell]) / cleaning.BUDGET_H.value


def _words(tags: tuple[str, ...], waiting: int, limit: str) -> Said:
    if not waiting:
        return said("colony.night.none", "no head waits for the beetles")
    if not tags:
        return said(
            "colony.night.no", "none of {waiting} may go in now; what holds it is {limit}", waiting=waiting, limit=WORDS[limit]
        )
    return said(
        "colony.night", "{tags} may go in now, of {waiting} that wait; what holds it is {limit}",
        tags=", ".join(tags), waiting=waiting, limit=WORDS[limit],
    )  # fmt: skip
