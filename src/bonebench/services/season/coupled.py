"""Box and colony led together: the box runs with the heat and water of the colony, then the colony in the air of the box.

The order is DESIGN's: the box with the last hourly heat and water of the colony, then the colony on the box's hourly air; once more
if the mean warmth of the box moved by more than a fifth of a kelvin, and never a third time. It also goes round once more where the
colony gives off a twentieth more or less heat in the new air than the box was given: its own damp makes a colony in a dry box grow
faster while the thermostat keeps the warmth where it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.forecast import Draws, forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.science.colony.model import HOURS_A_DAY, Housing, hourly_load
from bonebench.science.enclosure import Around, Box, HeadIn, Run, simulate

# By the heat of respiration: 20.1 kJ for each litre of oxygen, 0.8 L of carbon dioxide for each of oxygen, 1.96 g in each litre.
BREATHED = Figure(7.8e-8, 7.0e-8, 9.5e-8, "kg/J", Standing.MEMORY, "carbon dioxide for the heat they give off, quotient 0.7 to 1.0")
MOVED_K = 0.2
MOST_GAP = 0.05
MOST_PASSES = 2


@dataclass(frozen=True, slots=True)
class Eaters:
    """One colony, for the box: its traits and first state, where it lives, and its food a day (None: all it eats)."""

    traits: FloatArray
    start: FloatArray
    housing: Housing
    moist: float = 1.0
    ration_kg: float | None = None

    def load(self, air: Air) -> "Load":
        """Return what it gives off in an air, hour by hour."""
        return Load(*hourly_load(self.traits, self.start, self.housing, air.fed(self.ration_kg, self.housing.food_dry_share)))


@dataclass(frozen=True, slots=True)
class Load:
    """Heat [W] and water vapour [kg/s] of a colony by the hour."""

    heat_w: FloatArray
    water_kg_s: FloatArray

    @property
    def kwh(self) -> float:
        """All the heat."""
        return float(self.heat_w.sum()) / 1000

    @property
    def water_kg(self) -> float:
        """All the water."""
        return float(self.water_kg_s.sum()) * 3600


@dataclass(frozen=True, slots=True)
class Coupled:
    """What the two come to.

    ``alone`` is the box without beetles, ``run`` with them; ``received`` is the load that run was given, ``given`` that "
    "of the colony
    in the air of that run; ``passes`` counts the runs of the box with a colony, ``moved_k`` how far each moved its mean warmth.
    """

    alone: Run
    run: Run
    around: Around
    air: Air
    received: Load
    given: Load
    moved_k: tuple[float, ...]

    @property
    def passes(self) -> int:
        """How often the box was run with the colony."""
        return len(self.moved_k)

    @property
    def gap(self) -> float:
        """How much more heat the colony gives off in the last air than the box was given, as a share of it."""
        most = max(self.given.kwh, self.received.kwh)
        return (self.given.kwh - self.received.kwh) / most if most > 0 else 0.0


def couple(
    box: Box, around: Around, eaters: Eaters, *, heads: Sequence[HeadIn] = (), first_hour: int = 0, step_s: float = 10.0,
    alone: Run | None = None,
) -> Coupled:  # fmt: skip
    """Lead a box and the colony in it together; ``around`` holds what everything but the colony gives off.

    ``alone`` is the box without beetles, if it was run already.
    """
    whole_days(around)

    def run(given: Around) -> Run:
        return simulate(box, given, step_s=step_s, heads=heads, first_hour=first_hour)

    last = alone = alone or run(around)
    given = eaters.load(air_in(alone, eaters.moist))
    moved: tuple[float, ...] = ()
    while True:
        with_it, load, before = with_load(around, given), given, last
        last = run(with_it)
        air = air_in(last, eaters.moist)
        given = eaters.load(air)
        moved = (*moved, last.year.t_mean_c - before.year.t_mean_c)
        both = Coupled(alone, last, with_it, air, load, given, moved)
        if len(moved) == MOST_PASSES or (abs(moved[-1]) <= MOVED_K and abs(both.gap) <= MOST_GAP):
            return both


def whole_days(around: Around) -> int:
    """Return how many days surroundings have; a colony lives by whole ones."""
    hours = len(around.heat_w)
    if hours % HOURS_A_DAY or not hours:
        raise Impossible("season.days", "a box with its colony runs for whole days, not for {hours} hours", hours=hours)
    return hours // HOURS_A_DAY


def cut_to_days(around: Around) -> Around:
    """Leave out the hours after the last whole day."""
    hours = len(around.heat_w) // HOURS_A_DAY * HOURS_A_DAY
    return Around(
        around.t_c[: hours + 1],
        around.ratio[: hours + 1],
        around.heat_w[:hours],
        around.water_kg_s[:hours],
        around.co2_kg_s[:hours],
    )


def with_load(around: Around, load: Load) -> Around:
    """Add what a colony gives off to what the rest gives off; what it breathes out follows from its heat."""
    return replace(
        around, heat_w=around.heat_w + load.heat_w, water_kg_s=around.water_kg_s + load.water_kg_s,
        co2_kg_s=around.co2_kg_s + BREATHED.value * load.heat_w,
    )  # fmt: skip


def air_in(run: Run, moist: float = 1.0) -> Air:
    """Return the air of a box as its colony has it: means by the hour."""
    columns = run.columns()
    rh = np.clip(columns["rh_mean"], 0.0, 1.0)
    return Air(len(rh) // HOURS_A_DAY, columns["t_mean_c"].copy(), rh, moist)


def working_draw(draws: Draws, housing: Housing, air: Air, ration_kg: float | None) -> int:
    """Return which of many colonies stands for them in the box: the one in the middle by the heat it gives off in this air."""
    told = forecast(draws, housing, air.fed(ration_kg, housing.food_dry_share))
    heat = told.paths("heat_w").sum(axis=1)
    return int(np.argsort(heat, kind="stable")[len(heat) // 2])
