"""How heavy a peroxide solution is."""

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

STRONGEST_W = 0.70
WARMEST_C = 50.0

# Published correlations and handbook rows lie within this of each other up to 50 %; see tests/data/h2o2_density.csv.
DENSITY_ERROR = Figure(
    0.0,
    -2.0,
    2.0,
    "kg/m3",
    Standing.DERIVED,
    "cubic in mass fraction after Easton, Mitchell and Wynne-Jones 1952 (coefficients read in public code), "
    "held against Laliberté 2009 and handbook rows",
)


def _check_temperature(temperature_c: float) -> None:
    if not 0 <= temperature_c <= WARMEST_C:
        raise OutsideRange(
            "bath.temperature",
            "temperature is {temperature:temperature}; the density table holds from 0 to {warmest:temperature}: "
            "mix at room temperature",
            temperature=temperature_c,
            warmest=WARMEST_C,
        )


def check_strength(strength_w: float, what: str = "strength") -> None:
    """Refuse a mass fraction the density table does not cover.

    Parameters
    ----------
    strength_w : float
        Mass fraction of hydrogen peroxide, 0 to 0.70. [kg/kg]
    what : str
        What the strength is of, for the words of the error.

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70, or is not a number.
    """
    if not 0 <= strength_w <= STRONGEST_W:
        raise OutsideRange(
            "bath.strength",
            "{what} is {strength:strength}; it must lie from 0 to {strongest:strength} by weight: read the bottle's label again",
            what=what,
            strength=strength_w,
            strongest=STRONGEST_W,
        )


def water_density(temperature_c: float) -> float:
    """Density of air-free water at one atmosphere.

    Parameters
    ----------
    temperature_c : float
        Temperature, 0 to 50. [degC]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutsideRange
        If the temperature lies outside 0..50 degC.

    Notes
    -----
    The last constant is 16.879850e-3. Public code also carries it as 16.897850e-3, two digits swapped, which makes water
    0.26 kg/m3 too light at 20 degC.

    References
    ----------
    .. [1] Kell G.S. 1975. J. Chem. Eng. Data 20:97-105 (constants from memory; held against a water table in the tests).
    """
    _check_temperature(temperature_c)
    t = temperature_c
    above = (
        999.83952
        + 16.945176 * t
        - 7.987040e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )  # fmt: skip
    return above / (1 + 16.879850e-3 * t)


def density(strength_w: float, temperature_c: float) -> float:
    """Density of a solution of hydrogen peroxide in water.

    Parameters
    ----------
    strength_w : float
        Mass fraction of hydrogen peroxide, 0 to 0.70. [kg/kg]
    temperature_c : float
        Temperature, 0 to 50. [degC]

    Returns
    -------
    float
        Density. [kg/m3]

    Raises
    ------
    OutsideRange
        If the strength lies outside 0..0.70 or the temperature outside 0..50 degC.

    Notes
    -----
    Stabilisers, dissolved salts and protein of a used bath are left out, so a hydrometer cannot judge a used 3 % bath.
    Up to 50 % it lies within 2 kg/m3 of other published correlations.

    References
    ----------
    .. [1] Easton M.F., Mitchell A.G., Wynne-Jones W.F.K. 1952. Trans. Faraday Soc. 48:796-801 (attribution from memory).
    .. [2] Laliberte M. 2009. J. Chem. Eng. Data 54(6):1725-1760 (the second correlation it is held against).
    """
    check_strength(strength_w)
    water = water_density(temperature_c)
    w, t = strength_w, temperature_c
    b = 0.39763 - 2.8732e-3 * t + 3.2488e-5 * t**2 - 1.6363e-7 * t**3
    c = 0.02206 + 3.5357e-3 * t - 6.0947e-5 * t**2 + 3.6165e-7 * t**3
    d = 0.05187 - 1.9414e-3 * t + 3.9061e-5 * t**2 - 2.5500e-7 * t**3
    return water + 1000 * (b * w + c * w**2 + d * w**3)
