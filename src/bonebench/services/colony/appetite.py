"""What the beetles of a box can eat, by the best that is known: its count, else the room's setting, else an estimate.

Light unless the colony was counted: only then the model is loaded.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import Literal

from bonebench.errors import BonebenchError
from bonebench.figures import Basis, Figure, Standing, basis
from bonebench.reference.beetles import beetle_named
from bonebench.said import Said, said
from bonebench.services.colony.looks import in_use
from bonebench.services.colony.usual import FLOOR, KNOWN_TO_EAT, WARM_C
from bonebench.services.colony.weighed import Eaten
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.colony import ColonyLog, SeenAt, tells_size
from bonebench.shop.room import Place

How = Literal["counted", "set", "estimate"]
AHEAD_DAYS = 60
ALIKE = (0.1, 0.3, 0.5, 0.7, 0.9)  # quantiles that stand for a fifth of the colonies each
SET_WITHIN = 1.3  # a number the room set for itself: nobody weighed each day, so within a third; an estimate
_Z = 1.645


@dataclass(frozen=True)
class BoxAppetite:
    """Grams a day: how it is known, a figure for today, what seven in ten exceed by the day, and lines alike likely."""

    how: How
    today: Figure
    cautious: tuple[float, ...]
    lines: tuple[tuple[float, ...], ...]
    warm_c: float

    @property
    def basis(self) -> Basis:
        """What it rests on."""
        return basis("colony.box_appetite", self.today)

    @property
    def words(self) -> Said:
        """How it is known, in words."""
        return {
            "counted": said("appetite.counted", "by the count of this colony"),
            "set": said("appetite.set", "by the appetite the room set for this box, not by a count"),
            "estimate": said("appetite.estimate", "by a shipped estimate: nobody counted here and the room set nothing"),
        }[self.how]


def appetite_of(
    place: Place, log: ColonyLog, now: datetime, eaten: tuple[Eaten, ...] = (), members: int | None = None
) -> BoxAppetite:  # fmt: skip
    """Return what a box can eat from today on; ``members`` of the model, as many as usual unless said."""
    looks = in_use(log, now)
    warm = warm_of(place, looks)
    if any(tells_size(one.what) for one in looks) and beetle_named(beetles_of(place.box, looks)).trust != "none":
        return _counted(looks, place.box, eaten, day_begun(looks, now), members)
    if place.appetite_kg_per_day is not None and place.appetite_kg_per_day > 0:
        set_ = place.appetite_kg_per_day
        figure = Figure(set_, set_ / SET_WITHIN, set_ * SET_WITHIN, "kg/day", Standing.ESTIMATE, "as the room set it, not counted")
        return _steady("set", figure, warm, cautious=set_)
    floor = FLOOR.value if place.box is None or place.box.floor_m2 is None else place.box.floor_m2
    return _steady("estimate", KNOWN_TO_EAT.scaled(floor, "kg/day"), warm)


def day_begun(looks: tuple[SeenAt, ...], now: datetime) -> datetime:
    """Return the time a record is held as of: this day's beginning or the last look, so that a day asks the model once."""
    return max(looks[-1].at, now.replace(hour=0, minute=0, second=0, microsecond=0))


def beetles_of(box: BoxSet | None, looks: Iterable[SeenAt]) -> str | None:
    """Return what the beetles were determined as: by the last look that says so, else by the room's setting."""
    said_ = [one.what.beetles for one in looks if one.what.beetles]
    return said_[-1] if said_ else (None if box is None else box.beetles)


def warm_of(place: Place, looks: Iterable[SeenAt]) -> float:
    """Return how warm the box is: the last reading that can be, else the room's word, else the usual."""
    read = [one.what.temperature_c for one in looks if one.what.temperature_c is not None and -60 <= one.what.temperature_c <= 80]
    return read[-1] if read else (place.temperature_c if place.temperature_c is not None else WARM_C)


def _steady(how: How, figure: Figure, warm_c: float, cautious: float | None = None) -> BoxAppetite:
    """One appetite for every day; lines lie where a lognormal of its range has its fifths."""
    up, down = math.log(figure.high / figure.value) / _Z, math.log(figure.value / figure.low) / _Z
    steps = (-1.28, -0.52, 0.0, 0.52, 1.28)
    lines = tuple((figure.value * math.exp(z * (up if z > 0 else down)),) for z in steps)
    return BoxAppetite(how, figure, (lines[1][0] if cautious is None else cautious,), lines, warm_c)


@lru_cache(maxsize=32)
def _counted(
    looks: tuple[SeenAt, ...], box: BoxSet | None, eaten: tuple[Eaten, ...], at: datetime, members: int | None
) -> BoxAppetite:  # fmt: skip
    """Hold the looks against the model; the same looks on the same day are held once."""
    import numpy as np  # noqa: PLC0415  the model is loaded only where a colony was counted

    from bonebench.services.colony.record import held, run_ahead  # noqa: PLC0415

    record, told = held(looks, box, eaten, at, members)
    paths = run_ahead(record, told, AHEAD_DAYS).paths("appetite_kg")
    low, middle, high = (float(q) for q in np.quantile(paths[:, 0], (0.05, 0.5, 0.95)))
    figure = Figure(middle, low, high, "kg/day", Standing.ESTIMATE, "the model held against what was counted here")
    by_day = [tuple(float(v) for v in np.quantile(paths, share, axis=0)) for share in ALIKE]
    return BoxAppetite("counted", figure, by_day[1], tuple(by_day), float(record.warm[-1]))


def of_colony(
    place: Place, log: ColonyLog, now: datetime, eaten: tuple[Eaten, ...] = (), members: int | None = None
) -> BoxAppetite:  # fmt: skip
    """Return the appetite; where the model cannot be held against the looks, what the room set or the estimate."""
    try:
        return appetite_of(place, log, now, eaten, members)
    except BonebenchError:
        # Looks that no colony shows are flagged where they are shown; a date is still owed.
        return appetite_of(place, ColonyLog((), ()), now)
