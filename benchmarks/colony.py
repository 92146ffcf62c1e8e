"""How fast the colony runs: `python benchmarks/colony.py` prints a table with the peer, scipy's solve_ivp, in the same run.

The last lines are a box with its colony through a year, led together as `services/season` does it.

The peer solves the very same equations (`equations.change`, compiled too) with the same hourly air, held to an hour a step at
most, since it would otherwise step over the hours' air; and once without that hold, at its own choice of steps.
"""

from time import perf_counter

import numpy as np
from scipy.integrate import solve_ivp

from bonebench.science.colony import equations, layout
from bonebench.science.colony.forecast import forecast, likely_colonies
from bonebench.science.colony.model import Conditions, Housing, colony_of, conditions, course_of, kernel_house
from bonebench.science.colony.traits import usual_traits
from bonebench.science.enclosure import Box, Heater, Holes, around_box
from bonebench.services.season.coupled import Eaters, couple
from bonebench.services.season.led import STEP_S

BOX = Housing(0.12, 1500)
GOAL_YEAR_MS, GOAL_DRAWS_S, GOAL_TIMES, GOAL_BOXED_S = 10.0, 1.0, 50.0, 5.0


def year() -> Conditions:
    hour = np.arange(365 * 24)
    air = 26 + 2 * np.sin(hour / 24 * 2 * np.pi) - 3 * np.cos(hour / 8760 * 2 * np.pi)
    return conditions(365, air, 0.55, food_kg_per_day=0.15)


def best(work, times: int) -> float:
    work()
    spans = []
    for _ in range(times):
        begin = perf_counter()
        work()
        spans.append(perf_counter() - begin)
    return min(spans)


def peer(given: Conditions, max_step: float) -> np.ndarray:
    traits, house = usual_traits(), kernel_house(BOX, False)
    masses = equations.masses_of(traits)
    dy, flows = np.empty(layout.STATE), np.empty(equations.FLOWS)
    daily = given.hours[::24, 4].sum() / given.days
    last = len(given.hours) - 1

    def slope(t, y):
        row = given.hours[min(int(t * 24), last)]
        now = equations.hour_of(traits, row[0], row[1], row[2], row[3])
        equations.change(y, dy, flows, traits, masses, house, now, 0.0)
        dy[layout.FOOD] += daily
        return dy.copy()

    start = colony_of(larvae=2000, large_larvae=500, adults=400)
    return solve_ivp(slope, (0, given.days), start, method="RK45", rtol=1e-3, atol=1e-6, max_step=max_step).y[:, -1]


def main() -> None:
    given, start = year(), colony_of(larvae=2000, large_larvae=500, adults=400)
    ours = best(lambda: course_of(usual_traits(), start, BOX, given), 20)
    held = best(lambda: peer(given, 1 / 24), 1)
    free = best(lambda: peer(given, np.inf), 1)
    draws = likely_colonies(np.random.default_rng(1), 3000)
    season = conditions(120, 27, 0.55, food_kg_per_day=0.15)
    many = best(lambda: forecast(draws, BOX, season), 3)
    print(f"one year by the hour        {1000 * ours:8.2f} ms   goal {GOAL_YEAR_MS} ms")
    print(f"200 draws of 120 days       {many:8.3f} s    goal {GOAL_DRAWS_S} s")
    print(f"solve_ivp, an hour at most  {held:8.3f} s    {held / ours:6.0f} times slower, goal {GOAL_TIMES:.0f}")
    print(f"solve_ivp, its own steps    {free:8.3f} s    {free / ours:6.0f} times slower")
    boxed()


def boxed() -> None:
    hours = np.arange(8761)
    around = around_box(8760, t_c=9 - 7 * np.cos(2 * np.pi * hours / 8760) + 3 * np.sin(2 * np.pi * hours / 24), rh=0.8)
    box = Box((1.2, 0.65, 0.8), holes=(Holes(2, 0.0254, 0.05), Holes(2, 0.0254, 0.45)), heater=Heater(100.0))
    draws = likely_colonies(np.random.default_rng(1), 3000)
    eaters = Eaters(draws.traits[0], draws.states[0], BOX, ration_kg=0.08)
    pair = couple(box, around, eaters, step_s=STEP_S)
    led = best(lambda: couple(box, around, eaters, step_s=STEP_S), 3)
    bands = best(lambda: forecast(draws, BOX, pair.air.fed(0.08, BOX.food_dry_share)), 3)
    print(f"a year led together         {led:8.3f} s    the box {pair.passes} times with it, once without")
    print(f"200 draws of that year      {bands:8.3f} s")
    print(f"both, and the middle draw   {led + 2 * bands:8.3f} s    goal {GOAL_BOXED_S} s")


if __name__ == "__main__":
    main()
