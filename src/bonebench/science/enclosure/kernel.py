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
from bonebench.science.enclosure.switches import turns_over
from bonebench.science.enclosure.vapour import (
    BY_DUCT,
    DUCT,
    FLOW,
    GLASS,
    KEY_FAN,
    KEY_ROOM,
    KEY_T,
    LEAN,
    NEAR,
    NEAR_AIR,
    PA_PER_K,
    bed_to_air,
    near_saturation,
    renew_air,
    renew_saturation,
    settle,
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
from bonebench.science.kernel import compiled, no_collecting


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

    Their columns stand in `layout`. Arrays are made outside: their making would cost more to compile than the loop. What changes
    at every step is held in plain variables, which go to the arrays at the end of an hour or of the run: a third faster.
    """
    count, pressure, refresh = heads.shape[0], c[at.PRESSURE_PA], c[at.REFRESH_K]
    air_kg_s, air_own, nodes_a, loose = per[at.AIR_PER_STEP], per[at.AIR_J_PER_STEP], per[at.NODES_W_K], per[at.LOOSE]
    ua, bed_kg, heater_w, film_share, bed_rate = c[at.UA_W_K], c[at.BED_KG], c[at.HEATER_W], c[at.FILM_SHARE], per[at.BED_RATE]
    t_follows, rh_follows = per[at.HEATER_FOLLOWS], per[at.FAN_FOLLOWS]
    t, w, bed_x, carry, both_s = state[at.T], state[at.W], state[at.BED_KG_KG], state[at.CARRY_W], state[at.BOTH_SINCE]
    heater_on, heater_s, sensed_t = state[at.HEATER_ON], state[at.HEATER_SINCE], state[at.SENSED_T]
    fan_on, fan_s, sensed_rh = state[at.FAN_ON], state[at.FAN_SINCE], state[at.SENSED_RH]
    heat_in, water_in, heat_through, water_through = 0.0, 0.0, 0.0, 0.0
    switches, traced, to_trace, done, now, lo, hi = 0, 0, 0, 0, 0.0, 0, -1
    renew_saturation(t, near, NEAR_AIR)
    vapour = pressure * w / (0.621945 + w)
    rh = vapour / near_saturation(t, near, NEAR_AIR)
    for hour in range(out.shape[0]):
        row = out[hour]
        tb0, wb0 = around[hour, at.A_T], around[hour, at.A_RATIO]
        tb_step, wb_step = (around[hour + 1, at.A_T] - tb0) / steps, (around[hour + 1, at.A_RATIO] - wb0) / steps
        q, g, co2 = around[hour, at.A_HEAT_W], around[hour, at.A_WATER_KG_S], around[hour, at.A_CO2_KG_S]
        sum_t, sum_rh, sum_w, sum_m, sum_heater, sum_fan, on_glass = 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        t_min, t_max, rh_min, rh_max, coldest = math.inf, -math.inf, math.inf, -math.inf, math.inf
        for step in range(steps):
            tb, wb = tb0 + (step + 0.5) * tb_step, wb0 + (step + 0.5) * wb_step
            if not (abs(t - near[KEY_T]) < refresh and abs(tb - near[KEY_ROOM]) < refresh and fan_on == near[KEY_FAN]):
                renew_air(c, state, near, paths, t, tb, fan_on)
                wet[0, at.SATURATED] = near[GLASS]
            m = near[FLOW] * (1.0 + near[LEAN] * (t - tb - near[KEY_T] + near[KEY_ROOM]))
            if count > 0:
                came_heat, came_water = come_and_go(c, heads, stored, inside, wet, window, now)
                heat_in += came_heat
                water_in += came_water
                lo, hi = window[0], window[1]
                find_dew(c, stored, inside, wet, lo, hi, t, rh)
            top, under = air_kg_s * w + m * wb + g, air_kg_s + m
            from_bed, from_stone, bed_slope, stone_slope, on_film = 0.0, 0.0, 0.0, 0.0, 0.0
            if bed_kg > 0.0:
                from_bed, bed_slope = bed_to_air(c, near, node_t[bed] if bed >= 0 else t, vapour, bed_x, bed_rate)
                from_bed += bed_slope * w
            if c[at.PORE_KG] > 0.0:
                from_stone, stone_slope = stone_to_air(c, state, near, node_t[stone] if stone >= 0 else t, dt)
            top, under = top + from_bed + from_stone, under + bed_slope + stone_slope
            if lo <= hi or wet[0, at.WATER] > 0.0 or w > wet[0, at.SATURATED]:
                new_w = settle(top, under, w, dt, wet, lo + 1, hi + 1)
                on_film = wet[0, at.FLUX]
            else:
                new_w = top / under
            from_bed -= bed_slope * new_w
            from_stone -= stone_slope * new_w
            if bed_kg > 0.0:
                bed_x -= from_bed * dt / bed_kg
            state[at.STONE_KG] -= from_stone * dt
            water_in += (m * (wb - new_w) + g) * dt
            water_through += (m * (wb + new_w) + abs(g)) * dt

            # What evaporates takes its heat from where it lay; of what settles on glass a share goes out through it.
            power = heater_w * heater_on
            through_film = at.LATENT * film_share * on_film
            to_air = power * loose + q + carry - at.LATENT * (g - on_film) - through_film
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
            leaves = ua + m * at.CP_AIR
            t = (air_own * t + leaves * tb + to_air + nodes_b + heads_b) / (air_own + leaves + nodes_a + heads_a)
            warm_nodes(nodes, node_t, gets, t)
            if lo <= hi:
                cold, dew = warm_heads(c, heads, stored, inside, wet, lo, hi, t, now, dt, thawed_s)
                coldest = min(coldest, cold)
            lost = leaves * (t - tb)
            to_vapour = at.LATENT * (g + from_bed + from_stone - on_film - dew)
            heat_in += (power + q + carry - to_vapour - through_film - lost) * dt
            heat_through += (power + abs(q) + abs(lost) + abs(through_film)) * dt

            if not abs(t - near[NEAR_AIR]) < refresh:
                renew_saturation(t, near, NEAR_AIR)
            psat = near_saturation(t, near, NEAR_AIR)
            w, carry = new_w, 0.0
            if w * (pressure - psat) > 0.621945 * psat:
                # What the air cannot hold falls onto what is there; its heat goes to the next step.
                w = 0.621945 * psat / (pressure - psat)
                fog = (new_w - w) * c[at.AIR_KG]
                wet[0, at.WATER] += fog
                on_glass += fog
                carry = at.LATENT * fog / dt
            vapour = pressure * w / (0.621945 + w)
            rh = min(1.0, vapour / psat)
            if per[at.HAS_CO2] > 0.0:
                state[at.CO2_KG_KG] = (air_kg_s * state[at.CO2_KG_KG] + m * c[at.ROOM_CO2_KG_KG] + co2) / (air_kg_s + m)

            sum_t, sum_rh, sum_w, sum_m = sum_t + t, sum_rh + rh, sum_w + w, sum_m + m
            sum_heater, sum_fan = sum_heater + heater_on, sum_fan + fan_on
            t_min, t_max, rh_min, rh_max = min(t_min, t), max(t_max, t), min(rh_min, rh), max(rh_max, rh)
            on_glass += max(on_film, 0.0) * dt
            if w > near[DUCT]:
                row[at.IN_DUCT_KG] += near[BY_DUCT] * (w - near[DUCT]) * dt
            if heater_on * fan_on > 0.0:
                before, both_s = both_s, both_s + dt
                if before >= at.LATCH_S:
                    row[at.LATCH] += dt
                elif both_s >= at.LATCH_S:
                    row[at.LATCH] += both_s
            else:
                both_s = 0.0
            done += 1
            now = done * dt
            sensed_t += t_follows * (t - sensed_t)
            sensed_rh += rh_follows * (rh - sensed_rh)
            heater_s += dt
            fan_s += dt
            if heater_w > 0.0 and turns_over(
                heater_on, sensed_t, c[at.HEATER_ON_C], c[at.HEATER_OFF_C], heater_s, c[at.HEATER_RUN_S]
            ):
                heater_on, heater_s = 1.0 - heater_on, 0.0
                row[at.HEATER_STARTS] += heater_on
                if switches < switched_s.shape[0]:
                    switched_s[switches] = now
                switches += 1
            # The fan brings the humidity down as the heater brings the temperature up: the same switch, upside down.
            if c[at.FAN_FITTED] > 0.0 and turns_over(
                fan_on, -sensed_rh, -c[at.FAN_ON_RH], -c[at.FAN_OFF_RH], fan_s, c[at.FAN_RUN_S]
            ):
                fan_on, fan_s = 1.0 - fan_on, 0.0
                row[at.FAN_STARTS] += fan_on
            to_trace += 1
            if to_trace == trace_every and traced < trace.shape[0]:
                trace[traced, at.TRACE_T], trace[traced, at.TRACE_RH], trace[traced, at.TRACE_RATIO] = t, rh, w
                trace[traced, at.TRACE_HEATER], trace[traced, at.TRACE_FAN] = heater_on, fan_on
                trace[traced, at.TRACE_HEAD] = cold if cold < math.inf else math.nan
                traced += 1
                to_trace = 0
        row[at.T_MEAN], row[at.RH_MEAN], row[at.RATIO] = sum_t / steps, sum_rh / steps, sum_w / steps
        row[at.AIR_KG_S], row[at.HEATER], row[at.FAN] = sum_m / steps, sum_heater / steps, sum_fan / steps
        row[at.T_MIN], row[at.T_MAX], row[at.RH_MIN], row[at.RH_MAX] = t_min, t_max, rh_min, rh_max
        row[at.ON_GLASS_KG], row[at.FILM_KG], row[at.BED], row[at.CO2] = on_glass, wet[0, at.WATER], bed_x, state[at.CO2_KG_KG]
        row[at.BED_C] = node_t[bed] if bed >= 0 else t
        store = 1 if bed == 0 else 0
        row[at.STORE_C] = node_t[store] if store < node_t.shape[0] else math.nan
        row[at.HEAD_C] = coldest if coldest < math.inf else math.nan
    state[at.T], state[at.W], state[at.BED_KG_KG], state[at.CARRY_W], state[at.BOTH_SINCE] = t, w, bed_x, carry, both_s
    state[at.HEATER_ON], state[at.HEATER_SINCE], state[at.SENSED_T] = heater_on, heater_s, sensed_t
    state[at.FAN_ON], state[at.FAN_SINCE], state[at.SENSED_RH], state[at.FILM] = fan_on, fan_s, sensed_rh, wet[0, at.WATER]
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
    near[FLOW] = near[LEAN] = near[BY_DUCT] = near[PA_PER_K] = 0.0
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
    with no_collecting():
        advance(
            c, per, whole, bed, stone, paths, around, heads, state, node_t, wet, stored, np.zeros(count, dtype=np.bool_), near,
            np.zeros(len(node_t)), np.array([0, -1, 0]), out, sums, dt, steps, trace_every, trace, switched_s, thawed_s,
        )  # fmt: skip
    sums[at.HEAT_ERROR] += heat_held(c, state, nodes, node_t, heads, stored) - heat
    sums[at.WATER_ERROR] += water_held(c, state, wet) - water
    return Ran(out, state, node_t, sums, trace, switched_s, thawed_s)
