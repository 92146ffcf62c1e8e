"""The energy and water of a warm pot: warm-up, steady heat, what a heater comes to, top-up, and how long until it stands bare."""

import math
from dataclasses import dataclass
from typing import Literal

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, weakest
from bonebench.science.baths.evaporation import BOILING_C, evaporation_kg_per_m2h, latent_j_per_kg

WATER_J_PER_KG_K = 4186.0
BOILS_FROM_C = 98.0
BOILING_KG_PER_L = 0.958
WALL_U = Figure(7.0, 5.5, 9.0, "W/m2K", Standing.MEMORY, "bare plastic wall in still air, from memory")
FOAM_U = Figure(1.2, 0.9, 1.6, "W/m2K", Standing.MEMORY, "wall behind 25 mm of foam, from memory")
OPEN_H = Figure(
    10.0,
    8.0,
    12.0,
    "W/m2K",
    Standing.PUBLISHED,
    "open water without its evaporation: a table of open tanks in still air",
)
LID_LETS = Figure(
    0.12, 0.05, 0.20, "share", Standing.PRACTICE, "a lid or floating balls cut evaporation by 80-95 %: common practice"
)
LID_TOP = Figure(0.4, 0.3, 0.6, "share", Standing.ESTIMATE, "of the open top's dry heat that a lid lets out; a guess")
# J/kgK; from handbooks, from memory.
MATERIALS = {"plastic": 1900.0, "stoneware": 850.0, "steel": 480.0, "aluminium": 900.0, "glass": 800.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """A pot and the room it stands in.

    Attributes
    ----------
    volume_l : float
        Water in it. [L]
    open_m2, wall_m2 : float
        Open water, and wetted wall with the floor. [m2]
    lid : bool
        Whether a lid or floating balls lie on it.
    foam : bool
        Whether its walls are wrapped in about 25 mm of foam.
    room_c, room_rh : float
        The room's air. [degC], [1]
    air_m_per_s : float
        Air that a fan or draught moves over the water. [m/s]
    vessel_kg : float
        The vessel's own mass, 0 to leave it out. [kg]
    material : str
        What the vessel is made of: one of `MATERIALS`.
    """

    volume_l: float
    open_m2: float
    wall_m2: float
    lid: bool = True
    foam: bool = False
    room_c: float = 20.0
    room_rh: float = 0.5
    air_m_per_s: float = 0.0
    vessel_kg: float = 0.0
    material: str = "plastic"

    def __post_init__(self) -> None:
        sizes = (
            ("water", self.volume_l, 1000.0, "L"),
            ("open area", self.open_m2, 5.0, "m²"),
            ("wall area", self.wall_m2, 20.0, "m²"),
        )
        for name, value, most, unit in sizes:
            if not 0 < value <= most:
                raise OutsideRange("pot.size", "the {name} is {value} {unit}; it must be above 0 and at most {most} {unit}",
                                   name=name, value=f"{value:g}", most=f"{most:g}", unit=unit)  # fmt: skip
        if not (0 <= self.room_c <= 45 and 0 <= self.room_rh <= 1):
            raise OutsideRange("pot.room", "the room is {temperature:temperature} at {rh:percent}; it is 0 to 45 °C and 0 to 100 %",
                               temperature=self.room_c, rh=self.room_rh)  # fmt: skip
        if not 0 <= self.vessel_kg <= 500:
            raise OutsideRange("pot.vessel", "the vessel is {mass:mass}; it must be 0 or more and at most {most:mass}",
                               mass=self.vessel_kg, most=500.0)  # fmt: skip
        if self.material not in MATERIALS:
            raise Impossible("pot.material", "'{material}' is no material known here: it is one of {known}",
                             material=self.material, known=", ".join(MATERIALS))  # fmt: skip

    @property
    def depth_m(self) -> float:
        """How deep the water stands, its sides taken as upright. [m]"""
        return self.volume_l / 1000 / self.open_m2

    @property
    def heat_j_per_k(self) -> float:
        """Heat that warms water and vessel by one degree. [J/K]"""
        return self.volume_l * WATER_J_PER_KG_K + self.vessel_kg * MATERIALS[self.material]


@dataclass(frozen=True, slots=True)
class Steady:
    """A pot held warm.

    Attributes
    ----------
    steady_w : Figure
        Heat it takes to stay there. [W]
    wall_w, top_w, evaporation_w : float
        Where it goes. [W]
    evaporation_kg_per_day : Figure
        Water it loses. [kg/day]
    warm_up_kwh : float
        From the room to its temperature for water and vessel, losses on the way left out. [kWh]
    kwh_per_day : Figure
        To hold it for a day. [kWh/day]
    """

    steady_w: Figure
    wall_w: float
    top_w: float
    evaporation_w: float
    evaporation_kg_per_day: Figure
    warm_up_kwh: float
    kwh_per_day: Figure


@dataclass(frozen=True, slots=True)
class Losses:
    """Where a warm pot's heat goes, each with its range: walls, top, evaporation [W], and the water that leaves [kg/h]."""

    wall: Figure
    top: Figure
    wet: Figure
    kg_h: Figure

    @property
    def total(self) -> Figure:
        """All of it, as if every part were low, or high, at once. [W]"""
        parts = (self.wall, self.top, self.wet)
        value, low, high = (math.fsum(ends) for ends in zip(*((p.value, p.low, p.high) for p in parts), strict=True))
        standing = weakest(part.standing for part in parts)
        return Figure(value, low, high, "W", standing, "walls, top and evaporation added; see the parts")


End = Literal["value", "low", "high"]


def at_end(figure: Figure, end: End) -> float:
    """Pick the middle or an end of a figure.

    Parameters
    ----------
    figure : Figure
        Any.
    end : {"value", "low", "high"}
        Which.

    Returns
    -------
    float
        In the figure's own unit.
    """
    return {"value": figure.value, "low": figure.low, "high": figure.high}[end]


def losses(pot: Pot, temperature_c: float) -> Losses:
    """Heat and water that leave a warm pot.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        Of the water, 0 to 100. [degC]

    Returns
    -------
    Losses
        Walls, top, evaporation and water; none below 0.

    Raises
    ------
    OutsideRange
        If the temperature lies outside 0..100 degC.
    """
    rise = max(temperature_c - pot.room_c, 0.0)
    water = evaporation_kg_per_m2h(temperature_c, pot.room_c, pot.room_rh, 0.0 if pot.lid else pot.air_m_per_s)
    kg_h = water.scaled(pot.open_m2, "kg/h")
    top = OPEN_H.scaled(pot.open_m2 * rise, "W")
    if pot.lid:
        kg_h, top = kg_h.times(LID_LETS, "kg/h"), top.times(LID_TOP, "W")
    wall = (FOAM_U if pot.foam else WALL_U).scaled(pot.wall_m2 * rise, "W")
    return Losses(wall, top, kg_h.scaled(latent_j_per_kg(temperature_c) / 3600, "W"), kg_h)


def steady(pot: Pot, temperature_c: float) -> Steady:
    """Heat and water it takes to hold a pot at a temperature.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        Held at, above the room to below 98. [degC]

    Returns
    -------
    Steady
        Watts, water, warm-up and energy for a day.

    Raises
    ------
    OutsideRange
        If the temperature is not above the room, or boiling.

    Notes
    -----
    ``Q = U A (T - Ta) + h A (T - Ta) + m L``. Without a lid evaporation is most of it. The ends add as if every part were low, or
    high, at once, which is wider than it need be. A thermostat's swing and stirring are left out.
    """
    if not pot.room_c < temperature_c < BOILS_FROM_C:
        raise OutsideRange(
            "pot.held",
            "{temperature:temperature} cannot be held: it must be above the room's {room:temperature} and below 98 °C",
            temperature=temperature_c,
            room=pot.room_c,
        )
    lost = losses(pot, temperature_c)
    return Steady(
        steady_w=lost.total,
        wall_w=lost.wall.value,
        top_w=lost.top.value,
        evaporation_w=lost.wet.value,
        evaporation_kg_per_day=lost.kg_h.scaled(24, "kg/day"),
        warm_up_kwh=pot.heat_j_per_k * (temperature_c - pot.room_c) / 3.6e6,
        kwh_per_day=lost.total.scaled(24 / 1000, "kWh/day"),
    )


def money_per_day(held: Steady, price_per_kwh: float) -> Figure:
    """What a day in the warm costs.

    Parameters
    ----------
    held : Steady
        The pot held warm.
    price_per_kwh : float
        Price of power, 0 to 100. [money/kWh]

    Returns
    -------
    Figure
        Money, in whatever the price was in. [money/day]

    Raises
    ------
    OutsideRange
        If the price lies outside 0..100.
    """
    if not 0 <= price_per_kwh <= 100:
        raise OutsideRange("pot.price", "power costs {price} for a kWh; give it from 0 to 100, as on the bill",
                           price=f"{price_per_kwh:g}")  # fmt: skip
    return held.kwh_per_day.scaled(price_per_kwh, "money/day")


def check_watts(watts: float) -> None:
    """Refuse a heater that cannot be.

    Parameters
    ----------
    watts : float
        Heat put in, 0 to below 100 000. [W]

    Raises
    ------
    OutsideRange
        If it lies outside.
    """
    if not 0 <= watts < 1e5:
        raise OutsideRange("pot.watts", "a heater of {watts} W cannot be: read its label", watts=f"{watts:g}")


def reaches_c(pot: Pot, watts: float) -> tuple[float, bool]:
    """Where a heater that is always on ends.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    watts : float
        Heat put in, 0 or more. [W]

    Returns
    -------
    tuple of float and bool
        The temperature it settles at, and whether it boils instead. [degC]

    Raises
    ------
    OutsideRange
        If the power is below 0.

    Notes
    -----
    By the middle of every figure; `reach_c` tells the range. 98 degC and more counts as boiling.
    """
    at = reach_c(pot, watts).value
    return (BOILING_C, True) if at >= BOILS_FROM_C else (at, False)


def reach_c(pot: Pot, watts: float) -> Figure:
    """Where a heater that is always on ends, with its range.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    watts : float
        Heat put in, 0 or more. [W]

    Returns
    -------
    Figure
        Temperature; 100 where it boils. The high end, where every loss is low, is the one to guard against. [degC]

    Raises
    ------
    OutsideRange
        If the power is below 0.
    """
    check_watts(watts)
    low, value, high = _settles_c(pot, watts, "high"), _settles_c(pot, watts, "value"), _settles_c(pot, watts, "low")
    told = losses(pot, min(value, BOILING_C)).total
    return Figure(value, min(low, value), max(high, value), "degC", told.standing, told.source)


def _settles_c(pot: Pot, watts: float, end: End) -> float:
    low, high = pot.room_c, BOILING_C
    if watts <= at_end(losses(pot, low).total, end):
        return low
    if watts >= at_end(losses(pot, BOILS_FROM_C).total, end):
        return BOILING_C
    for _ in range(40):
        middle = (low + high) / 2
        if at_end(losses(pot, middle).total, end) < watts:
            low = middle
        else:
            high = middle
    return (low + high) / 2
