"""How long a year of the box takes, and how that compares with scipy on the same equations: `python benchmarks/enclosure.py`.

One run on one core. The peer is LSODA with events and a compiled right-hand side for a week, times 52. The first call is timed in a
process of its own with an empty cache.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from time import perf_counter

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.science.enclosure.oracle import begin, exact, room_of

from bonebench.science.enclosure import (
    Box,
    Duct,
    HeadIn,
    Heater,
    Holes,
    Humidistat,
    Store,
    around_box,
    numbers_of,
    simulate,
    start_at,
)
from bonebench.science.enclosure import layout as at

BOX = Box(
    (1.2, 0.65, 0.8),
    holes=(Holes(2, 0.0254, 0.05), Holes(2, 0.0254, 0.45)),
    duct=Duct(0.1, 2.0, 0.5, 2.0, 0.0, True, 0.0175, 12.0),
    heater=Heater(100.0),
    humidistat=Humidistat(),
    stores=(Store("pavers", 40.0),),
)
HOURS = np.arange(8761)
ROOM_C = 9 - 7 * np.cos(2 * np.pi * HOURS / 8760) + 3 * np.sin(2 * np.pi * HOURS / 24)
WATER = 12 / 3.6e6
YEAR_S, AIM_S, FIRST_S, TIMES = 0.8, 0.5, 5.0, 100.0


def year(hours: int = 8760):
    return around_box(hours, t_c=ROOM_C[: hours + 1], rh=0.8, heat_w=2.0, water_kg_s=WATER)


def best(ask, count: int = 5) -> float:
    took = []
    for _ in range(count):
        begun = perf_counter()
        ask()
        took.append(perf_counter() - begun)
    return min(took)


def first_call() -> float:
    code = (
        "import sys, time; sys.path.insert(0, 'benchmarks'); begun = time.perf_counter(); import enclosure as e; "
        "e.simulate(e.BOX, e.year(24)); print(time.perf_counter() - begun)"
    )
    with tempfile.TemporaryDirectory() as folder:
        env = {**os.environ, "BONEBENCH_CACHE": folder}
        root = Path(__file__).parents[1]
        cold, kept = (
            subprocess.run([sys.executable, "-c", code], cwd=root, env=env, capture_output=True, text=True, check=True).stdout
            for _ in range(2)
        )
    print(f"first call     {float(cold):6.2f} s with nothing kept (goal {FIRST_S}), {float(kept):.2f} s from kept code")
    return float(cold)


def main() -> None:
    first_call()
    around = year()
    simulate(BOX, around)
    alone = best(lambda: simulate(BOX, around))
    heads = [HeadIn(86400 * 3.6 * k, 0.35, -18.0, 86400 * (3.6 * k + 7)) for k in range(100)]
    print(f"year at 10 s   {alone:6.2f} s (goal {YEAR_S}, aim {AIM_S})")
    print(f"with 100 heads {best(lambda: simulate(BOX, around, heads=heads), 3):6.2f} s")
    week, numbers, start = year(168), numbers_of(BOX), start_at(BOX)
    room = room_of(week.t_c, week.ratio, week.heat_w, week.water_kg_s)
    y0 = begin(numbers, start.state[at.T], start.state[at.W], start.state[at.BED_KG_KG], start.state[at.SENSED_RH])
    exact(numbers, room, y0, 1, rtol=1e-6, dense=False)
    begun = perf_counter()
    peer = exact(numbers, room, y0, 168, rtol=1e-6, dense=False)
    scaled = (perf_counter() - begun) * 8760 / 168
    ours = simulate(BOX, week).year
    print(f"LSODA          {scaled:6.1f} s a year (a week scaled): {scaled / alone:.0f} times (goal {TIMES:.0f})")
    print(
        f"that week      {ours.heater_kwh:.3f} kWh, fan {ours.fan_hours:.2f} h, {ours.heater_starts} starts; "
        f"LSODA {peer.heater_kwh:.3f} kWh, {peer.fan_hours:.2f} h, {peer.heater_starts}"
    )


if __name__ == "__main__":
    main()
