"""A colony asked for in a box as people describe both: read, led together, and many such colonies run in that air."""

from dataclasses import dataclass, replace

import numpy as np

from bonebench.figures import Figure, Standing
from bonebench.science.air.moist import pressure_at
from bonebench.science.colony.forecast import Forecast, forecast
from bonebench.science.colony.model import HOURS_A_DAY
from bonebench.science.enclosure import Box, simulate
from bonebench.science.enclosure.months import MONTH_OF_HOUR
from bonebench.science.weather.hours import YEAR_HOURS
from bonebench.services.colony.asked import Asked, moist_of
from bonebench.services.colony.asked import Told as Colony
from bonebench.services.colony.asked import told as told_colony
from bonebench.services.enclosure.around import Surroundings, Told, told
from bonebench.services.season.coupled import BREATHED, Coupled, Eaters, air_in, couple, cut_to_days, working_draw

STEP_S = 15.0  # a year at 15 s differs from 10 s by less than 1 % in energy
OTHER_WATER = Figure(
    0.0,
    0.0,
    5.0,
    "g/h",
    Standing.ESTIMATE,
    "water beside the colony's own: a wet pad, bone and food that dry uneaten; none was said",
)


@dataclass(frozen=True, slots=True)
class Boxed:
    """A box and its colony led together, and many colonies in that air; ``at`` has what the box was given in the end."""

    box: Box
    at: Told
    colony: Colony
    pair: Coupled
    many: Forecast
    ration_kg: float | None

    @property
    def month_of_day(self) -> list[int]:
        """The month, 1 to 12, in which each day begins."""
        hours = (self.at.first_hour + HOURS_A_DAY * np.arange(self.pair.air.days)) % YEAR_HOURS
        return [int(month) for month in MONTH_OF_HOUR[hours]]


def in_box(asked: Asked, *, box: Box, given: Surroundings, ration_kg: float | None = None, colony: Colony | None = None) -> Boxed:
    """Lead a box and a colony together; heat that was said of a colony makes room for what this one gives off itself."""
    at = told(replace(given, colony="0 W", water=given.water or "0 g"), float(pressure_at(box.elevation_m)))
    around, moist = cut_to_days(at.around), moist_of(asked)
    colony = colony or told_colony(asked)
    alone = simulate(box, around, step_s=STEP_S, heads=at.heads, first_hour=at.first_hour)
    middle = working_draw(colony.draws, colony.housing, air_in(alone, moist), ration_kg)
    eaters = Eaters(colony.draws.traits[middle], colony.draws.states[middle], colony.housing, moist, ration_kg)
    pair = couple(box, around, eaters, heads=at.heads, first_hour=at.first_hour, step_s=STEP_S, alone=alone)
    many = forecast(colony.draws, colony.housing, pair.air.fed(ration_kg, colony.housing.food_dry_share))
    assumed = (*at.assumed, ("season.breathed", BREATHED), *(() if given.water else (("season.other_water", OTHER_WATER),)))
    return Boxed(box, replace(at, around=pair.around, assumed=assumed), colony, pair, many, ration_kg)
