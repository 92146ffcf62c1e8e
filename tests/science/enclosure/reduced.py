"""The production loop set up as a reduced case: every part that is not asked for is switched off."""

import csv
import json
from pathlib import Path

import numpy as np

from bonebench.science.air.moist import humidity_ratio
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.kernel import Ran, run_box

DATA = Path(__file__).parents[2] / "data"

NOTHING = at.Constants(
    air_kg=1.0, liner_j_k=0.0, ua_w_k=0.0, pressure_pa=101_325.0, refresh_k=0.0, flow_off_kg_s=0.0, flow_on_kg_s=0.0, duct_w_k=0.0,
    film_kg_s=0.0, film_share=0.0, bed_kg=0.0, bed_tau_s=0.0, pore_kg=0.0, pore_kg_s=0.0, heater_w=0.0, heater_on_c=0.0,
    heater_off_c=0.0, heater_run_s=0.0, heater_lag_s=0.0, fan_fitted=0.0, fan_on_rh=1.0, fan_off_rh=0.0, fan_run_s=0.0,
    fan_lag_s=0.0, frozen_j_kg_k=1646.4, thawed_j_kg_k=2984.0, melting_j_kg=210e3, freezes_c=-1.7, room_co2_kg_kg=6e-4,
)  # fmt: skip


def only(**parts: float) -> at.Constants:
    return NOTHING._replace(**parts)


def with_heat_capacity(j_k: float, **parts: float) -> at.Constants:
    """A box whose air and liner together hold so much heat; its air weighs a gram."""
    return only(air_kg=1e-3, liner_j_k=j_k - 1e-3 * at.CP_AIR, **parts)


def run(
    c: at.Constants, *, hours: int, dt: float, t: float, room_c=5.0, room_ratio=0.004, ratio: float | None = None, nodes=(),
    node_t=(), bed: int = -1, stone: int = -1, heads=(), heat_w=0.0, water_kg_s=0.0, bed_kg_kg: float = 0.0, stone_kg: float = 0.0,
    heater=False, fan=False, paths=None, trace_every: int = 0, traced: int = 0, switches: int = 0,
) -> Ran:  # fmt: skip
    state = np.zeros(at.STATE)
    state[at.T] = state[at.SENSED_T] = t
    state[at.W] = room_ratio if ratio is None else ratio
    state[at.BED_KG_KG], state[at.STONE_KG], state[at.HEATER_ON], state[at.FAN_ON] = bed_kg_kg, stone_kg, float(heater), float(fan)
    state[at.CO2_KG_KG] = c.room_co2_kg_kg
    state[at.SENSED_RH] = 0.5
    around = np.zeros((hours + 1, at.AROUND))
    around[:, at.A_T], around[:, at.A_RATIO], around[:, at.A_HEAT_W], around[:, at.A_WATER_KG_S] = (
        room_c,
        room_ratio,
        heat_w,
        water_kg_s,
    )
    return run_box(
        np.array(c), np.array(nodes, dtype=float).reshape(-1, at.NODE), bed, stone, np.zeros((0, 8)) if paths is None else paths,
        around, np.array(heads, dtype=float).reshape(-1, at.HEAD), state, np.array(node_t, dtype=float), dt,
        trace_every=trace_every, traced=traced, switches=switches,
    )  # fmt: skip


def saturated(t: float) -> float:
    return float(humidity_ratio(t, 1.0))


def cases(*starts: str) -> list:
    """Rows of the worked cases whose names begin so; inputs that are left out are those of the line above."""
    lines = [line for line in (DATA / "physics_cases.csv").read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    found, inputs, number = [], {}, ""
    for row in csv.DictReader(lines):
        given = json.loads(row["inputs_json"] or "{}")
        # A line without inputs, or one that names two at most ("the same, but"), goes on from the line above.
        inputs = {**inputs, **given} if len(given) <= 2 else given
        number = row["case"]
        if number.startswith(starts):
            found.append((number, row["output"], dict(inputs), row["expected"], row["rel_tol"]))
    return found


def tolerance(text: str) -> dict[str, float]:
    return {"abs": float(text[4:]), "rel": 0.0} if text.startswith("abs ") else {"rel": float(text), "abs": 1e-12}
