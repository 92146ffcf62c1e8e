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


@compiled
def _through(area: float, rho: float, drive: float) -> float:
    """Mass flow through an opening at a difference of 0 or more. [m2], [kg/m3], [Pa] -> [kg/s]"""
    if drive < CREEPS_PA:
        creeping: float = area * math.sqrt(2.0 * rho / CREEPS_PA) * drive
        return creeping
    flowing: float = area * math.sqrt(2.0 * rho * drive)
    return flowing


@compiled
def path_flow(row: FloatArray, pressure: float, rho_in: float, rho_out: float, fan_on: bool) -> float:
    """Mass flow through one path, outward positive, at a pressure of the box. [Pa], [kg/m3] -> [kg/s]"""
    drive = pressure + (rho_out - rho_in) * 9.81 * (row[1] + row[2])
    shut = row[7] > 0.5
    if fan_on and row[6] > 0.0:
        # drive + p0 (1 - q/q0) = rho q^2 / (2 (CA)^2), with q outward: the positive root of a square.
        drive += row[5]
        if drive > 0.0:
            a = rho_in / (2.0 * row[0] * row[0])
            b = row[5] / row[6]
            pushed: float = rho_in * (-b + math.sqrt(b * b + 4.0 * a * drive)) / (2.0 * a)
            return pushed
    if drive >= 0.0:
        return _through(row[0], rho_in, drive)
    return 0.0 if shut else -_through(row[0], rho_out, -drive)


@compiled
def _net(paths: FloatArray, pressure: float, rho_in: float, rho_out: float, fan_on: bool) -> float:
    total = 0.0
    for n in range(paths.shape[0]):
        total += path_flow(paths[n], pressure, rho_in, rho_out, fan_on)
    return total


@compiled
def _bracket(paths: FloatArray, rho_in: float, rho_out: float, fan_on: bool, guess: float) -> tuple[float, float, float, float]:
    """Open a bracket round a guess in which the net flow changes sign. [Pa], [kg/s]"""
    width = 0.02 + 0.01 * abs(guess)
    low, high = guess - width, guess + width
    f_low, f_high = _net(paths, low, rho_in, rho_out, fan_on), _net(paths, high, rho_in, rho_out, fan_on)
    turns = 0
    while f_low > 0.0 and turns < MOST_TURNS:
        width *= 4.0
        high, f_high = low, f_low
        low -= width
        f_low = _net(paths, low, rho_in, rho_out, fan_on)
        turns += 1
    while f_high < 0.0 and turns < MOST_TURNS:
        width *= 4.0
        low, f_low = high, f_high
        high += width
        f_high = _net(paths, high, rho_in, rho_out, fan_on)
        turns += 1
    return low, high, f_low, f_high


@compiled
def solve_pressure(paths: FloatArray, rho_in: float, rho_out: float, fan_on: bool, guess: float) -> float:
    """Inside pressure at the floor at which no air is gained. [kg/m3] -> [Pa]

    ``guess`` is the pressure of the step before. The net flow rises with the pressure, so a bracket is opened round the guess and
    closed by the Illinois form of false position, with a halving now and then for where that stalls.
    """
    low, high, f_low, f_high = _bracket(paths, rho_in, rho_out, fan_on, guess)
    side = 0
    for turn in range(MOST_TURNS):
        halve = turn % 6 == 5 or f_high - f_low <= 0.0
        middle = 0.5 * (low + high) if halve else (low * f_high - high * f_low) / (f_high - f_low)
        if high - low < 1e-10 + 1e-13 * abs(middle):
            return middle
        f = _net(paths, middle, rho_in, rho_out, fan_on)
        if abs(f) < 1e-12:
            return middle
        if f > 0.0:
            high, f_high = middle, f
            f_low *= 0.5 if side == 1 else 1.0
            side = 1
        else:
            low, f_low = middle, f
            f_high *= 0.5 if side == -1 else 1.0
            side = -1
    return 0.5 * (low + high)


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
    pressure = solve_pressure(paths, rho_in, rho_out, fan_on, guess)
    into, out, by_duct = 0.0, 0.0, 0.0
    for n in range(paths.shape[0]):
        flow = path_flow(paths[n], pressure, rho_in, rho_out, fan_on)
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
