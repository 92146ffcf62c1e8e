"""The sun, against pvlib: an independent library with its own ephemeris and sky."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from bonebench.science.weather import Place, clear_beyond, on_surface, sol_air_c, split_global, sun_position

CHICAGO = Place("Chicago O'Hare", 41.98, -87.92, 201, -6)
SOUTH = Place("a place on the other half", -33.9, 151.2, 10, 10)
HOURS = np.arange(8760) + 0.5
DAY_OF_YEAR = np.arange(8760) // 24 + 1


def library(place: Place) -> pd.DataFrame:
    # 2021 is no leap year and lies near the middle of the leap cycle, where Spencer's series fits best.
    times = pd.date_range("2021-01-01 00:30", periods=8760, freq="h", tz=f"Etc/GMT{-int(place.utc_offset_hours):+d}")
    return pvlib.solarposition.get_solarposition(times, place.latitude, place.longitude, place.elevation_m)


@pytest.mark.parametrize("place", [CHICAGO, SOUTH], ids=["north", "south"])
def test_the_sun_stands_where_pvlib_has_it(place):
    altitude, bearing = sun_position(HOURS, place)
    theirs = library(place)
    # Spencer's series are good to about 0.5 degrees; refraction is left out on both sides (elevation, not apparent_elevation).
    assert np.abs(np.degrees(altitude) - theirs["elevation"].to_numpy()).max() < 0.6
    up = theirs["elevation"].to_numpy() > 10
    off = (np.degrees(bearing) - theirs["azimuth"].to_numpy() + 180) % 360 - 180
    # Near the zenith a small error in place is a large one in bearing, so what counts is its cosine share.
    assert np.abs(off[up] * np.cos(altitude[up])).max() < 0.8


def test_sun_above_the_air_agrees_with_pvlib():
    altitude, _ = sun_position(HOURS, CHICAGO)
    ours = clear_beyond(HOURS, altitude)
    theirs = pvlib.irradiance.get_extra_radiation(DAY_OF_YEAR) * np.maximum(np.sin(altitude), 0)
    # The solar constant is 1361 here and 1366.1 there (0.4 %), the distance series differ by 0.3 %.
    assert np.abs(ours - theirs).max() < 0.01 * 1361


def test_the_split_into_beam_and_sky_agrees_with_pvlib():
    altitude, _ = sun_position(HOURS, CHICAGO)
    up = np.degrees(altitude) > 5
    whole = 0.5 * clear_beyond(HOURS, altitude)
    beam, diffuse = split_global(whole, HOURS, altitude)
    theirs = pvlib.irradiance.erbs(whole, 90 - np.degrees(altitude), DAY_OF_YEAR)
    # Same correlation, slightly different sun above the air (above).
    assert np.abs(diffuse[up] - np.asarray(theirs["dhi"])[up]).max() < 6
    assert beam[~(altitude > 0)].max() == 0
    assert diffuse[up] + beam[up] * np.sin(altitude[up]) == pytest.approx(whole[up], rel=1e-9)


@pytest.mark.parametrize(("tilt", "faces"), [(0, 180), (90, 180), (90, 90), (30, 200)])
def test_sun_on_a_surface_agrees_with_pvlibs_even_sky(tilt, faces):
    altitude, bearing = sun_position(HOURS, CHICAGO)
    whole = 0.6 * clear_beyond(HOURS, altitude)
    beam, diffuse = split_global(whole, HOURS, altitude)
    ours = on_surface(beam, diffuse, altitude, bearing, tilt_deg=tilt, faces_deg=faces)
    zenith, azimuth = 90 - np.degrees(altitude), np.degrees(bearing)
    theirs = pvlib.irradiance.get_total_irradiance(
        tilt, faces, zenith, azimuth, dni=beam, ghi=diffuse + beam * np.maximum(np.sin(altitude), 0), dhi=diffuse, albedo=0.2
    )["poa_global"]
    up = altitude > 0
    assert ours[up] == pytest.approx(np.asarray(theirs)[up], abs=1e-6)


def test_sol_air_by_hand():
    # 30 + 0.9 * 800 / 17 - 4 = 68.35 (ASHRAE form, dark flat roof).
    assert sol_air_c(np.array([30.0]), np.array([800.0]), absorbed=0.9, film_w_m2k=17.0, sky_loss_k=4.0) == pytest.approx(
        [68.353], abs=1e-3
    )
