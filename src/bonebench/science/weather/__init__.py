"""Outdoor hours: what readers come to, years made from months, and the sun on walls and roofs."""

from bonebench.science.weather.hours import (
    COLUMNS,
    LONGEST_GAP_HOURS,
    MONTH_DAYS,
    MONTH_NAMES,
    Place,
    Weather,
    fill_gaps,
    month_of_hour,
    shifted,
    weather,
)
from bonebench.science.weather.normals import Month, daily_means, daily_shape, year_from_months
from bonebench.science.weather.sun import clear_beyond, on_surface, sol_air_c, split_global, sun_position

__all__ = [
    "COLUMNS",
    "LONGEST_GAP_HOURS",
    "MONTH_DAYS",
    "MONTH_NAMES",
    "Month",
    "Place",
    "Weather",
    "clear_beyond",
    "daily_means",
    "daily_shape",
    "fill_gaps",
    "month_of_hour",
    "on_surface",
    "shifted",
    "sol_air_c",
    "split_global",
    "sun_position",
    "weather",
    "year_from_months",
]
