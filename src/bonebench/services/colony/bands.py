"""Bands: how a spread of colonies becomes four numbers, and a line that people read."""

import numpy as np

from bonebench.said import number
from bonebench.science.colony.forecast import BAND, Forecast
from bonebench.science.colony.layout import FloatArray
from bonebench.services.cards import Fact
from bonebench.services.colony.cards import Band
from bonebench.services.facts import fact

TRACE = 1e-9  # of an animal, a kilogram or a watt


def band_of(values: FloatArray, times: float = 1.0) -> Band:
    """Return P5, P30, P50 and P95 of what even draws give."""
    return Band(*(_short(float(q) * times) for q in np.quantile(values, BAND)))


def bands_by_day(told: Forecast, name: str, times: float = 1.0) -> tuple[Band, ...]:
    """Return the band of each day."""
    return tuple(Band(*(_short(float(q) * times) for q in day)) for day in told.band(name).T)


def _short(value: float) -> float:
    """Six digits: what is beyond them is nobody's knowledge and fills a page; a trace of a dead colony is none."""
    return float(f"{value:.6g}") if abs(value) >= TRACE else 0.0


def band_fact(key: str, label: str, band: Band, kind: str) -> Fact:
    """Return a band as a line: its range and the cautious figure."""
    return fact(
        key,
        label,
        f"{{low:{kind}}} to {{high:{kind}}}, most likely {{value:{kind}}}; plan with {{plan:{kind}}}",
        low=band.low,
        high=band.high,
        value=band.value,
        plan=band.plan,
    )


def count_fact(key: str, label: str, band: Band) -> Fact:
    """Return a number of animals as a line; two digits are all that can be known."""
    return fact(
        key, label, "{low} to {high}, most likely {value}", low=count(band.low), high=count(band.high), value=count(band.value)
    )


def count(value: float) -> str:
    """Write a number of animals."""
    return number(round(value) if value < 10 else value, 2)
