"""A power cut: how long the box stays warm, and what hot-water bottles buy."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from bonebench.errors import OutsideRange
from bonebench.science.air.moist import FloatArray
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.box import Box
from bonebench.science.enclosure.kernel import run_box
from bonebench.science.enclosure.numbers import numbers_of, start_state, water_node
from bonebench.science.enclosure.simulate import around_box, series_table

MARKS_C = (20.0, 15.0, 10.0, 5.0)
STEP_S = 10.0
HOTTEST_C, MOST_L = 95.0, 500.0


@dataclass(frozen=True, slots=True)
class Bottles:
    """Closed bottles of hot water that are put in when the power goes: volume in all [L] and temperature [degC]."""

    volume_l: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Blackout:
    """How a box cools.

    Attributes
    ----------
    hours_to : mapping of float to float or None
        Hours until the air first falls below each mark [degC]; None if it does not within the hours looked at. [h]
    hours, t_c, rh : ndarray, shape (n,)
        The curve: time since the cut, box air and its humidity. [h], [degC], [1]
    warmest_c : float
        Highest temperature on the way: too many hot bottles cook a colony. [degC]
    """

    hours_to: Mapping[float, float | None]
    hours: FloatArray
    t_c: FloatArray
    rh: FloatArray
    warmest_c: float


def blackout(
    box: Box, *, building_c: npt.ArrayLike, start_c: float | None = None, start_rh: float = 0.5, bottles: Sequence[Bottles] = (),
    hours: int = 72, building_rh: float = 0.7, heat_w: float = 0.0, water_kg_s: float = 0.0,
) -> Blackout:  # fmt: skip
    """Let a box cool with heater and fan dead and its holes as they are.

    Parameters
    ----------
    box : Box
        The description; a measured flow counts as that with the fan off.
    building_c : array_like
        Air of the building: one value, or one an hour as it cools too. [degC]
    start_c, start_rh : float, optional
        The box when the power goes; the heater's set point if not told. [degC], [1]
    bottles : sequence of Bottles, optional
        Hot water put in at once.
    hours : int, optional
        How long to look, 1 to 720. [h]
    building_rh : float, optional
        Humidity of the building. [1]
    heat_w, water_kg_s : float, optional
        What colony and heads give off. [W], [kg/s]

    Returns
    -------
    Blackout
        Hours to each mark and the curve, a point every ten minutes.

    Raises
    ------
    OutsideRange, Impossible
        If box, bottles or hours cannot be.
    """
    if not 1 <= hours <= 720:
        raise OutsideRange("blackout.hours", "a power cut is followed for 1 to 720 hours, not {hours}", hours=hours)
    for each in bottles:
        if not (0 < each.volume_l <= MOST_L and 0 <= each.temperature_c <= HOTTEST_C):
            raise OutsideRange(
                "blackout.bottles", "{volume:volume} of water at {t:temperature} cannot be put in: above 0 to {most:volume}, 0 to "
                "{hottest:temperature} (hotter bursts bottles and scalds)",
                volume=each.volume_l, t=each.temperature_c, most=MOST_L, hottest=HOTTEST_C,
            )  # fmt: skip
    numbers = numbers_of(replace(box, humidistat=None))
    c = numbers.constants._replace(heater_w=0.0, fan_fitted=0.0)
    if start_c is None:
        start_c = box.heater.set_c if box.heater else (box.band.low_c + box.band.high_c) / 2
    added = np.array([water_node(each.volume_l) for each in bottles]).reshape(-1, at.NODE)
    warm = [*[start_c] * len(numbers.nodes), *(each.temperature_c for each in bottles)]
    around = around_box(hours, t_c=building_c, rh=building_rh, heat_w=heat_w, water_kg_s=water_kg_s, pressure_pa=c.pressure_pa)
    ran = run_box(
        np.array(c), np.vstack([numbers.nodes, added]), numbers.bed, numbers.stone, numbers.paths, series_table(around),
        np.zeros((0, at.HEAD)), start_state(numbers, start_c, start_rh), np.array(warm), STEP_S,
        trace_every=1, traced=round(hours * at.HOUR_S / STEP_S),
    )  # fmt: skip
    t = np.concatenate([[start_c], ran.trace[:, at.TRACE_T]])
    rh = np.concatenate([[start_rh], ran.trace[:, at.TRACE_RH]])
    when: FloatArray = np.arange(len(t), dtype=np.float64) * STEP_S / at.HOUR_S
    every = round(600 / STEP_S)
    return Blackout({mark: _first_below(when, t, mark) for mark in MARKS_C}, when[::every], t[::every], rh[::every], float(t.max()))


def _first_below(when: FloatArray, t: FloatArray, mark: float) -> float | None:
    """Time of the first crossing, on the straight line between two steps; 0 if it begins below."""
    below = np.flatnonzero(t < mark)
    if not len(below):
        return None
    k = int(below[0])
    if k == 0:
        return 0.0
    return float(when[k - 1] + (when[k] - when[k - 1]) * (t[k - 1] - mark) / (t[k - 1] - t[k]))
