"""How long a bath serves, what it costs for each skull, and what must be done before it goes anywhere."""

from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.figures import Figure
from bonebench.science.baths.decay import FLOOR_W, Load, days_to_floor, rate_per_day
from bonebench.science.baths.reaction import oxygen_l


@dataclass(frozen=True, slots=True)
class Life:
    """A bath from the day it is mixed to its floor.

    Attributes
    ----------
    days : Figure
        Until its strength is down to the floor, with bone in it all the time. [days]
    skulls : Figure
        How many go through it one after the other in that time. [1]
    stock_kg_each : Figure
        Stock for each skull. [kg]
    """

    days: Figure
    skulls: Figure
    stock_kg_each: Figure


def life(
    *, strength_w: float, stock_kg: float, temperature_c: float, at_once: int, days_each: float, load: Load = "bone",
    floor_w: float = FLOOR_W.value,
) -> Life:  # fmt: skip
    """How long a bath serves and what each skull takes of the stock.

    Parameters
    ----------
    strength_w : float
        Mass fraction it is mixed to. [kg/kg]
    stock_kg : float
        Stock that went in, above 0. [kg]
    temperature_c : float
        Of the bath. [degC]
    at_once : int
        Skulls in it together, 1 or more.
    days_each : float
        Days each stays, above 0. [days]
    load : {"clean", "bone", "tissue"}, optional
        What is in it.
    floor_w : float, optional
        Mass fraction below which it is no use. [kg/kg]

    Returns
    -------
    Life
        Days, skulls and stock for each.

    Raises
    ------
    OutsideRange
        If an amount is not above 0, or a strength or temperature lies outside its range.

    Notes
    -----
    A bath that lasts less than one stay still serves one load, which then stays longer. Topping up and evaporation are left out.
    """
    if not (stock_kg > 0 and at_once >= 1 and days_each > 0):
        raise OutsideRange("bath.life", "stock, skulls at once and days each must be above 0: check them")
    days = days_to_floor(strength_w, rate_per_day(load, temperature_c), floor_w)
    loads = [max(1.0, end / days_each) for end in (days.value, days.low, days.high)]
    skulls = Figure(at_once * loads[0], at_once * loads[1], at_once * loads[2], "skulls", days.standing, days.source)
    value, low, high = (stock_kg / s for s in (skulls.value, skulls.high, skulls.low))
    return Life(days, skulls, Figure(value, low, high, "kg", days.standing, days.source))


def cost_minor(stock_kg: float, price_minor_per_kg: int) -> int:
    """What so much stock costs.

    Parameters
    ----------
    stock_kg : float
        Stock, 0 or more. [kg]
    price_minor_per_kg : int
        Price of a kilogram in the smallest coin, 0 or more.

    Returns
    -------
    int
        Cost in the smallest coin, rounded to the nearest.

    Raises
    ------
    OutsideRange
        If either is negative.
    """
    if stock_kg < 0 or price_minor_per_kg < 0:
        raise OutsideRange("bath.cost", "stock and price are 0 or more")
    return round(stock_kg * price_minor_per_kg)


def oxygen_still_l(strength_w: float, mass_kg: float) -> float:
    """Oxygen that a bath on its way out would still give off, at 20 degC and one atmosphere.

    Parameters
    ----------
    strength_w : float
        Mass fraction left. [kg/kg]
    mass_kg : float
        The bath. [kg]

    Returns
    -------
    float
        Oxygen: why it stands open until a strip shows none. [L]
    """
    return oxygen_l(strength_w, mass_kg)
