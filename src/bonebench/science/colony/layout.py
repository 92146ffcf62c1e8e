"""Where each age stands in the state of a colony, and what an animal of that age weighs.

A stage is a chain of boxes; an animal stays in each for a random time, so that the time for the whole stage is spread as a
gamma (Erlang) distribution. Sixty boxes from egg to adult give the published spread of 13 %.
"""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

EGG_BOXES, LARVA_BOXES, WAITING_BOXES, PREPUPA_BOXES, PUPA_BOXES, YOUNG_BOXES, LAYING_BOXES = 4, 40, 6, 6, 10, 3, 8
CHAMBER_BOXES = PREPUPA_BOXES + PUPA_BOXES

EGG = 0
LARVA = EGG + EGG_BOXES
WAITING = LARVA + LARVA_BOXES
SHELTERED = WAITING + WAITING_BOXES
EXPOSED = SHELTERED + CHAMBER_BOXES
YOUNG = EXPOSED + CHAMBER_BOXES
LAYING = YOUNG + YOUNG_BOXES
ANIMALS = LAYING + LAYING_BOXES
# After the numbers: what larvae, pupae and adults lack against a full body (dry), and the food lying in the box (dry). [kg]
LARVAE_LACK, PUPAE_LACK, ADULTS_LACK, FOOD = range(ANIMALS, ANIMALS + 4)
STATE = FOOD + 1

INSTARS = 7
# Instars 1 to 6 take about 11 % of the larva's time each, the last 34 %: an estimate, no table of instars could be read.
INSTAR_SHARES = (0.11,) * 6 + (0.34,)
LARGE = LARVA + round(0.66 * LARVA_BOXES)

# Laying against age, mean 1: best in weeks 2 to 6, then less; an estimate.
LAYING_BY_AGE = (1.3, 1.3, 1.3, 1.2, 1.0, 0.8, 0.6, 0.5)

# Dry share of a body, from 0.14 g dry in 0.43 g live gained for each g of dry food.
BODY_DRY = 0.326
EGG_KG = 0.35e-6
HATCHLING_KG = 0.25e-6
ADULT_OF_PEAK = 0.6


def instar_weights() -> FloatArray:
    """Share of each larval box that belongs to each instar.

    Returns
    -------
    ndarray, shape (7, 40)
        Columns sum to 1. [1]
    """
    edges = np.concatenate(([0.0], np.cumsum(INSTAR_SHARES))) * LARVA_BOXES
    first = np.arange(LARVA_BOXES)[None, :]
    return np.asarray(np.clip(np.minimum(edges[1:, None], first + 1) - np.maximum(edges[:-1, None], first), 0.0, 1.0))


def body_masses(peak_kg: float) -> FloatArray:
    """Live mass of a well-fed animal in each box.

    Parameters
    ----------
    peak_kg : float
        Mass of a larva when it stops feeding. [kg]

    Returns
    -------
    ndarray, shape (93,)
        [kg]

    Notes
    -----
    The fourth root of a larva's mass grows in line with its time; from the end of feeding to the adult mass falls in line.
    """
    masses = np.empty(ANIMALS)
    masses[EGG:LARVA] = EGG_KG
    start, end = HATCHLING_KG**0.25, peak_kg**0.25
    masses[LARVA:WAITING] = (start + (end - start) * np.arange(LARVA_BOXES) / LARVA_BOXES) ** 4
    masses[WAITING:SHELTERED] = peak_kg
    chamber = peak_kg * (1.0 - (1.0 - ADULT_OF_PEAK) * np.arange(CHAMBER_BOXES) / CHAMBER_BOXES)
    masses[SHELTERED:EXPOSED] = chamber
    masses[EXPOSED:YOUNG] = chamber
    masses[YOUNG:ANIMALS] = ADULT_OF_PEAK * peak_kg
    return masses
