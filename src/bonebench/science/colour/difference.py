"""How far apart two colours are: the plain distance in CIELAB, and CIEDE2000, which follows the eye more closely."""

import numpy as np
import numpy.typing as npt

from bonebench.science.colour.space import FloatArray

_POW = 25.0**7


def delta_e_76(one: npt.ArrayLike, other: npt.ArrayLike) -> FloatArray:
    """Distance of two colours in CIELAB.

    Parameters
    ----------
    one, other : array_like, shape (..., 3)
        L*, a* and b*. [-]

    Returns
    -------
    ndarray, shape (...)
        Colour difference of 1976. [-]

    References
    ----------
    .. [1] CIE 15:2004, section 8.2.1.
    """
    apart = np.asarray(one, dtype=np.float64) - np.asarray(other, dtype=np.float64)
    return np.asarray(np.sqrt((apart**2).sum(axis=-1)))


def delta_e_2000(one: npt.ArrayLike, other: npt.ArrayLike) -> FloatArray:
    """Colour difference by the CIEDE2000 formula, all weights 1.

    Parameters
    ----------
    one, other : array_like, shape (..., 3)
        L*, a* and b*. [-]

    Returns
    -------
    ndarray, shape (...)
        Colour difference of 2000. [-]

    Notes
    -----
    About 1 is what a trained eye just sees side by side in good light. The formula has small jumps where two hues stand
    opposite each other; bone lies far from there.

    References
    ----------
    .. [1] G. Sharma, W. Wu, E. N. Dalal, The CIEDE2000 color-difference formula: implementation notes, supplementary test data,
       and mathematical observations, Color Research & Application 30 (2005) 21-30.
    """
    (l1, a1, b1), (l2, a2, b2) = (np.moveaxis(np.asarray(lab, dtype=np.float64), -1, 0) for lab in (one, other))
    stretch = 1.5 - 0.5 * _gate((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2)
    a1, a2 = stretch * a1, stretch * a2
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = np.degrees(np.arctan2(b1, a1)) % 360, np.degrees(np.arctan2(b2, a2)) % 360
    grey = c1 * c2 == 0
    turn, hue = _hues(h1, h2, grey)
    lightness, chroma = (l1 + l2) / 2, (c1 + c2) / 2
    d_l, d_c, d_h = l2 - l1, c2 - c1, 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn) / 2)
    s_l = 1 + 0.015 * (lightness - 50) ** 2 / np.sqrt(20 + (lightness - 50) ** 2)
    s_c = 1 + 0.045 * chroma
    s_h = 1 + 0.015 * chroma * _hue_weight(hue)
    twist = -np.sin(np.radians(60 * np.exp(-(((hue - 275) / 25) ** 2)))) * 2 * _gate(chroma)
    terms = (d_l / s_l) ** 2 + (d_c / s_c) ** 2 + (d_h / s_h) ** 2 + twist * (d_c / s_c) * (d_h / s_h)
    return np.asarray(np.sqrt(np.maximum(terms, 0)))


def _gate(chroma: FloatArray) -> FloatArray:
    """The formula's gate from 0 for greys to 1 for strong colours."""
    return np.asarray(np.sqrt(chroma**7 / (chroma**7 + _POW)))


def _hues(h1: FloatArray, h2: FloatArray, grey: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The turn from one hue to the other the short way, and the hue between them (paper, equations 10 and 14)."""
    apart = h2 - h1
    turn = np.where(np.abs(apart) <= 180, apart, np.where(apart > 180, apart - 360, apart + 360))
    whole = h1 + h2
    between = np.where(np.abs(apart) <= 180, whole / 2, np.where(whole < 360, (whole + 360) / 2, (whole - 360) / 2))
    return np.where(grey, 0.0, turn), np.where(grey, whole, between)


def _hue_weight(hue: FloatArray) -> FloatArray:
    wave = np.radians
    return np.asarray(
        1
        - 0.17 * np.cos(wave(hue - 30))
        + 0.24 * np.cos(wave(2 * hue))
        + 0.32 * np.cos(wave(3 * hue + 6))
        - 0.20 * np.cos(wave(4 * hue - 63))
    )
