"""How long each stay of one specimen took, told from its marks: what durations are learned from."""

from collections.abc import Iterable
from dataclasses import dataclass

from bonebench.shop.specimen import Mark, Specimen
from bonebench.shop.steps import STEP_KINDS, Step


@dataclass(frozen=True, slots=True)
class Stay:
    """One stay that is over: how many days from when it began to when the next step began or was done."""

    step: Step
    visit: int
    method: str | None
    days: float


def stays_of(specimen: Specimen) -> tuple[Stay, ...]:
    """Return every stay whose end is known, by the taps alone: it is over when the next thing happened to the piece.

    A wait in the place counts as part of it, because nobody records when a piece was ready but only when it was moved.
    """
    marks = sorted([*specimen.begun, *(m for m in specimen.ended if not m.skipped)], key=lambda m: (m.about, m.step.position))
    stays = []
    for index, mark in enumerate(marks):
        if mark not in specimen.begun or not STEP_KINDS[mark.step].stay:
            continue
        following = _next(marks[index + 1 :], mark)
        if following is not None:
            days = (following.about - mark.about).total_seconds() / 86400
            stays.append(Stay(mark.step, mark.visit, mark.method, days))
    return tuple(stays)


def _next(later: Iterable[Mark], mark: Mark) -> Mark | None:
    return next((one for one in later if one.about > mark.about and one is not mark), None)
