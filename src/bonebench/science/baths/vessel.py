"""How much bath covers the skulls, whether it fits its vessel, and what a closed lid would do."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing, weakest

BONE_DENSITY = Figure(
    1.8, 1.5, 2.0, "kg/L", Standing.MEMORY, "dry bone with its fine pores, without the hollows of the skull, which fill with bath"
)
# Free space above the bath, as a share of the vessel's height: foam and a hand need it.
FREEBOARD = Figure(0.2, 0.15, 0.3, "share", Standing.PRACTICE, "room above the bath for foam and hands: common practice, no source")
COVER_M = Figure(0.03, 0.02, 0.05, "m", Standing.PRACTICE, "bath above the highest bone: common practice, no source")
# How much of the box round a skull is bone and what it holds; the rest is bath. A rough guess for packing skulls side by side.
FITS_WITHIN = 0.98


@dataclass(frozen=True, slots=True)
class Vessel:
    """A vessel by its inner sizes; a round one has the same length and width.

    Attributes
    ----------
    length_m, width_m, depth_m : float
        Inner length, width and depth to the brim. [m]
    round : bool
        Whether its plan is a circle of diameter ``length_m``.
    """

    length_m: float
    width_m: float
    depth_m: float
    round: bool = False

    def __post_init__(self) -> None:
        for name, size in (("length", self.length_m), ("width", self.width_m), ("depth", self.depth_m)):
            if not 0 < size < 5:
                raise OutsideRange("vessel.size", "the vessel's {name} is {size:length}; it lies above 0 and below {most:length}",
                                   name=name, size=size, most=5.0)  # fmt: skip

    @property
    def area_m2(self) -> float:
        """Open area. [m2]"""
        return math.pi * self.length_m**2 / 4 if self.round else self.length_m * self.width_m

    @property
    def brim_l(self) -> float:
        """To the brim. [L]"""
        return self.area_m2 * self.depth_m * 1000

    @property
    def longest_m(self) -> float:
        """The longest thing that lies flat in it. [m]"""
        return self.length_m if self.round else math.hypot(self.length_m, self.width_m)


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
    """

    bone_kg: float
    length_m: float
    height_m: float
    name: str = "the skull"


@dataclass(frozen=True, slots=True)
class Cover:
    """How much bath covers some skulls.

    Attributes
    ----------
    bath_l : Figure
        Bath to mix. [L]
    displaced_l : Figure
        What the bone takes up. [L]
    level_m : float
        Where the bath stands with the skulls in it. [m]
    mark_m : float
        Where it may stand at most. [m]
    most_l : float
        The most bath that may go in with them. [L]
    """

    bath_l: Figure
    displaced_l: Figure
    level_m: float
    mark_m: float
    most_l: float


def displaced_l(bone_kg: float) -> Figure:
    """Bath that so much dry bone pushes aside once its hollows have filled.

    Parameters
    ----------
    bone_kg : float
        Dry bone, 0 or more. [kg]

    Returns
    -------
    Figure
        Volume. [L]

    Raises
    ------
    OutsideRange
        If the mass is below 0.

    Notes
    -----
    A dry skull floats at first: the air in its hollows must get out, or it is weighed down with glass or plastic, never metal.
    """
    if not 0 <= bone_kg < 200:
        raise OutsideRange("vessel.bone", "bone is {mass:mass}; it must be 0 or more and no skull is above {most:mass}",
                           mass=bone_kg, most=200.0)  # fmt: skip
    rho = BONE_DENSITY
    return Figure(bone_kg / rho.value, bone_kg / rho.high, bone_kg / rho.low, "L", rho.standing, rho.source)


def cover(vessel: Vessel, skulls: Sequence[Skull]) -> Cover:
    """How much bath covers skulls in a vessel without overfilling it.

    Parameters
    ----------
    vessel : Vessel
        Its inner sizes.
    skulls : sequence of Skull, at least one
        What must be covered, side by side.

    Returns
    -------
    Cover
        Bath to mix, with the range that the bone's own volume leaves.

    Raises
    ------
    Impossible
        If there is nothing to cover, a skull is longer than the vessel or stands too high in it.

    Notes
    -----
    Bath to a hand above the highest skull (`COVER_M`), less what the bone takes up. Skulls standing on one another are not worked
    out: whether they lie side by side is for the eye.
    """
    if not skulls:
        raise Impossible("vessel.nothing", "nothing is to be covered: say which skulls go in")
    mark = vessel.depth_m * (1 - FREEBOARD.value)
    for skull in skulls:
        if skull.length_m > vessel.longest_m * FITS_WITHIN:
            raise Impossible(
                "vessel.too_short",
                "{name} is {skull:length} long; the vessel takes {vessel:length} at most: take a longer one",
                name=skull.name,
                skull=skull.length_m,
                vessel=vessel.longest_m,
            )
        if skull.height_m + COVER_M.value > mark:
            raise Impossible(
                "vessel.too_shallow",
                "{name} stands {skull:length} high and wants {cover:length} above it; the bath may stand {mark:length} high, "
                "so that foam has room: take a deeper one",
                name=skull.name,
                skull=skull.height_m,
                cover=COVER_M.value,
                mark=mark,
            )
    level = max(skull.height_m for skull in skulls) + COVER_M.value
    bone = displaced_l(sum(skull.bone_kg for skull in skulls))
    whole = vessel.area_m2 * level * 1000
    if bone.high >= whole:
        raise Impossible("vessel.crowded", "the bone alone would take up {bone:volume} of {whole:volume}: put fewer in at once",
                         bone=bone.high, whole=whole)  # fmt: skip
    standing = weakest((bone.standing, COVER_M.standing))
    bath = Figure(whole - bone.value, whole - bone.high, whole - bone.low, "L", standing, "level times area less the bone")
    return Cover(bath, bone, level, mark, vessel.area_m2 * mark * 1000 - bone.high)


def closed_lid_bar(oxygen_l_per_day: float, headspace_l: float, days: float) -> float:
    """Pressure above the air's that a tight lid would have to hold.

    Parameters
    ----------
    oxygen_l_per_day : float
        Oxygen given off, at room temperature and one atmosphere, 0 or more. [L/day]
    headspace_l : float
        Free space under the lid, above 0. [L]
    days : float
        How long it is shut, 0 or more. [days]

    Returns
    -------
    float
        Overpressure. [bar]

    Raises
    ------
    OutsideRange
        If the free space is not above 0, or another value below 0.

    Notes
    -----
    Every litre of gas in a litre of space adds one atmosphere (Boyle). A household tub bursts below one bar.
    """
    if not (headspace_l > 0 and oxygen_l_per_day >= 0 and days >= 0):
        raise OutsideRange("vessel.headspace", "a closed lid needs free space above 0 and no negative gas or time")
    return 1.01325 * oxygen_l_per_day * days / headspace_l
