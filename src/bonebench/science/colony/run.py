"""The colony through time: one compiled loop over the equations, for one colony or for many.

Steps are an hour or less; the equations are told the step, so that no death rate can take more than there is.
"""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import numpy as np

from bonebench.science.colony.equations import (
    COULD_EAT,
    EATEN,
    FLOWS,
    TAKEN,
    House,
    change,
    hour_of,
    masses_of,
)
from bonebench.science.colony.layout import (
    ADULTS_LACK,
    ANIMALS,
    BODY_DRY,
    EGG,
    EXPOSED,
    FOOD,
    LARGE,
    LARVA,
    LARVAE_LACK,
    LAYING,
    PUPAE_LACK,
    SHELTERED,
    STATE,
    WAITING,
    YOUNG,
    FloatArray,
)
from bonebench.science.kernel import compiled

# After the flows: how many there are at the end of the row, what they and the food weigh, and food that was cleared away.
EGGS, LARVAE, LARGE_LARVAE, WAITERS, IN_SITES, IN_OPEN = range(FLOWS, FLOWS + 6)
YOUNG_ADULTS, LAYERS, LIVE_KG, FOOD_KG, HUNGER, WASTED = range(FLOWS + 6, FLOWS + 12)
COLUMNS = FLOWS + 12


@compiled
def live_dry_kg(y: FloatArray, m: FloatArray) -> float:
    """Dry mass of all that lives. [kg]"""
    total = 0.0
    for i in range(ANIMALS):
        total += y[i] * m[i]
    return float(BODY_DRY * total - y[LARVAE_LACK] - y[PUPAE_LACK] - y[ADULTS_LACK])


@compiled
def take(y: FloatArray, m: FloatArray, share: float) -> float:
    """Take a share of all that is not in a pupation site; gives its dry mass. [kg]"""
    before = live_dry_kg(y, m)
    for i in range(ANIMALS):
        if not SHELTERED <= i < EXPOSED:
            y[i] *= 1.0 - share
    y[LARVAE_LACK] *= 1.0 - share
    y[ADULTS_LACK] *= 1.0 - share
    return before - live_dry_kg(y, m)


@compiled
def write_row(row: FloatArray, y: FloatArray, m: FloatArray) -> None:
    """Write how many there are at the end of a row."""
    row[EGGS] = y[EGG:LARVA].sum()
    row[LARVAE] = y[LARVA:WAITING].sum()
    row[LARGE_LARVAE] = y[LARGE:WAITING].sum()
    row[WAITERS] = y[WAITING:SHELTERED].sum()
    row[IN_SITES] = y[SHELTERED:EXPOSED].sum()
    row[IN_OPEN] = y[EXPOSED:YOUNG].sum()
    row[YOUNG_ADULTS] = y[YOUNG:LAYING].sum()
    row[LAYERS] = y[LAYING:ANIMALS].sum()
    row[LIVE_KG] = live_dry_kg(y, m) / BODY_DRY
    row[FOOD_KG] = y[FOOD]
    row[HUNGER] = 1.0 - row[EATEN] / row[COULD_EAT] if row[COULD_EAT] > 0.0 else 0.0


@compiled
def run(
    p: FloatArray, start: FloatArray, house: House, hours: FloatArray, steps_per_hour: int, every: int
) -> tuple[FloatArray, FloatArray]:
    """Run one colony.

    ``hours`` has one row an hour: temperature [degC], humidity, moist, most that can be eaten [kg dry/day], food put in [kg dry],
    share taken out, share of the food taken away. Gives a row of `COLUMNS` for each ``every`` hours, and the last state.
    """
    m = masses_of(p)
    y = start.copy()
    dy, flows = np.empty(STATE), np.empty(FLOWS)
    out = np.zeros((hours.shape[0] // every, COLUMNS))
    dt = 1.0 / (24.0 * steps_per_hour)
    for hour in range(out.shape[0] * every):
        row = out[hour // every]
        now = hour_of(p, hours[hour, 0], hours[hour, 1], hours[hour, 2], hours[hour, 3])
        if hours[hour, 6] > 0.0:
            row[WASTED] += y[FOOD] * hours[hour, 6]
            y[FOOD] *= 1.0 - hours[hour, 6]
        y[FOOD] += hours[hour, 4]
        if hours[hour, 5] > 0.0:
            row[TAKEN] += take(y, m, hours[hour, 5])
        for _ in range(steps_per_hour):
            change(y, dy, flows, p, m, house, now, dt)
            for i in range(STATE):
                y[i] += dt * dy[i]
            for i in range(FLOWS):
                row[i] += dt * flows[i]
        if (hour + 1) % every == 0:
            write_row(row, y, m)
    return out, y


@compiled
def run_many(
    traits: FloatArray, starts: FloatArray, houses: FloatArray, hours: FloatArray, steps_per_hour: int, every: int
) -> tuple[FloatArray, FloatArray]:
    """Run colonies one after another; ``houses`` has a row (floor, sites, cover, dry share, always) for each."""
    count = traits.shape[0]
    out = np.empty((count, hours.shape[0] // every, COLUMNS))
    ends = np.empty((count, STATE))
    for k in range(count):
        house = House(houses[k, 0], houses[k, 1], houses[k, 2], houses[k, 3], houses[k, 4] > 0.5)
        out[k], ends[k] = run(traits[k], starts[k], house, hours, steps_per_hour, every)
    return out, ends
