"""From the pixels of an sRGB picture to light, and from light to CIELAB under D65."""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

# IEC 61966-2-1:1999, linear sRGB to CIE XYZ (2 degree observer, D65), four decimals as printed there.
XYZ_FROM_RGB = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
# The white of that matrix, so that equal channels have no hue at all.
WHITE = XYZ_FROM_RGB.sum(axis=1)
# CIE 15:2004, section 8.2.1: where the cube root becomes a straight line.
_BEND = (6 / 29) ** 3


def srgb_to_linear(coded: npt.ArrayLike) -> FloatArray:
    """Light of coded sRGB values.

    Parameters
    ----------
    coded : array_like, any shape
        Coded values as shares of the largest code, 0 to 1 (8-bit codes divided by 255). [-]

    Returns
    -------
    ndarray, same shape as ``coded``
        Light as a share of that of the largest code, 0 to 1. [-]

    Notes
    -----
    A phone's picture is not raw light: it was given contrast and colour before it was coded. What is undone here is the coding
    alone.

    References
    ----------
    .. [1] IEC 61966-2-1:1999, section 5.2.
    """
    value = np.asarray(coded, dtype=np.float64)
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def linear_to_lab(linear: npt.ArrayLike) -> FloatArray:
    """CIELAB of linear sRGB light.

    Parameters
    ----------
    linear : array_like, shape (..., 3)
        Red, green and blue light as shares of a perfect white; above 1 where a gloss is brighter. [-]

    Returns
    -------
    ndarray, shape (..., 3)
        L*, a* and b* under D65 for the 2 degree observer. [-]

    References
    ----------
    .. [1] IEC 61966-2-1:1999 (matrix); CIE 15:2004, section 8.2.1 (CIELAB).
    """
    relative = np.asarray(linear, dtype=np.float64) @ XYZ_FROM_RGB.T / WHITE
    bent = np.where(relative > _BEND, np.cbrt(relative), relative * (29 / 6) ** 2 / 3 + 4 / 29)
    x, y, z = bent[..., 0], bent[..., 1], bent[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)
