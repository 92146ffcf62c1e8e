"""The cards of the wet bench's arithmetic. Each holds its numbers in SI beside the lines that people read."""

from dataclasses import dataclass

from bonebench.services.cards import Worked


@dataclass(frozen=True, kw_only=True)
class BlendCard(Worked):
    """Two solutions that make a third; ``a`` is the stronger."""

    a_kg: float
    b_kg: float
    a_l: float
    b_l: float
    strength: float
    total_l: float
    schema: str = "bath.blend/1"


@dataclass(frozen=True, kw_only=True)
class TopUpWorkCard(Worked):
    """What brings a used bath back up."""

    take_out_l: float
    stock_kg: float
    stock_l: float
    volume_l: float
    strength: float
    naive_stock_l: float
    schema: str = "bath.top-up/1"


@dataclass(frozen=True, kw_only=True)
class TitrateCard(Worked):
    """How strong a bath is by a titration."""

    w_v_percent: float
    w_w_percent: float
    volumes: float
    mol_per_l: float
    strength: float
    low: float
    high: float
    by: str
    schema: str = "bath.titrate/1"


@dataclass(frozen=True, kw_only=True)
class DecayCard(Worked):
    """How strong a bath probably is after some days; the ends are one in ten."""

    strength: float
    strength_low: float
    strength_high: float
    half_life_days: float
    oxygen_l_per_day: float
    days_to_floor_low: float
    days_to_floor_high: float
    schema: str = "bath.decay/1"


@dataclass(frozen=True, kw_only=True)
class HeatCard(Worked):
    """What a warm pot takes in power and water."""

    warm_up_kwh: float
    steady_w: float
    evaporation_kg_per_day: float
    kwh_per_day: float
    hours_to_bare: float | None
    schema: str = "bath.heat/1"


@dataclass(frozen=True, kw_only=True)
class CoverCard(Worked):
    """How much bath covers some skulls."""

    bath_l: float
    bath_low_l: float
    bath_high_l: float
    displaced_l: float
    level_m: float
    mark_m: float
    most_l: float
    schema: str = "bath.cover/1"


@dataclass(frozen=True, kw_only=True)
class WhitenCard(Worked):
    """How long to whiten."""

    method: str
    days_low: float
    days: float
    days_high: float
    look_every_days: float
    stop_after_days: float
    acknowledge: bool
    strength: float
    schema: str = "bath.whiten/1"


@dataclass(frozen=True, kw_only=True)
class DegreaseCard(Worked):
    """How long in the pot, with how many changes."""

    grease: int
    days_low: float
    days: float
    days_high: float
    changes_low: float
    changes_high: float
    water_l: float
    detergent_l: float
    schema: str = "bath.degrease/1"


@dataclass(frozen=True, kw_only=True)
class DryCard(Worked):
    """When a skull is dry enough for what comes next."""

    use: str
    days_low: float
    days: float
    days_high: float
    size: str
    schema: str = "bath.dry/1"
