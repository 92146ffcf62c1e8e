"""Moist air for a compiled loop: one value at a time, nothing checked. Held equal to `moist` in the tests."""

import math

from bonebench.science.kernel import compiled


@compiled
def saturation_pa(t: float) -> float:
    """Vapour pressure over ice below 0 degC and over water above. [degC] -> [Pa]"""
    k = t + 273.15
    if t < 0.0:
        return math.exp(
            -5.6745359e3 / k
            + 6.3925247
            - 9.677843e-3 * k
            + 6.2215701e-7 * k * k
            + 2.0747825e-9 * k * k * k
            - 9.484024e-13 * k * k * k * k
            + 4.1635019 * math.log(k)
        )
    return math.exp(
        -5.8002206e3 / k + 1.3914993 - 4.8640239e-2 * k + 4.1764768e-5 * k * k - 1.4452093e-8 * k * k * k + 6.5459673 * math.log(k)
    )


@compiled
def saturated_ratio(t: float, pressure: float) -> float:
    """Humidity ratio of saturated air. [degC], [Pa] -> [kg/kg]"""
    vapour = saturation_pa(t)
    return 0.621945 * vapour / (pressure - vapour)


@compiled
def relative_humidity(t: float, ratio: float, pressure: float) -> float:
    """Relative humidity of air with so much water. [degC], [kg/kg], [Pa] -> [1]"""
    return pressure * ratio / (0.621945 + ratio) / saturation_pa(t)


@compiled
def density(t: float, pressure: float) -> float:
    """Density of dry air, perfect gas. [degC], [Pa] -> [kg/m3]"""
    return pressure / (287.042 * (t + 273.15))
