"""Air through the holes and duct of a box: one unknown, the inside pressure, at which as much comes in as goes out.

Pressures are told at the floor of the box against the outside at the same height. At a height z the difference grows by
``(rho_out - rho_in) g z``: warm air presses out at the top and is drawn in below.
"""

import math

import numpy as np

from bonebench.science.air.moist import FloatArray
from bonebench.science.kernel import compiled

GRAVITY = 9.81
MOST_TURNS = 60


# Below this difference air creeps, and flow goes with the difference itself; it also keeps the search smooth. [Pa]
CREEPS_PA = 1e-4
# The search ends when so little is gained or lost [kg/s], or so small a share of what moves that one more of Newton's steps may go
# unchecked: it squares the share where the flow is smooth, and leaves no more than it where a path turns round.
CLOSED_KG_S, LAST_STEP = 1e-12, 1e-6


@compiled
def flow_and_slope(row: FloatArray, drive: float, rho_in: float, rho_out: float, fan_on: bool) -> tuple[float, float]:
    """Mass flow through one path, outward positive, and its rise with the difference that drives it. [Pa] -> [kg/s], [kg/s/Pa]"""
    if fan_on and row[6] > 0.0:
        # drive + p0 (1 - q/q0) = rho q^2 / (2 (CA)^2), with q outward: the positive root of a square.
        drive += row[5]
        if drive > 0.0:
            a = rho_in / (2.0 * row[0] * row[0])
            b = row[5] / row[6]
            root = math.sqrt(b * b + 4.0 * a * drive)
            return rho_in * (root - b) / (2.0 * a), rho_in / root
    if drive < 0.0 and row[7] > 0.5:
        return 0.0, 0.0
    size = abs(drive)
    # The root of the two below which air creeps makes both ends meet there.
    steep = row[0] * math.sqrt(2.0 * (rho_in if drive >= 0.0 else rho_out) / max(size, CREEPS_PA))
    return steep * drive, steep if size < CREEPS_PA else 0.5 * steep


@compiled
def path_flow(row: FloatArray, pressure: float, rho_in: float, rho_out: float, fan_on: bool) -> float:
    """Mass flow through one path, outward positive, at a pressure of the box. [Pa], [kg/m3] -> [kg/s]"""
    return flow_and_slope(row, pressure + (rho_out - rho_in) * 9.81 * (row[1] + row[2]), rho_in, rho_out, fan_on)[0]


@compiled
def solve_pressure(paths: FloatArray, rho_in: float, rho_out: float, fan_on: bool, guess: float) -> float:
    """Inside pressure at the floor at which no air is gained. [kg/m3] -> [Pa]

    ``guess`` is a pressure found before. The net flow rises with the pressure, and where every path blows out, or every one in,
    is known beforehand: within that bracket Newton's steps are taken, and a halving where one would leave it or is longer than
    half the last.
    """
    weight = (rho_out - rho_in) * 9.81
    low, high = math.inf, -math.inf
    for n in range(paths.shape[0]):
        own = -weight * (paths[n, 1] + paths[n, 2]) - (paths[n, 5] if fan_on and paths[n, 6] > 0.0 else 0.0)
        low, high = min(low, own), max(high, own)
    pressure, last = min(max(guess, low), high), math.inf
    for _ in range(MOST_TURNS):
        net, slope, moves = 0.0, 0.0, 0.0
        for n in range(paths.shape[0]):
            flow, rise = flow_and_slope(paths[n], pressure + weight * (paths[n, 1] + paths[n, 2]), rho_in, rho_out, fan_on)
            net += flow
            slope += rise
            moves += abs(flow)
        if abs(net) < CLOSED_KG_S:
            return pressure
        if abs(net) < LAST_STEP * moves:
            return pressure - net / slope
        if net > 0.0:
            high = pressure
        else:
            low = pressure
        step = -net / slope
        if not low < pressure + step < high or abs(step) > 0.5 * last:
            step = 0.5 * (low + high) - pressure
        pressure += step
        last = abs(step)
    return pressure


@compiled
def exchange(paths: FloatArray, pressure: float, rho_in: float, rho_out: float) -> float:
    """Air that holes breathe by counter-flow, in and out at once, where hardly any pressure pushes it through. [kg/s]

    A single hole between air of two densities lets ``C/3 A sqrt(g D drho/rho)`` pass each way; that fades to nothing where the
    pressure across it outweighs the weight of the air within its own height.
    """
    total = 0.0
    gap = abs(rho_out - rho_in)
    if gap <= 0.0:
        return 0.0
    mean = 0.5 * (rho_out + rho_in)
    for n in range(paths.shape[0]):
        diameter = paths[n, 3]
        if diameter > 0.0:
            drive = abs(pressure + (rho_out - rho_in) * 9.81 * paths[n, 1])
            own = gap * 9.81 * diameter
            if drive < own:
                total += mean * paths[n, 0] / 3.0 * math.sqrt(9.81 * diameter * gap / mean) * (1.0 - drive / own)
    return total


@compiled
def air_change(paths: FloatArray, rho_in: float, rho_out: float, fan_on: bool, guess: float) -> tuple[float, float, float]:
    """Air that comes in, which is what goes out, and what of it leaves by the duct; and the pressure for the next guess.

    Returns mass flow [kg/s], flow by the last path if that is a duct [kg/s], pressure [Pa].
    """
    pressure, weight = solve_pressure(paths, rho_in, rho_out, fan_on, guess), (rho_out - rho_in) * 9.81
    into, out, by_duct = 0.0, 0.0, 0.0
    for n in range(paths.shape[0]):
        flow = flow_and_slope(paths[n], pressure + weight * (paths[n, 1] + paths[n, 2]), rho_in, rho_out, fan_on)[0]
        if flow > 0.0:
            out += flow
            if paths[n, 3] == 0.0:
                by_duct += flow
        else:
            into -= flow
    # What the search leaves open is shared out, so that as much goes out as comes in to the last digit.
    through = 0.5 * (into + out)
    return through + exchange(paths, pressure, rho_in, rho_out), by_duct, pressure


def flows(
    paths: FloatArray, *, inside_c: float, outside_c: float, fan_on: bool = False, pressure_pa: float = 101_325.0
) -> FloatArray:
    """Mass flow through each path, outward positive, for a look from outside a loop.

    Parameters
    ----------
    paths : ndarray, shape (n, 8)
        From `path_numbers`.
    inside_c, outside_c : float
        Air in the box and round it. [degC]
    fan_on : bool, optional
        Whether the fan runs.
    pressure_pa : float, optional
        Air pressure. [Pa]

    Returns
    -------
    ndarray, shape (n,)
        Mass flow of each path, counter-flow left out. [kg/s]
    """
    rho_in, rho_out = (pressure_pa / (287.042 * (t + 273.15)) for t in (inside_c, outside_c))
    at = solve_pressure(paths, rho_in, rho_out, fan_on, 0.0)
    return np.array([path_flow(row, at, rho_in, rho_out, fan_on) for row in paths])
