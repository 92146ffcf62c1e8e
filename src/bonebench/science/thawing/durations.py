"""Days a head takes to thaw, to need a look, and to freeze to the core, each with the range its figures leave open."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, weakest
from bonebench.science.thawing.figures import (
    ASPECT,
    BAG,
    COAT,
    COLD_DAYS,
    DENSITY,
    FILM,
    FREEZABLE,
    FREEZING_POINT,
    SHELL,
    WARM_C,
    WARM_HOURS,
    WATER,
)
from bonebench.science.thawing.flesh import Flesh
from bonebench.science.thawing.phase import dimensionality, front_share, pham_freezing_s, plank_s

LETHAL_CORE_C = -18.0
COLDEST_SHELF_C, WARMEST_SHELF_C = 1.0, 40.0
WARMEST_FREEZER_C, COLDEST_FREEZER_C = -19.0, -90.0
HEAVIEST_KG = 100.0
DAY_S = 86400.0
_SLICES = 24
_PHAM_CORE_C = -10.0  # Pham as far as this; closer to the air of a chest freezer than he went, the rest is cooled as a solid


@dataclass(frozen=True)
class _Head:
    """One set of numbers that could be true of a head and of the air round it."""

    mass: float
    film: float
    coat: float
    aspect: float
    density: float
    water: float
    freezable: float
    point: float
    shell: float

    @cached_property
    def flesh(self) -> Flesh:
        return Flesh(self.water, self.freezable, self.point)

    @cached_property
    def transfer(self) -> float:
        """Film and coat in a row. [W/(m2 K)]"""
        return 1 / (1 / self.film + self.coat)

    @cached_property
    def radius(self) -> float:
        """Shortest radius of a spheroid of this mass. [m]"""
        return float((3 * self.mass / self.density / (4 * math.pi * self.aspect)) ** (1 / 3))

    @cached_property
    def dimensions(self) -> float:
        """Hardly depends on which conductivity it is read with: the thawed one is taken."""
        return dimensionality(self.biot(self.flesh.thawed_w_m_k), 1.0, self.aspect)

    def biot(self, conductivity: float) -> float:
        return self.transfer * self.radius / conductivity

    def change_s(self, heat_j_kg: float, difference: float, conductivity: float) -> float:
        """Plank's time for so much heat."""
        return plank_s(
            heat_j_kg * self.density,
            difference,
            radius_m=self.radius,
            film_w_m2_k=self.transfer,
            conductivity_w_m_k=conductivity,
            dimensions=self.dimensions,
        )


def _slices(start: float, point: float) -> list[tuple[float, float]]:
    """Cut the way from the start to the freezing point, finely near the point, where most of the ice melts."""
    way = point - start
    ends = [point - way * (1 - n / _SLICES) ** 2 for n in range(_SLICES + 1)]
    return list(pairwise(ends))


def _cold_and_ice_s(head: _Head, air: float, start: float) -> tuple[float, float]:
    """Time for the cold a frozen head has stored, and for its ice, which melts over a range and not all at one temperature."""
    flesh = head.flesh
    cold = ice = 0.0
    for low, high in _slices(start, head.point):
        middle = (low + high) / 2
        k = flesh.w_m_k(middle)
        cold += head.change_s(flesh.frozen_j_kg_k * (high - low), air - middle, k)
        ice += head.change_s(flesh.latent_j_kg * (flesh.ice_share(low) - flesh.ice_share(high)), air - middle, k)
    return cold, ice


def _shell_s(head: _Head, air: float) -> float:
    """Time for what the flesh outside takes up while the core still thaws: nothing in a small piece, more in a thick one."""
    flesh = head.flesh
    biot = head.biot(flesh.thawed_w_m_k)
    heat = head.shell * flesh.thawed_j_kg_k * (air - head.point) * biot / (1 + biot)
    return head.change_s(heat, air - head.point, flesh.thawed_w_m_k)


def _thaw_s(head: _Head, air: float, start: float) -> float:
    return sum(_cold_and_ice_s(head, air, start)) + _shell_s(head, air)


def _warm_outside_s(head: _Head, air: float, start: float) -> float:
    """Until the surface passes 5 °C, or the whole thaw if it never does before; early by 10 to 40 %, the safe side."""
    share = front_share(WARM_C - head.point, air - head.point, head.biot(head.flesh.thawed_w_m_k))
    cold, ice = _cold_and_ice_s(head, air, start)
    return cold + share * (ice + _shell_s(head, air))


def _freeze_s(head: _Head, air: float, start: float) -> float:
    flesh, k = head.flesh, head.flesh.frozen_w_m_k
    biot = head.biot(k)
    first = pham_freezing_s(
        chill_j_m3_k=head.density * flesh.thawed_j_kg_k,
        latent_j_m3=head.density * flesh.latent_j_kg * flesh.ice_share(_PHAM_CORE_C),
        frozen_j_m3_k=head.density * flesh.frozen_j_kg_k,
        start_c=max(start, 0.0),
        core_c=_PHAM_CORE_C,
        air_c=air,
        radius_m=head.radius,
        film_w_m2_k=head.transfer,
        conductivity_w_m_k=k,
        dimensions=head.dimensions,
    )
    # A slowest mode that is exact for small Biot numbers and within 2 % of the series for slab and sphere to Bi = 1.
    new_ice = flesh.latent_j_kg * (flesh.ice_share(LETHAL_CORE_C) - flesh.ice_share(_PHAM_CORE_C))
    heat = flesh.frozen_j_kg_k + new_ice / (_PHAM_CORE_C - LETHAL_CORE_C)
    constant = head.density * heat * head.radius / (head.dimensions * head.transfer) * (1 + biot / (head.dimensions + 2))
    return first + constant * math.log((_PHAM_CORE_C - air) / (LETHAL_CORE_C - air))


def _ranged(seconds: Callable[[_Head], float], taken: Mapping[str, Figure], method: str) -> Figure:
    """Move one figure at a time to its ends; independent doubts add as squares of logarithms."""
    middle = {name: figure.value for name, figure in taken.items()}
    value = seconds(_Head(**middle))
    down = up = 0.0
    for name, figure in taken.items():
        steps = [math.log(seconds(_Head(**{**middle, name: end})) / value) for end in (figure.low, figure.high)]
        down += min(0.0, *steps) ** 2
        up += max(0.0, *steps) ** 2
    days = value / DAY_S
    return Figure(
        days,
        days * math.exp(-math.sqrt(down)),
        days * math.exp(math.sqrt(up)),
        "days",
        weakest(figure.standing for figure in taken.values()),
        "; ".join(dict.fromkeys((method, taken["mass"].source, taken["film"].source, taken["coat"].source))),
    )


def _taken(mass: Figure, film: Figure, coat: Figure, aspect: Figure) -> dict[str, Figure]:
    _check_mass(mass)
    _check_air(film, coat, aspect)
    return {
        "mass": mass, "film": film, "coat": coat, "aspect": aspect, "density": DENSITY, "water": WATER,
        "freezable": FREEZABLE, "point": FREEZING_POINT, "shell": SHELL,
    }  # fmt: skip


def _check_mass(mass: Figure) -> None:
    if not 0 < mass.low <= mass.high < math.inf:
        raise OutsideRange(
            "thawing.mass", "the head's mass is {mass:mass}; it must be above 0: weigh it again",
            mass=mass.low if mass.low <= 0 else mass.high,
        )  # fmt: skip
    if mass.value > HEAVIEST_KG:
        raise OutsideRange(
            "thawing.heavy",
            "the head's mass is {mass:mass}; these times hold to {most:mass}: weigh the head without the body",
            mass=mass.value,
            most=HEAVIEST_KG,
        )


def _check_air(film: Figure, coat: Figure, aspect: Figure) -> None:
    if not 0 < film.low <= film.high < math.inf:
        raise OutsideRange(
            "thawing.film",
            "air passes {film} W/(m2 K) to the head; it must be above 0: still air gives about 8",
            film=film.low if film.low <= 0 else film.high,
        )
    if not 0 <= coat.low <= coat.high < math.inf:
        raise OutsideRange(
            "thawing.coat",
            "the coat holds back {coat} m2 K/W; it must be 0 or more: 0 for a skinned head",
            coat=coat.low if coat.low < 0 else coat.high,
        )
    if not 1 <= aspect.low <= aspect.high <= 10:
        raise OutsideRange(
            "thawing.aspect",
            "the head is {aspect} times as long as wide; it must lie from 1 to 10: measure along the longest side",
            aspect=aspect.low if not aspect.low >= 1 else aspect.high,
        )


def _check_shelf(air: float, start: float) -> None:
    if not COLDEST_SHELF_C <= air <= WARMEST_SHELF_C:
        raise OutsideRange(
            "thawing.shelf",
            "the thaw shelf is at {air:temperature}; thawing times hold from {coldest:temperature} to {warmest:temperature}: "
            "a head does not thaw in frost, and it rots in heat; use a cool shelf, 4 to 10 °C",
            air=air,
            coldest=COLDEST_SHELF_C,
            warmest=WARMEST_SHELF_C,
        )
    if not COLDEST_FREEZER_C <= start < FREEZING_POINT.low:
        raise OutsideRange(
            "thawing.start",
            "the head starts at {start:temperature}; a frozen one lies from {coldest:temperature} to {point:temperature}: "
            "if it is not frozen, there is nothing to thaw",
            start=start,
            coldest=COLDEST_FREEZER_C,
            point=FREEZING_POINT.low,
        )


def thaw_days(
    head_mass: Figure, air_temperature_c: float, start_temperature_c: float = -20.0,
    *, film: Figure = FILM, coat: Figure = COAT, aspect: Figure = ASPECT,
) -> Figure:  # fmt: skip
    """Time a frozen head takes on a shelf in still air until the ice in its middle is gone, just: cold, and soft enough to cut.

    Parameters
    ----------
    head_mass : Figure
        Mass as it lies there, above 0 to 100. [kg]
    air_temperature_c : float
        Air round it, 1 to 40. [degC]
    start_temperature_c : float, optional
        Temperature it comes out of the freezer with, -90 to below -2.2. [degC]
    film : Figure, optional
        Heat that passes from air to the outside of the coat. [W/(m2 K)]
    coat : Figure, optional
        What fur, feathers and bag hold back; 0 for a bare head. [m2 K/W]
    aspect : Figure, optional
        Length over width with the flesh on: the shape factor, 1 for a ball. [m/m]

    Returns
    -------
    Figure
        Days; always an estimate, because coat, film and shape are. The head can be cut earlier, while the middle is stiff. [days]

    Raises
    ------
    OutsideRange
        If a mass, temperature, film, coat or shape lies outside its range.

    Notes
    -----
    Plank's equation, taken slice by slice of temperature from the start to the freezing point, each with the ice that melts in
    it and the conductivity there (exact for a small piece), and the heat the thawed part takes up meanwhile: half of what it
    could, times ``Bi / (1 + Bi)``, range none to all. A spheroid stands for the head; the doubts are taken as independent.
    Against a fine numerical solution of the same sphere the method lies within 10 % up to 20 degC of air and 15 % up to 30 (tests);
    the range is the doubt about the head. A fur coat matters more than anything else: it can double the time. Left out:
    a wet bare skin that dries (slower), neighbours on the shelf (slower), the air in the nose.

    References
    ----------
    .. [1] Plank's equation, see `plank_s`. Plank takes all ice at one temperature, which is up to 1.8 times too slow on a
       cool shelf. Cleland et al. 1986 reach 10 % with fitted corrections, which were not at hand.
    """
    _check_shelf(air_temperature_c, start_temperature_c)
    taken = _taken(head_mass, film, coat, aspect)
    return _ranged(lambda head: _thaw_s(head, air_temperature_c, start_temperature_c), taken, "Plank's equation for thawing")


def look_by_days(
    head_mass: Figure, air_temperature_c: float, start_temperature_c: float = -20.0,
    *, film: Figure = FILM, coat: Figure = COAT, aspect: Figure = ASPECT,
) -> Figure:  # fmt: skip
    """Time after which a thawing head must be looked at, because its outside has been warm long enough to spoil.

    Parameters
    ----------
    head_mass : Figure
        Mass as it lies there, above 0 to 100. [kg]
    air_temperature_c : float
        Air round it, 1 to 40. [degC]
    start_temperature_c : float, optional
        Temperature it comes out of the freezer with, -90 to below -2.2. [degC]
    film, coat, aspect : Figure, optional
        As in `thaw_days`.

    Returns
    -------
    Figure
        Days; show the low end ("look by"). Never an all-clear: a head that was warm before it was frozen spoils sooner. [days]

    Raises
    ------
    OutsideRange
        As in `thaw_days`.

    Notes
    -----
    Air above 5 degC: until the skin passes 5 degC, and four hours more. That may come before the middle has thawed: a big head in
    a warm room rots outside while it is hard inside, which is why it is thawed in the cool. Against the numerical solution the
    skin is told to be warm a tenth too early in the cool and up to 40 % in a warm room, never too late. Air of 5 degC or
    less: the whole thaw, and three days more (1 to 5). Both are rules of the kitchen, where the meat is eaten; for a head nobody
    has published one.

    References
    ----------
    .. [1] US FDA Food Code 3-501.13 (thawing), read as Washington Administrative Code 246-215-03510 (2d).
    .. [2] University of Illinois Extension, Meat safety: thawing, after USDA, The big thaw (2013).
    """
    _check_shelf(air_temperature_c, start_temperature_c)
    taken = _taken(head_mass, film, coat, aspect)
    warm = air_temperature_c > WARM_C
    until = _warm_outside_s if warm else _thaw_s
    rule = WARM_HOURS.scaled(1 / 24, "days") if warm else COLD_DAYS
    reached = _ranged(lambda head: until(head, air_temperature_c, start_temperature_c), taken, "Plank's equation for thawing")
    return Figure(
        reached.value + rule.value,
        reached.low + rule.low,
        reached.high + rule.high,
        "days",
        weakest((reached.standing, rule.standing)),
        f"{rule.source}; {reached.source}",
    )


def freeze_days(
    head_mass: Figure, freezer_temperature_c: float, start_temperature_c: float,
    *, film: Figure = FILM, coat: Figure = BAG, aspect: Figure = ASPECT,
) -> Figure:  # fmt: skip
    """Time until the core of a head in a freezer is at -18 degC: the clock of the killing cold starts only then.

    Parameters
    ----------
    head_mass : Figure
        Mass of the piece, above 0 to 100. [kg]
    freezer_temperature_c : float
        Air of the freezer, -90 to -19. [degC]
    start_temperature_c : float
        Temperature of the piece, up to 45; below 0 it is taken as 0, which is never too quick. [degC]
    film : Figure, optional
        Heat that passes from its outside to still air. [W/(m2 K)]
    coat : Figure, optional
        What a bag holds back; `COAT` for a head in its skin. [m2 K/W]
    aspect : Figure, optional
        Length over width. [m/m]

    Returns
    -------
    Figure
        Days; always an estimate. Use the high end before anything goes into the box. [days]

    Raises
    ------
    OutsideRange
        If the freezer is warmer than -19 degC (its core never gets to -18), or a mass, temperature, film, coat or shape lies
        outside its range.

    Notes
    -----
    Pham's method until the core is at -10 degC, then cooling of a solid that still makes a little ice. Left out: a freezer that
    warms when much is put in at once, pieces packed against each other beyond what the range of ``film`` covers. Objects of
    a museum took 20-36 h to reach the temperature [2]_, which is of the same size and proves nothing more.

    References
    ----------
    .. [1] Pham 1986, see `pham_freezing_s`.
    .. [2] Bergh J.-E. et al. A contribution to standards for freezing as a pest control method for museums.
    """
    if not COLDEST_FREEZER_C <= freezer_temperature_c <= WARMEST_FREEZER_C:
        raise OutsideRange(
            "thawing.freezer",
            "the freezer is at {air:temperature}; the middle of a piece gets to {core:temperature} only in one from "
            "{coldest:temperature} to {warmest:temperature}: set it colder, and read a thermometer that lies in it",
            air=freezer_temperature_c,
            core=LETHAL_CORE_C,
            coldest=COLDEST_FREEZER_C,
            warmest=WARMEST_FREEZER_C,
        )
    if not COLDEST_FREEZER_C <= start_temperature_c <= 45:
        raise OutsideRange(
            "thawing.warm",
            "the piece starts at {start:temperature}; it must lie from {coldest:temperature} to {warmest:temperature}: "
            "let a cooked one cool first",
            start=start_temperature_c,
            coldest=COLDEST_FREEZER_C,
            warmest=45.0,
        )
    taken = _taken(head_mass, film, coat, aspect)
    return _ranged(lambda head: _freeze_s(head, freezer_temperature_c, start_temperature_c), taken, "Pham's method for freezing")
