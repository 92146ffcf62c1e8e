"""When beetles want water: not while something that went in frozen or fresh still serves as drink, and never into damp air."""

from dataclasses import dataclass
from datetime import date

from bonebench.said import Said, said


@dataclass(frozen=True, slots=True)
class Fed:
    """What last went into a box: the day something moist did, whether the last food was dried, and whether its air is damp."""

    moist: date | None = None
    dried: bool = False
    damp: bool = False


def last_drink(done: date | None, fed: Fed, today: date) -> date | None:
    """Return the day they last had water: from the pad, or from moist food unless dried food went in after it."""
    moist = fed.moist if fed.moist is not None and fed.moist <= today and not fed.dried else None
    return max((day for day in (done, moist) if day is not None), default=None)


def why_wet(why: Said, fed: Fed, last: date | None) -> Said:
    """Put before the reason of the round what the log says of their drink."""
    if fed.dried:
        first = "the last food that went in was dried. "
    elif last is not None:
        first = "the last wet pad or moist food was on {last:day}. "
    else:
        first = "nobody wrote down a wet pad or moist food yet. "
    return said(f"{why.key}.thirst", first + why.template, **{**why.values, "last": last})
