"""The energy and water of a warm pot: warm-up, steady heat, evaporation, and how long until the heater stands bare."""

import math
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing

WATER_J_PER_KG_K = 4186.0
LATENT_J_PER_KG = 2.40e6
BOILING_C = 100.0
WALL_U = Figure(7.0, 6.0, 8.0, "W/m2K", Standing.MEMORY, "bare plastic wall in still air, from memory")
FOAM_U = Figure(1.2, 0.9, 1.6, "W/m2K", Standing.MEMORY, "wall behind 25 mm of foam, from memory")
OPEN_H = Figure(10.0, 8.0, 12.0, "W/m2K", Standing.MEMORY, "open water top without its evaporation, from memory")
LID_LETS = Figure(
    0.12, 0.05, 0.20, "share", Standing.PRACTICE, "a lid or floating balls cut evaporation by 80-95 %: common practice"
)
# kg of water per m2 and hour for each kg/kg that the water's own air holds more than the room's; still room air.
EVAPORATION = Figure(25.0, 18.0, 40.0, "kg/m2h", Standing.MEMORY, "still air over a water surface, from memory")


def saturation_pa(temperature_c: float) -> float:
    """Vapour pressure over water.

    Parameters
    ----------
    temperature_c : float
        0 to 100. [degC]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutsideRange
        If it lies outside 0..100 degC.

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 6 (Hyland and Wexler); held against CoolProp in the tests.
    """
    if not 0 <= temperature_c <= BOILING_C:
        raise OutsideRange("pot.temperature", "the water is {temperature:temperature}; it lies from 0 to 100 °C: check the number",
                           temperature=temperature_c)  # fmt: skip
    t = temperature_c + 273.15
    return math.exp(
        -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3 + 6.5459673 * math.log(t)
    )


def humidity_ratio(vapour_pa: float, pressure_pa: float = 101_325.0) -> float:
    """Water in the air beside the dry air.

    Parameters
    ----------
    vapour_pa : float
        Vapour pressure. [Pa]
    pressure_pa : float, optional
        Air pressure. [Pa]

    Returns
    -------
    float
        Humidity ratio; infinite where the vapour is all there is. [kg/kg]
    """
    return 0.621945 * vapour_pa / (pressure_pa - vapour_pa) if vapour_pa < pressure_pa else math.inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Pot:
    """A pot and the room it stands in.

    Attributes
    ----------
    volume_l : float
        Water in it. [L]
    open_m2, wall_m2 : float
        Open water and wetted wall with the floor. [m2]
    lid : bool
        Whether a lid or floating balls lie on it.
    foam : bool
        Whether its walls are wrapped in about 25 mm of foam.
    room_c, room_rh : float
        The room's air. [degC], [1]
    """

    volume_l: float
    open_m2: float
    wall_m2: float
    lid: bool = True
    foam: bool = False
    room_c: float = 20.0
    room_rh: float = 0.5

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
        From the room to its temperature, losses on the way left out. [kWh]
    """

    steady_w: Figure
    wall_w: float
    top_w: float
    evaporation_w: float
    evaporation_kg_per_day: Figure
    warm_up_kwh: float


def evaporation_kg_per_m2h(water_c: float, room_c: float, room_rh: float) -> Figure:
    """Water that still air takes from an open surface.

    Parameters
    ----------
    water_c, room_c : float
        Water, 0 to below 100, and room. [degC]
    room_rh : float
        Relative humidity of the room. [1]

    Returns
    -------
    Figure
        Water. [kg/m2h]

    Raises
    ------
    OutsideRange
        If the water lies outside 0..100 degC.

    Notes
    -----
    Never below 0: water that would condense on a cold bath is left out. Near boiling the driving difference has no bound and the
    result is an upper guess; what really comes then is heater power over latent heat.
    """
    over = humidity_ratio(saturation_pa(water_c)) - humidity_ratio(room_rh * saturation_pa(room_c))
    driving = max(0.0, over)
    e = EVAPORATION
    return Figure(e.value * driving, e.low * driving, e.high * driving, "kg/m2h", e.standing, e.source)


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
        Watts, water and warm-up.

    Raises
    ------
    OutsideRange
        If the temperature is not above the room, or too near boiling for the rule.

    Notes
    -----
    ``Q = U A (T - Ta) + h A (T - Ta) + m L``. Without a lid evaporation is most of it. A thermostat's swing, stirring and a fan
    that
    blows over the water are left out; a fan can triple evaporation.
    """
    if not pot.room_c < temperature_c < 98:
        raise OutsideRange(
            "pot.held",
            "{temperature:temperature} cannot be held: it must be above the room's {room:temperature} and below 98 °C",
            temperature=temperature_c,
            room=pot.room_c,
        )
    rise = temperature_c - pot.room_c
    wall = FOAM_U if pot.foam else WALL_U
    water = evaporation_kg_per_m2h(temperature_c, pot.room_c, pot.room_rh)
    lets = LID_LETS if pot.lid else Figure(1.0, 1.0, 1.0, "share", Standing.DERIVED, "no lid")
    kg_h = water.times(lets, "kg/m2h").scaled(pot.open_m2, "kg/h")
    evaporation_w = kg_h.scaled(LATENT_J_PER_KG / 3600, "W")
    top = OPEN_H.scaled(pot.open_m2 * rise * (0.4 if pot.lid else 1.0), "W")
    sides = wall.scaled(pot.wall_m2 * rise, "W")
    total = sides.value + top.value + evaporation_w.value
    low, high = (sum(ends) for ends in ((sides.low, top.low, evaporation_w.low), (sides.high, top.high, evaporation_w.high)))
    return Steady(
        steady_w=Figure(total, low, high, "W", Standing.MEMORY, "walls, top and evaporation added; see the parts"),
        wall_w=sides.value,
        top_w=top.value,
        evaporation_w=evaporation_w.value,
        evaporation_kg_per_day=kg_h.scaled(24, "kg/day"),
        warm_up_kwh=pot.volume_l * WATER_J_PER_KG_K * rise / 3.6e6,
    )


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
    """
    if not 0 <= watts < 1e5:
        raise OutsideRange("pot.watts", "a heater of {watts} W cannot be: read its label", watts=f"{watts:g}")
    low, high = pot.room_c, 97.99
    if watts == 0:
        return pot.room_c, False
    if steady(pot, high).steady_w.value < watts:
        return BOILING_C, True
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if middle <= pot.room_c or steady(pot, middle).steady_w.value < watts else (low, middle)
    return (low + high) / 2, False


def hours_to_sink(pot: Pot, temperature_c: float, fall_m: float, watts: float | None = None) -> Figure:
    """Hours until the water has sunk so far: when a heater stands bare, when to top up.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    temperature_c : float
        Held at; 98 or more is boiling. [degC]
    fall_m : float
        How far it may sink, above 0. [m]
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
        If it boils and nobody says how strong the heater is.

    Notes
    -----
    A boiling pot loses what is left of the heater's power after its walls, at 2.26 MJ for each kilogram.
    """
    if not fall_m > 0:
        raise OutsideRange("pot.fall", "the water may sink {fall:length}: say how far above 0 it is to the heater", fall=fall_m)
    litres = fall_m * pot.open_m2 * 1000
    if temperature_c >= 98:
        if watts is None:
            raise Impossible("pot.boils", "it boils: say how many watts the heater has, so that the hours to dry can be told")
        walls = (FOAM_U if pot.foam else WALL_U).value * pot.wall_m2 * (BOILING_C - pot.room_c)
        kg_h = max(watts - walls, watts * 0.3) * 3600 / 2.26e6
        hours = litres * 0.958 / kg_h
        return Figure(
            hours, hours * 0.6, hours * 2, "h", Standing.ESTIMATE, "heater's power less the walls', over the heat of steam"
        )
    lost = steady(pot, temperature_c).evaporation_kg_per_day
    if lost.value <= 0:
        raise Impossible("pot.no_loss", "at that temperature and humidity nothing leaves the water")
    value, low, high = (24 * litres / one for one in (lost.value, lost.high, max(lost.low, 1e-9)))
    return Figure(value, low, high, "h", lost.standing, lost.source)


def hours_above(pot: Pot, start_c: float, end_c: float) -> float:
    """How long a pot without power stays above a temperature.

    Parameters
    ----------
    pot : Pot
        The pot and its room.
    start_c, end_c : float
        From and down to, both above the room. [degC]

    Returns
    -------
    float
        Hours; infinite where the room is warmer. [h]

    Notes
    -----
    Sums slices of half a degree at the loss of their middle; the vessel's own heat is left out.
    """
    if end_c <= pot.room_c:
        return math.inf
    hours, at = 0.0, min(start_c, 97.9)
    while at > end_c:
        step = min(0.5, at - end_c)
        hours += pot.volume_l * WATER_J_PER_KG_K * step / steady(pot, at - step / 2).steady_w.value / 3600
        at -= step
    return hours
