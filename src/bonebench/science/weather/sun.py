"""Where the sun stands and what it puts on a wall or roof."""

import numpy as np

from bonebench.science.weather.hours import FloatArray, Place

SOLAR_CONSTANT_W_M2 = 1361.0
ALBEDO = 0.2
LOWEST_SIN = 0.02


def _day_angle(hour_of_year: FloatArray) -> FloatArray:
    return 2 * np.pi * (np.asarray(hour_of_year, dtype=np.float64) / 24) / 365


def declination(hour_of_year: FloatArray) -> FloatArray:
    """Angle of the sun above the equator.

    Parameters
    ----------
    hour_of_year : ndarray, shape (n,)
        Local standard time from 1 January, 00:00. [h]

    Returns
    -------
    ndarray, shape (n,)
        Declination. [rad]

    References
    ----------
    .. [1] Spencer J.W. 1971. Search 2(5):172 (series; from memory, held against pvlib in the tests).
    """
    g = _day_angle(hour_of_year)
    return (
        0.006918 - 0.399912 * np.cos(g) + 0.070257 * np.sin(g) - 0.006758 * np.cos(2 * g) + 0.000907 * np.sin(2 * g)
        - 0.002697 * np.cos(3 * g) + 0.00148 * np.sin(3 * g)
    )  # fmt: skip


def equation_of_time_h(hour_of_year: FloatArray) -> FloatArray:
    """How far the sun runs ahead of the clock.

    Parameters
    ----------
    hour_of_year : ndarray, shape (n,)
        Local standard time from 1 January, 00:00. [h]

    Returns
    -------
    ndarray, shape (n,)
        Apparent less mean solar time. [h]

    References
    ----------
    .. [1] Spencer J.W. 1971. Search 2(5):172 (series; from memory).
    """
    g = _day_angle(hour_of_year)
    series = 0.0000075 + 0.001868 * np.cos(g) - 0.032077 * np.sin(g) - 0.014615 * np.cos(2 * g) - 0.040849 * np.sin(2 * g)
    return 229.18 * series / 60


def sun_position(hour_of_year: FloatArray, place: Place) -> tuple[FloatArray, FloatArray]:
    """Height and bearing of the sun.

    Parameters
    ----------
    hour_of_year : ndarray, shape (n,)
        Local standard time from 1 January, 00:00; the middle of an hour stands for it. [h]
    place : Place
        Where.

    Returns
    -------
    tuple of ndarray, shape (n,)
        Altitude above the horizon without refraction, and bearing clockwise from north. [rad]
    """
    hour = np.asarray(hour_of_year, dtype=np.float64)
    solar = hour % 24 + place.longitude / 15 - place.utc_offset_hours + equation_of_time_h(hour)
    angle = np.pi * (solar - 12) / 12
    dec, lat = declination(hour), np.radians(place.latitude)
    sin_altitude = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(angle)
    altitude = np.arcsin(np.clip(sin_altitude, -1, 1))
    bearing = np.arctan2(-np.sin(angle), np.tan(dec) * np.cos(lat) - np.sin(lat) * np.cos(angle)) % (2 * np.pi)
    return altitude, bearing


def clear_beyond(hour_of_year: FloatArray, altitude: FloatArray) -> FloatArray:
    """Sun on a horizontal surface above the air.

    Parameters
    ----------
    hour_of_year : ndarray, shape (n,)
        Local standard time from 1 January, 00:00. [h]
    altitude : ndarray, shape (n,)
        Height of the sun. [rad]

    Returns
    -------
    ndarray, shape (n,)
        Power; 0 at night. [W/m2]
    """
    distance = 1 + 0.033 * np.cos(_day_angle(hour_of_year))
    return SOLAR_CONSTANT_W_M2 * distance * np.maximum(np.sin(altitude), 0.0)


def split_global(global_w_m2: FloatArray, hour_of_year: FloatArray, altitude: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Split the sun on the ground into what comes straight and what comes from the sky.

    Parameters
    ----------
    global_w_m2 : ndarray, shape (n,)
        Sun on the horizontal. [W/m2]
    hour_of_year : ndarray, shape (n,)
        Local standard time from 1 January, 00:00. [h]
    altitude : ndarray, shape (n,)
        Height of the sun. [rad]

    Returns
    -------
    tuple of ndarray, shape (n,)
        Straight from the sun on a surface that faces it, and from the sky on the horizontal. [W/m2]

    References
    ----------
    .. [1] Erbs D.G., Klein S.A., Duffie J.A. 1982. Solar Energy 28:293-302 (coefficients from memory, held against pvlib).
    """
    beyond = clear_beyond(hour_of_year, altitude)
    up = np.sin(altitude) > LOWEST_SIN
    kt = np.clip(np.divide(global_w_m2, beyond, out=np.zeros_like(beyond), where=beyond > 1e-9), 0, 1)
    middle = 0.9511 - 0.1604 * kt + 4.388 * kt**2 - 16.638 * kt**3 + 12.336 * kt**4
    share = np.where(kt <= 0.22, 1 - 0.09 * kt, np.where(kt <= 0.8, middle, 0.165))
    diffuse = np.where(up, share * global_w_m2, global_w_m2)
    beam = np.where(up, (global_w_m2 - diffuse) / np.maximum(np.sin(altitude), LOWEST_SIN), 0.0)
    return beam, diffuse


def on_surface(
    beam_w_m2: FloatArray, diffuse_w_m2: FloatArray, altitude: FloatArray, bearing: FloatArray, *,
    tilt_deg: float, faces_deg: float, albedo: float = ALBEDO,
) -> FloatArray:  # fmt: skip
    """Sun on a wall or roof under an even sky.

    Parameters
    ----------
    beam_w_m2, diffuse_w_m2 : ndarray, shape (n,)
        Straight sun on a surface that faces it, and light of the sky on the horizontal. [W/m2]
    altitude, bearing : ndarray, shape (n,)
        Where the sun stands. [rad]
    tilt_deg, faces_deg : float
        0 is a flat roof, 90 a wall; the bearing it faces, clockwise from north. [deg]
    albedo : float, optional
        Share the ground throws back. [1]

    Returns
    -------
    ndarray, shape (n,)
        Power on the surface. [W/m2]

    References
    ----------
    .. [1] Liu B.Y.H., Jordan R.C. 1963. Solar Energy 7:53-74 (even sky; held against pvlib's isotropic sky in the tests).
    """
    tilt, faces = np.radians(tilt_deg), np.radians(faces_deg)
    incidence = np.sin(altitude) * np.cos(tilt) + np.cos(altitude) * np.sin(tilt) * np.cos(bearing - faces)
    whole = diffuse_w_m2 + beam_w_m2 * np.maximum(np.sin(altitude), 0.0)
    straight = beam_w_m2 * np.where(altitude > 0, np.maximum(incidence, 0.0), 0.0)
    found: FloatArray = straight + diffuse_w_m2 * (1 + np.cos(tilt)) / 2 + whole * albedo * (1 - np.cos(tilt)) / 2
    return found


def sol_air_c(
    air_c: FloatArray, sun_w_m2: FloatArray, *, absorbed: float, film_w_m2k: float, sky_loss_k: float = 0.0
) -> FloatArray:
    """Temperature of still air that would warm a sunlit surface as much as sun and air do together.

    Parameters
    ----------
    air_c : ndarray, shape (n,)
        Outdoor air. [degC]
    sun_w_m2 : ndarray, shape (n,)
        Sun on the surface. [W/m2]
    absorbed : float
        Share of the sun it takes up: 0.45 light, 0.9 dark. [1]
    film_w_m2k : float
        Heat passed at the outside, about 17 to 23. [W/m2K]
    sky_loss_k : float, optional
        How much a surface that sees the sky is colder: 4 for a flat roof, 0 for a wall. [K]

    Returns
    -------
    ndarray, shape (n,)
        Sol-air temperature. [degC]

    References
    ----------
    .. [1] ASHRAE Handbook - Fundamentals, sol-air temperature (as quoted; 7 degF for a horizontal surface).
    """
    return air_c + absorbed * sun_w_m2 / film_w_m2k - sky_loss_k
