"""A year of hours from twelve months as people know them: means, how far a day swings, how damp, and chance from day to day."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.weather.hours import MONTH_DAYS, MONTH_NAMES, FloatArray, Place, Weather, weather
from bonebench.science.weather.sun import clear_beyond, split_global, sun_position

PERSISTENCE = Figure(
    0.70,
    0.65,
    0.80,
    "share",
    Standing.DERIVED,
    "lag-1 of daily means: Chicago 0.70, Sand Point 0.79, Miami 0.65, from typical years",
)
DAY_TO_DAY_K = Figure(
    4.0,
    2.0,
    7.0,
    "K",
    Standing.DERIVED,
    "standard deviation of daily means about the month's: Chicago 6.5 K in January, 3.0 K in July",
)
CLEARNESS = Figure(
    0.5, 0.35, 0.65, "share", Standing.ESTIMATE, "sun on the ground as a share of that above the air, a monthly mean"
)
WIND_M_S = Figure(3.0, 1.5, 6.0, "m/s", Standing.ESTIMATE, "monthly mean near the ground where nothing is said")
# Sea level pressure falls so with height in the standard atmosphere (ICAO).
SEA_LEVEL_PA = 101_325.0

# Erbs D.G., Klein S.A., Beckman W.A. 1983, ASHRAE Journal 25(6):60-65: monthly-mean hourly temperature; coefficients from memory,
# held against two typical years in the tests. Amplitudes and phases of the first four harmonics.
_ERBS = ((0.4632, 3.805), (0.0984, 0.360), (0.0168, 0.822), (0.0138, 3.513))


@dataclass(frozen=True, slots=True)
class Month:
    """One month as people know it.

    Attributes
    ----------
    mean_c : float
        Mean of the air. [degC]
    swing_k : float
        Warmest less coldest hour of the month's mean day; the mean of the daily ranges is larger. [K]
    dew_point_c : float
        Mean dew point. [degC]
    day_to_day_k : float
        Standard deviation of daily means. [K]
    wind_m_s : float
        Mean wind. [m/s]
    clearness : float
        Sun on the ground as a share of that above the air. [1]
    """

    mean_c: float
    swing_k: float
    dew_point_c: float
    day_to_day_k: float = DAY_TO_DAY_K.value
    wind_m_s: float = WIND_M_S.value
    clearness: float = CLEARNESS.value


def daily_shape(hour: FloatArray) -> FloatArray:
    """How far each hour lies from the day's mean, as a share of the day's swing.

    Parameters
    ----------
    hour : ndarray, shape (n,)
        Hour ending, 1 to 24, local standard time. [h]

    Returns
    -------
    ndarray, shape (n,)
        Share of the swing, about -0.5 to 0.5; over a day it sums to 0. [1]

    Notes
    -----
    Held against a real year it misses the mean day of a month by 0.4 K in winter and up to 1.7 K in May (the sun is up earlier).

    References
    ----------
    .. [1] Erbs D.G., Klein S.A., Beckman W.A. 1983. ASHRAE Journal 25(6):60-65 (coefficients from memory).
    """
    turn = 2 * np.pi * (np.asarray(hour, dtype=np.float64) - 1) / 24
    shape: FloatArray = np.sum([a * np.cos((n + 1) * turn - phase) for n, (a, phase) in enumerate(_ERBS)], axis=0)
    return shape


def daily_means(months: Sequence[Month], rng: np.random.Generator | None) -> FloatArray:
    """Daily means of a year that keep each month's mean exactly.

    Parameters
    ----------
    months : sequence of Month, length 12
        January first.
    rng : numpy.random.Generator or None
        Chance from day to day; None makes every day like the month's.

    Returns
    -------
    ndarray, shape (365,)
        Daily means, running smoothly from month to month. [degC]

    Notes
    -----
    The smooth run is the curve through the middles of the months, moved so that each month keeps its mean. Chance is a first-order
    autoregression, taken out of each month's mean again.
    """
    middles = np.cumsum(MONTH_DAYS) - np.array(MONTH_DAYS) / 2
    means = np.array([month.mean_c for month in months])
    day = np.arange(365) + 0.5
    around = np.concatenate((middles[-1:] - 365, middles, middles[:1] + 365))
    run: FloatArray = np.interp(day, around, np.concatenate((means[-1:], means, means[:1])))
    if rng is not None:
        run = run + _chance(np.repeat([month.day_to_day_k for month in months], MONTH_DAYS), rng)
    begin = 0
    for length, mean in zip(MONTH_DAYS, means, strict=True):
        run[begin : begin + length] += mean - run[begin : begin + length].mean()
        begin += length
    return run


def _chance(spread: FloatArray, rng: np.random.Generator) -> FloatArray:
    phi = PERSISTENCE.value
    draws = rng.standard_normal(len(spread))
    noise = np.empty(len(spread))
    noise[0] = draws[0]
    for at in range(1, len(spread)):
        noise[at] = phi * noise[at - 1] + np.sqrt(1 - phi**2) * draws[at]
    chance: FloatArray = noise * spread
    return chance


def check_months(months: Sequence[Month]) -> None:
    """Refuse months that cannot be.

    Parameters
    ----------
    months : sequence of Month
        January first.

    Raises
    ------
    Impossible
        If there are not twelve.
    OutsideRange
        If a swing or spread is negative, a dew point lies above the mean, or the sun is more than there is.
    """
    if len(months) != 12:
        raise Impossible("weather.months", "a year has 12 months; {count} were given", count=len(months))
    for name, month in zip(MONTH_NAMES, months, strict=True):
        if month.swing_k < 0 or month.day_to_day_k < 0 or month.wind_m_s < 0:
            raise OutsideRange("weather.negative", "{month}: a swing or a wind below 0 cannot be: check the row", month=name)
        if month.dew_point_c > month.mean_c:
            raise OutsideRange(
                "weather.dew_above",
                "{month}: the dew point {dew:temperature} lies above the mean {mean:temperature}; air cannot hold that",
                month=name,
                dew=month.dew_point_c,
                mean=month.mean_c,
            )
        if not 0 <= month.clearness <= 0.85:
            raise OutsideRange("weather.clearness", "{month}: sun is {share:percent} of that above the air; it is 0 to 85 %",
                               month=name, share=month.clearness)  # fmt: skip


def year_from_months(months: Sequence[Month], place: Place, rng: np.random.Generator | None = None) -> Weather:
    """Hours of a year from twelve months.

    Parameters
    ----------
    months : sequence of Month, length 12
        January first.
    place : Place
        Where; latitude and longitude place the sun, elevation the pressure.
    rng : numpy.random.Generator or None
        Chance from day to day; the same generator gives the same year. None makes every day like its month's.

    Returns
    -------
    Weather
        8760 hours.

    Raises
    ------
    Impossible
        If there are not twelve months.
    OutsideRange
        If a month cannot be.

    Notes
    -----
    The dew point is held through each day and moves with half the day's departure from its month, capped at the air. Sun is a
    monthly clearness times the sun above the air; cloudy and clear days are not told apart, so hot afternoons are missed.
    """
    check_months(months)
    means = daily_means(months, rng)
    swing = np.repeat([m.swing_k for m in months], MONTH_DAYS)
    hour = np.arange(1, 25, dtype=np.float64)
    air = (means[:, None] + swing[:, None] * daily_shape(hour)[None, :]).ravel()
    smooth = np.repeat([m.mean_c for m in months], MONTH_DAYS)
    dew = np.repeat([m.dew_point_c for m in months], MONTH_DAYS) + 0.5 * (means - smooth)
    wind = np.repeat(np.repeat([m.wind_m_s for m in months], MONTH_DAYS), 24)
    diurnal = 1 + 0.2 * np.tile(np.cos(2 * np.pi * (hour - 15) / 24), 365)
    middles = np.arange(8760, dtype=np.float64) + 0.5
    altitude, _ = sun_position(middles, place)
    clearness = np.repeat(np.repeat([m.clearness for m in months], MONTH_DAYS), 24)
    whole = clearness * clear_beyond(middles, altitude)
    beam, diffuse = split_global(whole, middles, altitude)
    pressure = SEA_LEVEL_PA * (1 - 2.25577e-5 * place.elevation_m) ** 5.2559
    columns = {
        "temperature_c": air,
        "dew_point_c": np.minimum(np.repeat(dew, 24), air),
        "pressure_pa": np.full(8760, pressure),
        "wind_m_s": wind * diurnal,
        "global_w_m2": whole,
        "beam_w_m2": beam,
        "diffuse_w_m2": diffuse,
    }
    return weather(place, columns)
