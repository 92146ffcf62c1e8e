"""A head in the box as a store of heat: what is in it by its temperature, ice and all, and how fast heat gets in."""

# ruff: noqa: PLR0917  (compiled functions take plain arguments by place)

import math
from dataclasses import dataclass

from bonebench.errors import OutsideRange
from bonebench.figures import Figure
from bonebench.science.kernel import compiled
from bonebench.science.thawing.durations import HEAVIEST_KG
from bonebench.science.thawing.figures import ASPECT, DENSITY, FILM, FREEZABLE, FREEZING_POINT, WATER
from bonebench.science.thawing.flesh import REFERENCE_C, Flesh
from bonebench.science.thawing.phase import dimensionality

FLESH = Flesh(WATER.value, FREEZABLE.value, FREEZING_POINT.value)
COLDEST_C, WARMEST_C = -60.0, 60.0


@dataclass(frozen=True, slots=True)
class HeadIn:
    """A head that is put in.

    Attributes
    ----------
    at_s, out_s : float
        When it goes in and comes out again, from the start of the run; infinite if it stays. [s]
    mass_kg : float
        Its mass, above 0. [kg]
    temperature_c : float
        How cold it goes in. [degC]
    """

    at_s: float
    mass_kg: float
    temperature_c: float
    out_s: float = math.inf


@compiled
def temperature_of(heat: float, frozen: float, thawed: float, melting: float, point: float) -> float:
    """Temperature by the heat in flesh, 0 where the last ice has just melted. [J/kg], [J/kgK] x2, [J/kg], [degC] -> [degC]

    Below the freezing point ``c (t - point) - melting (1 - point/t) = heat``, which is a square in t.
    """
    if heat >= 0.0:
        return point + heat / thawed
    b = frozen * point + melting + heat
    root = math.sqrt(b * b - 4.0 * frozen * melting * point)
    # The root below zero, in the form that does not cancel.
    if b < 0.0:
        return (b - root) / (2.0 * frozen)
    return 2.0 * melting * point / (b + root)


@compiled
def heat_of(t: float, frozen: float, thawed: float, melting: float, point: float) -> float:
    """Heat in flesh by its temperature, 0 where the last ice has just melted. [degC] -> [J/kg]"""
    if t >= point:
        return (t - point) * thawed
    return frozen * (t - point) - melting * (1.0 - point / t)


@compiled
def capacity_at(t: float, heat: float, frozen: float, thawed: float, melting: float, point: float) -> float:
    """Apparent specific heat: that of the flesh and of the ice that melts with a degree. [J/(kg K)]"""
    if heat >= 0.0:
        return thawed
    return frozen - melting * point / (t * t)


def melting_j_kg(flesh: Flesh) -> float:
    """Heat of all ice there would ever be, of which `Flesh.latent_j_kg` is what there is at -20 degC.

    Parameters
    ----------
    flesh : Flesh
        What the head is made of.

    Returns
    -------
    float
        Heat. [J/kg]
    """
    return flesh.latent_j_kg / (1 - flesh.freezing_point_c / REFERENCE_C)


def head_conductance(mass_kg: float, *, film: Figure = FILM, flesh: Flesh = FLESH) -> tuple[float, float]:
    """How fast heat gets into a head, over the whole of its thaw, and its surface.

    Parameters
    ----------
    mass_kg : float
        Its mass, above 0 to 100. [kg]
    film : Figure, optional
        Heat from air to surface. [W/(m2 K)]
    flesh : Flesh, optional
        What it is made of.

    Returns
    -------
    conductance, area : float
        [W/K], [m2]

    Raises
    ------
    OutsideRange
        If the mass is out of range.

    Notes
    -----
    A spheroid. ``h A / (1 + Bi/2)``, with the area that `dimensionality` gives, takes the time of Plank's equation; the way
    inside therefore counts as half of what a fully thawed shell would hold up.
    """
    if not 0 < mass_kg <= HEAVIEST_KG:
        raise OutsideRange(
            "enclosure.head_mass",
            "a head of {mass:mass} cannot be put in; it is above 0 to {most:mass}",
            mass=mass_kg,
            most=HEAVIEST_KG,
        )
    radius = (3 * mass_kg / DENSITY.value / (4 * math.pi * ASPECT.value)) ** (1 / 3)
    biot = film.value * radius / flesh.thawed_w_m_k
    area = dimensionality(biot, 1.0, ASPECT.value) * mass_kg / DENSITY.value / radius
    return film.value * area / (1 + biot / 2), area
