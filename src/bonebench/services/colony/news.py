"""What a colony's log says today, without running the model: warnings for Today and for the page, and what they last ate.

Kept quick to import: Today is made from it.
"""

from collections.abc import Iterable
from datetime import datetime

from bonebench.reference.pests import load_pests
from bonebench.science.colony import limits
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.shop.colony_news import Asked, Bounds, News, news, too_damp_to_wet
from bonebench.shop.room import Place
from bonebench.shop.rounds import PlaceLog
from bonebench.shop.steps import PlaceKind, Step
from bonebench.shop.thirst import Fed

BOUNDS = Bounds(
    flight_c=limits.FLIGHT_C,
    suffer_c=limits.SUFFER_C,
    deadly_c=limits.DEADLY_C,
    damp=limits.DAMP,
    damp_hours=limits.DAMP_HOURS,
    wet=limits.WET,
    wet_hours=limits.WET_HOURS,
)
DRIED = "dried"  # how a piece came in, as intake says it


def boxes_of(known: Known) -> tuple[Place, ...]:
    """Return the beetle boxes that are in use."""
    return tuple(place for place in known.room.places if place.kind is PlaceKind.ENCLOSURE and place.open)


def box_news(known: Known, place: Place, log: PlaceLog | None, subjects: Iterable[Subject], now: datetime) -> tuple[News, ...]:
    """Return the warnings of one box."""
    if log is None or not log.looks:
        return ()
    return news(log, place.name, _asked(known, now), max((at for at, dried in _pieces(place, subjects) if not dried), default=None))


def fed_of(known: Known, place: Place, log: PlaceLog | None, subjects: Iterable[Subject], now: datetime) -> Fed:
    """Return what last went into a box, by its looks and by the pieces that lie in it."""
    looks = log.looks if log is not None else ()
    given = [(one.at, one.what.dried is True) for one in looks if (one.what.fed_kg or 0) > 0]
    given = sorted((one for one in (*given, *_pieces(place, subjects)) if one[0] <= now), key=lambda one: one[0])
    moist = max((at for at, dried in given if not dried), default=None)
    return Fed(
        moist=known.room.day(moist) if moist is not None else None,
        dried=bool(given) and given[-1][1],
        damp=too_damp_to_wet(looks, _asked(known, now)),
    )


def _asked(known: Known, now: datetime) -> Asked:
    return Asked(now, known.room.day, BOUNDS, load_pests())


def _pieces(place: Place, subjects: Iterable[Subject]) -> list[tuple[datetime, bool]]:
    """When each piece that lies with the beetles went in, and whether it came in dried."""
    return [
        (part.since, DRIED in (subject.specimen.condition or "").casefold())
        for subject in subjects
        for part in subject.specimen.parts
        if part.place == place.key and part.since is not None and part.step in (None, Step.BEETLES)
    ]
