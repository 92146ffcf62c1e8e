"""What the colonies ask of the day: their warnings come before its work, and their water is a round that the log puts off."""

from collections.abc import Iterable, Mapping
from datetime import datetime

from bonebench.services.cards import Alert
from bonebench.services.colony.news import box_news, boxes_of, fed_of
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject
from bonebench.shop.rounds import PlaceLog
from bonebench.shop.thirst import Fed

Logs = Mapping[str, PlaceLog]


def colony_alerts(known: Known, logs: Logs, subjects: tuple[Subject, ...], now: datetime) -> Iterable[Alert]:
    """Return what the looks into every box say, and what to do about it."""
    for place in boxes_of(known):
        for one in box_news(known, place, logs.get(place.key), subjects, now):
            yield Alert("act" if one.act else "look", one.flag.what, one.flag.next)


def fed_boxes(known: Known, logs: Logs, subjects: tuple[Subject, ...], now: datetime) -> dict[str, Fed]:
    """Return what last went into every box: moist food puts its water round off."""
    return {place.key: fed_of(known, place, logs.get(place.key), subjects, now) for place in boxes_of(known)}
