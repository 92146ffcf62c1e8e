"""The ways air gets in and out of a box, as people describe them, and the numbers the network solves with."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.air.moist import FloatArray

DISCHARGE = Figure(
    0.61, 0.55, 0.80, "1", Standing.MEMORY, "thin plate 0.60-0.61; a short tube of a thick wall up to 0.8 at low speed"
)
SCREEN_LOSS = Figure(
    3.8,
    2.0,
    8.0,
    "1",
    Standing.DERIVED,
    "round-wire screen with about half its area open (Blevins table through the library fluids)",
)
CLOGGED = Figure(0.85, 0.5, 1.0, "share", Standing.PRACTICE, "dust on a screen: common practice, no source")
DUCT_FRICTION = Figure(
    0.28,
    0.1,
    0.5,
    "1",
    Standing.DERIVED,
    "flexible hose, somewhat compressed: 4 to 10 times smooth (LBNL); 2 m of 4 inch take 1.6 Pa at 5 L/s",
)
BEND_LOSS = Figure(1.0, 0.5, 2.0, "1", Standing.MEMORY, "one elbow of a hose, on its own velocity head")

# Columns of the array that the network solves with; one row a path.
AREA, HEIGHT, SPAN, HOLE, DUCT, FAN_PA, FAN_M3S, FLAP = range(8)
COLUMNS = 8


@dataclass(frozen=True, slots=True)
class Holes:
    """A group of like holes at one height.

    Attributes
    ----------
    count : int
        How many are open.
    diameter_m, height_m : float
        Of one hole; height of its middle above the floor of the box. [m]
    discharge : float
        Discharge coefficient of a bare hole. [1]
    screen_loss : float
        Loss of the screen on the hole's own velocity head; 0 is no screen. [1]
    open_share : float
        Share of the screen that dust leaves open, above 0 to 1. [1]
    """

    count: int
    diameter_m: float
    height_m: float
    discharge: float = DISCHARGE.value
    screen_loss: float = SCREEN_LOSS.value
    open_share: float = CLOGGED.value


@dataclass(frozen=True, slots=True)
class Duct:
    """A duct with or without a fan.

    Attributes
    ----------
    diameter_m, length_m, height_m : float
        Inner width, length, height of its mouth in the box above the floor. [m]
    bends : float
        Right-angled bends.
    rise_m : float
        How much higher its far end lies than its mouth; it works as a chimney. [m]
    flap : bool
        Whether a flap lets nothing back in.
    fan_free_m3_s, fan_shut_pa : float
        The fan's flow against nothing and its pressure at no flow; both 0 without a fan. [m3/s], [Pa]
    """

    diameter_m: float
    length_m: float
    height_m: float
    bends: float = 0.0
    rise_m: float = 0.0
    flap: bool = True
    fan_free_m3_s: float = 0.0
    fan_shut_pa: float = 0.0


def check_paths(holes: Sequence[Holes], duct: Duct | None, box_height_m: float) -> None:
    """Refuse paths that cannot be.

    Parameters
    ----------
    holes : sequence of Holes
        The groups.
    duct : Duct or None
        The duct.
    box_height_m : float
        Inner height of the box. [m]

    Raises
    ------
    OutsideRange
        If a hole lies above the box, a count or size is negative, a fan works backwards.
    Impossible
        If nothing is open at all.
    """
    for group in holes:
        if not 0 <= group.height_m <= box_height_m:
            raise OutsideRange(
                "air.hole_height", "a hole at {height:length} lies outside the box, which is {box:length} high inside",
                height=group.height_m, box=box_height_m,
            )  # fmt: skip
        if group.count < 0 or not 0 < group.diameter_m < 1:
            raise OutsideRange("air.hole", "{count} holes of {diameter:length} cannot be; count 0 or more, each below 1 m",
                               count=group.count, diameter=group.diameter_m)  # fmt: skip
        if not (0 < group.discharge <= 1 and group.screen_loss >= 0 and 0 < group.open_share <= 1):
            raise OutsideRange(
                "air.hole_loss", "a hole's discharge lies above 0 to 1, its screen's loss is 0 or more, and some is open"
            )
    if duct is not None:
        if not (0 < duct.diameter_m < 1 and duct.length_m >= 0 and duct.bends >= 0 and 0 <= duct.height_m <= box_height_m):
            raise OutsideRange("air.duct", "a duct of {diameter:length} and {long:length} at {height:length} cannot be in this box",
                               diameter=duct.diameter_m, long=duct.length_m, height=duct.height_m)  # fmt: skip
        if duct.fan_free_m3_s < 0 or duct.fan_shut_pa < 0 or (duct.fan_free_m3_s > 0) != (duct.fan_shut_pa > 0):
            raise OutsideRange(
                "air.fan", "a fan with {flow} m³/h free and {pressure} Pa at no flow cannot be: "
                           "both are above 0, or there is no fan",
                flow=f"{3600 * duct.fan_free_m3_s:g}", pressure=f"{duct.fan_shut_pa:g}",
            )  # fmt: skip
    if duct is None and not any(group.count for group in holes):
        raise Impossible("air.shut", "nothing is open: beetles need air; open one hole at least")


def path_numbers(holes: Sequence[Holes], duct: Duct | None) -> FloatArray:
    """Turn paths into the array that the network solves with.

    Parameters
    ----------
    holes : sequence of Holes
        The groups.
    duct : Duct or None
        The duct; its row is the last.

    Returns
    -------
    ndarray, shape (n, 8)
        Effective area (discharge times area, losses in series) [m2], height of the mouth above the floor [m], rise to the far end
        [m],
        diameter of one hole or 0 for a duct [m], number of holes or 0 for a duct, the fan's shut-off pressure [Pa] and free flow
        [m3/s], and 1 where a flap lets nothing in.

    Notes
    -----
    Losses in series on one area: ``1 / (CA)**2 = (1/Cd**2 + K) / A**2``. A duct loses its entry and exit, bends and wall friction;
    friction is taken as constant, which is a few parts in a hundred off over the flows of a box.
    """
    rows = []
    for group in holes:
        if group.count:
            area = group.count * math.pi * group.diameter_m**2 / 4 * group.open_share
            effective = area / math.sqrt(1 / group.discharge**2 + group.screen_loss)
            rows.append([effective, group.height_m, 0.0, group.diameter_m, float(group.count), 0.0, 0.0, 0.0])
    if duct is not None:
        area = math.pi * duct.diameter_m**2 / 4
        loss = 1.5 + duct.bends * BEND_LOSS.value + DUCT_FRICTION.value * duct.length_m / duct.diameter_m
        rows.append(
            [area / math.sqrt(loss), duct.height_m, duct.rise_m, 0.0, 0.0, duct.fan_shut_pa, duct.fan_free_m3_s, float(duct.flap)]
        )
    return np.array(rows, dtype=np.float64).reshape(-1, COLUMNS)
