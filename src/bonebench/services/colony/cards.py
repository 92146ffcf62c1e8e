"""The cards of the colony: numbers in SI beside the lines that people read."""

from dataclasses import dataclass
from datetime import date

from bonebench.said import Said
from bonebench.services.cards import Worked


@dataclass(frozen=True)
class Band:
    """What many colonies that may be this one give: nineteen in twenty are above ``low``, and as many below ``high``.

    ``plan`` is the cautious one to plan with: seven in ten are above it; ``value`` is the middle.
    """

    low: float
    plan: float
    value: float
    high: float


@dataclass(frozen=True)
class Reach:
    """A range with its middle: nine in ten lie inside."""

    low: float
    value: float
    high: float


@dataclass(frozen=True)
class Stages:
    """How many there probably are, by age; ``large_larvae`` are among the larvae."""

    eggs: Band
    larvae: Band
    large_larvae: Band
    pupae: Band
    adults: Band


@dataclass(frozen=True)
class DayAhead:
    """One day ahead, counted from 1; masses in grams of the food as it lies there, frass dry.

    ``hunger`` is the share of what they could eat that was not there; ``eaten_in_all_g`` counts from the first day
    and, like ``eaten_g``, holds the eggs, young and pupae of their own that they eat.
    """

    day: int
    date: date | None
    eggs: Band
    larvae: Band
    pupae: Band
    adults: Band
    appetite_g: Band
    eaten_g: Band
    eaten_in_all_g: Band
    hunger: Band
    frass_g: Band
    heat_w: Band
    water_g: Band


@dataclass(frozen=True)
class LimitCount:
    """How many heads one limit alone would let in."""

    limit: str
    count: int


@dataclass(frozen=True, kw_only=True)
class NumbersCard(Worked):
    """What was seen, turned into a colony; doubling and generation are those with food and room enough, None if nothing grows.

    Heat, water and frass (dry) are those of a day on which they get all they eat.
    """

    stages: Stages
    live_kg: Band
    appetite_kg_per_day: Band
    heat_w: Band
    water_kg_per_day: Band
    doubling_days_low: float | None
    doubling_days: float | None
    doubling_days_high: float | None
    generation_days: Reach | None
    frass_kg_per_day: Band
    strain_low: float
    strain: float
    strain_high: float
    misfit: float
    seed: int
    schema: str = "colony.numbers/1"


@dataclass(frozen=True, kw_only=True)
class ForecastCard(Worked):
    """The days ahead; ``queue_days`` is when a queue in the freezer is eaten, None where most colonies do not get through.

    ``read_hours`` of them have the air of a log, None where the air was typed or worked out.
    """

    days: tuple[DayAhead, ...]
    queue_kg: float | None
    queue_days_low: float | None
    queue_days: float | None
    queue_days_high: float | None
    queue_chance: float | None
    ration_kg_per_day: float | None
    seed: int
    read_hours: int | None = None
    schema: str = "colony.forecast/1"


@dataclass(frozen=True, kw_only=True)
class RampUpCard(Worked):
    """Feeding up for a season; ``begin_day`` counts from now and is below 0 where it is late already.

    ``start`` is larvae and adults on that day; ``first_kg_per_day`` and ``season_kg_per_day`` what they can eat a day then and at
    the season; ``held_kg_per_day`` what they get until then, None where they were taken to stay as they are.
    """

    begin_day: int | None
    begin_date: date | None
    days_low: float | None
    days: float | None
    days_high: float | None
    food_kg_low: float | None
    food_kg: float | None
    food_kg_high: float | None
    start: Reach | None
    first_kg_per_day: Reach | None
    season_kg_per_day: Reach | None
    held_kg_per_day: float | None
    chance: float
    seed: int
    schema: str = "colony.ramp-up/1"


@dataclass(frozen=True, kw_only=True)
class LeastCard(Worked):
    """The least food that keeps a colony through a quiet time; ``not_kept`` is the share that no food keeps in that air."""

    kg_per_day_low: float
    kg_per_day: float
    kg_per_day_high: float
    not_kept: float
    seed: int
    schema: str = "colony.least/1"


@dataclass(frozen=True)
class Neighbour:
    """The sheet for whoever looks in: what to do each time, when to call, what never to do."""

    daily: tuple[Said, ...]
    call: tuple[Said, ...]
    never: tuple[Said, ...]


@dataclass(frozen=True, kw_only=True)
class AwayCard(Worked):
    """What to load before days away, and the sheet for whoever looks in."""

    days: int
    first_day: date | None
    last_day: date | None
    sheet: Neighbour
    fresh_kg: float
    fresh_high_kg: float
    dried_kg: float
    dried_high_kg: float
    neighbour: bool
    hungry: float
    seed: int
    schema: str = "colony.away/1"


@dataclass(frozen=True, kw_only=True)
class ThinCard(Worked):
    """What may be taken out; ``share_at_most`` is 0 where nothing may, and never above a quarter."""

    do: str
    share_at_most: float
    could_eat_kg_per_day: Band
    seed: int
    schema: str = "colony.thin/1"


@dataclass(frozen=True, kw_only=True)
class SecondCard(Worked):
    """Whether a second colony is asked for, by work or as insurance."""

    do: str
    could_eat_kg_per_day: Band
    needed_kg_per_day: float
    seed: int
    schema: str = "colony.second/1"


@dataclass(frozen=True, kw_only=True)
class HarmCard(Worked):
    """What cold or heat cost, as shares lost against the same colony without it; below 0 is a gain."""

    larvae_low: float
    larvae: float
    larvae_high: float
    adults_low: float
    adults: float
    adults_high: float
    appetite_low: float
    appetite: float
    appetite_high: float
    seed: int
    schema: str = "colony.harm/1"


@dataclass(frozen=True, kw_only=True)
class TonightCard(Worked):
    """How many of the heads that wait may go in now, and what holds the number down."""

    count: int
    waiting: int
    limit: str
    by: tuple[LimitCount, ...]
    worst_used: float
    appetite_kg_per_day: Band
    seed: int
    schema: str = "colony.tonight/1"


@dataclass(frozen=True, kw_only=True)
class RotCard(Worked):
    """The rot clock of one wet piece."""

    used_low: float
    used: float
    used_high: float
    hours_left_low: float
    hours_left: float
    hours_left_high: float
    advice: str
    schema: str = "colony.rot/1"


@dataclass(frozen=True, kw_only=True)
class CleanByCard(Worked):
    """When a piece will be clean: days from now at an even chance and at four in five, without the one more day."""

    left_low: float
    left: float
    left_high: float
    days_50: float
    days_80: float
    date_50: date | None
    date_80: date | None
    out_by: date | None
    tissue_kg: float
    schema: str = "colony.clean-by/1"
