"""From the description of a box to the numbers its loop takes."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bonebench.errors import OutsideRange
from bonebench.science.air.moist import FloatArray, humidity_ratio, pressure_at
from bonebench.science.air.paths import COLUMNS, path_numbers
from bonebench.science.enclosure import defaults as d
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.box import Box, Store, check_box, paver_area_m2, paver_conductance
from bonebench.science.enclosure.conductance import FILM_R, box_conductance, layered_u
from bonebench.science.enclosure.sorption import STONE_DEPTH_M, STONE_KG_KG, STONE_PERMEABILITY, wood_moisture_and_slope
from bonebench.science.enclosure.specimens import COLDEST_C, FLESH, WARMEST_C, HeadIn, head_conductance, melting_j_kg

# How far box or building may warm before air and saturation are worked out again; the year's heat moves by less than 1e-5.
REFRESH_K = 0.2
WOOD_J_KG_K = 1570.0  # at 9 % moisture and 300 K; Wood Handbook ch. 4, from memory
WATER_J_KG_K = 4180.0
# What shavings, pavers and heads leave of the room for air.
AIR_SHARE = 0.9


@dataclass(frozen=True, slots=True)
class Numbers:
    """What the loop takes of a box: constants, nodes with which is bedding and bare stone, and the ways of its air."""

    constants: at.Constants
    nodes: FloatArray
    bed: int
    stone: int
    paths: FloatArray


def conductance_w_k(box: Box) -> float:
    """Heat a box lets through, as measured or else by its layers.

    Parameters
    ----------
    box : Box
        The description.

    Returns
    -------
    float
        Conductance. [W/K]
    """
    if box.measured_w_k is not None:
        return box.measured_w_k
    lid = None if box.lid is None else layered_u([(layer.thickness_m, layer.conductivity_w_mk) for layer in box.lid])
    return box_conductance(
        box.inside_m, [(layer.thickness_m, layer.conductivity_w_mk) for layer in box.walls], lid_u=lid,
        window_m2=box.window.area_m2 if box.window else 0.0, window_u=box.window.u_w_m2k if box.window else d.WINDOW_U.value,
    )  # fmt: skip


def numbers_of(box: Box) -> Numbers:
    """Work out what the loop takes.

    Parameters
    ----------
    box : Box
        The description; it is checked.

    Returns
    -------
    Numbers
        Constants, nodes and paths.

    Raises
    ------
    OutsideRange, Impossible
        As `check_box`.
    """
    check_box(box)
    length, width, height = box.inside_m
    pressure = float(pressure_at(box.elevation_m))
    nodes, bed, stone, pore_kg, pore_kg_s = _nodes(box)
    wall_m2 = 2 * (length * width + length * height + width * height)
    wall_u = layered_u([(layer.thickness_m, layer.conductivity_w_mk) for layer in box.walls])
    film_m2, film_u = (box.window.area_m2, box.window.u_w_m2k) if box.window else (wall_m2, wall_u)
    heater, fan, air = box.heater, box.humidistat, box.measured_air_kg_s
    constants = at.Constants(
        air_kg=length * width * height * AIR_SHARE * pressure / (287.042 * 300),
        liner_j_k=box.liner_j_m2k * wall_m2,
        ua_w_k=conductance_w_k(box),
        pressure_pa=pressure,
        refresh_k=REFRESH_K,
        flow_off_kg_s=air[0] if air else -1.0,
        flow_on_kg_s=air[1] if air else -1.0,
        duct_w_k=d.DUCT_W_M2K.value * math.pi * box.duct.diameter_m * box.duct.length_m if box.duct else 0.0,
        film_kg_s=d.FILM_W_M2K.value / at.CP_AIR * film_m2,
        film_share=film_u * FILM_R.value,
        bed_kg=box.bedding.dry_kg if box.bedding else 0.0,
        bed_tau_s=box.bedding.tau_s if box.bedding else 0.0,
        pore_kg=pore_kg,
        pore_kg_s=pore_kg_s,
        heater_w=heater.power_w if heater else 0.0,
        heater_on_c=heater.set_c - heater.hysteresis_k / 2 if heater else 0.0,
        heater_off_c=heater.set_c + heater.hysteresis_k / 2 if heater else 0.0,
        heater_run_s=heater.least_run_s if heater else 0.0,
        heater_lag_s=heater.lag_s if heater else 0.0,
        fan_fitted=1.0 if fan else 0.0,
        fan_on_rh=fan.on_rh if fan else 1.0,
        fan_off_rh=fan.off_rh if fan else 0.0,
        fan_run_s=fan.least_run_s if fan else 0.0,
        fan_lag_s=fan.lag_s if fan else 0.0,
        frozen_j_kg_k=FLESH.frozen_j_kg_k,
        thawed_j_kg_k=FLESH.thawed_j_kg_k,
        melting_j_kg=melting_j_kg(FLESH),
        freezes_c=FLESH.freezing_point_c,
        room_co2_kg_kg=d.ROOM_CO2_PPM.value * 1e-6 * at.CO2_MOLE,
    )
    paths = path_numbers(box.holes, box.duct) if air is None else np.zeros((0, COLUMNS))
    return Numbers(constants, nodes, bed, stone, paths)


def _nodes(box: Box) -> tuple[FloatArray, int, int, float, float]:
    """Nodes, which are bedding and bare stone, and how much water that stone's skin holds and passes."""
    rows: list[list[float]] = []
    bed = stone = -1
    pore_kg = pore_kg_s = 0.0
    radiant = box.heater.radiant_share if box.heater else 0.0
    pavers_kg = sum(store.mass_kg for store in box.stores if store.kind == "pavers")
    if box.bedding is not None and box.bedding.dry_kg > 0:
        bed = 0
        floor = box.inside_m[0] * box.inside_m[1]
        heat = box.bedding.dry_kg * WOOD_J_KG_K
        rows.append([heat, d.BED_W_M2K.value * floor, radiant * d.SEEN_BED.value])
    for store in box.stores:
        if store.kind == "water":
            rows.append(water_node(store.mass_kg))
            continue
        takes = d.FOIL_TAKES.value if store.wrapped else 1.0
        seen = radiant * d.SEEN_STONE.value * takes * store.mass_kg / pavers_kg
        if not store.wrapped:
            stone = len(rows) if stone < 0 else stone
            more_kg, more_kg_s = _skin(store)
            pore_kg, pore_kg_s = pore_kg + more_kg, pore_kg_s + more_kg_s
        rows.append([store.mass_kg * d.STONE_J_KG_K.value, paver_conductance(store), seen])
    return np.array(rows, dtype=np.float64).reshape(-1, at.NODE), bed, stone, pore_kg, pore_kg_s


def water_node(mass_kg: float) -> list[float]:
    """A row of nodes for water in bottles. [kg] -> [J/K], [W/K], [1]"""
    return [mass_kg * WATER_J_KG_K, d.WATER_W_M2K.value * d.WATER_M2_L.value * mass_kg, 0.0]


def _skin(store: Store) -> tuple[float, float]:
    """Water the skin of bare stone holds for a degree of saturation of 1 [kg], and its exchange [kg/s for each kg/kg]."""
    area = paver_area_m2(store)
    half = STONE_DEPTH_M.value / 2
    # Vapour pressure is the ratio times p/0.622; half the skin's depth stands in the way.
    exchange = STONE_PERMEABILITY.value / half * area * 101_325.0 / 0.621945
    return area * STONE_DEPTH_M.value * d.STONE_KG_M3.value * STONE_KG_KG.value, exchange


def head_rows(heads: Sequence[HeadIn]) -> FloatArray:
    """Heads in the order of going in, as the loop takes them.

    Parameters
    ----------
    heads : sequence of HeadIn
        Heads that are put in.

    Returns
    -------
    ndarray, shape (n, 6)
        Columns of `layout`.

    Raises
    ------
    OutsideRange
        If a mass, a temperature or a time is out of range.
    """
    rows = []
    for head in sorted(heads, key=lambda each: (each.at_s, each.out_s, each.mass_kg)):
        if not COLDEST_C <= head.temperature_c <= WARMEST_C:
            raise OutsideRange(
                "enclosure.head_temperature", "a head goes in at {t:temperature}; it is {low:temperature} to {high:temperature}",
                t=head.temperature_c, low=COLDEST_C, high=WARMEST_C,
            )  # fmt: skip
        if head.at_s < 0 or head.out_s <= head.at_s:
            raise OutsideRange("enclosure.head_time", "a head comes out after it went in, and goes in after the run has begun")
        w_k, area = head_conductance(head.mass_kg)
        rows.append([head.at_s, head.out_s, head.mass_kg, w_k, d.FILM_W_M2K.value / at.CP_AIR * area, head.temperature_c])
    return np.array(rows, dtype=np.float64).reshape(-1, at.HEAD)


def start_state(numbers: Numbers, t_c: float, rh: float) -> FloatArray:
    """A state at rest: everything at one temperature and humidity, both switches off.

    Parameters
    ----------
    numbers : Numbers
        The box.
    t_c : float
        Temperature. [degC]
    rh : float
        Relative humidity, 0 to 1. [1]

    Returns
    -------
    ndarray, shape (15,)
        Columns of `layout`.
    """
    c, state = numbers.constants, np.zeros(at.STATE)
    state[at.T] = state[at.SENSED_T] = t_c
    state[at.W] = float(humidity_ratio(t_c, rh, c.pressure_pa))
    state[at.SENSED_RH] = rh
    state[at.BED_KG_KG] = wood_moisture_and_slope(t_c, rh)[0]
    state[at.STONE_KG] = c.pore_kg * state[at.W] / float(humidity_ratio(t_c, 1.0, c.pressure_pa))
    state[at.CO2_KG_KG] = c.room_co2_kg_kg
    return state
