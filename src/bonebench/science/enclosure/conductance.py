"""Heat that walls let through: layers with their films, edges and corners, a window."""

from collections.abc import Sequence

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing

FILM_R = Figure(
    0.13, 0.10, 0.17, "m2K/W", Standing.PUBLISHED, "ISO 6946, still air at an upright face; 0.10 upward, 0.17 downward from memory"
)
GAP_R = Figure(0.15, 0.12, 0.18, "m2K/W", Standing.MEMORY, "air gap of 12 mm between panes, ISO 6946 from memory")
# Langmuir's shape factors for a thick-walled box by its inner sizes; handbook of heat conduction, from memory.
EDGE_SHAPE, CORNER_SHAPE = 0.54, 0.15


def layered_u(
    layers: Sequence[tuple[float, float]], film_in: float = FILM_R.value, film_out: float = FILM_R.value, gaps: float = 0.0
) -> float:
    """Heat passed by a wall of layers with still air on both sides.

    Parameters
    ----------
    layers : sequence of (thickness, conductivity)
        From inside out. [m], [W/mK]
    film_in, film_out : float, optional
        Resistance of the air at each face. [m2K/W]
    gaps : float, optional
        Resistance of air gaps between panes. [m2K/W]

    Returns
    -------
    float
        U-value. [W/m2K]

    Raises
    ------
    OutsideRange
        If a thickness or conductivity is not above 0.

    References
    ----------
    .. [1] ISO 6946: resistances in series.
    """
    for thickness, k in layers:
        if not (0 < thickness < 2 and 0 < k < 500):
            raise OutsideRange(
                "box.layer", "a layer of {thick:length} at {k} W/mK cannot be: both must be above 0 and the layer below 2 m",
                thick=thickness, k=f"{k:g}",
            )  # fmt: skip
    return 1 / (film_in + film_out + gaps + sum(thickness / k for thickness, k in layers))


def box_conductance(
    inner_m: tuple[float, float, float], layers: Sequence[tuple[float, float]], *, lid_u: float | None = None, window_m2: float =
    0.0,
    window_u: float = 2.4,
) -> float:  # fmt: skip
    """Heat that a whole box lets through for each degree.

    Parameters
    ----------
    inner_m : tuple of float, shape (3,)
        Inner length, width and height. [m]
    layers : sequence of (thickness, conductivity)
        Of walls, floor and lid. [m], [W/mK]
    lid_u : float or None, optional
        U-value of a lid of another make. [W/m2K]
    window_m2, window_u : float, optional
        A window in the lid or wall. [m2], [W/m2K]

    Returns
    -------
    float
        Conductance. [W/K]

    Raises
    ------
    OutsideRange
        If a size is not above 0, or the window is larger than the lid.

    Notes
    -----
    Faces by their inner area; edges and corners are added by shape factors, ``0.54 k L`` an edge and ``0.15 k t`` a corner, with
    the
    layers' own mean conductivity. A measured value is better and replaces it.
    """
    length, width, height = inner_m
    if min(inner_m) <= 0 or not 0 <= window_m2 < length * width:
        raise OutsideRange("box.size", "a box of {length:length} by {width:length} by {height:length} "
                                       "inside with that window cannot be",
                           length=length, width=width, height=height)  # fmt: skip
    wall = layered_u(layers)
    thick = sum(thickness for thickness, _ in layers)
    mean_k = thick / sum(thickness / k for thickness, k in layers)
    lid = length * width - window_m2
    faces = 2 * height * (length + width) + length * width
    whole = wall * faces + (wall if lid_u is None else lid_u) * lid + window_u * window_m2
    return whole + EDGE_SHAPE * mean_k * 4 * (length + width + height) + 8 * CORNER_SHAPE * mean_k * thick
