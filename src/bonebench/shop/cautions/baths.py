"""What can hurt at a mix of peroxide, and at a bath that stands there with what is in it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import chain

from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import MEDIA, Material
from bonebench.shop.cautions.animals import Animal
from bonebench.shop.cautions.moves import SOLVENTS, Carried, into_peroxide
from bonebench.shop.cautions.pots import maceration, of_animals, pot
from bonebench.shop.cautions.rows import CRUMB, Caution, Picked, Rows, ordered

# The classes of hydrogen peroxide by mass fraction: bench 1.6, from the EU list of classified substances.
BATH_GATES = ((0.12, "peroxide.over_12"), (0.08, "peroxide.over_8"), (0.05, "peroxide.over_5"))
STOCK_GATES = (
    (0.70, "stock.may_explode"),
    (0.50, "stock.burns"),
    (0.35, "stock.specialist"),
    (0.08, "stock.eye_damage"),
    (0.05, "stock.irritant"),
)
PUBLIC_SALE_W = 0.12
WARM_BATH_C = 30.0
WARM_SOLVENT_C = 25.0  # common practice, no source: a solvent stands no warmer than the room
NO_DRAIN_W = 0.08  # bench 1.7: nothing above 8 % into a drain
# After so long without a test the age says little of the strength: at 15 % a day, bone in it, a third is gone. Common practice.
STALE_DAYS = 3.0

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


def away(strength_w: float | None) -> Picked:
    """Where a bath may go when it is done; an unknown strength is taken as a strong one."""
    yield "peroxide.spent", {}
    if strength_w is None or strength_w > NO_DRAIN_W + CRUMB:
        yield "peroxide.no_drain", {}


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
            away(target_w),
        ),
    )


# What a vessel is made of, by the words people write, while nobody said which material of materials.toml it is.
METALS = ("iron", "steel", "copper", "brass", "zinc", "galvan", "lead", "alumin", "tin", "metal")
KIND_METALS = ("stainless",)


@dataclass(frozen=True, slots=True)
class Holds:
    """What is in a bath, as far as the record says, over all its pieces."""

    raw: bool = False
    undegreased: bool = False
    glued: bool = False  # with glue whose acetone may not have aired out
    metal: bool = False
    teeth: bool = False


@dataclass(frozen=True, slots=True)
class BathFacts:
    """What bears on danger at a bath that stands there.

    ``stuff`` is what is in it: a recipe's value, or the key of a chemical where the recipe is another. ``strength_w`` is the most
    it may have; None is not known, and counts as strong. ``vessel`` is what people wrote, ``material`` what that is. ``age_days``
    is since it was mixed, ``tested_days`` since its last test; None is never.
    """

    stuff: str
    strength_w: float | None = None
    temperature_c: float | None = None
    vessel: str | None = None
    material: Material | None = None
    holds: Holds = field(default_factory=Holds)
    age_days: float | None = None
    tested_days: float | None = None


def _vessel(bath: BathFacts) -> Picked:
    """What the vessel is made of, against what stands in it."""
    medium = next((medium for medium in MEDIA if medium == bath.stuff), "detergent" if bath.stuff in WATERS else None)
    if bath.material is not None and medium is not None:
        touch = bath.material.touch(medium)
        if touch.verdict == "never":
            yield "vessel.never", {"material": bath.material.name, "why": touch.why}
        elif touch.verdict == "watch":
            yield "vessel.watch", {"material": bath.material.name, "why": touch.why}
        return
    words = (bath.vessel or "").casefold()
    metal = any(name in words for name in METALS) and not any(name in words for name in KIND_METALS)
    if bath.stuff == "peroxide" and metal:
        yield "vessel.metal", {"vessel": bath.vessel}


WATERS = (Recipe.DETERGENT.value, Recipe.MACERATION.value, Recipe.OTHER.value)


def _peroxide_bath(bath: BathFacts) -> Picked:
    holds = bath.holds
    yield from into_peroxide(Carried(raw=holds.raw, undegreased=holds.undegreased, metal=holds.metal))
    if holds.glued:
        yield "move.acetone_into_peroxide", {}
    yield from peroxide(bath.strength_w, bath.temperature_c)
    since = bath.age_days if bath.tested_days is None else bath.tested_days
    if since is not None and since > STALE_DAYS:
        yield "bath.stale", {"since": since}
    if holds.teeth:
        yield "bath.teeth", {}
    yield "peroxide.on_bone", {}
    yield from away(bath.strength_w)


def _solvent_bath(bath: BathFacts) -> Picked:
    if bath.stuff == "acetone":
        yield "solvent.acetone", {}
        yield "move.acetone_into_peroxide", {}
    else:
        yield "solvent.flammable", {}
        yield "move.solvent_into_peroxide", {}
    if bath.temperature_c is not None and bath.temperature_c > WARM_SOLVENT_C + CRUMB:
        yield "solvent.warm", {"temperature": bath.temperature_c}
    yield "solvent.waste", {}


def _ammonia_bath(bath: BathFacts) -> Picked:
    del bath
    yield "solvent.ammonia", {}
    yield "move.ammonia_and_bleach", {}


def _bleach_bath(bath: BathFacts) -> Picked:
    del bath
    yield "bleach.bone", {}
    yield "move.ammonia_and_bleach", {}
    yield "move.bleach_and_acid", {}


def _rinse(bath: BathFacts) -> Picked:
    del bath
    yield "peroxide.eyes", {}
    yield "peroxide.spent", {}


def _maceration_bath(bath: BathFacts) -> Picked:
    yield from maceration(bath.temperature_c)
    yield from pot(bath.temperature_c)


def _pot_bath(bath: BathFacts) -> Picked:
    yield from pot(bath.temperature_c)


BATH_RULES: Mapping[str, Callable[[BathFacts], Picked]] = {
    "peroxide": _peroxide_bath,
    **dict.fromkeys(SOLVENTS, _solvent_bath),
    "ammonia": _ammonia_bath,
    "bleach": _bleach_bath,
    Recipe.RINSE.value: _rinse,
    Recipe.MACERATION.value: _maceration_bath,
}


def for_bath(rows: Rows, bath: BathFacts, animals: Iterable[Animal] = ()) -> tuple[Caution, ...]:
    """Return the cautions of a bath that stands there, with what is in it; what nobody can name is taken for a warm pot."""
    picked = chain(_vessel(bath), BATH_RULES.get(bath.stuff, _pot_bath)(bath))
    return ordered(rows, chain(picked, of_animals(animals) if bath.stuff in WATERS else ()))


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
    """Return the cautions of a bath of a recipe, by the facts most pages have; `for_bath` takes all of them."""
    holds = Holds(raw=raw, glued=glued)
    return for_bath(rows, BathFacts(recipe.value, strength_w, temperature_c, vessel, holds=holds), animals)
