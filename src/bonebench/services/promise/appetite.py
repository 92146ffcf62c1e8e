"""The appetite of the boxes whose colonies were counted: the cautious figure of each day for the plan, and paths for replays."""

from collections.abc import Sequence
from datetime import datetime

from bonebench.records.book import Reading
from bonebench.services.appetites import Appetites, BoxDays
from bonebench.services.colony.fare import appetite_in
from bonebench.services.known import Known
from bonebench.services.log.states import story_of
from bonebench.services.plans.problem import Subject
from bonebench.shop.colony import fold_colony
from bonebench.shop.rounds import place_subject
from bonebench.shop.steps import PlaceKind

Paths = dict[str, tuple[tuple[float, ...], ...]]


def appetites_of(tx: Reading, known: Known, subjects: Sequence[Subject], now: datetime) -> tuple[Appetites | None, Paths]:
    """Return what each counted colony can eat from today on, fed to need; None where none was counted."""
    days: dict[str, BoxDays] = {}
    paths: Paths = {}
    for place in known.room.places:
        if place.kind is not PlaceKind.ENCLOSURE or not place.open:
            continue
        found = appetite_in(known, place, fold_colony(story_of(tx, place_subject(place.key))[0]), subjects, now)
        if found.how != "counted":
            continue
        figure = found.today
        days[place.key] = BoxDays(known.room.day(now), found.cautious, figure.value, figure.low, figure.high)
        paths[place.key] = found.lines
    return (Appetites(now, days), paths) if days else (None, {})
