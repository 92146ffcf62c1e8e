"""How long a tank lasts."""

from bonebench.errors import OutsideRange
from bonebench.science.enclosure.fuel import LOWER_J_KG

HIGHER_J_KG = 50.3e6  # 50.2 to 50.4 MJ/kg (fuel tables)
POUND_KG = 0.45359237


def tank_kwh(propane_kg: float, sensible_share: float) -> float:
    """Heat a tank puts into the room.

    Parameters
    ----------
    propane_kg : float
        What is in it, 0 or more. [kg]
    sensible_share : float
        Share of the higher heating value that comes in, above 0 to 1. [1]

    Returns
    -------
    float
        Heat. [kWh]

    Raises
    ------
    OutsideRange
        If the tank is negative or the share impossible.
    """
    if propane_kg < 0 or not 0 < sensible_share <= 1:
        raise OutsideRange("tank.size", "a tank of {kg:mass} with {share:percent} of its heat in the room cannot be: 0 kg or more, "
                           "above 0 to 100 %", kg=propane_kg, share=sensible_share)  # fmt: skip
    return propane_kg * HIGHER_J_KG * sensible_share / 3.6e6


def tank_days(propane_kg: float, sensible_share: float, kwh_per_day: float) -> float:
    """Days a tank lasts.

    Parameters
    ----------
    propane_kg, sensible_share
        As `tank_kwh`.
    kwh_per_day : float
        Heat wanted each day, above 0. [kWh]

    Returns
    -------
    float
        Days, infinite where nothing is burnt. [days]

    Raises
    ------
    OutsideRange
        As `tank_kwh`, or if the heat is negative.
    """
    if kwh_per_day < 0:
        raise OutsideRange("tank.use", "the heat wanted each day is 0 kWh or more")
    held = tank_kwh(propane_kg, sensible_share)
    return held / kwh_per_day if kwh_per_day > 0 else float("inf")


# Share of the higher heating value that is heat to feel when the vapour is not condensed.
LOWER_SHARE = LOWER_J_KG.value / HIGHER_J_KG
