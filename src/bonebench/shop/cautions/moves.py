"""What must be known before a piece goes from one bath into another, and with what on it.

What a bath holds is named by a chemical's key or a recipe's value; the two agree where both have a word: "peroxide", "acetone",
"ammonia", "detergent". A bath of another kind is named by `chemical_of` its words: "bleach", "white-spirit", "ethanol".
"""

from collections.abc import Mapping
from dataclasses import dataclass

from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import Adhesive
from bonebench.shop.cautions.rows import CRUMB, Caution, Picked, Rows, ordered

SOLVENTS = ("acetone", "white-spirit", "ethanol", "ethyl-acetate")
WARM_WATERS = (Recipe.DETERGENT.value, Recipe.MACERATION.value)
# Which two must not follow each other, whichever comes first -> the caution.
NEVER_BOTH: Mapping[frozenset[str], str] = {
    frozenset({"acetone", "peroxide"}): "move.acetone_into_peroxide",
    frozenset({"white-spirit", "peroxide"}): "move.solvent_into_peroxide",
    frozenset({"ethanol", "peroxide"}): "move.solvent_into_peroxide",
    frozenset({"ethyl-acetate", "peroxide"}): "move.solvent_into_peroxide",
    frozenset({"ammonia", "peroxide"}): "move.ammonia_into_peroxide",
    frozenset({"ammonia", "bleach"}): "move.ammonia_and_bleach",
    frozenset({"bleach", "peroxide"}): "move.bleach_and_peroxide",
    frozenset({"bleach", "acetone"}): "move.bleach_and_solvent",
    frozenset({"bleach", "ethanol"}): "move.bleach_and_solvent",
    # A flask of the test poured into the waste of another bath.
    frozenset({"bleach", "sulfuric-acid"}): "move.bleach_and_acid",
}
# A glue nobody named counts as one that carries acetone and airs for so long: the day that a room lets glue set.
# Common practice, no source; adhesives.toml says it for each kind.
UNKNOWN_AIRS_HOURS = 24.0


@dataclass(frozen=True, slots=True)
class Carried:
    """What a piece carries into a bath.

    ``glued_hours`` is how long ago glue was put on it: None with an adhesive is not known, and counts as fresh; None without one is
    no glue. ``metal`` is a wire, a pin, a metal tag, or shot in the bone.
    """

    raw: bool = False
    undegreased: bool = False
    metal: bool = False
    adhesive: Adhesive | None = None
    glued_hours: float | None = None

    @property
    def glued(self) -> bool:
        """Whether there is glue on it."""
        return self.adhesive is not None or self.glued_hours is not None

    @property
    def acetone(self) -> bool:
        """Whether acetone may still be in the glue."""
        if not self.glued or (self.adhesive is not None and not self.adhesive.carries_acetone):
            return False
        airs = UNKNOWN_AIRS_HOURS if self.adhesive is None else self.adhesive.airs_hours
        return self.glued_hours is None or self.glued_hours < airs - CRUMB

    @property
    def unset(self) -> bool:
        """Whether the glue may not have set."""
        sets = UNKNOWN_AIRS_HOURS if self.adhesive is None else self.adhesive.cures_hours[1]
        return self.glued and (self.glued_hours is None or self.glued_hours < sets - CRUMB)


NOTHING = Carried()


def into_peroxide(carried: Carried) -> Picked:
    """What must not come into peroxide with a piece."""
    if carried.raw:
        yield "move.raw_into_peroxide", {}
    if carried.acetone:
        yield "move.acetone_into_peroxide", {}
    if carried.metal:
        yield "bath.metal", {}
    if carried.undegreased and not carried.raw:
        yield "bath.undegreased", {}


def _glue(carried: Carried, into: str) -> Picked:
    """What water does to glue."""
    if carried.unset:
        yield "move.glue_not_set", {}
    glue = carried.adhesive
    if glue is not None and not (glue.bears_peroxide if into == "peroxide" else glue.bears_water):
        yield "move.glue_lets_go", {"glue": glue.name}


def _move(into: str, out_of: str | None, carried: Carried) -> Picked:
    clash = NEVER_BOTH.get(frozenset({into, out_of})) if out_of is not None else None
    if clash is not None:
        yield clash, {}
    if out_of in SOLVENTS and into in WARM_WATERS:
        yield "move.solvent_into_pot", {}
    if into == "peroxide":
        yield from into_peroxide(carried)
    if into not in SOLVENTS:
        yield from _glue(carried, into)


def for_move(rows: Rows, *, into: str, out_of: str | None = None, carried: Carried = NOTHING) -> tuple[Caution, ...]:
    """Return what must be known before a piece goes into a bath, out of another or not, with what it carries."""
    return ordered(rows, _move(str(into), None if out_of is None else str(out_of), carried))
