"""A box as people describe it: what it is made of, what is in it, how it is switched. A few numbers are enough to begin with."""

import math
from dataclasses import dataclass, field
from typing import Literal

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Basis, basis
from bonebench.science.air.paths import Duct, Holes, check_paths
from bonebench.science.enclosure import defaults as d
from bonebench.science.enclosure.sorption import BED_TAU_S


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a wall: thickness [m] and conductivity [W/mK]."""

    thickness_m: float = d.FOAM_M.value
    conductivity_w_mk: float = d.FOAM_W_MK.value


@dataclass(frozen=True, slots=True)
class Window:
    """A window in lid or wall: area [m2] and U-value [W/m2K]."""

    area_m2: float
    u_w_m2k: float = d.WINDOW_U.value


@dataclass(frozen=True, slots=True)
class Heater:
    """The heater in the box and its thermostat, which turns on half the hysteresis below the set point and off half above.

    ``least_run_s`` is how long it stays on at least, ``lag_s`` how slowly its sensor follows (0: at once). [W], [degC], [K], [s]
    """

    power_w: float
    radiant_share: float = d.RADIANT.value
    set_c: float = d.SET_C.value
    hysteresis_k: float = d.HYSTERESIS_K.value
    least_run_s: float = d.RUN_S.value
    lag_s: float = d.LAG_S.value


@dataclass(frozen=True, slots=True)
class Humidistat:
    """What turns the fan: on at and above ``on_rh``, off at and below ``off_rh``. [1], [s], and the fan's draw [W]"""

    on_rh: float = d.FAN_ON_RH.value
    off_rh: float = d.FAN_OFF_RH.value
    least_run_s: float = d.FAN_RUN_S.value
    lag_s: float = d.LAG_S.value
    fan_w: float = d.FAN_W.value


@dataclass(frozen=True, slots=True)
class Bedding:
    """Wood shavings or the like: dry mass [kg] and how slowly they take up water [s]."""

    dry_kg: float = d.BED_KG.value
    tau_s: float = BED_TAU_S.value


@dataclass(frozen=True, slots=True)
class Store:
    """Something that holds heat. Pavers wrapped in foil take no water and few rays; water stands in closed bottles or jugs.

    ``mass_kg`` [kg]; ``thickness_m`` of one paver [m], unused for water.
    """

    kind: Literal["pavers", "water"]
    mass_kg: float
    thickness_m: float = d.STONE_M.value
    wrapped: bool = True


@dataclass(frozen=True, slots=True)
class Band:
    """What the colony is to have: temperature [degC] and relative humidity [1], lowest and highest."""

    low_c: float = d.BAND_T.low
    high_c: float = d.BAND_T.high
    low_rh: float = d.BAND_RH.low
    high_rh: float = d.BAND_RH.high


@dataclass(frozen=True, slots=True)
class Box:
    """A heated box in a colder building.

    Attributes
    ----------
    outside_m : tuple of float, shape (3,)
        Length, width and height over all. [m]
    walls : tuple of Layer
        Walls and floor from inside out; the lid too unless ``lid`` is given.
    lid : tuple of Layer or None
        Layers of the lid.
    window : Window or None
        A window.
    holes : tuple of Holes
        Groups of like holes; heights above the floor inside.
    duct : Duct or None
        A duct with its flap, and the fan in it.
    heater : Heater or None
        The heater.
    humidistat : Humidistat or None
        What turns the fan; None leaves it off.
    bedding : Bedding or None
        The bedding.
    stores : tuple of Store
        Pavers and water.
    elevation_m : float
        Of the place above the sea. [m]
    band : Band
        What the colony is to have.
    liner_j_m2k : float
        Heat the liner holds for each area of inner wall. [J/m2K]
    measured_w_k : float or None
        Conductance found by test; it replaces the one worked out. [W/K]
    measured_air_kg_s : tuple of float or None
        Air that passes with the fan off and on, found by test; it replaces the one worked out. [kg/s]
    given : frozenset of str
        Places of `DEFAULTS` that somebody has stated.
    """

    outside_m: tuple[float, float, float]
    walls: tuple[Layer, ...] = (Layer(),)
    lid: tuple[Layer, ...] | None = None
    window: Window | None = None
    holes: tuple[Holes, ...] = ()
    duct: Duct | None = None
    heater: Heater | None = None
    humidistat: Humidistat | None = None
    bedding: Bedding | None = field(default_factory=Bedding)
    stores: tuple[Store, ...] = ()
    elevation_m: float = 0.0
    band: Band = field(default_factory=Band)
    liner_j_m2k: float = d.LINER_J_M2K.value
    measured_w_k: float | None = None
    measured_air_kg_s: tuple[float, float] | None = None
    given: frozenset[str] = frozenset()

    @property
    def inside_m(self) -> tuple[float, float, float]:
        """Length, width and height between the walls. [m]"""
        wall = sum(layer.thickness_m for layer in self.walls)
        top = sum(layer.thickness_m for layer in self.lid) if self.lid is not None else wall
        length, width, height = self.outside_m
        return length - 2 * wall, width - 2 * wall, height - wall - top


def check_box(box: Box) -> None:
    """Refuse a box that cannot be.

    Parameters
    ----------
    box : Box
        The description.

    Raises
    ------
    OutsideRange
        If a size, a power or a threshold lies outside what can be.
    Impossible
        If walls leave no room, thresholds cross, the band is upside down, or a humidistat has no fan to turn.
    """
    if min(box.inside_m) <= 0.05 or max(box.outside_m) > 10:
        raise Impossible(
            "box.room", "a box of {length:length} by {width:length} by {height:length} over all leaves no room between its walls, "
            "or is above 10 m: look at its sizes and the thickness of its layers",
            length=box.outside_m[0], width=box.outside_m[1], height=box.outside_m[2],
        )  # fmt: skip
    if box.measured_w_k is not None and not 0 < box.measured_w_k < 1000:
        raise OutsideRange("box.measured", "a measured conductance of {w_k} W/K cannot be; it is above 0 and below 1000",
                           w_k=f"{box.measured_w_k:g}")  # fmt: skip
    if box.measured_air_kg_s is not None and not all(0 <= flow < 1 for flow in box.measured_air_kg_s):
        raise OutsideRange("box.measured_air", "a measured flow of air is 0 or more and below 1 kg/s")
    if box.measured_air_kg_s is None:
        check_paths(box.holes, box.duct, box.inside_m[2])
    _check_heater(box.heater)
    _check_humidistat(box)
    _check_stores(box)
    if not (box.band.low_c < box.band.high_c and 0 <= box.band.low_rh < box.band.high_rh <= 1):
        raise Impossible(
            "box.band", "the band runs from its lower to its higher end, and humidity from 0 to 100 %: put the ends in order"
        )
    if not -500 <= box.elevation_m <= 5000:
        raise OutsideRange("box.elevation", "the place lies {z} m above the sea; it is -500 to 5000 m", z=f"{box.elevation_m:g}")


def _check_heater(heater: Heater | None) -> None:
    if heater is None:
        return
    if not 0 <= heater.power_w <= 5000 or not 0 <= heater.radiant_share <= 1:
        raise OutsideRange(
            "box.heater", "a heater of {power:power} with {share:percent} of it as rays cannot be; 0 to 5 kW and 0 to 100 %",
            power=heater.power_w, share=heater.radiant_share,
        )  # fmt: skip
    if not 0 < heater.hysteresis_k <= 20:
        raise Impossible(
            "box.heater_thresholds", "the heater would turn off at or below where it turns on: its hysteresis is {gap:warming}; "
            "write one above 0, up to 20 K",
            gap=heater.hysteresis_k,
        )  # fmt: skip
    if not 0 <= heater.set_c <= 45:
        raise OutsideRange(
            "box.heater_set", "the heater is set to {set:temperature}; a colony lives between 0 and 45 °C", set=heater.set_c
        )
    if heater.least_run_s < 0 or heater.lag_s < 0:
        raise OutsideRange("box.heater_times", "a least run and a sensor's lag are 0 or more")


def _check_humidistat(box: Box) -> None:
    at = box.humidistat
    if at is None:
        return
    if not (0 <= at.off_rh <= 1 and 0 <= at.on_rh <= 1):
        raise OutsideRange("box.humidistat", "the fan's thresholds are {off:percent} and {on:percent}; they lie from 0 to 100 %",
                           off=at.off_rh, on=at.on_rh)  # fmt: skip
    if at.off_rh >= at.on_rh:
        raise Impossible(
            "box.humidistat_thresholds", "the fan's thresholds cross: it turns on at {on:percent} and off at {off:percent}; "
            "off must lie below on",
            on=at.on_rh, off=at.off_rh,
        )  # fmt: skip
    if at.least_run_s < 0 or at.lag_s < 0:
        raise OutsideRange("box.humidistat_times", "a least run and a sensor's lag are 0 or more")
    if box.measured_air_kg_s is None and (box.duct is None or box.duct.fan_free_m3_s <= 0):
        raise Impossible(
            "box.no_fan", "a humidistat has no fan to turn: describe the fan and its duct, or leave the humidistat out"
        )


def _check_stores(box: Box) -> None:
    bed = box.bedding
    if bed is not None and not (0 <= bed.dry_kg <= 500 and bed.tau_s >= 0):
        raise OutsideRange("box.bedding", "bedding of {mass:mass} cannot be; 0 to 500 kg, and a time of 0 or more", mass=bed.dry_kg)
    for store in box.stores:
        if not (0 < store.mass_kg <= 5000 and 0.005 <= store.thickness_m <= 0.5):
            raise OutsideRange(
                "box.store", "a store of {mass:mass}, {thick:length} thick, cannot be; above 0 to 5000 kg, 5 to 500 mm",
                mass=store.mass_kg, thick=store.thickness_m,
            )  # fmt: skip


def to_sharpen(box: Box) -> list[Basis]:
    """List the figures this box rests on that nobody has stated, for a card to show.

    Parameters
    ----------
    box : Box
        The description.

    Returns
    -------
    list of Basis
        Place in the file, range, unit, standing and source.
    """
    absent = {
        "window.": box.window is None,
        "fan.": box.duct is None or box.duct.fan_free_m3_s <= 0,
        "humidistat.": box.humidistat is None,
        "heater.": box.heater is None,
        "bedding.": box.bedding is None,
        "holes.": not box.holes,
        "stores.": not any(store.kind == "pavers" for store in box.stores),
    }
    if box.measured_w_k is not None:
        absent["box.walls."] = absent["box.film"] = True
    if box.measured_air_kg_s is not None:
        absent["holes."] = True
    return [
        basis(place, figure)
        for place, figure in d.DEFAULTS.items()
        if place not in box.given and not any(gone and place.startswith(start) for start, gone in absent.items())
    ]


def simple_box(
    outside_m: tuple[float, float, float], *, wall_m: float, heater_w: float, holes: tuple[tuple[int, float], ...],
    hole_m: float = 0.0254,
) -> Box:  # fmt: skip
    """Describe a box by the few numbers a person can tell at once.

    Parameters
    ----------
    outside_m : tuple of float, shape (3,)
        Length, width and height over all. [m]
    wall_m : float
        Thickness of its foam. [m]
    heater_w : float
        Power of the heater, 0 for none. [W]
    holes : tuple of (count, height)
        Open holes and their height above the floor inside. [m]
    hole_m : float, optional
        Width of a hole. [m]

    Returns
    -------
    Box
        Checked; all else by default.

    Raises
    ------
    OutsideRange, Impossible
        As `check_box`.
    """
    box = Box(
        outside_m=outside_m,
        walls=(Layer(wall_m),),
        holes=tuple(Holes(count, hole_m, height) for count, height in holes),
        heater=Heater(heater_w) if heater_w > 0 else None,
        given=frozenset({"box.walls.thickness"}),
    )
    check_box(box)
    return box


def paver_area_m2(store: Store) -> float:
    """Area of both faces of flat pavers of this mass. [m2]"""
    return 2 * store.mass_kg / (d.STONE_KG_M3.value * store.thickness_m)


def first_mode(biot: float) -> tuple[float, float]:
    """First mode of a slab with the same film on both faces.

    Parameters
    ----------
    biot : float
        Film times half the thickness over conductivity, above 0. [1]

    Returns
    -------
    root, share : float
        The smallest positive solution of ``z tan z = Bi``, and the first mode's share of the middle's temperature. [1]

    References
    ----------
    .. [1] Series solution of the heat equation in a slab, any textbook of heat conduction.
    """
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        z = (low + high) / 2
        low, high = (z, high) if z * math.tan(z) < biot else (low, z)
    z = (low + high) / 2
    return z, 4 * math.sin(z) / (2 * z + math.sin(2 * z))


def paver_conductance(store: Store) -> float:
    """Heat pavers exchange with the air, at the pace of their slowest mode. [W/K]"""
    film = d.FOIL_W_M2K.value if store.wrapped else d.STONE_W_M2K.value
    half = store.thickness_m / 2
    root, _ = first_mode(film * half / d.STONE_W_MK.value)
    return d.STONE_W_MK.value * root**2 / half * paver_area_m2(store)
