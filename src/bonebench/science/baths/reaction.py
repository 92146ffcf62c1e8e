"""What a bath gives off when its peroxide breaks down: oxygen and heat."""

from bonebench.figures import Figure, Standing
from bonebench.science.baths.density import check_strength
from bonebench.science.baths.strength import MOLAR_MASS

HEAT_OF_DECAY = Figure(
    98.0,
    94.0,
    98.5,
    "kJ/mol",
    Standing.PUBLISHED,
    "46.87 kcal for 2 mol, chemistry library; the low end is for peroxide already dissolved (from memory)",
)
HEAT_CAPACITY = Figure(4.1, 3.5, 4.2, "kJ/(kg K)", Standing.MEMORY, "dilute solution; the low end is for 35 %, from memory")

# 8.314462618 J/(mol K) * 293.15 K / 101325 Pa, all three exact by definition or to many digits.
OXYGEN_L_PER_MOL = Figure(24.055, 24.055, 24.055, "L/mol", Standing.DERIVED, "perfect gas at 20 °C and 1 atm")


def oxygen_l(strength_w: float, mass_kg: float) -> float:
    """Oxygen a solution gives off when all its peroxide breaks down.

    Parameters
    ----------
    strength_w : float
        Mass fraction of hydrogen peroxide, 0 to 0.70. [kg/kg]
    mass_kg : float
        Mass of solution, zero or more. [kg]

    Returns
    -------
    float
        Volume of dry oxygen at 20 degC and one atmosphere. [L]

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    Two molecules of peroxide give one of oxygen. What stays dissolved in the water is left out (about 0.03 L in a litre).
    """
    check_strength(strength_w)
    return strength_w * mass_kg * 1000 / MOLAR_MASS.value / 2 * OXYGEN_L_PER_MOL.value


def heat_rise_k(strength_w: float) -> float:
    """How much a solution would warm if all its peroxide broke down and no heat got away.

    Parameters
    ----------
    strength_w : float
        Mass fraction of hydrogen peroxide, 0 to 0.70. [kg/kg]

    Returns
    -------
    float
        Temperature rise if nothing boiled away. [K]

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70.

    Notes
    -----
    An upper bound: walls, steam and the gas carry heat away. Past the boiling point the number is a measure of heat, not a
    temperature; say that it boils.
    """
    check_strength(strength_w)
    return strength_w * 1000 / MOLAR_MASS.value * HEAT_OF_DECAY.value / HEAT_CAPACITY.value
