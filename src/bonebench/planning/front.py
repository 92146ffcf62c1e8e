"""The front of the route: the thaw shelf by mass and room temperature, freezing again, and the outdoors as a freezer."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bonebench.errors import Impossible
from bonebench.figures import Figure
from bonebench.planning.problem import Spread, Stage
from bonebench.said import Said, said
from bonebench.science.thawing import freeze_days, look_by_days, thaw_days

# Outdoors stands in for a freezer while every hour of the forecast stays below this. Common practice, no source.
OUTDOORS_BELOW_C = -5.0
# A head goes from the shelf back into the cold about as warm as the shelf's air at its outside, near zero in the middle; it is
# frozen from the middle of the two, never below this.
LEAST_START_C = 1.0


@dataclass(frozen=True, slots=True)
class Shelf:
    """One head on the thaw shelf: days until it can be trimmed, until it must be looked at, and to freeze it to the core again.

    ``caution`` is said where its outside may spoil before its middle is soft.
    """

    thaw: Figure
    look_by: Figure
    freeze: Figure
    caution: Said | None

    def stages(self, *, minutes_in: float = 3.0, minutes_trim: float = 30.0, minutes_back: float = 2.0) -> tuple[Stage, ...]:
        """Return thaw, trim and freeze again as stages of a route; its room in the freezer is kept for it."""
        # Looked at no later than the quickest it may spoil; where that comes before it is soft, at once when it is.
        wait = max(0.0, self.look_by.low - self.thaw.value)
        return (
            Stage("thaw to trim", 1, "thaw shelf", stay=True, days=self.thaw.value, minutes=minutes_in, work="raw heads",
                  most_wait_days=wait, keeps_place=True, spread=Spread(self.thaw.low, self.thaw.high, "thaw shelf")),
            Stage("trim", 1, "trim bench", stay=False, minutes=minutes_trim, work="raw heads",
                  most_wait_days=1.0, keeps_place=True),
            Stage("freeze again", 1, "freezer", stay=True, days=self.freeze.value, minutes=minutes_back,
                  spread=Spread(self.freeze.low, self.freeze.high, "freezer")),
        )  # fmt: skip


def on_the_shelf(head_mass: Figure, shelf_c: float, freezer_c: float = -20.0) -> Shelf:
    """Return what the thaw shelf does to a head of this mass, and how long the freezer takes after it."""
    thaw = thaw_days(head_mass, shelf_c, freezer_c)
    look = look_by_days(head_mass, shelf_c, freezer_c)
    again = freeze_days(head_mass, freezer_c, max(LEAST_START_C, shelf_c / 2))
    caution = None
    if look.low < thaw.value:
        caution = said(
            "plan.shelf.spoils",
            "Look at it after {look:days}: at {shelf:temperature} its outside may be warm enough to spoil before its middle is soft"
            " ({thaw:days}); trim what is soft and freeze it again, or thaw it colder",
            look=look.low,
            shelf=shelf_c,
            thaw=thaw.value,
        )
    return Shelf(thaw, look, again, caution)


@dataclass(frozen=True, slots=True)
class Outdoors:
    """Until when pieces may stay outdoors: the last day that is cold all through, None when not even today is; and what to do."""

    last_day: date | None
    bring_in: date | None
    words: Said


def outdoors(today: date, warmest_c: Sequence[float], *, below_c: float = OUTDOORS_BELOW_C) -> Outdoors:
    """Say how long outdoors is a freezer, from a typed forecast of each day's warmest hour, today first.

    Pieces outdoors stand in something no animal opens. The forecast is somebody's forecast: look again every morning.
    """
    if not warmest_c:
        raise Impossible("plan.outdoors.empty", "a forecast without a day says nothing: type each day's warmest, today first")
    cold = 0
    for warmest in warmest_c:
        if warmest >= below_c:
            break
        cold += 1
    if cold == 0:
        words = said(
            "plan.outdoors.no",
            "Outdoors is no freezer today: {warmest:temperature} is forecast, and it must stay below {below:temperature}",
            warmest=warmest_c[0], below=below_c,
        )  # fmt: skip
        return Outdoors(None, today, words)
    last = today + timedelta(days=cold - 1)
    if cold == len(warmest_c):
        words = said(
            "plan.outdoors.all",
            "Outdoors is a freezer as far as the forecast goes, to {last:day}: in a box no animal opens; look at the forecast again"
            " before then",
            last=last,
        )
        return Outdoors(last, None, words)
    bring = last + timedelta(days=1)
    words = said(
        "plan.outdoors.until",
        "Bring them in on {weekday} {bring:day}, before it warms ({warmest:temperature} is forecast); until then in a box no animal"
        " opens",
        weekday=f"{bring:%A}",
        bring=bring,
        warmest=warmest_c[cold],
    )
    return Outdoors(last, bring, words)
