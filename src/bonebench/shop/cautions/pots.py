"""What can hurt at a warm pot: heat, mains, fire, the kitchen, and what lives through it."""

from collections.abc import Iterable
from dataclasses import dataclass

from bonebench.shop.cautions.animals import Animal, roundworm
from bonebench.shop.cautions.rows import CRUMB, Caution, Picked, Rows, ordered

HOT_FOR_BONE_C = 60.0
BOILS_C = 98.0
MACERATION_MOST_C = 50.0  # bench 2.4: maceration water not above 50 °C (R102)
GREASY_CLASS = 4  # from here on fat floats in the pot: bear, pig, sea mammals


@dataclass(frozen=True, slots=True)
class PotCare:
    """How a pot is kept, as far as somebody said: None is nobody said, and a cut-out nobody spoke of is none."""

    lid: bool | None = None
    cut_out: bool | None = None
    alone_days: float = 0.0
    in_kitchen: bool = False


NOBODY_SAID = PotCare()


def heat(temperature_c: float | None) -> Picked:
    """What the temperature brings; one that nobody measured is not taken for a mild one."""
    if temperature_c is None:
        yield "pot.unmeasured", {}
    elif temperature_c >= BOILS_C:
        yield "pot.boils", {}
    elif temperature_c > HOT_FOR_BONE_C + CRUMB:
        yield "pot.hot_for_bone", {"temperature": temperature_c}


def pot(temperature_c: float | None, care: PotCare = NOBODY_SAID) -> Picked:
    """What any warm pot brings, and what its keeping adds."""
    if care.in_kitchen:
        yield "pot.in_kitchen", {}
    if care.alone_days > 0 and not care.cut_out:
        yield "pot.alone", {"alone": care.alone_days}
    for key in ("pot.scald", "pot.power", "pot.cut_out", "pot.kitchen", "pot.survives"):
        yield key, {}
    if care.lid is False:
        yield "pot.open", {}
    yield from heat(temperature_c)


def maceration(temperature_c: float | None) -> Picked:
    """What rotting water adds to a warm pot."""
    yield "macerate.rot", {}
    yield "macerate.gas", {}
    if temperature_c is not None and MACERATION_MOST_C + CRUMB < temperature_c <= HOT_FOR_BONE_C + CRUMB:
        yield "macerate.hot", {"temperature": temperature_c}


def grease(animal: Animal) -> Picked:
    """What a fat head leaves in the water."""
    if animal.greasiness is not None and animal.greasiness >= GREASY_CLASS:
        yield "pot.grease", {}


def of_animals(animals: Iterable[Animal]) -> Picked:
    """What the animals in a pot bring to its water."""
    for animal in animals:
        yield from grease(animal)
        yield from roundworm(animal)


def for_pot(
    rows: Rows, *, temperature_c: float | None, care: PotCare = NOBODY_SAID, animals: Iterable[Animal] = ()
) -> tuple[Caution, ...]:
    """Return the cautions of a warm pot at a temperature, or at one that nobody measured."""
    return ordered(rows, (found for picked in (pot(temperature_c, care), of_animals(animals)) for found in picked))
