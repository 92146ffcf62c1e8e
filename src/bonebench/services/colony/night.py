"""Which of the room's own heads may go into a box tonight, by its log and by what lies in it."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from bonebench.said import Said, said
from bonebench.science import cleaning
from bonebench.science.thawing import thaw_days
from bonebench.services.colony.appetite import BoxAppetite
from bonebench.services.colony.cards import LimitCount
from bonebench.services.colony.heads import FLOOR_SHARE, MOST_TONIGHT
from bonebench.services.colony.usual import FLOOR
from bonebench.services.known import COLDEST_SHELF_C, WARMEST_SHELF_C, Known, surface_of
from bonebench.services.plans.problem import Subject, eating_kg_per_day, tissue_left_kg
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.steps import PlaceKind, Step

WORDS = {
    "appetite": "what they can eat",
    "floor": "the floor",
    "heater": "the heater",
    "none waiting": "nothing: no more wait",
    "count": "the count the room set for this box",
}


@dataclass(frozen=True)
class BoxTonight:
    """The heads that may go into one box now, by their tags in their order; ``waiting`` counts all that wait for any box.

    ``taken`` says on what it rests: whose appetite, and what nobody set. The heater is None where nobody said its spare power.
    """

    tags: tuple[str, ...]
    waiting: int
    inside: int
    limit: str
    by: tuple[LimitCount, ...]
    worst_used: float
    words: Said
    appetite: str
    appetite_kg_per_day: float
    free_floor_m2: float
    spare_heat_w: float | None
    taken: tuple[Said, ...]


def waiting_of(subjects: Iterable[Subject]) -> tuple[Subject, ...]:
    """Return the heads that are ready for the beetles and not on hold, the first promised first."""
    ready = [s for s in subjects if s.specimen.held is None and is_ready(s)]
    return tuple(sorted(ready, key=lambda s: (s.specimen.promised or date.max, s.specimen.id)))


def is_ready(subject: Subject) -> bool:
    """Whether the beetles are what a piece waits for."""
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


def fed_to(known: Known, place: Place, subjects: Sequence[Subject]) -> tuple[Subject, ...]:
    """Return the pieces whose eating this box answers for: all in a room with one box, else those that still lie in it."""
    boxes = [one for one in known.room.places if one.kind is PlaceKind.ENCLOSURE]
    return tuple(subjects) if len(boxes) == 1 else tuple(one for one in subjects if _lies_in(one, place))


def box_tonight(place: Place, subjects: Sequence[Subject], appetite: BoxAppetite, now: datetime) -> BoxTonight:
    """Work out how many of the room's waiting heads may go into this box now: by appetite, floor and the heater's spare power."""
    waiting, inside = waiting_of(subjects)[:MOST_TONIGHT], inside_of(subjects, place)[:MOST_TONIGHT]
    pieces = tuple(cleaning.InBox(s.head.tissue_kg.value, eating_kg_per_day(s, now, "working"), _left(s, now)) for s in inside)
    used = tuple(_used(s, piece, appetite.warm_c, now) for s, piece in zip(inside, pieces, strict=True))
    floor = FLOOR.value if place.box is None or place.box.floor_m2 is None else place.box.floor_m2
    free = max(0.0, floor - math.fsum(_floor(s) for s in inside))
    spare = _spare_heat(place, inside, appetite.warm_c, now)
    watts = math.inf if spare is None else spare
    found = cleaning.heads_tonight(
        cleaning.BoxNow(appetite.warm_c, appetite.cautious, free, watts, pieces, used), [_head(s) for s in waiting]
    )
    by = [LimitCount(limit.value, n) for limit, n in found.by.items() if limit is not cleaning.Limit.HEATER or spare is not None]
    if place.count is not None:
        by.append(LimitCount("count", max(0, min(len(waiting), int(place.count) - len(inside)))))
    least = min(by, key=lambda one: one.count)
    limit = "none waiting" if least.count == len(waiting) else least.limit
    tags = tuple(s.specimen.tag for s in waiting[: least.count])
    return BoxTonight(
        tags, len(waiting), len(inside), limit, tuple(by), found.worst_used, _words(tags, len(waiting), limit), appetite.how,
        appetite.cautious[0], free, spare, tuple(_taken(place, appetite)),
    )  # fmt: skip


def _left(subject: Subject, now: datetime) -> float:
    return min(tissue_left_kg(subject, now, "working"), subject.head.tissue_kg.value)


def _spare_heat(place: Place, inside: Sequence[Subject], warm_c: float, now: datetime) -> float | None:
    """What the heater has left at the coldest hour, less what heads that still thaw in there draw; None where nobody said."""
    spare = None if place.box is None else place.box.heat_to_spare_w
    if spare is None:
        return None
    return max(0.0, spare - math.fsum(cleaning.thaw_load_w(_head(s), warm_c) for s in inside if _thaws(s, warm_c, now)))


def _thaws(subject: Subject, warm_c: float, now: datetime) -> bool:
    since = subject.standing.since
    if since is None or not COLDEST_SHELF_C <= warm_c <= WARMEST_SHELF_C:
        return False
    return (now - since).total_seconds() / 86400.0 < thaw_days(subject.head.head_kg, warm_c).value


def _taken(place: Place, appetite: BoxAppetite) -> Iterator[Said]:
    """Say on what it rests, and which of the box's settings nobody gave."""
    yield appetite.words
    if place.box is None or place.box.floor_m2 is None:
        yield said("colony.night.floor", "a floor of {floor:area} was taken, as nobody set it", floor=FLOOR.value)
    if place.box is None or place.box.heat_to_spare_w is None:
        yield said("colony.night.heater", "the heater's spare power is not set and not counted in")


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
    wet = cleaning.DRYING.value / days * (1.0 - math.exp(-days / cleaning.DRYING.value))
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
