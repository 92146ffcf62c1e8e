"""What can hurt at a mix, at a bath that stands there, at a warm pot, and between two baths."""

from collections.abc import Iterable, Mapping
from itertools import chain

from bonebench.shop.bath_entries import Recipe
from bonebench.shop.cautions.animals import Animal, matches
from bonebench.shop.cautions.rows import Caution, Picked, Rows, ordered

# The classes of hydrogen peroxide by mass fraction: bench 1.6, from the EU list of classified substances.
BATH_GATES = ((0.12, "peroxide.over_12"), (0.08, "peroxide.over_8"), (0.05, "peroxide.over_5"))
STOCK_GATES = ((0.50, "stock.burns"), (0.35, "stock.specialist"), (0.08, "stock.eye_damage"), (0.05, "stock.irritant"))
PUBLIC_SALE_W = 0.12
WARM_BATH_C = 30.0
HOT_FOR_BONE_C = 60.0
GREASY_CLASS = 4  # from here on fat floats in the pot: bear, pig, sea mammals
CRUMB = 1e-9  # 35 % typed as 35 * 0.01 is 0.35000000000000003

ALWAYS_WITH_PEROXIDE = (
    "peroxide.eyes",
    "peroxide.vent",
    "peroxide.no_metal",
    "peroxide.no_acetone",
    "peroxide.tissue",
    "peroxide.label",
)


def peroxide(strength_w: float | None, temperature_c: float | None) -> Picked:
    """What any open peroxide bath brings; an unknown strength is taken as a strong one."""
    for key in ALWAYS_WITH_PEROXIDE:
        yield key, {}
    if strength_w is None:
        yield "peroxide.unknown", {}
    else:
        gate = next((key for limit, key in BATH_GATES if strength_w > limit + CRUMB), None)
        if gate is not None:
            yield gate, {"strength": strength_w}
    if temperature_c is not None and temperature_c > WARM_BATH_C + CRUMB:
        yield "peroxide.warm", {"temperature": temperature_c}


def _stock(stock_w: float) -> Picked:
    gate = next((key for limit, key in STOCK_GATES if stock_w >= limit - CRUMB), None)
    if gate is not None:
        yield gate, {"strength": stock_w}
    if stock_w > PUBLIC_SALE_W + CRUMB:
        yield "stock.sale", {}


def for_mix(
    rows: Rows,
    *,
    stock_w: float,
    target_w: float,
    temperature_c: float,
    oxygen_l: float,
    heat_rise_k: float,
    boils: bool,
) -> tuple[Caution, ...]:
    """Return the cautions of a peroxide mix, the loudest first, the one that defers last."""
    return ordered(
        rows,
        chain(
            [("mix.order", {})],
            peroxide(target_w, temperature_c),
            _stock(stock_w),
            [("mix.oxygen", {"oxygen": oxygen_l}), ("mix.boils", {}) if boils else ("mix.warms", {"rise": heat_rise_k})],
            [("peroxide.spent", {})],
        ),
    )


# What a vessel is made of -> what that brings, by the words people write; materials.toml says more on the page.
METALS = ("iron", "steel", "copper", "brass", "zinc", "galvan", "lead", "alumin", "tin", "metal")
KIND_METALS = ("stainless",)


def _vessel(vessel: str | None) -> Picked:
    words = (vessel or "").casefold()
    if any(metal in words for metal in METALS) and not any(kind in words for kind in KIND_METALS):
        yield "vessel.metal", {"vessel": vessel}


def for_standing_bath(
    rows: Rows,
    *,
    recipe: Recipe,
    strength_w: float | None = None,
    temperature_c: float | None = None,
    vessel: str | None = None,
    raw: bool = False,
    glued: bool = False,
    animals: Iterable[Animal] = (),
) -> tuple[Caution, ...]:
    """Return the cautions of a bath that stands there, with what is in it.

    ``strength_w`` is the most it may have; None is not known, and counts as strong. ``raw`` says that flesh may be left on
    something
    in it, ``glued`` that solvent glue in it has not aired out.
    """
    animals = tuple(animals)
    if recipe is Recipe.PEROXIDE:
        picked: list[Picked] = [
            iter([("move.raw_into_peroxide", {})] if raw else []),
            iter([("move.acetone_into_peroxide", {})] if glued else []),
            _vessel(vessel),
            peroxide(strength_w, temperature_c),
            iter([("peroxide.on_bone", {}), ("peroxide.spent", {})]),
        ]
    elif recipe is Recipe.ACETONE:
        picked = [iter([("solvent.acetone", {}), ("move.acetone_into_peroxide", {})])]
    elif recipe is Recipe.AMMONIA:
        picked = [iter([("solvent.ammonia", {}), ("move.ammonia_and_bleach", {})])]
    elif recipe is Recipe.RINSE:
        picked = [iter([("peroxide.eyes", {}), ("peroxide.spent", {})])]
    else:
        picked = [_pot(temperature_c)]
    return ordered(rows, chain(*picked, (found for animal in animals for found in _in_pot(animal, recipe))))


def _in_pot(animal: Animal, recipe: Recipe) -> Picked:
    if recipe in (Recipe.DETERGENT, Recipe.MACERATION, Recipe.OTHER):
        if animal.greasiness is not None and animal.greasiness >= GREASY_CLASS:
            yield "pot.grease", {}
        if matches("baylisascaris|roundworm", animal):
            yield "raw.roundworm", {}


def _pot(temperature_c: float | None) -> Picked:
    for key in ("pot.scald", "pot.power", "pot.cut_out", "pot.kitchen", "pot.survives"):
        yield key, {}
    if temperature_c is None:
        return
    if temperature_c >= BOILS_C:
        yield "pot.boils", {}
    elif temperature_c > HOT_FOR_BONE_C + CRUMB:
        yield "pot.hot_for_bone", {"temperature": temperature_c}


BOILS_C = 98.0


def for_pot(rows: Rows, *, temperature_c: float | None) -> tuple[Caution, ...]:
    """Return the cautions of a warm pot at a temperature, or at one that nobody measured."""
    return ordered(rows, _pot(temperature_c))


# What goes from one bath into the next and must not: (from, to) -> the caution.
NEVER_NEXT: Mapping[tuple[Recipe, Recipe], str] = {
    (Recipe.ACETONE, Recipe.PEROXIDE): "move.acetone_into_peroxide",
    (Recipe.PEROXIDE, Recipe.ACETONE): "move.acetone_into_peroxide",
    (Recipe.AMMONIA, Recipe.PEROXIDE): "move.ammonia_into_peroxide",
    (Recipe.PEROXIDE, Recipe.AMMONIA): "move.ammonia_into_peroxide",
}


def for_move(
    rows: Rows, *, into: Recipe, out_of: Recipe | None = None, raw: bool = False, acetone_hours: float | None = None,
    airs_hours: float = 24.0,
) -> tuple[Caution, ...]:  # fmt: skip
    """Return what must be known before a piece goes into a bath.

    ``out_of`` is the bath it comes from, ``acetone_hours`` how long ago glue that carries acetone was put on it, ``airs_hours`` how
    long that glue takes to air out.
    """

    def picked() -> Picked:
        clash = NEVER_NEXT.get((out_of, into)) if out_of is not None else None
        if clash is not None:
            yield clash, {}
        if into is Recipe.PEROXIDE and raw:
            yield "move.raw_into_peroxide", {}
        if into is Recipe.PEROXIDE and acetone_hours is not None and acetone_hours < airs_hours:
            yield "move.acetone_into_peroxide", {}

    return ordered(rows, picked())
