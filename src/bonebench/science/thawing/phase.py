"""How long a body takes to freeze or thaw through: Plank's equation, Pham's method and shapes between slab and sphere.

Every formula has the same frame: ``radius / (dimensionality * film) * heat / temperature difference * (1 + Bi / 2)``. With a
dimensionality of 1, 2 and 3 it is Plank's for slab, long cylinder and sphere.
"""


def plank_s(
    heat_j_m3: float, difference_k: float, *, radius_m: float, film_w_m2_k: float, conductivity_w_m_k: float, dimensions: float
) -> float:
    """Time for a front of melting or freezing to reach the middle.

    Parameters
    ----------
    heat_j_m3 : float
        Heat to change a cubic metre, above 0. [J/m3]
    difference_k : float
        Between the air and the point of change, above 0. [K]
    radius_m : float
        From surface to middle the shortest way: half of Plank's thickness or diameter, above 0. [m]
    film_w_m2_k : float
        Heat that passes from air to surface, with wrapping, above 0. [W/(m2 K)]
    conductivity_w_m_k : float
        Of the layer the heat has to cross: frozen when freezing, thawed when thawing, above 0. [W/(m K)]
    dimensions : float
        1 for a slab, 2 for a long cylinder, 3 for a sphere, between them for shapes between. [-]

    Returns
    -------
    float
        Time. [s]

    Notes
    -----
    Heat stored in the layer already changed is left out, so by itself it is a little too quick. Published worked examples
    agree with it to their last digit; see the tests.

    References
    ----------
    .. [1] Plank R. 1913. Z. ges. Kälte-Ind. 20:109-114, in the form of every food engineering textbook (from memory):
       ``heat / difference * (P D / h + R D**2 / k)``, (P, R) 1/2, 1/8; 1/4, 1/16; 1/6, 1/24.
    """
    biot = film_w_m2_k * radius_m / conductivity_w_m_k
    return radius_m / (dimensions * film_w_m2_k) * heat_j_m3 / difference_k * (1 + biot / 2)


def dimensionality(biot: float, middle: float, longest: float) -> float:
    """How many directions heat comes from, for an ellipsoid.

    Parameters
    ----------
    biot : float
        Film times shortest radius over conductivity, above 0. [-]
    middle, longest : float
        The other two axes as multiples of the shortest, 1 or more. [-]

    Returns
    -------
    float
        3 for a sphere, near 2 for a long roll, near 1 for a wide slab. [-]

    Notes
    -----
    The three limits are exact whatever the Biot number. It is the published form for ellipsoids, remembered; what holds it
    here are those limits and, for a small Biot number, surface over volume (tests).

    References
    ----------
    .. [1] Equivalent heat transfer dimensionality, ASHRAE Handbook - Refrigeration, cooling and freezing times of foods
       (formula from memory).
    """
    return 1 + _side(biot, middle) + _side(biot, longest)


def _side(biot: float, ratio: float) -> float:
    return (1 + 2 / biot) / (ratio**2 + 2 * ratio / biot)


def front_share(surface_k: float, air_k: float, biot: float) -> float:
    """Share of the thawing time of a sphere after which its surface has warmed so far.

    Parameters
    ----------
    surface_k : float
        How far the surface is to be above the freezing point, zero or more. [K]
    air_k : float
        How far the air is above the freezing point, above 0. [K]
    biot : float
        Film times radius over the conductivity of the thawed layer, above 0. [-]

    Returns
    -------
    float
        0 to 1; 1 if the air is not warm enough to bring it there before the core has thawed. [-]

    Notes
    -----
    Quasi-steady: with the front at a share s of the radius, ``(surface - point) / (air - surface) = Bi (1/s - 1)``, and the time
    to get there goes as ``(1 - s**3) (1/Bi - 1) / 3 + (1 - s**2) / 2``. Derived here from Plank's assumptions.
    """
    if surface_k >= air_k:
        return 1.0
    s = 1 / (1 + surface_k / (air_k - surface_k) / biot)
    return ((1 - s**3) * (1 / biot - 1) / 3 + (1 - s**2) / 2) / ((1 / biot - 1) / 3 + 1 / 2)


def pham_freezing_s(
    *, chill_j_m3_k: float, latent_j_m3: float, frozen_j_m3_k: float, start_c: float, core_c: float, air_c: float,
    radius_m: float, film_w_m2_k: float, conductivity_w_m_k: float, dimensions: float,
) -> float:  # fmt: skip
    """Time to bring the core of a body from above freezing to a temperature below.

    Parameters
    ----------
    chill_j_m3_k : float
        Heat capacity before freezing, above 0. [J/(m3 K)]
    latent_j_m3 : float
        Heat of freezing, above 0. [J/m3]
    frozen_j_m3_k : float
        Heat capacity after freezing, above 0. [J/(m3 K)]
    start_c : float
        Temperature at the start, above freezing. [degC]
    core_c : float
        Temperature the core is to reach, below freezing and above ``air_c``. [degC]
    air_c : float
        Temperature of the freezer. [degC]
    radius_m : float
        From surface to middle the shortest way, above 0. [m]
    film_w_m2_k : float
        Heat that passes from surface to air, with wrapping, above 0. [W/(m2 K)]
    conductivity_w_m_k : float
        Of frozen flesh, above 0. [W/(m K)]
    dimensions : float
        As in `plank_s`. [-]

    Returns
    -------
    float
        Time. [s]

    Notes
    -----
    Two periods, before and after a mean freezing temperature ``1.8 + 0.263 core + 0.105 air``. Said to lie within about 10 % for
    Biot numbers 0.02 to 11 and air much colder than the core is to become (from memory); a core that comes within a few degrees
    of the air is outside what it was fitted to.

    References
    ----------
    .. [1] Pham Q.T. 1986. Int. J. Food Sci. Technol. 21:209-219, as presented in ASHRAE Handbook - Refrigeration, cooling and
       freezing times of foods (read in three public programs that agree).
    """
    mean = 1.8 + 0.263 * core_c + 0.105 * air_c
    before = chill_j_m3_k * (start_c - mean) / ((start_c + mean) / 2 - air_c)
    after = (latent_j_m3 + frozen_j_m3_k * (mean - core_c)) / (mean - air_c)
    biot = film_w_m2_k * radius_m / conductivity_w_m_k
    return radius_m / (dimensions * film_w_m2_k) * (before + after) * (1 + biot / 2)
