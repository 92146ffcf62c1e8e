"""What a specimen takes up in a vessel: only the parts that go in. Antlers stay out, a jaw may lie elsewhere, a skeleton adds."""

from bonebench.planning.problem import Load
from bonebench.reference.parts import load_parts
from bonebench.services.known import HEAD_DENSITY_KG_L, Head
from bonebench.shop.parts import JAW, JAW_SHARE, goes_along, kind_of
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen


def load_of(specimen: Specimen, head: Head) -> Load:
    """Return pieces, litres and kilograms of what goes into a bath together."""
    main = main_part(specimen)
    if main is None:
        return Load(1, head.volume_l, head.head_kg.value)
    kinds = load_parts()
    going = {kind.key for part in goes_along(specimen, main, kinds) if (kind := kind_of(part, kinds)) is not None}
    has_jaw = any(kind_of(part, kinds) is kinds[JAW] for part in specimen.parts)
    share = 1 - JAW_SHARE if has_jaw and JAW not in going else 1.0
    bones_kg = skeleton_kg(head.species.body_mass_kg.value if specimen.live_mass_kg is None else specimen.live_mass_kg)
    more_kg = bones_kg if "skeleton" in going else 0.0
    return Load(1, share * head.volume_l + more_kg / HEAD_DENSITY_KG_L, share * head.head_kg.value + more_kg)


def skeleton_kg(body_kg: float) -> float:
    """Return the mass of a mammal's skeleton: Prange, Anderson and Rahn 1979, Am. Nat. 113:103, 0.061 M^1.09.  # from memory

    It stands for the room a skeleton takes as well, as if it were as heavy as water; nothing better is known here.
    """
    return float(0.061 * max(0.0, body_kg) ** 1.09)
