"""A year made from twelve months, against two real typical years and the laws it must keep."""

import csv
from pathlib import Path

import numpy as np
import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.weather import MONTH_DAYS, Month, Place, daily_means, daily_shape, month_of_hour, year_from_months

DATA = Path(__file__).parents[2] / "data"
CHICAGO = Place("Chicago O'Hare", 41.98, -87.92, 201, -6)
# NREL TMY3 typical years, US government data; see the first line of each file.
REAL = {"chicago": "physics_weather_chicago_ohare_tmy3.csv", "sandpoint": "physics_weather_sandpoint_ak_tmy3.csv"}


def real(name):
    with (DATA / REAL[name]).open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    return {key: np.array([float(row[key]) for row in rows]) for key in ("month", "hour", "T_C", "Tdew_C")}


def months_of(name):
    """Twelve months as a person would type them, taken from the real hours."""
    year = real(name)
    made = []
    for number in range(1, 13):
        here = year["month"] == number
        days = year["T_C"][here].reshape(-1, 24)
        mean_day = days.mean(axis=0)
        made.append(
            Month(days.mean(), mean_day.max() - mean_day.min(), year["Tdew_C"][here].mean(), float(days.mean(axis=1).std()))
        )
    return made


def test_the_shape_of_a_day_sums_to_nothing_and_spans_about_one():
    shape = daily_shape(np.arange(1, 25.0))
    assert shape.sum() == pytest.approx(0, abs=1e-12)
    # The published shape spans 0.95 to 1.0 of the range; the peak stands in the early afternoon, the trough before sunrise.
    assert shape.max() - shape.min() == pytest.approx(0.97, abs=0.05)
    assert (int(shape.argmax()) + 1, int(shape.argmin()) + 1) in {(15, 5), (16, 5), (15, 6), (16, 6)}


# Root mean square misses of the mean day, reference physics.md section 4: Chicago Jan 0.38 K, Jul 1.00 K ("any is good to 1 K").
@pytest.mark.parametrize(("name", "month", "miss"), [("chicago", 1, 0.38), ("chicago", 7, 1.00)])
def test_the_mean_day_of_a_real_month_is_met_as_the_reference_says(name, month, miss):
    year = real(name)
    days = year["T_C"][year["month"] == month].reshape(-1, 24)
    mean_day = days.mean(axis=0)
    made = mean_day.mean() + (mean_day.max() - mean_day.min()) * daily_shape(np.arange(1, 25.0))
    assert np.sqrt(((made - mean_day) ** 2).mean()) == pytest.approx(miss, abs=0.02)


@pytest.mark.parametrize("name", REAL)
def test_every_day_shape_of_two_real_years_is_met_within_a_kelvin_or_two(name):
    # The reference says "any is good to 1 K" from January and July; May in Chicago misses by 1.7 K, because the sun is up earlier.
    for month in range(1, 13):
        days = real(name)["T_C"][real(name)["month"] == month].reshape(-1, 24).mean(axis=0)
        made = days.mean() + (days.max() - days.min()) * daily_shape(np.arange(1, 25.0))
        assert np.sqrt(((made - days) ** 2).mean()) < 1.8


def test_each_month_keeps_its_mean_exactly_with_and_without_chance():
    months = months_of("chicago")
    for rng in (None, np.random.default_rng(3)):
        means = daily_means(months, rng)
        begin = 0
        for length, month in zip(MONTH_DAYS, months, strict=True):
            assert means[begin : begin + length].mean() == pytest.approx(month.mean_c, abs=1e-9)
            begin += length


def test_days_hang_together_as_real_ones_do():
    """Lag-1 of daily means about their month in the made years, as the reference has it for Chicago: 0.70."""
    months = months_of("chicago")
    lags = []
    for seed in range(20):
        gone = daily_means(months, np.random.default_rng(seed)) - daily_means(months, None)
        lags.append(np.corrcoef(gone[:-1], gone[1:])[0, 1])
    # Taking each month's mean out lowers it a little; 0.05 covers that and 20 draws.
    assert np.mean(lags) == pytest.approx(0.70, abs=0.07)


def test_the_same_seed_gives_the_same_year_and_another_one_another():
    months = months_of("sandpoint")
    one, same, other = (year_from_months(months, CHICAGO, np.random.default_rng(seed)) for seed in (1, 1, 2))
    assert (one.temperature_c == same.temperature_c).all()
    assert not (one.temperature_c == other.temperature_c).all()


def test_a_made_year_is_whole_and_never_damper_than_air_can_be():
    year = year_from_months(months_of("chicago"), CHICAGO, np.random.default_rng(1))
    assert year.hours == 8760
    assert (year.dew_point_c <= year.temperature_c + 1e-9).all()
    assert (year.global_w_m2 >= 0).all()
    assert year.month[0] == 1
    assert year.month[-1] == 12


def test_hours_fall_into_the_right_months():
    assert list(month_of_hour(np.array([0, 743, 744, 1415, 1416, 8759]))) == [1, 1, 2, 2, 3, 12]


GOOD = Month(10, 8, 5)


@pytest.mark.parametrize(
    ("months", "kind", "words"),
    [
        ([GOOD] * 4, Impossible, "a year has 12 months; 4 were given"),
        ([Month(10, -1, 5), *[GOOD] * 11], OutsideRange, "Jan: a swing or a wind below 0 cannot be"),
        ([*[GOOD] * 11, Month(10, 8, 12)], OutsideRange, "Dec: the dew point 12 °C lies above the mean 10 °C"),
        ([Month(10, 8, 5, clearness=1.2), *[GOOD] * 11], OutsideRange, "Jan: sun is 120 % of that above the air"),
    ],
)
def test_months_that_cannot_be_are_refused_in_words(months, kind, words):
    with pytest.raises(kind, match=words):
        year_from_months(months, CHICAGO)
