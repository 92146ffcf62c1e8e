"""A building through hours of weather: its air, its fabric, its heater, and what a flame leaves in the air."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bonebench.errors import OutsideRange
from bonebench.science.air.moist import FloatArray, humidity_ratio
from bonebench.science.air.scalar import saturated_ratio
from bonebench.science.building.building import (
    INSIDE_W_M2K,
    OUTSIDE_W_M2K,
    STACK,
    WIND,
    Building,
    check_building,
)
from bonebench.science.building.fuel import HIGHER_J_KG
from bonebench.science.enclosure.fuel import CO2_KG_KG, WATER_KG_KG
from bonebench.science.kernel import compiled
from bonebench.science.weather import Weather, month_of_hour, on_surface, sol_air_c, sun_position
from bonebench.science.weather.hours import YEAR_HOURS

STEP_S, STEPS = 10.0, 360  # an hour
CP_AIR, AIR_KG_M3, MOLE = 1006.0, 1.2, 44.0095 / 28.966
OUTDOOR_CO2 = 420e-6 * MOLE  # kg/kg
SOFT_HOURS = 24 * 5  # the first days are run twice, so that the fabric does not begin with an invented warmth
(T, FABRIC, W, CO2, ON) = range(5)


@compiled
def advance(c: FloatArray, sol: FloatArray, out_c: FloatArray, out_w: FloatArray, wind: FloatArray, gain_w: FloatArray,
            water: FloatArray, state: FloatArray, rows: FloatArray) -> None:  # fmt: skip
    """Carry a building through hours in steps of ten seconds; air and fabric forward implicitly, each flux given once.

    c: UA from outside to fabric [W/K], fabric to air [W/K], UA that passes the fabric [W/K], heat of air and of fabric [J/K], air
    [kg], leakage [cm2], its wind factor, heater [W], on and off [degC], pressure [Pa], water and CO2 for each joule [kg/J].
    Rows: mean air [degC], its ratio at the end, heater [s], air change [kg/s], CO2 at the end [kg/kg], fabric [degC].
    """
    ua_f, ua_i, ua_p, air_j, fab_j, air_kg, leak, windy, heater_w, on_c, off_c, pressure, wet_j, gas_j = (
        c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8], c[9], c[10], c[11], c[12], c[13],
    )  # fmt: skip
    steps = STEPS
    for hour in range(rows.shape[0]):
        t_sum, on_s, m_sum = 0.0, 0.0, 0.0
        for step in range(steps):
            share = (step + 0.5) / steps
            t_o = out_c[hour] + share * (out_c[hour + 1] - out_c[hour])
            w_o = out_w[hour] + share * (out_w[hour + 1] - out_w[hour])
            t_s = sol[hour] + share * (sol[hour + 1] - sol[hour])
            m = AIR_KG_M3 / 1000.0 * leak * math.sqrt(STACK * abs(state[0] - t_o) + windy * wind[hour] * wind[hour])
            power = heater_w * state[4]
            # Fabric out of the way: T_f = (C_f/dt T_f + UA_f T_s + UA_i T) / (C_f/dt + UA_f + UA_i).
            own_f = fab_j / STEP_S
            under_f = own_f + ua_f + ua_i
            lead = ua_i * (own_f * state[1] + ua_f * t_s) / under_f if under_f > 0.0 else 0.0
            pull = ua_i - ua_i * ua_i / under_f if under_f > 0.0 else 0.0
            own = air_j / STEP_S
            leaves = ua_p + m * CP_AIR
            new_t = (own * state[0] + leaves * t_o + lead + power + gain_w[hour]) / (own + leaves + pull)
            if under_f > 0.0:
                state[1] = (own_f * state[1] + ua_f * t_s + ua_i * new_t) / under_f
            state[0] = new_t
            burnt = power * wet_j
            state[2] = (air_kg * state[2] + STEP_S * (m * w_o + burnt + water[hour])) / (air_kg + STEP_S * m)
            full = saturated_ratio(new_t, pressure)
            state[2] = min(state[2], full)  # the rest lies on the coldest face
            state[3] = (air_kg * state[3] + STEP_S * (m * OUTDOOR_CO2 + power * gas_j)) / (air_kg + STEP_S * m)
            if state[4] > 0.0:
                on_s += STEP_S
                if new_t >= off_c:
                    state[4] = 0.0
            elif new_t <= on_c:
                state[4] = 1.0
            t_sum += new_t
            m_sum += m
        rows[hour, 0], rows[hour, 1], rows[hour, 2] = t_sum / steps, state[2], on_s
        rows[hour, 3], rows[hour, 4], rows[hour, 5] = m_sum / steps, state[3], state[1]


@dataclass(frozen=True, slots=True)
class BuildingMonth:
    """A month of a building, or the whole run (month 0).

    Attributes
    ----------
    month, hours : int
        Month and its hours.
    t_mean_c, t_min_c, t_max_c : float
        Hourly means of its air. [degC]
    heater_kwh, heater_share : float
        Heat of its heater, and how much of the time it ran. [kWh], [1]
    propane_kg : float
        What a flame burnt. [kg]
    co2_max_ppm : float
        Highest carbon dioxide. [ppm]
    """

    month: int
    hours: int
    t_mean_c: float
    t_min_c: float
    t_max_c: float
    heater_kwh: float
    heater_share: float
    propane_kg: float
    co2_max_ppm: float


@dataclass(frozen=True, slots=True)
class BuildingYear:
    """A building through hours.

    Attributes
    ----------
    t_c, ratio : ndarray, shape (n + 1,)
        Its air at the full hours, as `around_box` takes it. [degC], [kg/kg]
    heater_w, air_kg_s, co2_ppm : ndarray, shape (n,)
        Mean heat of its heater, outdoor air that leaks in, carbon dioxide at the hour's end. [W], [kg/s], [ppm]
    months : list of BuildingMonth
        Months it touches.
    whole : BuildingMonth
        The whole run.
    """

    t_c: FloatArray
    ratio: FloatArray
    heater_w: FloatArray
    air_kg_s: FloatArray
    co2_ppm: FloatArray
    months: list[BuildingMonth]
    whole: BuildingMonth


def sunlit_c(building: Building, weather: Weather) -> FloatArray:
    """Sol-air temperature of walls and roof together, by their conductance.

    Parameters
    ----------
    building : Building
        Its long walls face north and south.
    weather : Weather
        Hours.

    Returns
    -------
    ndarray, shape (n,)
        Temperature. [degC]
    """
    middle: FloatArray = ((weather.first_hour + np.arange(weather.hours) + 0.5) % YEAR_HOURS).astype(np.float64)
    sun = (weather.beam_w_m2, weather.diffuse_w_m2)
    altitude, bearing = sun_position(middle, weather.place)
    length, width, height = building.inside_m
    walls = [(0.0, length), (180.0, length), (90.0, width), (270.0, width)]
    parts = [
        (on_surface(*sun, altitude, bearing, tilt_deg=90.0, faces_deg=face), side * height / building.wall_r, 0.0)
        for face, side in walls
    ]  # fmt: skip
    roof = on_surface(*sun, altitude, bearing, tilt_deg=0.0, faces_deg=180.0)
    parts.append((roof, building.floor_m2 / building.roof_r, building.sky_loss_k))
    total = sum(ua for _, ua, _ in parts)
    warm: FloatArray = np.zeros(weather.hours)
    for light, ua, sky in parts:
        warm += ua / total * sol_air_c(
            weather.temperature_c, light, absorbed=building.absorbed, film_w_m2k=OUTSIDE_W_M2K.value, sky_loss_k=sky
        )  # fmt: skip
    return warm


def through(building: Building, weather: Weather, *, gain_w: npt.ArrayLike = 50.0, water_kg_s: npt.ArrayLike = 0.0) -> BuildingYear:
    """Take a building through hours of weather.

    Parameters
    ----------
    building : Building
        The description.
    weather : Weather
        Hours without gaps.
    gain_w, water_kg_s : array_like, optional
        What the box and people give the room: one value or one an hour. [W], [kg/s]

    Returns
    -------
    BuildingYear
        Its air, its heater, what it burnt.

    Raises
    ------
    OutsideRange, Impossible
        If the building cannot be, or the weather has gaps.

    Notes
    -----
    Two nodes: air, and fabric between outside and air. The floor's edge passes the fabric and meets outdoor air (the ground's own
    warmth is left out, which is on the safe side in winter). Water beyond saturation lies on the coldest face and is gone.
    """
    check_building(building)
    n = weather.hours
    if not all(np.isfinite(series).all() for series in (weather.temperature_c, weather.dew_point_c, weather.wind_m_s)):
        raise OutsideRange("building.weather", "the weather has a gap; fill it or choose hours without one")
    pressure = float(np.mean(weather.pressure_pa))
    out_w = humidity_ratio(weather.dew_point_c, 1.0, pressure)
    ua_sun = building.walls_m2 / building.wall_r + building.floor_m2 / building.roof_r
    inner = INSIDE_W_M2K.value * (building.walls_m2 + building.floor_m2)
    # Outside to fabric and on to the air in a row are the whole conductance of walls and roof.
    ua_f = ua_sun * inner / max(inner - ua_sun, 0.05 * inner)
    volume = math.prod(building.inside_m)
    flame = building.flame
    each = 1 / (HIGHER_J_KG * flame.sensible_share) if flame else 0.0
    c = np.array([
        ua_f, inner, building.floor_w_mk * building.edge_m, volume * AIR_KG_M3 * CP_AIR, building.fabric_j_k, volume * AIR_KG_M3,
        building.leakage_cm2, WIND[building.shelter - 1], building.heater_w, building.set_c - building.hysteresis_k / 2,
        building.set_c + building.hysteresis_k / 2, pressure,
        each * WATER_KG_KG if flame and flame.unvented else 0.0, each * CO2_KG_KG if flame and flame.unvented else 0.0,
    ])  # fmt: skip
    gains, wet = (np.broadcast_to(np.asarray(values, dtype=np.float64), (n,)).copy() for values in (gain_w, water_kg_s))
    sun, air, water = (np.append(values, values[-1]) for values in (sunlit_c(building, weather), weather.temperature_c, out_w))
    begin = max(float(weather.temperature_c[0]), building.set_c if building.heater_w else -90.0)
    state, rows = np.array([begin, begin, float(out_w[0]), OUTDOOR_CO2, 0.0]), np.zeros((n, 6))
    soft = min(n, SOFT_HOURS)
    advance(c, sun, air, water, weather.wind_m_s, gains, wet, state, rows[:soft])
    t0, w0 = state[T], state[W]
    advance(c, sun, air, water, weather.wind_m_s, gains, wet, state, rows)
    return _told(weather, rows, (t0, w0), building, each)


def _told(weather: Weather, rows: FloatArray, begin: tuple[float, float], building: Building, kg_j: float) -> BuildingYear:
    heat = building.heater_w * rows[:, 2] / 3600.0
    middle = np.concatenate([[rows[0, 0]], (rows[:-1, 0] + rows[1:, 0]) / 2, [rows[-1, 0]]])
    ppm = rows[:, 4] / MOLE * 1e6
    which = month_of_hour((weather.first_hour + np.arange(len(rows))) % YEAR_HOURS)

    def month(n: int, chosen: "npt.NDArray[np.bool_]") -> BuildingMonth:
        t = rows[chosen, 0]
        return BuildingMonth(
            n, int(chosen.sum()), float(t.mean()), float(t.min()), float(t.max()), float(heat[chosen].sum()) / 1000,
            float(rows[chosen, 2].mean()) / 3600, float(heat[chosen].sum()) * 3600 * kg_j, float(ppm[chosen].max()),
        )  # fmt: skip

    months = [month(int(n), which == n) for n in _in_order(which)]
    ratio = np.minimum(np.concatenate([[begin[1]], rows[:, 1]]), humidity_ratio(middle, 1.0, float(np.mean(weather.pressure_pa))))
    return BuildingYear(middle, ratio, heat, rows[:, 3], ppm, months, month(0, np.ones(len(rows), dtype=np.bool_)))


def _in_order(months: "npt.NDArray[np.int64]") -> Sequence[int]:
    return list(dict.fromkeys(int(n) for n in months))
