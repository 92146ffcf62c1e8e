"""The box through time: one compiled loop in which heat and water both balance to rounding.

Air, and everything that hangs on it, goes forward implicitly, so a step of 10-20 s is stable however small a part is; each flux is
then worked out once from the new air and given to one and taken from the other, so that nothing is gained or lost.
"""

# ruff: noqa: PLR0917, PLR0912, PLR0915  (plain arguments by place; a loop cut up further took half as long again, measured)

import math
from typing import NamedTuple

import numpy as np

from bonebench.science.air.moist import FloatArray
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.layout import BoolArray, IntArray
from bonebench.science.enclosure.switches import sense, switch_fan, switch_heater
from bonebench.science.enclosure.vapour import (
    BY_DUCT,
    DUCT,
    FLOW,
    GLASS,
    KEY_ROOM,
    KEY_T,
    LEAN,
    NEAR,
    NEAR_AIR,
    bed_to_air,
    fall_out,
    near_saturation,
    renew_air,
    renew_saturation,
    settle,
    stale,
    stone_to_air,
)
from bonebench.science.enclosure.warmth import (
    come_and_go,
    find_dew,
    heads_in_air,
    nodes_in_air,
    warm_heads,
    warm_nodes,
)
from bonebench.science.kernel import compiled


@compiled
def open_hour(row: FloatArray) -> None:
    """Ready the least and the most of an hour."""
    row[at.T_MIN] = row[at.RH_MIN] = row[at.HEAD_C] = math.inf
    row[at.T_MAX] = row[at.RH_MAX] = -math.inf


@compiled
def tally(row: FloatArray, state: FloatArray, near: FloatArray, m: float, on_film: float, rh: float, dt: float) -> None:
    """Add one step to the sums of its hour."""
    t, w = state[at.T], state[at.W]
    row[at.T_MEAN] += t
    row[at.RH_MEAN] += rh
    row[at.RATIO] += w
    row[at.AIR_KG_S] += m
    row[at.HEATER] += state[at.HEATER_ON]
    row[at.FAN] += state[at.FAN_ON]
    row[at.T_MIN], row[at.T_MAX] = min(row[at.T_MIN], t), max(row[at.T_MAX], t)
    row[at.RH_MIN], row[at.RH_MAX] = min(row[at.RH_MIN], rh), max(row[at.RH_MAX], rh)
    if on_film > 0.0:
        row[at.ON_GLASS_KG] += on_film * dt
    if w > near[DUCT]:
        row[at.IN_DUCT_KG] += near[BY_DUCT] * (w - near[DUCT]) * dt
    if state[at.HEATER_ON] * state[at.FAN_ON] > 0.0:
        before = state[at.BOTH_SINCE]
        state[at.BOTH_SINCE] += dt
        if before >= at.LATCH_S:
            row[at.LATCH] += dt
        elif state[at.BOTH_SINCE] >= at.LATCH_S:
            row[at.LATCH] += state[at.BOTH_SINCE]
    else:
        state[at.BOTH_SINCE] = 0.0


@compiled
def close_hour(row: FloatArray, state: FloatArray, node_t: FloatArray, bed: int, steps: int) -> None:
    """Turn the sums of an hour into means, and note what stands at its end."""
    for column in (at.T_MEAN, at.RH_MEAN, at.RATIO, at.AIR_KG_S, at.HEATER, at.FAN):
        row[column] /= steps
    row[at.BED], row[at.FILM_KG], row[at.CO2] = state[at.BED_KG_KG], state[at.FILM], state[at.CO2_KG_KG]
    row[at.BED_C] = node_t[bed] if bed >= 0 else state[at.T]
    row[at.STORE_C] = math.nan
    for n in range(node_t.shape[0]):
        if n != bed:
            row[at.STORE_C] = node_t[n]
            break
    if row[at.HEAD_C] == math.inf:
        row[at.HEAD_C] = math.nan


@compiled
def advance(
    c: FloatArray,
    per: FloatArray,
    nodes: FloatArray,
    bed: int,
    stone: int,
    paths: FloatArray,
    around: FloatArray,
    heads: FloatArray,
    state: FloatArray,
    node_t: FloatArray,
    wet: FloatArray,
    stored: FloatArray,
    inside: BoolArray,
    near: FloatArray,
    gets: FloatArray,
    window: IntArray,
    out: FloatArray,
    sums: FloatArray,
    dt: float,
    steps: int,
    trace_every: int,
    trace: FloatArray,
    switched_s: FloatArray,
    thawed_s: FloatArray,
) -> None:
    """Carry the box through every hour it has surroundings for, in place; `run_box` sets out the arrays.

    Their columns stand in `layout`. Arrays are made outside: their making would cost more to compile than the loop.
    """
    count, pressure, refresh = heads.shape[0], c[at.PRESSURE_PA], c[at.REFRESH_K]
    air_kg_s, air_own, nodes_a, loose = per[at.AIR_PER_STEP], per[at.AIR_J_PER_STEP], per[at.NODES_W_K], per[at.LOOSE]
    heat_in, water_in, heat_through, water_through = 0.0, 0.0, 0.0, 0.0
    switches, traced, to_trace, done, now, lo, hi = 0, 0, 0, 0, 0.0, 0, -1
    renew_saturation(state[at.T], near, NEAR_AIR)
    psat = near_saturation(state[at.T], near, NEAR_AIR)
    for hour in range(out.shape[0]):
        row = out[hour]
        open_hour(row)
        tb0, wb0 = around[hour, at.A_T], around[hour, at.A_RATIO]
        tb_step, wb_step = (around[hour + 1, at.A_T] - tb0) / steps, (around[hour + 1, at.A_RATIO] - wb0) / steps
        q, g, co2 = around[hour, at.A_HEAT_W], around[hour, at.A_WATER_KG_S], around[hour, at.A_CO2_KG_S]
        for step in range(steps):
            tb, wb = tb0 + (step + 0.5) * tb_step, wb0 + (step + 0.5) * wb_step
            vapour = pressure * state[at.W] / (0.621945 + state[at.W])
            if stale(c, state, near, tb):
                renew_air(c, state, near, paths, tb)
            m = near[FLOW] * (1.0 + near[LEAN] * (state[at.T] - tb - near[KEY_T] + near[KEY_ROOM]))
            wet[0, at.SATURATED] = near[GLASS]
            if count > 0:
                came_heat, came_water = come_and_go(c, heads, stored, inside, wet, window, now)
                heat_in += came_heat
                water_in += came_water
                lo, hi = window[0], window[1]
                find_dew(c, stored, inside, wet, lo, hi, state[at.T], vapour / psat)
            top, under = air_kg_s * state[at.W] + m * wb + g, air_kg_s + m
            from_bed, from_stone, bed_slope, stone_slope, on_film = 0.0, 0.0, 0.0, 0.0, 0.0
            if c[at.BED_KG] > 0.0:
                bed_t = node_t[bed] if bed >= 0 else state[at.T]
                from_bed, bed_slope = bed_to_air(c, state, near, bed_t, vapour, per[at.BED_RATE])
                from_bed += bed_slope * state[at.W]
            if c[at.PORE_KG] > 0.0:
                stone_t = node_t[stone] if stone >= 0 else state[at.T]
                from_stone, stone_slope = stone_to_air(c, state, near, stone_t, dt)
            top, under = top + from_bed + from_stone, under + bed_slope + stone_slope
            new_w = top / under
            if lo <= hi or wet[0, at.WATER] > 0.0 or state[at.W] > near[GLASS]:
                new_w = settle(top, under, state[at.W], dt, wet, lo + 1, hi + 1)
                on_film = wet[0, at.FLUX]
            from_bed -= bed_slope * new_w
            from_stone -= stone_slope * new_w
            if c[at.BED_KG] > 0.0:
                state[at.BED_KG_KG] -= from_bed * dt / c[at.BED_KG]
            state[at.STONE_KG] -= from_stone * dt
            water_in += (m * (wb - new_w) + g) * dt
            water_through += (m * (wb + new_w) + abs(g)) * dt

            # What evaporates takes its heat from where it lay; of what settles on glass a share goes out through it.
            power = c[at.HEATER_W] * state[at.HEATER_ON]
            through_film = at.LATENT * c[at.FILM_SHARE] * on_film
            to_air = power * loose + q + state[at.CARRY_W] - at.LATENT * (g - on_film) - through_film
            if bed >= 0:
                gets[bed] -= at.LATENT * from_bed
            else:
                to_air -= at.LATENT * from_bed
            if stone >= 0:
                gets[stone] -= at.LATENT * from_stone
            else:
                to_air -= at.LATENT * from_stone
            nodes_b = nodes_in_air(nodes, node_t, gets, power)
            heads_a, heads_b, cold, dew = 0.0, 0.0, math.inf, 0.0
            if lo <= hi:
                heads_a, heads_b = heads_in_air(c, heads, stored, inside, wet, lo, hi, dt)
            leaves = c[at.UA_W_K] + m * at.CP_AIR
            new_t = (air_own * state[at.T] + leaves * tb + to_air + nodes_b + heads_b) / (air_own + leaves + nodes_a + heads_a)
            warm_nodes(nodes, node_t, gets, new_t)
            if lo <= hi:
                cold, dew = warm_heads(c, heads, stored, inside, wet, lo, hi, new_t, now, dt, thawed_s)
                row[at.HEAD_C] = min(row[at.HEAD_C], cold)
            lost = leaves * (new_t - tb)
            to_vapour = at.LATENT * (g + from_bed + from_stone - on_film - dew)
            heat_in += (power + q + state[at.CARRY_W] - to_vapour - through_film - lost) * dt
            heat_through += (power + abs(q) + abs(lost) + abs(through_film)) * dt

            if not abs(new_t - near[NEAR_AIR]) < refresh:
                renew_saturation(new_t, near, NEAR_AIR)
            psat = near_saturation(new_t, near, NEAR_AIR)
            state[at.CARRY_W] = 0.0
            if new_w * (pressure - psat) > 0.621945 * psat:
                full = 0.621945 * psat / (pressure - psat)
                state[at.CARRY_W] = fall_out(c, wet, row, new_w - full, dt)
                new_w = full
            state[at.T], state[at.W], state[at.FILM] = new_t, new_w, wet[0, at.WATER]
            if per[at.HAS_CO2] > 0.0:
                state[at.CO2_KG_KG] = (air_kg_s * state[at.CO2_KG_KG] + m * c[at.ROOM_CO2_KG_KG] + co2) / (air_kg_s + m)
            rh = min(1.0, pressure * new_w / ((0.621945 + new_w) * psat))
            tally(row, state, near, m, on_film, rh, dt)
            sense(per, state, rh, dt)
            done += 1
            now = done * dt
            if switch_heater(c, state):
                row[at.HEATER_STARTS] += state[at.HEATER_ON]
                if switches < switched_s.shape[0]:
                    switched_s[switches] = now
                switches += 1
            if switch_fan(c, state):
                row[at.FAN_STARTS] += state[at.FAN_ON]
            to_trace += 1
            if to_trace == trace_every and traced < trace.shape[0]:
                trace[traced, at.TRACE_T], trace[traced, at.TRACE_RH], trace[traced, at.TRACE_RATIO] = new_t, rh, new_w
                trace[traced, at.TRACE_HEATER], trace[traced, at.TRACE_FAN] = state[at.HEATER_ON], state[at.FAN_ON]
                trace[traced, at.TRACE_HEAD] = cold if cold < math.inf else math.nan
                traced += 1
                to_trace = 0
        close_hour(row, state, node_t, bed, steps)
    sums[at.HEAT_ERROR], sums[at.WATER_ERROR] = -heat_in, -water_in
    sums[at.HEAT_THROUGH], sums[at.WATER_THROUGH], sums[at.SWITCHES], sums[at.RAN_S] = heat_through, water_through, switches, now


class Ran(NamedTuple):
    """What a run gives: hours (n, 21), state and nodes at the end, sums, looks (m, 6), when the heater turned and heads thawed."""

    hours: FloatArray
    state: FloatArray
    node_t: FloatArray
    sums: FloatArray
    trace: FloatArray
    switched_s: FloatArray
    thawed_s: FloatArray


def heat_held(
    c: FloatArray, state: FloatArray, nodes: FloatArray, node_t: FloatArray, heads: FloatArray, stored: FloatArray
) -> float:
    """Heat in the box above 0 degC and, for heads, above flesh that has just thawed. [J]"""
    total = (c[at.AIR_KG] * at.CP_AIR + c[at.LINER_J_K]) * state[at.T]
    for n in range(node_t.shape[0]):
        total += nodes[n, at.N_J_K] * node_t[n]
    for k in range(stored.shape[0]):
        total += heads[k, at.H_KG] * stored[k]
    return float(total)


def water_held(c: FloatArray, state: FloatArray, wet: FloatArray) -> float:
    """Water in air, bedding, stone and on surfaces. [kg]"""
    return float(c[at.AIR_KG] * state[at.W] + c[at.BED_KG] * state[at.BED_KG_KG] + state[at.STONE_KG] + wet[:, at.WATER].sum())


def run_box(
    c: FloatArray, nodes: FloatArray, bed: int, stone: int, paths: FloatArray, around: FloatArray, heads: FloatArray,
    start: FloatArray, start_nodes: FloatArray, dt: float, *, trace_every: int = 0, traced: int = 0, switches: int = 0,
) -> Ran:  # fmt: skip
    """Run a box from a state over the hours it has surroundings for.

    Parameters
    ----------
    c : ndarray, shape (29,)
        From `layout.Constants`.
    nodes : ndarray, shape (n, 3)
        Heat capacity [J/K], conductance to the air [W/K] and share of the heater's power of each thing that stores heat.
    bed, stone : int
        Which of them is the bedding and which the bare stone; -1 for none.
    paths : ndarray, shape (p, 8)
        From `air.paths.path_numbers`.
    around : ndarray, shape (hours + 1, 5)
        Air of the building [degC], [kg/kg] at each full hour; heat [W], water [kg/s] and carbon dioxide [kg/s] in the hour after.
    heads : ndarray, shape (h, 6)
        Heads in the order of going in: when in and out [s], mass [kg], conductance [W/K], dew exchange [kg/s], temperature [degC].
    start, start_nodes : ndarray, shape (15,), (n,)
        The state and the nodes' temperatures.
    dt : float
        Step, a whole part of an hour. [s]
    trace_every, traced : int, optional
        A look at the box every so many steps, and how many looks.
    switches : int, optional
        How many of the heater's turns to note.

    Returns
    -------
    Ran
        Hours, state at the end, sums, looks and times.

    Notes
    -----
    The errors of the balances are what is held at the end, less what was held at first, less all that came in.
    """
    count, steps = heads.shape[0], round(at.HOUR_S / dt)
    state, node_t, near = start.copy(), start_nodes.copy(), np.full(NEAR, np.nan)
    near[FLOW] = near[LEAN] = near[BY_DUCT] = 0.0
    wet, stored = np.zeros((count + 1, at.WET)), np.zeros(count)
    wet[0, at.EXCHANGE], wet[0, at.WATER] = c[at.FILM_KG_S], state[at.FILM]
    own = nodes[:, at.N_J_K] / dt
    whole = np.column_stack([nodes, own, 1 / (own + nodes[:, at.N_W_K])])
    per = np.array([
        c[at.AIR_KG] / dt, (c[at.AIR_KG] * at.CP_AIR + c[at.LINER_J_K]) / dt,
        float((own * nodes[:, at.N_W_K] * whole[:, at.N_INVERSE]).sum()), 1 - nodes[:, at.N_RADIANT].sum(),
        c[at.BED_KG] / (c[at.BED_TAU_S] + dt), dt / (c[at.HEATER_LAG_S] + dt), dt / (c[at.FAN_LAG_S] + dt),
        float(around[:, at.A_CO2_KG_S].any() or state[at.CO2_KG_KG] != c[at.ROOM_CO2_KG_KG]),
    ])  # fmt: skip
    out, sums = np.zeros((around.shape[0] - 1, at.HOURLY)), np.zeros(at.TOTALS)
    trace, switched_s, thawed_s = np.zeros((traced, at.TRACE)), np.full(switches, np.nan), np.full(count, np.nan)
    heat, water = heat_held(c, state, nodes, node_t, heads, stored), water_held(c, state, wet)
    advance(
        c, per, whole, bed, stone, paths, around, heads, state, node_t, wet, stored, np.zeros(count, dtype=np.bool_), near,
        np.zeros(len(node_t)), np.array([0, -1, 0]), out, sums, dt, steps, trace_every, trace, switched_s, thawed_s,
    )  # fmt: skip
    sums[at.HEAT_ERROR] += heat_held(c, state, nodes, node_t, heads, stored) - heat
    sums[at.WATER_ERROR] += water_held(c, state, wet) - water
    return Ran(out, state, node_t, sums, trace, switched_s, thawed_s)
