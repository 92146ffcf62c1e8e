"""One step of the box, part two, compiled: what its heat does, and the heads that come and go."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import math

from bonebench.science.air.moist import FloatArray
from bonebench.science.air.scalar import saturated_ratio
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.layout import BoolArray, IntArray
from bonebench.science.enclosure.specimens import capacity_at, heat_of, temperature_of
from bonebench.science.kernel import compiled

# A head this close to the air cannot be below its dew point while the air is drier than this: saturation falls 6.5 % a degree.
CLOSE_K, DRIER_THAN = 0.4, 0.95


@compiled
def head_temperature(c: FloatArray, stored: float) -> float:
    """Temperature of a head by its heat. [J/kg] -> [degC]"""
    return temperature_of(stored, c[at.FROZEN_J_KG_K], c[at.THAWED_J_KG_K], c[at.MELTING_J_KG], c[at.FREEZES_C])


@compiled
def come_and_go(
    c: FloatArray, heads: FloatArray, stored: FloatArray, inside: BoolArray, wet: FloatArray, window: IntArray, now: float
) -> tuple[float, float]:
    """Put in the heads that are due and take out those that are done; the heat and water that came with them. [J], [kg]

    ``window`` holds the first and last head that may be in and the next that is due.
    """
    heat, water = 0.0, 0.0
    while window[2] < heads.shape[0] and heads[window[2], at.H_IN_S] <= now:
        k = window[2]
        stored[k] = heat_of(heads[k, at.H_T], c[at.FROZEN_J_KG_K], c[at.THAWED_J_KG_K], c[at.MELTING_J_KG], c[at.FREEZES_C])
        heat += heads[k, at.H_KG] * stored[k]
        wet[k + 1, at.EXCHANGE], inside[k] = heads[k, at.H_DEW_KG_S], True
        window[1], window[2] = k, k + 1
    for k in range(window[0], window[1] + 1):
        if inside[k] and now >= heads[k, at.H_OUT_S]:
            heat -= heads[k, at.H_KG] * stored[k]
            water -= wet[k + 1, at.WATER]
            stored[k], wet[k + 1, at.EXCHANGE], wet[k + 1, at.WATER], inside[k] = 0.0, 0.0, 0.0, False
    while window[0] <= window[1] and not inside[window[0]]:
        window[0] += 1
    return heat, water


@compiled
def find_dew(
    c: FloatArray, stored: FloatArray, inside: BoolArray, wet: FloatArray, lo: int, hi: int, air_t: float, rh: float
) -> None:
    """Work out at which ratio dew falls on each head that is in."""
    for k in range(lo, hi + 1):
        if inside[k]:
            t = head_temperature(c, stored[k])
            clear = wet[k + 1, at.WATER] == 0.0 and t > air_t - CLOSE_K and rh < DRIER_THAN
            wet[k + 1, at.SATURATED] = math.inf if clear else saturated_ratio(t, c[at.PRESSURE_PA])


@compiled
def head_part(c: FloatArray, heads: FloatArray, stored: FloatArray, k: int, dt: float) -> tuple[float, float]:
    """Temperature of a head and what its own heat weighs against a step's. [degC], [W/K]"""
    t = head_temperature(c, stored[k])
    own = capacity_at(t, stored[k], c[at.FROZEN_J_KG_K], c[at.THAWED_J_KG_K], c[at.MELTING_J_KG], c[at.FREEZES_C])
    return t, heads[k, at.H_KG] * own / dt


@compiled
def heads_in_air(
    c: FloatArray, heads: FloatArray, stored: FloatArray, inside: BoolArray, wet: FloatArray, lo: int, hi: int, dt: float
) -> tuple[float, float]:
    """What the heads add to the two sides of the balance of the air. [W/K], [W]"""
    a, b = 0.0, 0.0
    for k in range(lo, hi + 1):
        if inside[k]:
            t, own = head_part(c, heads, stored, k, dt)
            part = heads[k, at.H_W_K] / (own + heads[k, at.H_W_K])
            a += own * part
            b += part * (own * t + at.LATENT * wet[k + 1, at.FLUX])
    return a, b


@compiled
def warm_heads(
    c: FloatArray, heads: FloatArray, stored: FloatArray, inside: BoolArray, wet: FloatArray, lo: int, hi: int, air_t: float,
    now: float, dt: float, thawed_s: FloatArray,
) -> tuple[float, float]:  # fmt: skip
    """Give the heads their heat and note which have just thawed; the coldest, and the dew they all took. [degC], [kg/s]"""
    cold, dew = math.inf, 0.0
    for k in range(lo, hi + 1):
        if inside[k]:
            was = stored[k]
            t, own = head_part(c, heads, stored, k, dt)
            latent, w_k = at.LATENT * wet[k + 1, at.FLUX], heads[k, at.H_W_K]
            after = (own * t + w_k * air_t + latent) / (own + w_k)
            stored[k] += (w_k * (air_t - after) + latent) * dt / heads[k, at.H_KG]
            if was < 0.0 <= stored[k]:
                thawed_s[k] = now + dt * was / (was - stored[k])
            cold = min(cold, t)
            dew += wet[k + 1, at.FLUX]
    return cold, dew


@compiled
def nodes_in_air(nodes: FloatArray, node_t: FloatArray, gets: FloatArray, power: float) -> float:
    """What the nodes add to the balance of the air; ``gets`` comes with other heat and leaves as their right-hand sides. [W]"""
    b = 0.0
    for n in range(node_t.shape[0]):
        gets[n] += nodes[n, at.N_OWN] * node_t[n] + power * nodes[n, at.N_RADIANT]
        b += nodes[n, at.N_W_K] * nodes[n, at.N_INVERSE] * gets[n]
    return b


@compiled
def warm_nodes(nodes: FloatArray, node_t: FloatArray, gets: FloatArray, air_t: float) -> None:
    """Temperatures of the nodes after the step."""
    for n in range(node_t.shape[0]):
        node_t[n] = (gets[n] + nodes[n, at.N_W_K] * air_t) * nodes[n, at.N_INVERSE]
        gets[n] = 0.0
