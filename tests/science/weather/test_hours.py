"""Hours of weather: short gaps filled and said, long ones refused with their dates."""

import numpy as np
import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.weather import Place, fill_gaps, shifted, weather

NAN = np.nan


def columns(**changed):
    good = {"temperature_c": np.arange(24.0), "dew_point_c": np.arange(24.0) - 5, "pressure_pa": np.full(24, 99_000.0)}
    return {**good, **changed}


def test_a_gap_of_six_hours_is_filled_in_a_straight_line_and_said():
    air = np.arange(24.0)
    air[5:11] = NAN
    made = weather(Place(), columns(temperature_c=air))
    assert made.temperature_c == pytest.approx(np.arange(24.0))
    assert [note.text for note in made.notes] == ["6 missing hours of temperature were filled in a straight line"]


def test_a_longer_gap_is_refused_with_its_first_and_last_hour():
    air = np.arange(24.0)
    air[5:12] = NAN
    with pytest.raises(Impossible, match="temperature is missing for 7 hours from 2 Jan 05:00 to 2 Jan 12:00; up to 6 are filled"):
        weather(Place(), columns(temperature_c=air), first_hour=24)


def test_a_column_with_nothing_in_it_is_refused():
    with pytest.raises(Impossible, match="the weather has no pressure at all"):
        fill_gaps(np.full(5, NAN), "pressure", 0)


def test_a_column_that_is_not_there_is_refused_and_sun_and_wind_may_be_left_out():
    assert weather(Place(), columns()).global_w_m2.max() == 0
    with pytest.raises(Impossible, match="the weather has no dew point"):
        weather(Place(), {"temperature_c": np.zeros(3), "pressure_pa": np.zeros(3)})


def test_a_dew_point_above_the_air_is_set_to_it_and_said():
    made = weather(Place(), columns(dew_point_c=np.arange(24.0) + 1))
    assert (made.dew_point_c == made.temperature_c).all()
    assert "in 24 hours the dew point stood above the air" in made.notes[0].text


def test_a_value_nobody_ever_measured_is_refused_with_its_hour():
    air = np.arange(24.0)
    air[3] = 451
    with pytest.raises(OutsideRange, match="temperature at 1 Jan 03:00 is 451; air near the ground lies from -75 to 60"):
        weather(Place(), columns(temperature_c=air))


def test_a_perturbed_year_is_warmer_and_as_damp_beside_it():
    made = weather(Place(), columns())
    warmer = shifted(made, 2.0)
    assert (warmer.temperature_c - made.temperature_c == 2).all()
    assert (warmer.dew_point_c - made.dew_point_c == 2).all()
