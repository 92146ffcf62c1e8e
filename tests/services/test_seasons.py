"""A year typed in a line: twelve months or four seasons, on either half of the earth."""

import numpy as np
import pytest

from bonebench.errors import BonebenchError
from bonebench.services.enclosure.seasons import Seasons, year_of

NORTH = "-4 C; -2 C; 4 C; 10 C; 16 C; 21 C; 24 C; 23 C; 19 C; 12 C; 5 C; -1 C"


def means(weather):
    return [float(weather.temperature_c[weather.month == month].mean()) for month in range(1, 13)]


def test_twelve_months_come_back_as_the_means_of_their_hours():
    # By construction of the year every month keeps its mean; the daily shape has a mean of 0.
    assert means(year_of(Seasons(means=NORTH))) == pytest.approx([-4, -2, 4, 10, 16, 21, 24, 23, 19, 12, 5, -1], abs=0.05)


def test_four_seasons_stand_in_their_middle_months_with_straight_lines_between():
    found = means(year_of(Seasons(means="-4 C; 9 C; 23 C; 11 C")))
    assert [found[month] for month in (0, 3, 6, 9)] == pytest.approx([-4, 9, 23, 11], abs=0.05)
    assert found[1] == pytest.approx(-4 + 13 / 3, abs=0.05)


def test_seasons_turn_round_in_the_south():
    found = means(year_of(Seasons(means="5 C; 12 C; 20 C; 13 C", latitude="-38")))
    assert found[6] == pytest.approx(5, abs=0.05)
    assert found[0] == pytest.approx(20, abs=0.05)


def test_the_same_words_make_the_same_year_and_days_differ():
    one, two = year_of(Seasons(means=NORTH)), year_of(Seasons(means=NORTH))
    assert (one.temperature_c == two.temperature_c).all()
    january = one.temperature_c[: 31 * 24].reshape(31, 24).mean(axis=1)
    assert np.std(january) > 1


def test_a_swing_is_that_of_the_mean_day():
    weather = year_of(Seasons(means=NORTH, swings="; ".join(["14 K"] * 12)))
    july = weather.temperature_c[weather.month == 7].reshape(31, 24).mean(axis=0)
    assert july.max() - july.min() == pytest.approx(14, rel=0.03)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (Seasons(means="-4 C; 2 C"), "holds 2 values"),
        (Seasons(means="cold; 2 C; 3 C; 4 C"), "cold"),
        (Seasons(means=NORTH, swings="wide; 2 K; 3 K; 4 K"), "'wide' cannot be read"),
        (Seasons(means=NORTH, swings="-2 K; 2 K; 3 K; 4 K"), "below 0"),
        (Seasons(means=NORTH, dew_points="9 C; 9 C; 9 C; 9 C"), "dew point"),
        (Seasons(means=NORTH, latitude="-40"), "other half of the earth"),
        (
            Seasons(means="24 C; 23 C; 19 C; 12 C; 5 C; -1 C; -4 C; -2 C; 4 C; 10 C; 16 C; 21 C", latitude="50"),
            "other half of the earth",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_words(typed, words):
    with pytest.raises(BonebenchError) as fault:
        year_of(typed)
    assert words in fault.value.said.text
