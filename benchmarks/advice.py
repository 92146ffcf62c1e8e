"""Twelve months over ten counts of open holes (goal 6 s), and a grid of fifty heaters and pavers (goal 20 s).

Run: python benchmarks/advice.py. The peer is the same year run once with each count on one core, without the pool of two.
"""

import sys
from dataclasses import replace
from pathlib import Path
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1]))

from bonebench.files.enclosure_toml import enclosure_of, example
from bonebench.files.weather import read_weather
from bonebench.science.building import Building, through
from bonebench.science.enclosure import around_box
from bonebench.science.enclosure.advice import choose, every_count, margins, size_grid

ADVICE_S, GRID_S = 6.0, 20.0
WEATHER = Path(__file__).parents[1] / "tests" / "data" / "physics_weather_chicago_ohare_tmy3.csv"


def main() -> None:
    year = read_weather(str(WEATHER))
    shed = through(Building((5.0, 4.0, 2.4), 2.64, 2.64, heater_w=4000, set_c=7.0), year)
    around = around_box(
        8760, t_c=shed.t_c, ratio=shed.ratio, heat_w=2.0, water_kg_s=5 / 3.6e6, pressure_pa=float(year.pressure_pa.mean())
    )
    box = enclosure_of(example(), ["holes.0.count=5", "holes.1.count=4"])
    every_count(box, around, (1,), step_s=15.0)
    begun = perf_counter()
    runs = every_count(box, around, range(10), step_s=15.0)
    chosen = choose(runs, box)
    counts = perf_counter() - begun
    begun = perf_counter()
    margins(chosen, box, [around, replace(around, water_kg_s=2 * around.water_kg_s)] * 2, step_s=15.0)
    spread = perf_counter() - begun
    print(f"ten counts     {counts:5.2f} s, four other years {spread:5.2f} s (goal {ADVICE_S} together)")
    begun = perf_counter()
    every_count(box, around, range(10), step_s=15.0, workers=1)
    print(f"on one core    {perf_counter() - begun:5.2f} s")
    begun = perf_counter()
    grid = size_grid(box, around, watts=(25, 40, 60, 80, 100, 150, 200, 250, 300, 400), pavers_kg=(0, 20, 40, 80, 160), hold_h=4)
    print(f"grid of {len(grid)}     {perf_counter() - begun:5.2f} s (goal {GRID_S})")


if __name__ == "__main__":
    main()
