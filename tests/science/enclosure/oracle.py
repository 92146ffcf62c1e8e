"""The same box by scipy's `solve_ivp`: the equations written anew, every turn of a switch found as an event.

States: air temperature and ratio, bedding moisture, the nodes' temperatures, two sensors. No heads, no glass, no bare stone: those
have cases of their own. Only air flow, saturation and the isotherm are shared with the loop; each has its own outside checks.
"""

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from bonebench.science.air.network import air_change
from bonebench.science.air.scalar import density, saturation_pa
from bonebench.science.enclosure.layout import CP_AIR, LATENT
from bonebench.science.enclosure.numbers import Numbers
from bonebench.science.enclosure.sorption import wood_moisture
from bonebench.science.kernel import compiled


@compiled
def slopes(hour, y, out, c, nodes, paths, room, switches):
    """Rates for each second. c: see `constants_of`; room: hour of the first row, then per column two points of T, W, sources."""
    air_kg, air_j, ua, p, bed_kg, tau, lag_t, lag_rh, watts = c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8]
    k = min(int(hour), room.shape[0] - 2)
    share = hour - k
    tb, wb = room[k, 0] + share * (room[k + 1, 0] - room[k, 0]), room[k, 1] + share * (room[k + 1, 1] - room[k, 1])
    q, g = room[k, 2], room[k, 3]
    t, w, x = y[0], y[1], y[2]
    m = air_change(paths, density(t, p), density(tb, p), switches[1] > 0.0, 0.0)[0]
    vapour = p * w / (0.621945 + w)
    power = watts if switches[0] > 0.0 else 0.0
    from_bed = 0.0
    if bed_kg > 0.0:
        from_bed = bed_kg * (x - wood_moisture(y[3], min(1.0, vapour / saturation_pa(y[3])))) / tau
        out[2] = -from_bed / bed_kg
    else:
        out[2] = 0.0
    to_air = q - LATENT * g - (ua + m * CP_AIR) * (t - tb)
    rays = 0.0
    for n in range(nodes.shape[0]):
        flow = nodes[n, 1] * (t - y[3 + n])
        to_air -= flow
        rays += nodes[n, 2]
        out[3 + n] = (flow + power * nodes[n, 2] - (LATENT * from_bed if n == 0 and bed_kg > 0.0 else 0.0)) / nodes[n, 0]
    out[0] = (to_air + power * (1.0 - rays)) / air_j
    out[1] = (m * (wb - w) + g + from_bed) / air_kg
    last = 3 + nodes.shape[0]
    # A switch that is not there has no lag; its sensor then follows within a minute and turns nothing.
    lag_t, lag_rh = lag_t or 60.0, lag_rh or 60.0
    out[last] = (t - y[last]) / lag_t
    out[last + 1] = (vapour / saturation_pa(t) - y[last + 1]) / lag_rh


@dataclass
class Exact:
    """What the oracle finds: heater energy, fan hours, starts, and the state at the end of each hour."""

    heater_kwh: float
    fan_hours: float
    heater_starts: int
    fan_starts: int
    t_c: np.ndarray
    ratio: np.ndarray


def exact(numbers: Numbers, room: np.ndarray, y0: np.ndarray, hours: float, *, method="LSODA", rtol=1e-7, dense=True) -> Exact:
    """Integrate from one turn of a switch to the next."""
    c = numbers.constants
    packed = np.array([c.air_kg, c.air_kg * CP_AIR + c.liner_j_k, c.ua_w_k, c.pressure_pa, c.bed_kg, c.bed_tau_s, c.heater_lag_s,
                       c.fan_lag_s, c.heater_w])  # fmt: skip
    switches, out = np.zeros(2), np.zeros(len(y0))
    last = len(y0) - 2

    def rate(s, y):
        slopes(s / 3600.0, y, out, packed, numbers.nodes, numbers.paths, room, switches)
        return out.copy()

    def heater(s, y):
        return y[last] - (c.heater_off_c if switches[0] else c.heater_on_c) if c.heater_w else -1.0

    def fan(s, y):
        return y[last + 1] - (c.fan_off_rh if switches[1] else c.fan_on_rh) if c.fan_lag_s else -1.0

    heater.terminal = fan.terminal = True
    now, y, end = 0.0, y0.copy(), hours * 3600.0
    on_s, starts, fan_since = np.zeros(2), np.zeros(2, dtype=int), 1e9
    marks, t_c, ratio = np.arange(1, int(hours) + 1) * 3600.0, [], []
    while now < end - 1e-9:
        heater.direction, fan.direction = (1, -1)[int(not switches[0])], (-1, 1)[int(not switches[1])]
        held = switches[1] > 0 and c.fan_run_s - fan_since > 1e-6
        upto = min(end, now + c.fan_run_s - fan_since) if held else end
        found = solve_ivp(rate, (now, upto), y, method=method, rtol=rtol, atol=1e-10, max_step=900, dense_output=dense,
                          events=[heater] if held else [heater, fan])  # fmt: skip
        ended = found.status == 1
        which = next(n for n, at in enumerate(found.t_events) if len(at)) if ended else 0
        new, y = (found.t_events[which][0], found.y_events[which][0]) if ended else (upto, found.y[:, -1])
        looks = marks[(marks > now) & (marks <= new)]
        if dense and len(looks):
            seen = found.sol(looks)
            t_c += list(seen[0])
            ratio += list(seen[1])
        on_s += switches * (new - now)
        fan_since += new - now
        now = new
        if ended:
            switches[which] = 1 - switches[which]
            starts[which] += int(switches[which])
            fan_since = 0.0 if which == 1 else fan_since
        elif held and y[last + 1] <= c.fan_off_rh:
            switches[1], fan_since = 0.0, 0.0
    return Exact(c.heater_w * on_s[0] / 3.6e6, on_s[1] / 3600, starts[0], starts[1], np.array(t_c), np.array(ratio))


def room_of(t_c, ratio, heat_w, water_kg_s) -> np.ndarray:
    return np.column_stack([t_c, ratio, np.append(heat_w, 0.0), np.append(water_kg_s, 0.0)])


def begin(numbers: Numbers, t: float, ratio: float, bed: float, rh: float) -> np.ndarray:
    return np.array([t, ratio, bed, *[t] * len(numbers.nodes), t, rh])
