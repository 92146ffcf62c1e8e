"""Water that room air takes from an open warm bath: one well-tested rule, and two older ones to hold it against.

Warm water lies under cooler, heavier air, which turns over and carries vapour off; that is what the rule of Shah counts, and it
was held against eleven sets of measurements from 7 to 94 degC on 0.07 to 425 m2. The rule of thumb of a fixed coefficient times the
difference of humidity ratios agrees with it below about 60 degC and has no bound near boiling.
"""

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

PRESSURE_PA = 101_325.0
BOILING_C = 100.0
DRY_AIR_J_PER_KG_K = 287.042
WATER_TO_AIR = 0.621945
SHAH_C = 35.0
# Where the air above is hardly heavier than the air at the water, the rule asks for a larger factor.
SHAH_C_NEARLY_LEVEL, NEARLY_LEVEL_KG_PER_M3 = 40.0, 0.02
# Measured evaporation lies 18 % off on average, which is about 30 % one time in ten; room draughts add to the upper side.
SCATTER = Figure(
    1.0,
    0.72,
    1.35,
    "times",
    Standing.MEMORY,
    "formula of Shah from memory; off by 18 % on average over 11 sets, 7-94 °C (HVAC&R Research 2002, 8:125, read)",
)
WINDIEST_M_PER_S = 3.0


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
    """
    from bonebench.science.air.moist import saturation_pressure  # noqa: PLC0415  numpy, which a start of the program does not load

    if not 0 <= temperature_c <= BOILING_C:
        raise OutsideRange("pot.temperature", "the water is {temperature:temperature}; it lies from 0 to 100 °C: check the number",
                           temperature=temperature_c)  # fmt: skip
    return float(saturation_pressure(temperature_c))


def latent_j_per_kg(temperature_c: float) -> float:
    """Heat that evaporating water takes.

    Parameters
    ----------
    temperature_c : float
        Of the water, 0 to 100. [degC]

    Returns
    -------
    float
        Latent heat. [J/kg]

    Notes
    -----
    A straight line from steam tables, within 0.4 % of them.
    """
    return 2.501e6 - 2361.0 * temperature_c


def _room_vapour_pa(room_c: float, room_rh: float) -> float:
    if not (0 <= room_c <= 60 and 0 <= room_rh <= 1):
        raise OutsideRange("pot.room", "the room is {temperature:temperature} at {rh:percent}; it is 0 to 60 °C and 0 to 100 %",
                           temperature=room_c, rh=room_rh)  # fmt: skip
    return room_rh * saturation_pa(room_c)


def natural_kg_per_m2h(water_c: float, room_c: float, room_rh: float) -> float:
    """Evaporation from quiet water into quiet air by the rule of Shah.

    Parameters
    ----------
    water_c, room_c : float
        Water, 0 to 100, and room, 0 to 60. [degC]
    room_rh : float
        Relative humidity of the room, 0 to 1. [1]

    Returns
    -------
    float
        Water, never below 0. [kg/m2h]

    Raises
    ------
    OutsideRange
        If a temperature or the humidity lies outside its range.

    Notes
    -----
    ``E = C rho_w (rho_r - rho_w)**(1/3) (W_w - W_r)`` with densities of dry air in kg/m3 of moist air. It is written here with
    ``rho_w W_w``, the density of vapour, so it stays finite up to boiling. Where the factor steps from 40 down to 35, the
    step is levelled, so that warmer or drier never gives less. Where the air at the water is the heavier one, or nearly so,
    ``5e-5 (p_w - p_r)`` for the slow stir of a building's air is the least.

    References
    ----------
    .. [1] Shah M.M. 2002. Evaluation of available correlations for rate of evaporation from undisturbed water pools to quiet air.
       HVAC&R Research 8(1):125-131 (abstract read; the formula is from memory).
    """
    at_water, in_room = saturation_pa(water_c), _room_vapour_pa(room_c, room_rh)
    if at_water <= in_room:
        return 0.0
    dry_water = max(PRESSURE_PA - at_water, 0.0) / (DRY_AIR_J_PER_KG_K * (water_c + 273.15))
    dry_room = (PRESSURE_PA - in_room) / (DRY_AIR_J_PER_KG_K * (room_c + 273.15))
    vapour_water = WATER_TO_AIR * at_water / (DRY_AIR_J_PER_KG_K * (water_c + 273.15))
    carried = vapour_water - dry_water * WATER_TO_AIR * in_room / (PRESSURE_PA - in_room)
    return max(_turning(dry_room - dry_water) * carried, 5e-5 * (at_water - in_room))


def _turning(heavier_kg_per_m3: float) -> float:
    """Speed at which heavier air above turns over with the air at the water, in m/h; never falls as it gets heavier."""
    root = max(heavier_kg_per_m3, 0.0) ** (1 / 3)
    if heavier_kg_per_m3 > NEARLY_LEVEL_KG_PER_M3:
        return float(SHAH_C * root)
    return float(min(SHAH_C_NEARLY_LEVEL * root, SHAH_C * NEARLY_LEVEL_KG_PER_M3 ** (1 / 3)))


def pool_kg_per_m2h(water_c: float, room_c: float, room_rh: float, air_m_per_s: float = 0.0) -> float:
    """Evaporation by the handbook's pool formula, with air that moves over the water.

    Parameters
    ----------
    water_c, room_c, room_rh : float
        As for `natural_kg_per_m2h`.
    air_m_per_s : float, optional
        Air over the water, 0 to 3. [m/s]

    Returns
    -------
    float
        Water, never below 0. [kg/m2h]

    Raises
    ------
    OutsideRange
        If a value lies outside its range.

    Notes
    -----
    ``(p_w - p_a)(0.089 + 0.0782 V) / Y`` with kPa and kJ/kg gives kg/m2s. Undisturbed pools were measured at 74 % of it.

    References
    ----------
    .. [1] ASHRAE Handbook - HVAC Applications, natatoriums (from memory).
    .. [2] Smith C.C. et al. 1998. ASHRAE Transactions 104(1A): the 74 % (abstract read).
    """
    if not 0 <= air_m_per_s <= WINDIEST_M_PER_S:
        raise OutsideRange("pot.draught", "air moves at {speed} m/s over the water; it is 0 to {most} m/s: shield the pot",
                           speed=f"{air_m_per_s:g}", most=f"{WINDIEST_M_PER_S:g}")  # fmt: skip
    over_kpa = max(saturation_pa(water_c) - _room_vapour_pa(room_c, room_rh), 0.0) / 1000
    return over_kpa * (0.089 + 0.0782 * air_m_per_s) / (latent_j_per_kg(water_c) / 1000) * 3600


def simple_kg_per_m2h(water_c: float, room_c: float, room_rh: float) -> float:
    """Evaporation by the rule of thumb: 25 kg/m2h for each kg/kg of difference in humidity ratio.

    Parameters
    ----------
    water_c, room_c, room_rh : float
        As for `natural_kg_per_m2h`, the water at most 95 degC.

    Returns
    -------
    float
        Water, never below 0. [kg/m2h]

    Raises
    ------
    OutsideRange
        If a value lies outside its range.

    Notes
    -----
    Kept to be held against the others; from about 70 degC it says far too much, and at boiling it has no bound.
    """
    at_water, in_room = saturation_pa(min(water_c, 95.0)), _room_vapour_pa(room_c, room_rh)
    over = WATER_TO_AIR * (at_water / (PRESSURE_PA - at_water) - in_room / (PRESSURE_PA - in_room))
    return 25.0 * max(over, 0.0)


def evaporation_kg_per_m2h(water_c: float, room_c: float, room_rh: float, air_m_per_s: float = 0.0) -> Figure:
    """Water that room air takes from an open surface.

    Parameters
    ----------
    water_c, room_c : float
        Water, 0 to 100, and room, 0 to 60. [degC]
    room_rh : float
        Relative humidity of the room, 0 to 1. [1]
    air_m_per_s : float, optional
        Air over the water, of a fan or a draught, 0 to 3. [m/s]

    Returns
    -------
    Figure
        Water, one time in ten outside each end. [kg/m2h]

    Raises
    ------
    OutsideRange
        If a value lies outside its range.

    Notes
    -----
    The larger of `natural_kg_per_m2h` and, where air moves, `pool_kg_per_m2h`. Never below 0: vapour that settles on a cold bath is
    left out. A rim that stands high over the water, and oil or froth on it, take less; bubbles and stirring take more.
    """
    moving = pool_kg_per_m2h(water_c, room_c, room_rh, air_m_per_s)
    still = natural_kg_per_m2h(water_c, room_c, room_rh)
    # Air that moves is known less well: the handbook's formula is for pools and slow air.
    standing = SCATTER.standing if air_m_per_s <= 0.15 else Standing.ESTIMATE
    most = max(still, moving) if air_m_per_s > 0 else still
    return Figure(most, most * SCATTER.low, most * SCATTER.high, "kg/m2h", standing, SCATTER.source)
