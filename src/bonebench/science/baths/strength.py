"""One strength in its four notations: by weight, by volume of solution, in volumes of oxygen, in mol per litre."""

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.density import STRONGEST_W, check_strength, density
from bonebench.units import Notation

MOLAR_MASS = Figure(34.0147, 34.0147, 34.0147, "g/mol", Standing.PUBLISHED, "hydrogen peroxide data as shipped with Laliberté 2009")

# Two molecules give one of oxygen, so a solution of 1 mol/L holds 22.4 / 2 = 11.2 volumes. Some pages name 22.7 L (1 bar) and
# still use 11.2; the label's convention is 0 degC and one atmosphere, which is kept here.
VOLUME_STRENGTH = Figure(
    11.2, 11.2, 11.2, "vol per mol/L", Standing.PUBLISHED, "label convention: oxygen at 0 °C and 1 atm, 22.4 L/mol"
)

_HALVINGS = 60
_WORDS: dict[Notation, str] = {"w/w": "% w/w", "w/v": "% w/v", "vol": "volumes", "mol/L": "mol/L"}


def from_mass_fraction(strength_w: float, notation: Notation, temperature_c: float) -> float:
    """Write a mass fraction in another notation.

    Parameters
    ----------
    strength_w : float
        Mass fraction of hydrogen peroxide, 0 to 0.70. [kg/kg]
    notation : {"w/w", "w/v", "vol", "mol/L"}
        The notation wanted.
    temperature_c : float
        Temperature at which the solution is measured, 0 to 50. [degC]

    Returns
    -------
    float
        Mass fraction for "w/w", kg per litre of solution for "w/v" (0.091 is 9.1 % w/v), volumes of oxygen at 0 degC and one
        atmosphere for "vol", mol per litre of solution for "mol/L".

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70 or the temperature outside 0..50 degC.

    Notes
    -----
    A label's "30 %" may be w/w or w/v, and they differ by a tenth. By volume ("v/v") is no peroxide strength.
    """
    check_strength(strength_w)
    if notation == "w/w":
        return strength_w
    kg_per_l = strength_w * density(strength_w, temperature_c) / 1000
    if notation == "w/v":
        return kg_per_l
    mol_per_l = kg_per_l * 1000 / MOLAR_MASS.value
    return mol_per_l if notation == "mol/L" else mol_per_l * VOLUME_STRENGTH.value


def to_mass_fraction(amount: float, notation: Notation, temperature_c: float) -> float:
    """Read a strength in any notation as a mass fraction.

    Parameters
    ----------
    amount : float
        Mass fraction for "w/w", kg per litre for "w/v", volumes of oxygen for "vol", mol per litre for "mol/L"; zero or more.
    notation : {"w/w", "w/v", "vol", "mol/L"}
        How the strength is written.
    temperature_c : float
        Temperature at which the solution is measured, 0 to 50. [degC]

    Returns
    -------
    float
        Mass fraction of hydrogen peroxide. [kg/kg]

    Raises
    ------
    OutsideRange
        If the amount is negative or stands for more than 70 % by weight, or the temperature lies outside 0..50 degC.

    Notes
    -----
    Mass in a litre rises with mass fraction all the way, so halving between 0 and 0.70 always finds the one answer.
    """
    if notation == "w/w":
        check_strength(amount)
        return amount
    most = from_mass_fraction(STRONGEST_W, notation, temperature_c)
    # The end of the range may come back from a round trip a last digit too high.
    if not 0 <= amount <= most * (1 + 1e-12):
        shown = 100 if notation == "w/v" else 1
        raise OutsideRange(
            "bath.amount",
            "strength is {amount} {notation}; the table holds from 0 to {most} {notation}, which is {strongest:strength} "
            "by weight: read the bottle's label again",
            amount=f"{amount * shown:.4g}",
            most=f"{most * shown:.4g}",
            notation=_WORDS[notation],
            strongest=STRONGEST_W,
        )
    low, high = 0.0, STRONGEST_W
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if from_mass_fraction(middle, notation, temperature_c) < amount:
            low = middle
        else:
            high = middle
    return (low + high) / 2 if amount > 0 else 0.0
