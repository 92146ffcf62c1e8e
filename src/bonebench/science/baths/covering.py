"""How much bath covers some skulls in their vessel, and what room is left above it."""

from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import Impossible
from bonebench.figures import Figure, Standing, weakest
from bonebench.said import Said, said
from bonebench.science.baths.vessel import COVER_M, FITS_WITHIN, FREEBOARD, Skull, Vessel, displaced_l, floating_air_l, lies_flat

# Side by side on more of the floor than this they lie against one another, and stay yellow where they touch.
TIGHT = 0.8


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
    headspace_l : float
        Free space to the brim above the bath with the skulls in it. [L]
    flags : tuple of Said
        What this does not know, or what to mind.
    """

    bath_l: Figure
    displaced_l: Figure
    level_m: float
    mark_m: float
    most_l: float
    headspace_l: float
    flags: tuple[Said, ...]


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
        If there is nothing to cover, a skull is longer or wider than the vessel or stands too high in it, or they want more floor
        than it has.

    Notes
    -----
    Bath to `COVER_M` above the highest skull, less what the bone takes up, in a vessel with upright walls of its mean area. Skulls
    standing on one another are not worked out; where their widths are unknown, whether they lie side by side is for the eye.
    """
    if not skulls:
        raise Impossible("vessel.nothing", "nothing is to be covered: say which skulls go in")
    mark = vessel.depth_m * (1 - FREEBOARD.value)
    for skull in skulls:
        _check_fit(vessel, skull, mark)
    floor_m2 = _floor_m2(vessel, skulls)
    level = max(skull.height_m for skull in skulls) + COVER_M.value
    bone_kg = sum(skull.bone_kg for skull in skulls)
    bone = displaced_l(bone_kg)
    whole = vessel.area_m2 * level * 1000
    if bone.high >= whole:
        raise Impossible("vessel.crowded", "the bone alone would take up {bone:volume} of {whole:volume}: put fewer in at once",
                         bone=bone.high, whole=whole)  # fmt: skip
    standing = weakest((bone.standing, COVER_M.standing, *((Standing.ESTIMATE,) if vessel.guessed else ())))
    return Cover(
        bath_l=Figure(whole - bone.value, whole - bone.high, whole - bone.low, "L", standing, "level times area less the bone"),
        displaced_l=bone,
        level_m=level,
        mark_m=mark,
        most_l=vessel.area_m2 * mark * 1000 - bone.high,
        headspace_l=vessel.brim_l - whole,
        flags=_flags(vessel, skulls, floor_m2),
    )


def _check_fit(vessel: Vessel, skull: Skull, mark_m: float) -> None:
    if skull.length_m > vessel.longest_m * FITS_WITHIN:
        raise Impossible(
            "vessel.too_short",
            "{name} is {skull:length} long; the vessel takes {vessel:length} at most: take a longer one",
            name=skull.name,
            skull=skull.length_m,
            vessel=vessel.longest_m,
        )
    if not lies_flat(vessel, skull):
        raise Impossible(
            "vessel.too_narrow",
            "{name} is {length:length} long and {width:length} wide; it does not lie flat in a vessel of {a:length} by {b:length} "
            "however it is turned: take a larger one",
            name=skull.name, length=skull.length_m, width=skull.width_m, a=vessel.length_m,
            b=vessel.length_m if vessel.round else vessel.width_m,
        )  # fmt: skip
    if skull.height_m + COVER_M.value > mark_m:
        raise Impossible(
            "vessel.too_shallow",
            "{name} stands {skull:length} high and wants {cover:length} above it; the bath may stand {mark:length} high, "
            "so that foam has room: take a deeper one",
            name=skull.name,
            skull=skull.height_m,
            cover=COVER_M.value,
            mark=mark_m,
        )


def _floor_m2(vessel: Vessel, skulls: Sequence[Skull]) -> float | None:
    """Floor the skulls want side by side; None where a width is unknown."""
    widths = [skull.width_m for skull in skulls if skull.width_m is not None]
    if len(widths) < len(skulls):
        return None
    wanted = sum(skull.length_m * width for skull, width in zip(skulls, widths, strict=True))
    if wanted > vessel.area_m2:
        raise Impossible(
            "vessel.floor",
            "side by side they want {wanted:area} and the vessel has {area:area}: put fewer in at once or take a larger one",
            wanted=wanted,
            area=vessel.area_m2,
        )
    return wanted


def _flags(vessel: Vessel, skulls: Sequence[Skull], floor_m2: float | None) -> tuple[Said, ...]:
    found: list[Said] = []
    if vessel.guessed:
        found.append(said("vessel.flag.guessed", "only its litres are known; whether skulls fit is a guess: measure it and them"))
    if floor_m2 is None and len(skulls) > 1:
        found.append(said("vessel.flag.side", "how wide the skulls lie is not known: see that they lie side by side, not stacked"))
    if floor_m2 is not None and floor_m2 > TIGHT * vessel.area_m2:
        found.append(said("vessel.flag.tight", "they lie against one another: turn them at every look, or put fewer in"))
    most = max(skulls, key=lambda skull: skull.bone_kg)
    if most.bone_kg > 0:
        found.append(
            said("vessel.flag.floats", "{name} floats while more than about {air:volume} of air is held in its hollows: let it out "
                 "by turning, or weigh it down with glass or plastic, never metal", name=most.name,
                 air=floating_air_l(most.bone_kg).value)
        )  # fmt: skip
    return tuple(found)
