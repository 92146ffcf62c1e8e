"""How much surface a head shows the beetles, and how fast they can eat from it."""

import math

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing, weakest

# A late larva eats about 43 mg of fresh meat a day at 28 °C; one to six of them find room on a square centimetre, two or three
# is usual. 2.8 per cm2 * 43 mg = 1.2 kg/m2; 1 gives 0.4, 6 gives 2.5. Nobody has published such a figure.
FLUX = Figure(
    1.2,
    0.4,
    2.5,
    "kg/(m2 day)",
    Standing.ESTIMATE,
    "about 43 mg a day for a late larva times two or three larvae on a square centimetre; not published, not checked in your room",
)


def spheroid_surface_m2(along_m: float, across_m: float) -> float:
    """Surface of a spheroid of revolution.

    Parameters
    ----------
    along_m : float
        Whole length along the axis of revolution, above 0. [m]
    across_m : float
        Whole width across that axis, above 0. [m]

    Returns
    -------
    float
        Surface. [m2]

    References
    ----------
    .. [1] Any handbook of mathematical formulas, solids of revolution: prolate (longer than wide) and oblate spheroid.
    """
    a, b = along_m / 2, across_m / 2
    if math.isclose(a, b, rel_tol=1e-6):
        # The closed forms lose their digits here; the mean radius is right to 1e-12.
        return 4 * math.pi * ((a + 2 * b) / 3) ** 2
    if a > b:
        e = math.sqrt(1 - (b / a) ** 2)
        return 2 * math.pi * b * b * (1 + a / (b * e) * math.asin(e))
    e = math.sqrt(1 - (a / b) ** 2)
    return 2 * math.pi * b * b * (1 + (1 - e * e) / e * math.atanh(e))


def exposed_area_m2(skull_length: Figure, skull_width: Figure) -> Figure:
    """Surface a trimmed head shows the beetles, as if it were a spheroid as long and as wide as the skull.

    Parameters
    ----------
    skull_length : Figure
        Length of the skull, above 0. [m]
    skull_width : Figure
        Greatest width of the skull (over the cheek arches), above 0. [m]

    Returns
    -------
    Figure
        Surface. [m2]

    Raises
    ------
    OutsideRange
        If a measure is not above 0.

    Notes
    -----
    That a head is like a spheroid is an estimate, so the result is one, whatever the measures are. Folds, the inside of the
    braincase and the nose are left out (more surface); so are parts the head lies on (less).
    """
    for name, size in (("length", skull_length), ("width", skull_width)):
        if not 0 < size.low <= size.high < float("inf"):
            raise OutsideRange(
                "cleaning.measure",
                "the skull's {name} is {size:length}; it must be above 0: check the species",
                name=name,
                size=size.low,
            )
    return Figure(
        spheroid_surface_m2(skull_length.value, skull_width.value),
        spheroid_surface_m2(skull_length.low, skull_width.low),
        spheroid_surface_m2(skull_length.high, skull_width.high),
        "m2",
        weakest((skull_length.standing, skull_width.standing, Standing.ESTIMATE)),
        f"a head taken as a spheroid; length: {skull_length.source}; width: {skull_width.source}",
    )


def eating_rate_kg_per_day(area: Figure) -> Figure:
    """Fresh tissue that beetles can take a day from so much surface, if there are enough of them.

    Parameters
    ----------
    area : Figure
        Exposed surface, zero or more. [m2]

    Returns
    -------
    Figure
        Fresh tissue a day near 28 degC. [kg/day]

    Notes
    -----
    An estimate nobody has published; weighing a piece on two days in this room is worth more.
    """
    return area.times(FLUX, "kg/day")
