"""What a colony gives beside its numbers: how fast it grows, how long a generation is, frass, hunger, food in all."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing
from bonebench.science.colony.demography import doubling_days, generation_days, schedule_of
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.forecast import BAND, Draws, Forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.services.cards import Fact
from bonebench.services.colony.asked import means
from bonebench.services.colony.bands import band_of
from bonebench.services.colony.cards import Band, Reach
from bonebench.services.facts import fact

BY_MODEL = "colony model, nine draws in ten; not checked in your room"
BY_SCHEDULE = "mean age of mothers by the Euler-Lotka equation on the model's own stages, with food, blocks and room enough"


@dataclass(frozen=True)
class Growth:
    """Doubling time and generation of a colony with all it needs; the doubling has no end where too many draws never double."""

    doubling: tuple[float | None, float | None, float | None]
    generation: Reach | None


def growth_of(draws: Draws, air: Air) -> Growth:
    """Return how such colonies would grow in this air: P5, P50 and P95; nothing where nothing grows."""
    warm, damp, moist = means(air)
    try:
        schedules = [schedule_of(row, warm, damp, moist=moist) for row in draws.traits]
    except Impossible:  # too cold or too hot for any growth, which the card says
        return Growth((None, None, None), None)
    doubling, generation = (np.array([of(one) for one in schedules]) for of in (doubling_days, generation_days))
    low, middle, high = (_finite(float(np.quantile(doubling, share, method="higher"))) for share in (0.05, 0.5, 0.95))
    return Growth((low, middle, high), Reach(*(float(q) for q in np.quantile(generation, (0.05, 0.5, 0.95)))))


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


def growth_facts(growth: Growth, frass: Band) -> Iterator[Fact]:
    """Return the lines of growth and frass."""
    low, middle, high = growth.doubling
    if low is None or middle is None:
        yield fact("colony.doubling.none", "It doubles", "not in this air: nothing grows at that warmth, or too slowly")
    elif high is None:
        yield fact("colony.doubling.slow", "It doubles", "in {low:days} at the soonest, and perhaps never", low=low)
    else:
        yield fact(
            "colony.doubling", "It could double in", "{low:days} to {high:days}, with food, blocks and room enough",
            low=low, high=high,
        )  # fmt: skip
    if growth.generation is not None:
        yield fact(
            "colony.generation", "From one generation to the next", "{low:days} to {high:days}, most likely {value:days}",
            low=growth.generation.low, high=growth.generation.high, value=growth.generation.value,
        )  # fmt: skip
    yield fact(
        "colony.frass", "Frass a day, dry, fed all they eat", "{low:feeding} to {high:feeding}, most likely {value:feeding}",
        low=frass.low, high=frass.high, value=frass.value,
    )  # fmt: skip


def growth_basis(growth: Growth, frass: Band) -> tuple[tuple[str, Figure], ...]:
    """Return what these figures rest on, with their standing."""
    rows = [("colony.frass", _figure((frass.low, frass.value, frass.high), "kg/day", BY_MODEL))]
    if growth.generation is not None:
        one = growth.generation
        rows.append(("colony.generation", _figure((one.low, one.value, one.high), "days", BY_SCHEDULE)))
    return tuple(rows)


def _figure(reach: tuple[float, float, float], unit: str, source: str) -> Figure:
    """Three digits: what is beyond them is nobody's knowledge."""
    low, middle, high = (float(f"{value:.3g}") for value in reach)
    return Figure(middle, low, high, unit, Standing.ESTIMATE, source)


def in_all(run: Forecast, name: str) -> tuple[Band, ...]:
    """Return the band of a sum from the first day on, for each day, in grams: the bands of days do not add up, the draws do."""
    total = np.cumsum(run.paths(name), axis=1) * 1000.0
    return tuple(band_of(total[:, day]) for day in range(total.shape[1]))


def days_facts(run: Forecast, ration_kg: float | None) -> Iterator[Fact]:
    """Return what the days come to: food and frass in all, and how hungry a ration leaves them."""
    days = run.rows.shape[1]
    eaten, frass = (band_of(run.paths(name).sum(axis=1)) for name in ("eaten_kg", "frass_kg"))
    yield fact(
        "colony.ahead.eaten", "They eat in all, their own young among it",
        "{low:mass} to {high:mass}, most likely {value:mass}, in {days} days",
        low=eaten.low, high=eaten.high, value=eaten.value, days=days,
    )  # fmt: skip
    yield fact("colony.ahead.frass", "Frass in all, dry", "{low:mass} to {high:mass}", low=frass.low, high=frass.high)
    if ration_kg is not None:
        yield fact(
            "colony.ahead.hunger", "Of what they could eat, missing", "{first} on the first day, {last} on the last",
            first=_shares(run.paths("hunger")[:, 0]), last=_shares(run.paths("hunger")[:, -1]),
        )  # fmt: skip


def _shares(hunger: FloatArray) -> str:
    low, _, _, high = (round(100 * float(q)) for q in np.quantile(hunger, BAND))
    return f"{low} to {high} %" if low != high else f"{low} %"


def days_basis(run: Forecast) -> tuple[str, Figure]:
    """Return what food in all rests on."""
    total = run.paths("eaten_kg").sum(axis=1)
    low, middle, high = (float(q) for q in np.quantile(total, (0.05, 0.5, 0.95)))
    return "colony.eaten", _figure((low, middle, high), "kg", BY_MODEL)
