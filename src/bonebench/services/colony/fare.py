"""How one piece fares with the beetles: what is left on it, when to look, its rot clock. Light unless its colony was counted."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bonebench.science import cleaning
from bonebench.services.colony.appetite import BoxAppetite, of_colony
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.night import fed_to, inside_of, is_ready
from bonebench.services.colony.weighed import eaten_of
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, eating_kg_per_day
from bonebench.services.plans.sights import SeenInside, day_of, seen_inside
from bonebench.shop.colony import ColonyLog
from bonebench.shop.room import Place
from bonebench.shop.routes import main_part
from bonebench.shop.steps import PlaceKind, Step


@dataclass(frozen=True, slots=True)
class Fare:
    """One piece worked out: in which box, since when, what was seen, what is expected, its clock."""

    subject: Subject
    place: Place
    since: datetime | None
    seen: SeenInside
    appetite: BoxAppetite
    most: tuple[cleaning.Flow, ...]
    expected: cleaning.Expected
    worn: cleaning.Worn

    def day(self, now: datetime) -> float:
        """Days since it went in."""
        return 0.0 if self.since is None else day_of(now, self.since)


def appetite_in(known: Known, place: Place, log: ColonyLog, subjects: Sequence[Subject], now: datetime) -> BoxAppetite:
    """Return what a box can eat, its weighed heads counted in."""
    looks = in_use(log, now)
    return of_colony(place, log, now, eaten_of(fed_to(known, place, subjects), now, looks[0].at) if looks else ())


def concerned(subject: Subject) -> bool:
    """Whether a piece is with the beetles or waits for them, with something to eat on it."""
    return subject.head.tissue_kg.value > 0 and not subject.specimen.finished and (_inside(subject) or is_ready(subject))


def _inside(subject: Subject) -> bool:
    leg = subject.standing.leg
    return leg is not None and leg.step is Step.BEETLES


def box_for(subject: Subject, known: Known) -> Place | None:
    """Return the box a piece lies in, else the first that takes any."""
    part = main_part(subject.specimen)
    place = known.room.place(part.place) if part is not None else None
    if place is not None and place.kind is PlaceKind.ENCLOSURE:
        return place
    return next((one for one in known.room.places if one.kind is PlaceKind.ENCLOSURE and one.open), None)


def fare_of(subject: Subject, place: Place, subjects: Sequence[Subject], appetite: BoxAppetite, now: datetime) -> Fare:
    """Work one piece out: those that went in before it eat first, each as it was seen to go."""
    since = subject.standing.since if _inside(subject) else None
    begin = since or now
    seen = seen_inside(subject.specimen, subject.head, since, now)
    today = day_of(now, begin)
    before = tuple(_lying(one, begin, now) for one in _earlier(subject, place, subjects))
    most = tuple(cleaning.for_the_last(cleaning.by_day(line[0], line, today), before) for line in appetite.lines)
    head = subject.head
    expected = cleaning.clean_among(today, head.tissue_kg, head.eating_kg_per_day.value, seen.plain, most)
    smelled = (day_of(seen.smell.at, begin), seen.smell.smell) if seen.smell is not None and seen.smell.smell is not None else None
    worn = cleaning.worn(today, lambda day: _share(expected, head.tissue_kg.value, day), appetite.warm_c, smelled)
    return Fare(subject, place, since, seen, appetite, most, expected, worn)


def _share(expected: cleaning.Expected, tissue_kg: float, day: float) -> float:
    return expected.middle.left_kg(day) / tissue_kg


def _earlier(subject: Subject, place: Place, subjects: Sequence[Subject]) -> tuple[Subject, ...]:
    inside = [one for one in inside_of(subjects, place) if one.head.tissue_kg.value > 0]
    if not _inside(subject):
        return tuple(inside)
    at = [one.specimen.id for one in inside]
    return tuple(inside[: at.index(subject.specimen.id)]) if subject.specimen.id in at else tuple(inside)


def _lying(one: Subject, begin: datetime, now: datetime) -> cleaning.Lying:
    went_in = one.standing.since or now
    return cleaning.Lying(
        (went_in - begin).total_seconds() / 86400.0, one.head.tissue_kg.value, eating_kg_per_day(one, now, "working")
    )  # fmt: skip
