"""A vessel and the skulls that go in: whether they lie in it, what their bone pushes aside, when they float."""

import math
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.lid import closed_lid_bar as closed_lid_bar  # noqa: PLC0414 (callers know it here)

BONE_DENSITY = Figure(
    1.8, 1.5, 2.0, "kg/L", Standing.MEMORY, "dry bone with its fine pores, without the hollows of the skull, which fill with bath"
)
# Skull and jaw dry, without antlers or horns, against the fresh head with its skin. Ten kinds give middles of 0.16 (muskrat) to
# 0.41 (moose), both masses from memory, so it is a guess for covering and for nothing else.
BONE_OF_HEAD = Figure(
    0.25,
    0.12,
    0.45,
    "share",
    Standing.ESTIMATE,
    "dry skull and jaw against fresh head, ten kinds from muskrat to moose, from memory",
)
# Free space above the bath, as a share of the vessel's height: foam and a hand need it.
FREEBOARD = Figure(0.2, 0.15, 0.3, "share", Standing.PRACTICE, "room above the bath for foam and hands: common practice, no source")
COVER_M = Figure(0.03, 0.02, 0.05, "m", Standing.PRACTICE, "bath above the highest bone: common practice, no source")
# A skull that fills more of the vessel than this touches both ends.
FITS_WITHIN = 0.98
LARGEST_M = 5.0
# A measured brim may pass length x width x depth by so much, for a bulge and a rough ruler; a cone holds a third.
BULGE, CONE = 1.05, 1 / 3


@dataclass(frozen=True, slots=True)
class Vessel:
    """A vessel by its inner sizes; a round one has the same length and width.

    Attributes
    ----------
    length_m, width_m, depth_m : float
        Inner length, width and depth to the brim; of one that tapers, at the brim. [m]
    round : bool
        Whether its plan is a circle of diameter ``length_m``.
    measured_l : float or None
        What it really holds to the brim, if that was measured: a tub that tapers holds less than its sizes say. [L]
    guessed : bool
        Whether its sizes are only guessed from what it holds.
    """

    length_m: float
    width_m: float
    depth_m: float
    round: bool = False
    measured_l: float | None = None
    guessed: bool = False

    def __post_init__(self) -> None:
        for name, size in (("length", self.length_m), ("width", self.width_m), ("depth", self.depth_m)):
            if not 0 < size < LARGEST_M:
                raise OutsideRange("vessel.size", "the vessel's {name} is {size:length}; it lies above 0 and below {most:length}",
                                   name=name, size=size, most=LARGEST_M)  # fmt: skip
        sizes_l = self.plan_m2 * self.depth_m * 1000
        if self.measured_l is not None and not sizes_l * CONE <= self.measured_l <= sizes_l * BULGE:
            raise Impossible(
                "vessel.measured",
                "the vessel is said to hold {measured:volume}, and by its sizes it is {sizes:volume}: measure one of them again",
                measured=self.measured_l,
                sizes=sizes_l,
            )

    @property
    def plan_m2(self) -> float:
        """Area at the brim. [m2]"""
        return math.pi * self.length_m**2 / 4 if self.round else self.length_m * self.width_m

    @property
    def area_m2(self) -> float:
        """Area in the mean of its depth; at the brim, unless it tapers. [m2]"""
        return self.plan_m2 if self.measured_l is None else self.measured_l / 1000 / self.depth_m

    @property
    def brim_l(self) -> float:
        """To the brim. [L]"""
        return self.area_m2 * self.depth_m * 1000

    @property
    def longest_m(self) -> float:
        """The longest thing that lies flat in it. [m]"""
        return self.length_m if self.round else math.hypot(self.length_m, self.width_m)


def vessel_by_brim(brim_l: float) -> Vessel:
    """Guess a vessel of which only the litres are known: as deep as it is long and wide.

    Parameters
    ----------
    brim_l : float
        What it holds to the brim, above 0 to 1000. [L]

    Returns
    -------
    Vessel
        Marked as guessed; whether a skull fits in is then a guess too.

    Raises
    ------
    OutsideRange
        If it holds nothing, or more than 1000 L.
    """
    if not 0 < brim_l <= 1000:
        raise OutsideRange("vessel.brim", "the vessel holds {brim:volume}; it must be above 0 and at most {most:volume}",
                           brim=brim_l, most=1000.0)  # fmt: skip
    side = (brim_l / 1000) ** (1 / 3)
    return Vessel(side, side, side, guessed=True)


@dataclass(frozen=True, slots=True)
class Skull:
    """What must be covered.

    Attributes
    ----------
    bone_kg : float
        Dry bone. [kg]
    length_m, height_m : float
        How long it lies and how high it stands. [m]
    name : str
        For the words of an error.
    width_m : float or None
        How wide it lies, if known. [m]
    """

    bone_kg: float
    length_m: float
    height_m: float
    name: str = "the skull"
    width_m: float | None = None

    def __post_init__(self) -> None:
        width = self.length_m if self.width_m is None else self.width_m
        for size in (self.length_m, self.height_m, width):
            if not 0 < size < LARGEST_M:
                raise OutsideRange("vessel.skull", "{name} is {size:length} one way; it lies above 0 and below {most:length}",
                                   name=self.name, size=size, most=LARGEST_M)  # fmt: skip


def bone_of_head_kg(head_kg: float) -> Figure:
    """Dry skull and jaw to expect of a fresh head, where nobody has weighed the bone.

    Parameters
    ----------
    head_kg : float
        Fresh head with its skin, without antlers or horns, 0 to 200. [kg]

    Returns
    -------
    Figure
        Dry bone. [kg]

    Raises
    ------
    OutsideRange
        If the mass lies outside 0..200 kg.
    """
    _check_mass(head_kg, "the head")
    return (
        BONE_OF_HEAD.scaled(head_kg, "kg") if head_kg else Figure(0.0, 0.0, 0.0, "kg", BONE_OF_HEAD.standing, BONE_OF_HEAD.source)
    )


def _check_mass(mass_kg: float, what: str) -> None:
    if not 0 <= mass_kg < 200:
        raise OutsideRange("vessel.bone", "{what} is {mass:mass}; it must be 0 or more and below {most:mass}",
                           what=what, mass=mass_kg, most=200.0)  # fmt: skip


def displaced_l(bone_kg: float) -> Figure:
    """Bath that so much dry bone pushes aside once its hollows have filled.

    Parameters
    ----------
    bone_kg : float
        Dry bone, 0 to 200. [kg]

    Returns
    -------
    Figure
        Volume. [L]

    Raises
    ------
    OutsideRange
        If the mass is below 0, or more than any skull's.

    Notes
    -----
    A dry skull may float at first: see `floating_air_l`.
    """
    _check_mass(bone_kg, "bone")
    rho = BONE_DENSITY
    return Figure(bone_kg / rho.value, bone_kg / rho.high, bone_kg / rho.low, "L", rho.standing, rho.source)


def floating_air_l(bone_kg: float, bath_kg_per_l: float = 1.01) -> Figure:
    """Air that, held in its hollows, is enough to make a skull float.

    Parameters
    ----------
    bone_kg : float
        Dry bone, 0 to 200. [kg]
    bath_kg_per_l : float, optional
        Density of the bath, 0.9 to 1.3. [kg/L]

    Returns
    -------
    Figure
        Volume: with more air than this it floats, with less it sinks. [L]

    Raises
    ------
    OutsideRange
        If the mass or the density lies outside its range.

    Notes
    -----
    Archimedes: it floats when bone and air together push aside more than the bone weighs. A braincase emptied through its hole
    fills by itself; noses and sinuses hold air for hours, and what is above the bath stays yellow.
    """
    if not 0.9 <= bath_kg_per_l <= 1.3:
        raise OutsideRange("vessel.bath_density", "the bath is {density} kg/L; a bath lies from 0.9 to 1.3 kg/L",
                           density=f"{bath_kg_per_l:g}")  # fmt: skip
    bone, whole = displaced_l(bone_kg), bone_kg / bath_kg_per_l
    return Figure(whole - bone.value, whole - bone.high, whole - bone.low, "L", bone.standing, "bone's weight less its own lift")


def lies_flat(vessel: Vessel, skull: Skull) -> bool:
    """Whether a skull lies flat in a vessel, however it is turned.

    Parameters
    ----------
    vessel : Vessel
        Its inner sizes.
    skull : Skull
        Its length, and its width where that is known; otherwise it is taken as a line.

    Returns
    -------
    bool
        True if it does.

    References
    ----------
    .. [1] Carver W.B. 1957. The rectangle in rectangle problem, Amer. Math. Monthly (from memory; brute force in the tests).
    """
    width = skull.width_m or 0.0
    p, q = max(skull.length_m, width), min(skull.length_m, width)
    if vessel.round:
        return math.hypot(p, q) <= vessel.length_m * FITS_WITHIN
    a, b = (size * FITS_WITHIN for size in (max(vessel.length_m, vessel.width_m), min(vessel.length_m, vessel.width_m)))
    if p <= a:
        return q <= b
    across = (2 * p * q * a + (p * p - q * q) * math.sqrt(p * p + q * q - a * a)) / (p * p + q * q)
    return q <= b and b >= across
