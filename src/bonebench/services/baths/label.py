"""What a label says beyond the card: the classes of a bath, and its strength in the other notations."""

from bonebench.reference.bench import load_chemicals
from bonebench.science import baths as science
from bonebench.services.baths.bathcard import BathCard
from bonebench.services.baths.keep import ROOM_TEMPERATURE_C
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import classes_at

CHEMICAL = {Recipe.PEROXIDE.value: "peroxide", Recipe.ACETONE.value: "acetone", Recipe.AMMONIA.value: "ammonia"}
# What nobody knows is labelled as the strongest bath that this trade mixes.
UNKNOWN_AS_W = 0.15


def hazards_of(card: BathCard) -> tuple[str, ...]:
    """Return the classes that hold for a bath, by the most it may have; every peroxide is a danger to the eyes."""
    key = CHEMICAL.get(card.recipe)
    if key is None:
        return ()
    most = max((w for w in (card.made_w, card.strength.high_w if card.strength else None) if w is not None), default=UNKNOWN_AS_W)
    found = tuple(f"{one.name} ({one.code})" for one in classes_at(load_chemicals()[key], min(most, 1.0)))
    return found or (("Danger to eyes",) if key == "peroxide" else ())


def notations_of(strength_w: float) -> str:
    """Return a strength as weight in volume and as volumes of oxygen, at room temperature."""
    if not 0 < strength_w <= science.STRONGEST_W:
        return ""
    in_volume = 100 * science.from_mass_fraction(strength_w, "w/v", ROOM_TEMPERATURE_C)
    return f"{in_volume:.3g} % w/v, {science.from_mass_fraction(strength_w, 'vol', ROOM_TEMPERATURE_C):.3g} volumes"
