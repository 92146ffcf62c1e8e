"""Time and a warm pot: how long it takes to warm, when to top it up, when its heater stands bare, how long it stays warm."""

import math
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.evaporation import BOILING_C, latent_j_per_kg
from bonebench.science.baths.heat import (
    BOILING_KG_PER_L,
    BOILS_FROM_C,
    WATER_J_PER_KG_K,
    End,
    Pot,
    at_end,
    check_watts,
    losses,
    steady,
)

STEPS = 60
ENDS: tuple[End, ...] = ("value", "low", "high")
# Looked at in half the shortest time, one forgotten look does not leave the heater bare.
LOOK_SHARE = 0.5
# A heated pot is looked at once a day whatever it loses: common practice, no source.
LOOK_AT_LEAST_HOURS = 24.0


@dataclass(frozen=True, slots=True)
class WarmUp:
    """Warming a pot.

    Attributes
    ----------
    hours : Figure
        Until it is warm; the high end is infinite where the heater may be too weak. [h]
    kwh : float
        Power it takes on the way, with what is lost meanwhile. [kWh]
    """

    hours: Figure
    kwh: float


def warm_up(pot: Pot, temperature_c: float, watts: float, from_c: float | None = None) -> WarmUp:
    """How long a heater takes to warm a pot, and what that takes.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        To be reached, above the room to below 98. [degC]
    watts : float
        Heat put in. [W]
    from_c : float, optional
        Where the water begins, 0 or more; the room's temperature unless given. [degC]

    Returns
    -------
    WarmUp
        Hours and energy.

    Raises
    ------
    OutsideRange
        If a temperature or the power cannot be.
    Impossible
        If the heater never gets there.

    Notes
    -----
    ``C dT/dt = P - Q(T)`` by slices of equal warming, the loss taken in the middle of each.
    """
    check_watts(watts)
    steady(pot, temperature_c)
    start = pot.room_c if from_c is None else from_c
    if not 0 <= start < temperature_c:
        raise OutsideRange("pot.start", "the water begins at {start:temperature}; it must be from 0 °C to below {end:temperature}",
                           start=start, end=temperature_c)  # fmt: skip
    value, low, high = [_warming_h(pot, start, temperature_c, watts, end) for end in ENDS]
    if math.isinf(value):
        raise Impossible(
            "pot.weak",
            "{watts:power} do not take it to {end:temperature}: it loses {lost:power} there; a lid, foam or a stronger heater",
            watts=watts,
            end=temperature_c,
            lost=losses(pot, temperature_c).total.value,
        )
    return WarmUp(Figure(value, low, high, "h", Standing.MEMORY, "heat put in less what is lost on the way"), value * watts / 1000)


def _warming_h(pot: Pot, start_c: float, end_c: float, watts: float, end: End) -> float:
    step, seconds = (end_c - start_c) / STEPS, 0.0
    for n in range(STEPS):
        spare = watts - at_end(losses(pot, start_c + (n + 0.5) * step).total, end)
        if spare <= 0:
            return math.inf
        seconds += pot.heat_j_per_k * step / spare
    return seconds / 3600


def hours_to_sink(pot: Pot, temperature_c: float, fall_m: float, watts: float | None = None) -> Figure:
    """Hours until the water has sunk so far: when a heater stands bare.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        Held at; 98 or more is boiling. [degC]
    fall_m : float
        How far it may sink, above 0; no further than the water is deep. [m]
    watts : float or None, optional
        Power of the heater; needed when it boils. [W]

    Returns
    -------
    Figure
        Hours; the low end is what counts. [h]

    Raises
    ------
    OutsideRange
        If the fall is not above 0.
    Impossible
        If it boils and nobody says how strong the heater is, or nothing evaporates.

    Notes
    -----
    The sides are taken as upright; a vessel that narrows downwards sinks faster. A boiling pot cannot lose water faster than
    all its power turned to steam, which is the low end; the middle takes off what walls and top let out, and no pot near boiling
    loses less than it evaporates.
    """
    if not fall_m > 0:
        raise OutsideRange("pot.fall", "the water may sink {fall:length}: say how far above 0 it is to the heater", fall=fall_m)
    litres = min(fall_m, pot.depth_m) * pot.open_m2 * 1000
    if temperature_c >= BOILS_FROM_C:
        return _boiling_h(pot, litres, watts)
    lost = steady(pot, temperature_c).evaporation_kg_per_day
    if lost.value <= 0:
        raise Impossible("pot.no_loss", "at that temperature and humidity nothing leaves the water")
    value, low, high = (24 * litres / one for one in (lost.value, lost.high, lost.low))
    return Figure(value, low, high, "h", lost.standing, lost.source)


def _boiling_h(pot: Pot, litres: float, watts: float | None) -> Figure:
    if watts is None or not watts > 0:
        raise Impossible("pot.boils", "it boils: say how many watts the heater has, so that the hours to dry can be told")
    check_watts(watts)
    near, latent = losses(pot, BOILING_C), latent_j_per_kg(BOILING_C)
    joules = litres * BOILING_KG_PER_L * latent
    fastest = joules / watts / 3600
    middle = joules / max(watts - near.wall.value - near.top.value, min(near.wet.value, watts)) / 3600
    slowest = joules / max(watts - near.wall.high - near.top.high, min(near.wet.low, watts)) / 3600
    return Figure(middle, fastest, slowest, "h", Standing.ESTIMATE, "power less what walls and top let out, over the heat of steam")


def hours_to_dry(pot: Pot, temperature_c: float, watts: float | None = None) -> Figure:
    """Hours until all the water is gone.

    Parameters
    ----------
    pot, temperature_c, watts
        As for `hours_to_sink`.

    Returns
    -------
    Figure
        Hours; the low end is what counts. [h]

    Raises
    ------
    Impossible
        As for `hours_to_sink`.
    """
    return hours_to_sink(pot, temperature_c, pot.depth_m, watts)


@dataclass(frozen=True, slots=True)
class TopUp:
    """Keeping a pot full.

    Attributes
    ----------
    litres_per_day : Figure
        Water to pour in. [L/day]
    look_every_hours : float
        Look, and top up, at least so often. [h]
    kwh_per_day : float
        Warms what is poured in. [kWh/day]
    cools_k : float
        By how much the pot cools when a day's water goes in at once, as cold as the room. [K]
    """

    litres_per_day: Figure
    look_every_hours: float
    kwh_per_day: float
    cools_k: float


def top_up(pot: Pot, temperature_c: float, fall_m: float) -> TopUp:
    """How much water to pour in, and how often to look.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        Held at, above the room to below 98. [degC]
    fall_m : float
        How far it may sink before the heater or the bone stands bare, above 0. [m]

    Returns
    -------
    TopUp
        Water, how often, and what it takes to warm it.

    Raises
    ------
    OutsideRange
        If the temperature or the fall cannot be.
    Impossible
        If nothing evaporates.

    Notes
    -----
    Looked at in half of the shortest time in which it may sink so far, and once a day at least. Warm water,
    not cold, goes on warm bone and teeth.
    """
    sinks = hours_to_sink(pot, temperature_c, fall_m)
    lost = steady(pot, temperature_c).evaporation_kg_per_day
    rise = temperature_c - pot.room_c
    poured = min(lost.value, pot.volume_l) * WATER_J_PER_KG_K
    return TopUp(
        litres_per_day=lost.scaled(1.0, "L/day"),
        look_every_hours=min(sinks.low * LOOK_SHARE, LOOK_AT_LEAST_HOURS),
        kwh_per_day=lost.value * WATER_J_PER_KG_K * rise / 3.6e6,
        cools_k=rise * poured / pot.heat_j_per_k,
    )


def hours_above(pot: Pot, start_c: float, end_c: float) -> Figure:
    """How long a pot without power stays above a temperature.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    start_c, end_c : float
        From, at most 100, and down to. [degC]

    Returns
    -------
    Figure
        Hours; infinite where the room is as warm, 0 where it begins no warmer. [h]

    Raises
    ------
    OutsideRange
        If the start is above 100 degC.

    Notes
    -----
    ``C dT/dt = -Q(T)`` by slices of equal cooling. The mass that evaporates meanwhile is left in: a little long.
    """
    if start_c > BOILING_C:
        raise OutsideRange("pot.temperature", "the water is {temperature:temperature}; it lies from 0 to 100 °C: check the number",
                           temperature=start_c)  # fmt: skip
    source = "heat of water and vessel over what is lost on the way"
    if start_c <= end_c:
        return Figure(0.0, 0.0, 0.0, "h", Standing.DERIVED, source)
    if end_c <= pot.room_c:
        return Figure(math.inf, math.inf, math.inf, "h", Standing.DERIVED, "the room itself is as warm")
    value, high, low = [_cooling_h(pot, start_c, end_c, end) for end in ENDS]
    return Figure(value, low, high, "h", Standing.MEMORY, source)


def _cooling_h(pot: Pot, start_c: float, end_c: float, end: End) -> float:
    step = (start_c - end_c) / STEPS
    lost = (at_end(losses(pot, end_c + (n + 0.5) * step).total, end) for n in range(STEPS))
    return math.fsum(pot.heat_j_per_k * step / one for one in lost) / 3600
