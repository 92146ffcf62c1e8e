"""The colony run once on the plan: fed only what the plan brings, can it eat what the plan takes it to?

The plan takes the appetite of a colony that has all it wants. Between two rushes it may find less and shrink; a difference worth a
word is said beside the plan, and not planned over again.
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import numpy as np

from bonebench.said import Said, said
from bonebench.science.colony.forecast import forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.services.colony.appetite import AHEAD_DAYS
from bonebench.services.colony.asked import air_of
from bonebench.services.colony.record import held
from bonebench.services.plans.better import Found, Searching
from bonebench.services.plans.stored import StoredPlan
from bonebench.services.season.counted import Counted, SearchingFed
from bonebench.shop.steps import Step

# Less is within what a count can tell.
NOTICED = 0.10
# Seven colonies in ten eat more: what the plan goes by.
CAUTIOUS = 0.3
DAY = timedelta(days=1)


def with_the_colony(found: Found, searching: SearchingFed) -> Found:
    """Return what was found with a word for each box whose beetles the plan leaves hungry."""
    words = tuple(_words(found.plan, searching))
    return replace(found, plan=replace(found.plan, notes=(*found.plan.notes, *words))) if words else found


def _words(plan: StoredPlan, searching: SearchingFed) -> Iterator[Said]:
    for key, counted in searching.counted.items():
        brought = brought_kg(plan, searching, key)
        if searching.appetites is None or not brought.any():
            continue
        reckoned = np.array(searching.appetites.boxes[key].cautious_kg[:AHEAD_DAYS])
        fed = appetite_fed(counted, brought)[: len(reckoned)]
        last = int(np.flatnonzero(brought)[-1]) + 1
        with np.errstate(divide="ignore", invalid="ignore"):
            less = np.where(reckoned > 0, 1 - fed / reckoned, 0.0)[:last]
        if less.size and less.max() > NOTICED:
            yield said(
                "plan.note.fed",
                "fed only what this plan brings, beetles of {box} could eat about {less:percent} less on {day:day} than it takes",
                box=key,
                less=round(float(less.max()), 2),
                day=plan.day + int(less.argmax()) * DAY,
            )


def brought_kg(plan: StoredPlan, searching: Searching, box: str) -> FloatArray:
    """Return what a plan lets be eaten in a box on each of the next days, evenly over the days each piece lies there. [kg]"""
    now = searching.paces.working.now
    tissue = {piece.key: piece.tissue_kg for piece in searching.paces.working.pieces}
    edges = np.arange(AHEAD_DAYS + 1, dtype=np.float64)
    brought = np.zeros(AHEAD_DAYS)
    for slot in plan.slots:
        if slot.place != box or slot.step != Step.BEETLES.value:
            continue
        begins, ends = max(0.0, (slot.start - now) / DAY), (slot.end - now) / DAY
        if ends > begins:
            shares = np.diff(np.clip(edges, begins, ends)) / (ends - begins)
            brought += tissue.get(slot.piece, 0.0) * shares
    return brought


def appetite_fed(counted: Counted, food_kg: FloatArray) -> FloatArray:
    """Return by the day what seven in ten of the colonies could eat, fed only so much. [kg/day]"""
    record, told = held(counted.looks, counted.box, counted.eaten, counted.at)
    air = air_of(record.asked(), len(food_kg)).fed(food_kg, told.housing.food_dry_share)
    paths = forecast(told.draws, told.housing, air).paths("appetite_kg")
    return np.asarray(np.quantile(paths, CAUTIOUS, axis=0))
