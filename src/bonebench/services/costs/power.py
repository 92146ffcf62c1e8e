"""What a pot in use takes in power, where the room knows no better than its size."""

import math
from dataclasses import replace

from bonebench.figures import Figure, Standing
from bonebench.science.baths.heat import BOILS_FROM_C, Pot, steady
from bonebench.services.known import Known
from bonebench.shop.routes import method_for
from bonebench.shop.steps import Step

# The air round a pot in a workroom through the year; an estimate.
ROOM_C = (10.0, 20.0, 25.0)
SOURCE = (
    "a pot as wide as high with a lid, in a room at 10 to 25 °C: heat through walls, top and by evaporation; your own may differ"
)
NOTHING_TO_WARM_K = 2.0
MOST_L = 1000.0  # what the bench reckons with; a larger vessel is no pot


def warm_in(key: str, known: Known) -> float | None:
    """Return how warm a pot is held: as its place says, else as the room degreases; None where neither warms. [degC]"""
    place = known.room.place(key)
    if place is not None and place.temperature_c is not None:
        return place.temperature_c
    method = method_for(Step.DEGREASE, known.room, known.methods)
    return method.temperature_c.value if method.temperature_c is not None else None


def pot_kwh(volume_l: float | None, warm_c: float | None, days: float, starts: int) -> Figure | None:
    """Return the power a pot takes for so many days with so many warm-ups; None where its size or warmth is not known. [kWh]"""
    if warm_c is None or not volume_l or volume_l > MOST_L or warm_c >= BOILS_FROM_C:
        return None
    cold, usual, mild = (_kwh(volume_l, warm_c, room_c, days, starts) for room_c in ROOM_C)
    if usual is None:
        return Figure(0.0, 0.0, 0.0, "kWh", Standing.ESTIMATE, "it is no warmer than the room")
    low = mild.low if mild is not None else 0.0
    high = cold.high if cold is not None else usual.high
    return Figure(usual.value, min(low, usual.value), max(high, usual.value), "kWh", Standing.ESTIMATE, SOURCE)


def _kwh(volume_l: float, warm_c: float, room_c: float, days: float, starts: int) -> Figure | None:
    if warm_c - room_c < NOTHING_TO_WARM_K:
        return None
    wide = (4 * volume_l / 1000 / math.pi) ** (1 / 3)
    area = math.pi / 4 * wide**2
    held = steady(Pot(volume_l=volume_l, open_m2=area, wall_m2=math.pi * wide**2 + area, room_c=room_c), warm_c)
    day, once = held.kwh_per_day.scaled(max(days, 1e-12), "kWh"), held.warm_up_kwh * starts
    return replace(day, value=day.value + once, low=day.low + once, high=day.high + once)
