"""The invented room's baths: a tub that was tested, an older one that was thrown away, pots with their changes of water.

Nothing here is measured anywhere.
"""

import random
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from bonebench.shop.bath_entries import (
    BathDiscarded,
    BathLooked,
    BathMade,
    BathTested,
    Clarity,
    Recipe,
    WaterChanged,
    bath_subject,
)
from bonebench.shop.entries import Entry
from bonebench.shop.identity import uuid7
from bonebench.shop.what import What

# Days ago, and what happened; the first of each is its making.
Told = tuple[tuple[float, What], ...]
Write = Callable[[What, tuple[str, ...], datetime], Entry]
TUB = {"recipe": Recipe.PEROXIDE, "volume_l": 18.0, "strength_w": 0.03, "stock_w": 0.35, "temperature_c": 18.0, "vessel": "HDPE"}
BATHS: tuple[Told, ...] = (
    (
        (31, BathMade("White tub no. 1", "white-tub", stock_kg=1.556, vessel_l=25.0, **TUB)),  # type: ignore[arg-type]
        (24, BathTested("strip", low_w=0.01, high_w=0.03)),
        (17, BathTested("permanganate", strength_w=0.0118, measured={"sample_ml": 10.0, "used_ml": 6.9, "normality": 0.1})),
        (12, BathDiscarded("stood open until a strip showed none; asked where it may go")),
    ),
    (
        (12, BathMade("White tub no. 2", "white-tub", stock_kg=1.556, vessel_l=25.0, **TUB)),  # type: ignore[arg-type]
        (6, BathTested("permanganate", strength_w=0.0214, measured={"sample_ml": 10.0, "used_ml": 12.6, "normality": 0.1})),
    ),
    (
        (26, BathMade("Bear pot no. 1", "bear-pot", Recipe.DETERGENT, 50.0, dose=0.01, temperature_c=45.0, vessel_l=60.0)),
        (20, WaterChanged(Clarity.FAT_ON_TOP, sieved=True, teeth=0)),
        (14, WaterChanged(Clarity.CLOUDY, sieved=True, teeth=0)),
        (8, WaterChanged(Clarity.CLOUDY, sieved=True, teeth=0)),
        (3, BathLooked(Clarity.HAZY, 46.0)),
    ),
    (
        (9, BathMade("Big pot no. 1", "big-pot", Recipe.DETERGENT, 24.0, dose=0.01, temperature_c=44.0, vessel_l=30.0)),
        (4, WaterChanged(Clarity.CLOUDY, sieved=True, teeth=0)),
        (1, BathLooked(Clarity.CLEAR, 44.0)),
    ),
)


def bath_entries(now: datetime, rng: random.Random, write: Write) -> Iterator[Entry]:
    """Return what was written about each bath, oldest first."""
    for told in BATHS:
        born = now - timedelta(days=told[0][0])
        subject = (bath_subject(uuid7(born, rng)),)
        for ago, what in told:
            yield write(what, subject, now - timedelta(days=ago))
