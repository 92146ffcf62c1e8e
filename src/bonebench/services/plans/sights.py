"""What was seen of a piece since it went in, as readings of what is left on it; the plan, the box and its page all use these."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from bonebench.science import cleaning
from bonebench.services.known import Head
from bonebench.shop.pieces import GRADES, SMELL_WORDS, Sight
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import Step

# A piece put on the scale within so many hours after it went in weighs what it weighed before. Common practice, no source.
WEIGHED_BEFORE_H = 6.0


@dataclass(frozen=True, slots=True)
class SeenInside:
    """Readings of a piece since it went in, with the sight that each came from, and the last smell of it."""

    readings: tuple[tuple[Sight, cleaning.Reading], ...] = ()
    smell: Sight | None = None
    unweighed: bool = False  # a weighing with none before it: it tells nothing of what was eaten

    @property
    def plain(self) -> tuple[cleaning.Reading, ...]:
        """The readings alone."""
        return tuple(reading for _, reading in self.readings)


def day_of(at: datetime, since: datetime) -> float:
    """Return days from when it went in."""
    return max(0.0, (at - since).total_seconds() / 86400.0)


def seen_inside(specimen: Specimen, head: Head, since: datetime | None, until: datetime) -> SeenInside:
    """Return what looks, smells and weighings between going in and ``until`` tell."""
    if since is None or not head.tissue_kg.value > 0:
        return SeenInside()
    inside = [one for one in specimen.sights if since <= one.at <= until]
    before = weighed_before(specimen, since)
    readings = list(_graded(inside, since))
    scaled = [one for one in inside if one.mass_kg is not None and one is not before]
    if before is not None and before.mass_kg is not None:
        readings += list(_scaled(scaled, before.mass_kg, head, since))
    smells = [one for one in inside if one.smell is not None and 0 <= one.smell < len(SMELL_WORDS)]
    return SeenInside(
        tuple(sorted(readings, key=lambda pair: pair[0].at)), smells[-1] if smells else None, bool(scaled) and before is None
    )


def weighed_before(specimen: Specimen, since: datetime) -> Sight | None:
    """Return the last weighing between trimming and the first hours in the box: what it went in with."""
    trimmed = specimen.ending(Step.TRIM) or specimen.beginning(Step.FREEZE_AGAIN)
    if trimmed is None:
        return None
    last = since + timedelta(hours=WEIGHED_BEFORE_H)
    found = [one for one in specimen.sights if one.mass_kg is not None and one.mass_kg > 0 and trimmed.about <= one.at <= last]
    return found[-1] if found else None


def _graded(inside: list[Sight], since: datetime) -> Iterator[tuple[Sight, cleaning.Reading]]:
    for one in inside:
        if one.grade in GRADES:
            yield one, cleaning.by_look(day_of(one.at, since), one.grade)


def _scaled(inside: list[Sight], before_kg: float, head: Head, since: datetime) -> Iterator[tuple[Sight, cleaning.Reading]]:
    for one in inside:
        if one.mass_kg is None or not one.mass_kg > 0:
            continue
        reading = cleaning.by_scale(day_of(one.at, since), head.tissue_kg, before_kg - one.mass_kg, cleaning.DRYING)
        if reading is not None:
            yield one, reading
