"""Pieces in the box that may be spoiling, by their hours warm and wet and the last smell. No model is run: Today starts at once."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from bonebench.said import said
from bonebench.science import cleaning
from bonebench.services.cards import Alert
from bonebench.services.colony.appetite import warm_of
from bonebench.services.colony.news import boxes_of
from bonebench.services.colony.night import inside_of
from bonebench.services.colony.usual import FLOOR, KNOWN_TO_EAT
from bonebench.services.known import Known
from bonebench.services.plans.problem import Subject, eating_kg_per_day
from bonebench.services.plans.sights import day_of, seen_inside
from bonebench.shop.pieces import Sight
from bonebench.shop.room import Place
from bonebench.shop.rounds import PlaceLog

FOUL, STRONG = 3, 2
SMELL_DAYS = 2.0  # a strong smell of longer ago is asked for again on its page, not here; an estimate


def piece_alerts(known: Known, logs: Mapping[str, PlaceLog], subjects: Sequence[Subject], now: datetime) -> Iterator[Alert]:
    """Return what to take out and what to smell, box by box in the order the pieces went in."""
    for place in boxes_of(known):
        log = logs.get(place.key)
        looks = () if log is None else tuple(one for one in log.looks if one.at <= now)
        yield from _of_box(known, place, warm_of(place, looks), subjects, now)


def _of_box(known: Known, place: Place, warm_c: float, subjects: Sequence[Subject], now: datetime) -> Iterator[Alert]:
    most = cleaning.steady(_eats(place))
    for subject in inside_of(subjects, place):
        since, tissue = subject.standing.since, subject.head.tissue_kg.value
        if since is None or not tissue > 0:
            continue
        meal = cleaning.eat(tissue, eating_kg_per_day(subject, now, "working"), most, -day_of(now, since))
        most = cleaning.left_over(most, meal.eaten)
        smell = seen_inside(subject.specimen, subject.head, since, now).smell
        yield from _alerts(known, subject, _worn(meal, tissue, warm_c, smell, now), smell, now)


def _eats(place: Place) -> float:
    """What the box eats a day as the room set it, else the shipped estimate: a count would ask the model."""
    if place.appetite_kg_per_day is not None and place.appetite_kg_per_day > 0:
        return place.appetite_kg_per_day
    return KNOWN_TO_EAT.value * (FLOOR.value if place.box is None or place.box.floor_m2 is None else place.box.floor_m2)


def _worn(meal: cleaning.Meal, tissue_kg: float, warm_c: float, smell: Sight | None, now: datetime) -> cleaning.Worn:
    """Read the clock of a piece; its meal counts days from now, the clock from when it went in."""
    day = -meal.begin_day
    smelled = (day - day_of(now, smell.at), smell.smell) if smell is not None and smell.smell is not None else None
    return cleaning.worn(day, lambda at: meal.left_kg(at - day) / tissue_kg, warm_c, smelled)


def _alerts(known: Known, subject: Subject, worn: cleaning.Worn, smell: Sight | None, now: datetime) -> Iterator[Alert]:
    tag, used = subject.specimen.tag, worn.clock.used
    foul = smell is not None and smell.smell == FOUL
    if smell is not None and foul:
        yield Alert(
            "act", said("alert.piece.foul", "{tag} smelled foul on {day:day}", tag=tag, day=known.room.day(smell.at)),
            said("alert.piece.foul.why", "mask on: take it out, cut muscle away, refreeze; it goes in again alone"),
        )  # fmt: skip
    elif worn.clock.advice is cleaning.RotAdvice.TAKE_OUT:
        yield Alert(
            "look",
            said(
                "alert.piece.worn", "{tag}: its time warm and wet has run out by the hours, {low:percent} to {high:percent} used",
                tag=tag, low=used.low, high=used.high,
            ),
            said("alert.piece.worn.why", "smell it and write that down; strong or foul: take out, cut muscle away, refreeze"),
        )  # fmt: skip
    elif smell is not None and smell.smell == STRONG and day_of(now, smell.at) <= SMELL_DAYS:
        yield Alert(
            "look", said("alert.piece.strong", "{tag} smelled strong on {day:day}", tag=tag, day=known.room.day(smell.at)),
            said("alert.piece.strong.why", "smell it again today, turn the wet side up; if no better, cut muscle away, refreeze"),
        )  # fmt: skip
