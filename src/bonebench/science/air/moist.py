"""Moist air by the ASHRAE relations, on arrays, with the ranges they hold in. `scalar` holds the same for a compiled loop."""

import numpy as np
import numpy.typing as npt

from bonebench.errors import OutsideRange

FloatArray = npt.NDArray[np.float64]

SEA_LEVEL_PA = 101_325.0
WATER_TO_AIR = 0.621945
COLDEST_C, WARMEST_C = -100.0, 100.0
# Hyland and Wexler as used by ASHRAE, for the natural logarithm of the pressure: over ice below 0 degC, over water from there.
ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)


def _check(temperature: FloatArray) -> None:
    odd = (temperature < COLDEST_C) | (temperature > WARMEST_C)
    if odd.any():
        raise OutsideRange(
            "air.temperature",
            "temperature is {temperature:temperature}; moist air is told from {coldest:temperature} to {warmest:temperature}",
            temperature=float(np.ravel(temperature)[np.ravel(odd)][0]),
            coldest=COLDEST_C,
            warmest=WARMEST_C,
        )


def saturation_pressure(temperature: npt.ArrayLike) -> FloatArray:
    """Vapour pressure of saturated air, over ice below freezing and over water above.

    Parameters
    ----------
    temperature : array_like, shape (n,) or scalar
        Dry bulb, -100 to 100. [degC]

    Returns
    -------
    ndarray, same shape
        Pressure. [Pa]

    Raises
    ------
    OutsideRange
        If any temperature lies outside -100..100 degC.

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equations 5 and 6.
    """
    t = np.asarray(temperature, dtype=np.float64)
    _check(t)
    k = t + 273.15

    def logarithm(c: tuple[float, ...]) -> FloatArray:
        found: FloatArray = c[0] / k + c[1] + c[2] * k + c[3] * k**2 + c[4] * k**3 + c[5] * k**4 + c[6] * np.log(k)
        return found

    return np.exp(np.where(t < 0, logarithm(ICE), logarithm(WATER)))


def pressure_at(elevation: npt.ArrayLike) -> FloatArray:
    """Pressure of the standard atmosphere.

    Parameters
    ----------
    elevation : array_like
        Above the sea, -500 to 5000. [m]

    Returns
    -------
    ndarray
        Pressure. [Pa]

    Raises
    ------
    OutsideRange
        If any elevation lies outside its range.

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 3.
    """
    z = np.asarray(elevation, dtype=np.float64)
    if ((z < -500) | (z > 5000)).any():
        raise OutsideRange("air.elevation", "the place lies {z} m above the sea; it is -500 to 5000 m", z=f"{float(np.max(z)):g}")
    found: FloatArray = SEA_LEVEL_PA * (1 - 2.25577e-5 * z) ** 5.2559
    return found


def humidity_ratio(temperature: npt.ArrayLike, humidity: npt.ArrayLike, pressure: npt.ArrayLike = SEA_LEVEL_PA) -> FloatArray:
    """Water beside each kilogram of dry air.

    Parameters
    ----------
    temperature : array_like
        Dry bulb. [degC]
    humidity : array_like
        Relative humidity, 0 to 1. [1]
    pressure : array_like, optional
        Air pressure. [Pa]

    Returns
    -------
    ndarray
        Humidity ratio. [kg/kg]

    Raises
    ------
    OutsideRange
        If a humidity lies outside 0..1 or a temperature outside its range.

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 20.
    """
    rh = np.asarray(humidity, dtype=np.float64)
    if ((rh < 0) | (rh > 1)).any():
        raise OutsideRange("air.humidity", "humidity is {rh:percent}; it lies from 0 to 100 %", rh=float(np.max(rh)))
    vapour = rh * saturation_pressure(temperature)
    found: FloatArray = WATER_TO_AIR * vapour / (np.asarray(pressure, dtype=np.float64) - vapour)
    return found


def relative_humidity(temperature: npt.ArrayLike, ratio: npt.ArrayLike, pressure: npt.ArrayLike = SEA_LEVEL_PA) -> FloatArray:
    """Relative humidity of air with so much water; above 1 where it holds more than it can, which is for the caller to condense.

    Parameters
    ----------
    temperature : array_like
        Dry bulb. [degC]
    ratio : array_like
        Humidity ratio, 0 or more. [kg/kg]
    pressure : array_like, optional
        Air pressure. [Pa]

    Returns
    -------
    ndarray
        Relative humidity. [1]
    """
    w = np.asarray(ratio, dtype=np.float64)
    vapour = np.asarray(pressure, dtype=np.float64) * w / (WATER_TO_AIR + w)
    found: FloatArray = vapour / saturation_pressure(temperature)
    return found


def dew_point(ratio: npt.ArrayLike, pressure: npt.ArrayLike = SEA_LEVEL_PA) -> FloatArray:
    """Temperature at which air with so much water is saturated.

    Parameters
    ----------
    ratio : array_like
        Humidity ratio, above 0. [kg/kg]
    pressure : array_like, optional
        Air pressure. [Pa]

    Returns
    -------
    ndarray
        Dew or frost point, to 1e-6. [degC]

    Raises
    ------
    OutsideRange
        If it lies outside -100..100 degC.

    Notes
    -----
    Found by halving on `saturation_pressure`, so the two agree.
    """
    w, p = np.broadcast_arrays(np.asarray(ratio, dtype=np.float64), np.asarray(pressure, dtype=np.float64))
    vapour = p * w / (WATER_TO_AIR + w)
    odd = (vapour < saturation_pressure(COLDEST_C)) | (vapour > saturation_pressure(WARMEST_C))
    if odd.any():
        raise OutsideRange(
            "air.dew_point",
            "air with {ratio} kg of water for each kg has its dew point outside {coldest:temperature} to {warmest:temperature}",
            ratio=f"{float(np.ravel(w)[np.ravel(odd)][0]):.3g}",
            coldest=COLDEST_C,
            warmest=WARMEST_C,
        )
    low, high = np.full(w.shape, COLDEST_C), np.full(w.shape, WARMEST_C)
    for _ in range(50):
        middle = (low + high) / 2
        under = saturation_pressure(middle) < vapour
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    found: FloatArray = (low + high) / 2
    return found


def enthalpy(temperature: npt.ArrayLike, ratio: npt.ArrayLike) -> FloatArray:
    """Enthalpy of moist air for each kilogram of dry air, 0 for dry air and liquid water at 0 degC.

    Parameters
    ----------
    temperature : array_like
        Dry bulb. [degC]
    ratio : array_like
        Humidity ratio. [kg/kg]

    Returns
    -------
    ndarray
        Enthalpy. [J/kg]

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 30.
    """
    t, w = np.asarray(temperature, dtype=np.float64), np.asarray(ratio, dtype=np.float64)
    found: FloatArray = 1000 * (1.006 * t + w * (2501 + 1.86 * t))
    return found


def specific_volume(temperature: npt.ArrayLike, ratio: npt.ArrayLike, pressure: npt.ArrayLike = SEA_LEVEL_PA) -> FloatArray:
    """Volume of moist air for each kilogram of dry air.

    Parameters
    ----------
    temperature : array_like
        Dry bulb. [degC]
    ratio : array_like
        Humidity ratio. [kg/kg]
    pressure : array_like, optional
        Air pressure. [Pa]

    Returns
    -------
    ndarray
        Volume. [m3/kg]

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals (2017), chapter 1, equation 26.
    """
    t, w = np.asarray(temperature, dtype=np.float64), np.asarray(ratio, dtype=np.float64)
    found: FloatArray = 287.042 * (t + 273.15) * (1 + 1.607858 * w) / np.asarray(pressure, dtype=np.float64)
    return found
