"""The card of a box with its colony: numbers in SI beside the lines that people read."""

from dataclasses import dataclass

from bonebench.services.cards import Worked
from bonebench.services.colony.cards import Band


@dataclass(frozen=True)
class BoxedMonth:
    """One month of a box and of the colony in it.

    Larvae and adults are those at its end; appetite, what is eaten, heat and water are means over its days. "
    "``hours_damp`` are those
    above 70 %, ``hours_idle`` those too cold or too hot for any growth, ``hours_flight`` those in which beetles may fly.
    """

    month: int
    days: int
    t_mean_c: float
    t_min_c: float
    t_max_c: float
    rh_mean: float
    rh_p95: float
    hours_damp: int
    hours_idle: int
    hours_flight: int
    heater_kwh: float
    fan_hours: float
    co2_max_ppm: float
    larvae: Band
    adults: Band
    appetite_g: Band
    eaten_g: Band
    heat_w: Band
    water_g_h: Band


@dataclass(frozen=True)
class BoxedDay:
    """One day, counted from 1: the air of the box and the colony at its end."""

    day: int
    month: int
    t_mean_c: float
    t_min_c: float
    t_max_c: float
    rh_mean: float
    larvae: Band
    adults: Band
    appetite_g: Band
    heat_w: Band


@dataclass(frozen=True)
class Coupling:
    """What the colony does to its box, on the mean of the run, and how the two were led together.

    ``changed_rh`` is a difference of shares: 0.02 is two points. ``heat_given_kwh`` and ``water_given_kg`` are the "
    "middle colony's in
    the air of the last run; the box was given ``heat_received_kwh`` and ``water_received_kg`` in it.
    """

    passes: int
    moved_k: tuple[float, ...]
    changed_k: float
    changed_rh: float
    changed_heater_kwh: float
    heat_given_kwh: float
    heat_received_kwh: float
    water_given_kg: float
    water_received_kg: float


@dataclass(frozen=True, kw_only=True)
class BoxedCard(Worked):
    """A colony in its box through months; bands are of many colonies in the air of the box with the middle one in it."""

    months: tuple[BoxedMonth, ...]
    days: tuple[BoxedDay, ...]
    coupling: Coupling
    longest_idle_days: int
    ration_kg_per_day: float | None
    seed: int
    schema: str = "colony.with-box/1"
