"""Months and the whole year from hours, in the figures people ask for."""

from dataclasses import dataclass

import numpy as np

from bonebench.science.air.moist import FloatArray, humidity_ratio
from bonebench.science.enclosure import layout as at
from bonebench.science.enclosure.box import Box
from bonebench.science.weather.hours import MONTH_DAYS, YEAR_HOURS

MONTH_OF_HOUR = np.repeat(np.arange(1, 13), np.array(MONTH_DAYS) * 24)


@dataclass(frozen=True, slots=True)
class Period:
    """A month, or the whole run (month 0).

    Attributes
    ----------
    month, hours : int
        Month 1 to 12, and how many of its hours were run.
    t_mean_c, t_min_c, t_max_c, rh_mean, rh_min, rh_max, rh_p95 : float
        Of the box air; the 95 % point is that of hourly means. [degC], [1]
    hours_outside_band, hours_cannot_dry, latch_hours : float
        Hours whose mean lies outside the band; hours above the band's humidity in which the building's air holds as much water as
        the top of the band, so that no ventilation dries; hours within stretches of an hour or more in which heater and fan both
        ran without a break.
    heater_kwh, heater_share, heater_starts, fan_kwh, fan_hours, fan_starts : float
        What heater and fan did. [kWh], [1], [h]
    condensed_kg, duct_kg : float
        Water that settled on the coldest wall or glass, and in the duct. [kg]
    air_changes_h : float
        Mean air changes. [1/h]
    co2_max_ppm : float
        Highest carbon dioxide, by volume. [ppm]
    """

    month: int
    hours: int
    t_mean_c: float
    t_min_c: float
    t_max_c: float
    rh_mean: float
    rh_min: float
    rh_max: float
    rh_p95: float
    hours_outside_band: float
    hours_cannot_dry: float
    latch_hours: float
    heater_kwh: float
    heater_share: float
    heater_starts: int
    fan_kwh: float
    fan_hours: float
    fan_starts: int
    condensed_kg: float
    duct_kg: float
    air_changes_h: float
    co2_max_ppm: float


def period(box: Box, c: at.Constants, hours: FloatArray, ratio: FloatArray, month: int) -> Period:
    """Sum up hours.

    Parameters
    ----------
    box : Box
        What was run.
    c : Constants
        Its numbers.
    hours : ndarray, shape (n, 21)
        From the loop.
    ratio : ndarray, shape (n + 1,)
        Humidity ratio of the building at the full hours. [kg/kg]
    month : int
        What to call it; 0 for the whole.

    Returns
    -------
    Period
        The figures.
    """
    t, rh, band = hours[:, at.T_MEAN], hours[:, at.RH_MEAN], box.band
    outside = (t < band.low_c) | (t > band.high_c) | (rh < band.low_rh) | (rh > band.high_rh)
    top = humidity_ratio(np.clip(t, -60, 100), band.high_rh, c.pressure_pa)
    cannot = (rh > band.high_rh) & ((ratio[:-1] + ratio[1:]) / 2 >= top)
    fan_hours = float(hours[:, at.FAN].sum())
    return Period(
        month=month,
        hours=len(hours),
        t_mean_c=float(t.mean()),
        t_min_c=float(hours[:, at.T_MIN].min()),
        t_max_c=float(hours[:, at.T_MAX].max()),
        rh_mean=float(rh.mean()),
        rh_min=float(hours[:, at.RH_MIN].min()),
        rh_max=float(hours[:, at.RH_MAX].max()),
        rh_p95=float(np.percentile(rh, 95)),
        hours_outside_band=float(outside.sum()),
        hours_cannot_dry=float(cannot.sum()),
        latch_hours=float(hours[:, at.LATCH].sum()) / at.HOUR_S,
        heater_kwh=c.heater_w * float(hours[:, at.HEATER].sum()) / 1000,
        heater_share=float(hours[:, at.HEATER].mean()),
        heater_starts=int(hours[:, at.HEATER_STARTS].sum()),
        fan_kwh=(box.humidistat.fan_w if box.humidistat else 0.0) * fan_hours / 1000,
        fan_hours=fan_hours,
        fan_starts=int(hours[:, at.FAN_STARTS].sum()),
        condensed_kg=float(hours[:, at.ON_GLASS_KG].sum()),
        duct_kg=float(hours[:, at.IN_DUCT_KG].sum()),
        air_changes_h=float(hours[:, at.AIR_KG_S].mean()) * at.HOUR_S / c.air_kg,
        co2_max_ppm=float(hours[:, at.CO2].max()) / at.CO2_MOLE * 1e6,
    )


def months_of(box: Box, c: at.Constants, hours: FloatArray, ratio: FloatArray, first_hour: int) -> list[Period]:
    """Sum up each month that hours touch.

    Parameters
    ----------
    box, c, hours, ratio
        As `period`.
    first_hour : int
        Hour of the year of the first. [h]

    Returns
    -------
    list of Period
        In the order of the run; a run past the year's end goes on with January, and a month met again is one more.
    """
    which = MONTH_OF_HOUR[(first_hour + np.arange(len(hours))) % YEAR_HOURS]
    ends = np.append(np.flatnonzero(np.diff(which)) + 1, len(which))
    found, begin = [], 0
    for end in ends:
        found.append(period(box, c, hours[begin:end], ratio[begin : end + 1], int(which[begin])))
        begin = int(end)
    return found
