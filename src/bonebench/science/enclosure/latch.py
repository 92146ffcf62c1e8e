"""Whether heater and fan fight: the box with both running for good, worked out at once."""

from dataclasses import dataclass

import numpy as np

from bonebench.science.air.moist import relative_humidity
from bonebench.science.air.network import air_change
from bonebench.science.air.scalar import density
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.box import Box
from bonebench.science.enclosure.numbers import Numbers, numbers_of


@dataclass(frozen=True, slots=True)
class Latch:
    """The box with heater and fan both on for good.

    Attributes
    ----------
    t_c, ratio, rh, air_kg_s : float
        Where it comes to rest and the air that passes. [degC], [kg/kg], [1], [kg/s]
    fan_never_stops, heater_never_stops : bool
        Whether the humidity stays above where the fan turns off, and the temperature below where the heater does.
    """

    t_c: float
    ratio: float
    rh: float
    air_kg_s: float
    fan_never_stops: bool
    heater_never_stops: bool

    @property
    def latched(self) -> bool:
        """Whether they fight and never switch off."""
        return self.fan_never_stops and self.heater_never_stops


def closed_test(box: Box, *, building_c: float, building_ratio: float, water_kg_s: float, heat_w: float = 0.0) -> Latch:
    """Find whether heater and fan, once both on, ever turn off in a building that stays as it is.

    Parameters
    ----------
    box : Box
        With heater and humidistat.
    building_c, building_ratio : float
        Air of the building. [degC], [kg/kg]
    water_kg_s, heat_w : float
        What colony and heads give off. [kg/s], [W]

    Returns
    -------
    Latch
        Where it comes to rest. Bedding and stores do not matter there.

    Raises
    ------
    OutsideRange, Impossible
        As `check_box`.

    Notes
    -----
    ``T = T_b + (P + Q - L G)/(UA + m c_p)`` and ``W = W_b + G/m``, with the air at that temperature; condensation is left out.
    Where the heater has power to spare the humidity is taken at the thermostat's upper point, which is where it then stops.
    """
    numbers = numbers_of(box)
    c = numbers.constants
    gain = c.heater_w + heat_w - at.LATENT * water_kg_s

    def rest(t: float) -> tuple[float, float]:
        m = _air(numbers, t, building_c)
        return building_c + gain / (c.ua_w_k + m * at.CP_AIR), m

    low, high = building_c - 100.0, building_c + abs(gain) / c.ua_w_k + 1.0
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if rest(middle)[0] > middle else (low, middle)
    t, m = rest((low + high) / 2)
    ratio = building_ratio + (water_kg_s / m if m > 0 else np.inf if water_kg_s > 0 else 0.0)
    at_t = min(t, c.heater_off_c) if c.heater_w > 0 else t
    rh = float(relative_humidity(at_t, ratio, c.pressure_pa)) if np.isfinite(ratio) else np.inf
    return Latch(t, ratio, rh, m, c.fan_fitted > 0 and rh >= c.fan_off_rh, c.heater_w > 0 and t < c.heater_off_c)


def _air(numbers: Numbers, t: float, building_c: float) -> float:
    c = numbers.constants
    if c.flow_on_kg_s >= 0:
        return c.flow_on_kg_s
    if not len(numbers.paths):
        return 0.0
    inside, outside = density(t, c.pressure_pa), density(building_c, c.pressure_pa)
    return float(air_change(numbers.paths, inside, outside, c.fan_fitted > 0, 0.0)[0])
