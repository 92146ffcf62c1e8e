"""Heads that were weighed before they went in and later: what their box ate in between, for its colony's calibration."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from bonebench.figures import Figure
from bonebench.science import cleaning
from bonebench.services.plans.problem import Subject
from bonebench.services.plans.sights import day_of, weighed_before
from bonebench.shop.pieces import Sight
from bonebench.shop.steps import Step

LEAST_DAYS, LONGEST_DAYS = 1.0, 21.0
BARE_SPREAD = 0.35  # the last part goes slowly, so a head weighed clean tells a little less than they can eat
OWN_SPREAD = 0.15  # as `observed.weighed`: scale and drying
BESIDE_SPREAD = 0.56  # what lay beside it and was not weighed: the whole range of what a surface gives
MOST_SPREAD = 1.0
BARE_SHARE = 0.05


@dataclass(frozen=True)
class Eaten:
    """What a box ate between two times, as fresh tissue, by the scale; ``spread`` is that of its logarithm."""

    since: datetime
    until: datetime
    mass_kg: float
    spread: float
    tag: str


@dataclass(frozen=True, slots=True)
class _Stay:
    subject: Subject
    since: datetime
    until: datetime | None


def stay_of(subject: Subject) -> tuple[datetime, datetime | None] | None:
    """Return when a piece went in with the beetles, and when it was judged clean or came out; None if nobody wrote it."""
    specimen = subject.specimen
    begun = specimen.beginning(Step.BEETLES)
    leg = subject.standing.leg
    if begun is None:
        since = subject.standing.since if leg is not None and leg.step is Step.BEETLES else None
        return None if since is None else (since, None)
    ended = [specimen.ending(step) or specimen.beginning(step) for step in (Step.JUDGE_CLEAN, Step.OUT, Step.KILL)]
    after = [mark.about for mark in ended if mark is not None and mark.about >= begun.about]
    return begun.about, min(after) if after else None


def eaten_of(subjects: Sequence[Subject], now: datetime, oldest: datetime) -> tuple[Eaten, ...]:
    """Return what weighed heads say their box ate, none that began before ``oldest``.

    A head tells of the colony only with all that lay beside it: what was weighed too is added by the scale, the rest by its kind,
    wide; where more than half would be such a guess, nothing is said. Heads that were handed over since are not looked at.
    """
    stays = [
        _Stay(subject, max(span[0], oldest - timedelta(days=LONGEST_DAYS)), span[1])
        for subject in subjects
        if (span := stay_of(subject)) is not None and span[0] <= now
    ]
    found = (one for stay in stays for one in _eaten(stay, stays, now) if one.since >= oldest)
    return tuple(sorted(_apart(found), key=lambda one: one.since))


def _apart(found: Iterable[Eaten]) -> list[Eaten]:
    """Keep the surest of those that overlap: what was eaten in one time is one reading, however many heads tell of it."""
    kept: list[Eaten] = []
    for one in sorted(found, key=lambda one: (one.spread, one.since)):
        if all(one.until <= other.since or one.since >= other.until for other in kept):
            kept.append(one)
    return kept


def _eaten(stay: _Stay, stays: Sequence[_Stay], now: datetime) -> Iterator[Eaten]:
    before = weighed_before(stay.subject.specimen, stay.since)
    if before is None or before.mass_kg is None:
        return
    after = _last_weighed(stay, before, now)
    if after is None or after.mass_kg is None or not after.mass_kg < before.mass_kg:
        return
    until = min(after.at, stay.until or after.at)
    days = day_of(until, stay.since)
    if not LEAST_DAYS <= days <= LONGEST_DAYS:
        return
    own = _own(stay, before.mass_kg - after.mass_kg, after.at, days)
    if own is None:
        return
    mass, spread = own
    parts = [_beside(other, stay.since, until, now) for other in stays if other is not stay]
    known = math.fsum(kg for kg, weighed in parts if weighed)
    guessed = math.fsum(kg for kg, weighed in parts if not weighed)
    if guessed > mass + known:
        return
    total = mass + known + guessed
    off = math.hypot(mass * spread, known * BARE_SPREAD, guessed * BESIDE_SPREAD) / total
    yield Eaten(stay.since, until, total, min(MOST_SPREAD, off), stay.subject.specimen.tag)


def _last_weighed(stay: _Stay, before: Sight, now: datetime) -> Sight | None:
    """The last weighing in the box, or the first within a day after it was judged clean."""
    last = now if stay.until is None else stay.until + timedelta(days=1.5)
    found = [
        one
        for one in stay.subject.specimen.sights
        if one.mass_kg is not None and one.mass_kg > 0 and one is not before and before.at < one.at <= min(last, now)
    ]
    return found[-1] if found else None


def _own(stay: _Stay, lost_kg: float, at: datetime, days: float) -> tuple[float, float] | None:
    """What was eaten of the head itself, as fresh: all of it where it is clean, else by the scale less what dried."""
    if stay.until is not None and at >= stay.until - timedelta(hours=6):
        return lost_kg, BARE_SPREAD
    tissue = stay.subject.head.tissue_kg
    reading = cleaning.by_scale(days, tissue, lost_kg, cleaning.DRYING)
    if reading is None or reading.left_share < BARE_SHARE:
        return None
    gone = tissue.scaled(1.0 - reading.left_share, "kg") if reading.left_share < 1.0 else None
    if gone is None:
        return None
    spread = math.hypot(OWN_SPREAD, reading.spread / (1.0 - reading.left_share), _log_spread(tissue))
    return (gone.value, spread) if spread < MOST_SPREAD else None


def _log_spread(figure: Figure) -> float:
    return math.log(figure.high / figure.low) / 2 / 1.645 if figure.low > 0 else MOST_SPREAD


def _beside(other: _Stay, since: datetime, until: datetime, now: datetime) -> tuple[float, bool]:
    """What was eaten from another piece in that time: of what the scale says of it where it came out clean, else by its kind."""
    end = until if other.until is None else min(until, other.until)
    if end <= since or end <= other.since:
        return 0.0, False
    head, whole = other.subject.head, _whole(other, now)
    meal = cleaning.eat(head.tissue_kg.value, head.eating_kg_per_day.value, cleaning.steady(math.inf))
    eaten = max(0.0, meal.left_kg(day_of(since, other.since)) - meal.left_kg(day_of(end, other.since)))
    return (eaten, False) if whole is None else (whole * eaten / head.tissue_kg.value, True)


def _whole(stay: _Stay, now: datetime) -> float | None:
    """All the tissue of a piece, where it was weighed before it went in and clean."""
    before = weighed_before(stay.subject.specimen, stay.since)
    after = None if before is None or stay.until is None else _last_weighed(stay, before, now)
    if before is None or after is None or stay.until is None or after.at < stay.until - timedelta(hours=6):
        return None
    lost = (before.mass_kg or 0.0) - (after.mass_kg or 0.0)
    return lost if lost > 0 and stay.subject.head.tissue_kg.value > 0 else None
