"""What the compiled loop takes and gives: plain numbers and arrays under names, all in SI."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

BoolArray = npt.NDArray[np.bool_]
IntArray = npt.NDArray[np.int64]

CP_AIR = 1006.0
LATENT = 2.45e6
HOUR_S = 3600.0
LATCH_S = 3600.0
CO2_MOLE = 44.0095 / 28.966

# Columns of what the loop gives for each hour.
(
    T_MEAN, T_MIN, T_MAX, RH_MEAN, RH_MIN, RH_MAX, RATIO, HEATER, FAN, HEATER_STARTS, FAN_STARTS, AIR_KG_S, ON_GLASS_KG, IN_DUCT_KG,
    LATCH, BED, BED_C, STORE_C, FILM_KG, CO2, HEAD_C,
) = range(21)  # fmt: skip
HOURLY = 21
# The state of the box, in one array: what a run ends with is what the next begins with.
(
    T, W, SENSED_T, SENSED_RH, BED_KG_KG, STONE_KG, HEATER_ON, FAN_ON, HEATER_SINCE, FAN_SINCE, BOTH_SINCE, CARRY_W, CO2_KG_KG,
    GUESS_PA, FILM,
) = range(15)  # fmt: skip
STATE = 15
# Sums over the whole run.
HEAT_ERROR, WATER_ERROR, HEAT_THROUGH, WATER_THROUGH, SWITCHES, RAN_S = range(6)
TOTALS = 6
# Columns of the trace: the box at regular moments.
TRACE_T, TRACE_RH, TRACE_HEATER, TRACE_FAN, TRACE_RATIO, TRACE_HEAD = range(6)
TRACE = 6


class Constants(NamedTuple):
    """What does not change while a box runs. A mass, conductance or power of 0 switches its part off.

    ``liner_j_k`` is what warms with the air; ``refresh_k`` is how far the air may warm before its flow and saturation are worked
    out again (0: at every step); ``flow_off_kg_s``, ``flow_on_kg_s`` stand for the network where they are 0 or more. The loop takes
    it as an array with the columns below, in this order.
    """

    air_kg: float
    liner_j_k: float
    ua_w_k: float
    pressure_pa: float
    refresh_k: float
    flow_off_kg_s: float
    flow_on_kg_s: float
    duct_w_k: float
    film_kg_s: float
    film_share: float
    bed_kg: float
    bed_tau_s: float
    pore_kg: float
    pore_kg_s: float
    heater_w: float
    heater_on_c: float
    heater_off_c: float
    heater_run_s: float
    heater_lag_s: float
    fan_fitted: float
    fan_on_rh: float
    fan_off_rh: float
    fan_run_s: float
    fan_lag_s: float
    frozen_j_kg_k: float
    thawed_j_kg_k: float
    melting_j_kg: float
    freezes_c: float
    room_co2_kg_kg: float


(
    AIR_KG, LINER_J_K, UA_W_K, PRESSURE_PA, REFRESH_K, FLOW_OFF_KG_S, FLOW_ON_KG_S, DUCT_W_K, FILM_KG_S, FILM_SHARE, BED_KG,
    BED_TAU_S, PORE_KG, PORE_KG_S, HEATER_W, HEATER_ON_C, HEATER_OFF_C, HEATER_RUN_S, HEATER_LAG_S, FAN_FITTED, FAN_ON_RH,
    FAN_OFF_RH, FAN_RUN_S, FAN_LAG_S, FROZEN_J_KG_K, THAWED_J_KG_K, MELTING_J_KG, FREEZES_C, ROOM_CO2_KG_KG,
) = range(29)  # fmt: skip

# A thing that stores heat: bedding, pavers, water. Each hangs on the air alone, so their order does not matter. ``N_RADIANT`` is
# the share of the heater's power that falls on it. The last two follow from the length of a step.
N_J_K, N_W_K, N_RADIANT, N_OWN, N_INVERSE = range(5)
NODE = 3
# What follows from the length of a step.
AIR_PER_STEP, AIR_J_PER_STEP, NODES_W_K, LOOSE, BED_RATE, HEATER_FOLLOWS, FAN_FOLLOWS, HAS_CO2 = range(8)
# An hour round the box; air of the building has one row more than there are hours and runs straight between, the rest holds.
A_T, A_RATIO, A_HEAT_W, A_WATER_KG_S, A_CO2_KG_S = range(5)
AROUND = 5
# A head, in the order of going in.
H_IN_S, H_OUT_S, H_KG, H_W_K, H_DEW_KG_S, H_T = range(6)
HEAD = 6
# A wet surface: exchange [kg/s], saturated ratio at it, water on it [kg], flux onto it [kg/s], what becomes of it in this step.
EXCHANGE, SATURATED, WATER, FLUX, FATE = range(5)
WET = 5
