"""The cards of the box: numbers in SI beside the lines that people read."""

from dataclasses import dataclass

from bonebench.said import Said
from bonebench.science.enclosure import Period
from bonebench.science.enclosure.advice import Sized
from bonebench.services.cards import Worked


@dataclass(frozen=True)
class Balance:
    """What the balances of heat and water leave open, as a share of what passed."""

    heat: float
    water: float


@dataclass(frozen=True)
class Curve:
    """The box through time, evenly thinned: hours since the start, and the air and switches of the hours between two points."""

    hours: tuple[float, ...]
    t_min_c: tuple[float, ...]
    t_max_c: tuple[float, ...]
    rh_min: tuple[float, ...]
    rh_max: tuple[float, ...]
    heater_share: tuple[float, ...]
    fan_share: tuple[float, ...]
    building_c: tuple[float, ...]


@dataclass(frozen=True)
class Opening:
    """One group of holes or the duct, how high it sits above the floor inside, and the air through it: outward is above 0."""

    kind: str
    count: int
    width_m: float
    height_m: float
    outward_kg_s: float


@dataclass(frozen=True)
class Seen:
    """What a drawing of the box needs: sizes inside, what is in it, its openings with their air at the run's mean."""

    length_m: float
    height_m: float
    wall_m: float
    window: bool
    heater_w: float
    pavers_kg: float
    water_l: float
    fan: bool
    openings: tuple[Opening, ...]
    breathes_kg_s: float


@dataclass(frozen=True, kw_only=True)
class SimulateCard(Worked):
    """A box run through hours; ``heater_kwh`` runs from the thriftiest to the thirstiest box that nobody has ruled out."""

    months: tuple[Period, ...]
    year: Period
    heater_kwh_low: float
    heater_kwh_high: float
    conductance_w_k: float
    latched: bool
    balance_error: Balance
    curve: Curve
    seen: Seen
    schema: str = "enclosure.simulate/1"


@dataclass(frozen=True)
class Cooling:
    """Hours until the air falls below a temperature; None if it does not within the hours looked at."""

    to_c: float
    hours: float | None
    low: float | None
    high: float | None


@dataclass(frozen=True, kw_only=True)
class BlackoutCard(Worked):
    """A power cut; ``with_water`` is the same with hot water put in."""

    hours_to: tuple[Cooling, ...]
    with_water: tuple[Cooling, ...]
    hours: tuple[float, ...]
    t_c: tuple[float, ...]
    t_with_water_c: tuple[float, ...]
    building_c: tuple[float, ...]
    warmest_c: float
    schema: str = "enclosure.blackout/1"


@dataclass(frozen=True)
class MonthAdvice:
    """What to set in one month; hours outside the band run from the kindest to the worst of several years."""

    month: int
    holes: int
    fan_on_rh: float | None
    why: Said
    achievable: bool
    because: str
    t_mean_c: float
    rh_mean: float
    rh_p95: float
    hours: int
    hours_outside_band: float
    hours_outside_low: float
    hours_outside_high: float
    heater_kwh: float
    fan_hours: float
    co2_max_ppm: float
    building_c: float | None
    building_kwh: float
    propane_kg: float
    tank_days: float | None


@dataclass(frozen=True)
class HolesTried:
    """The whole year with one count of open holes."""

    holes: int
    heater_kwh: float
    hours_outside_band: float


@dataclass(frozen=True, kw_only=True)
class AdviseCard(Worked):
    """What to leave open each month, why, and what it costs."""

    months: tuple[MonthAdvice, ...]
    tried: tuple[HolesTried, ...]
    changes: int
    heater_kwh: float
    building_kwh: float
    propane_kg: float
    schema: str = "enclosure.advise/1"


@dataclass(frozen=True, kw_only=True)
class SizeCard(Worked):
    """Heaters and pavers tried in the coldest fortnight, and the smallest that holds."""

    grid: tuple[Sized, ...]
    smallest: Sized | None
    hold_h: float
    coldest_c: float
    stopped: bool
    schema: str = "enclosure.size/1"
