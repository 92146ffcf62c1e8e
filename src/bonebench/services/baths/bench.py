"""What stands on the wet bench: chemicals, materials and glues, on one card with its cautions."""

from dataclasses import dataclass

from bonebench.reference.bench import load_adhesives, load_chemicals, load_materials
from bonebench.services.baths.cautions import mix_cautions
from bonebench.services.cards import Basis, Flag
from bonebench.services.known import Known
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import Adhesive, Chemical, Material
from bonebench.shop.cautions import Cautioned, for_move, merged


@dataclass(frozen=True, kw_only=True)
class BenchCard(Cautioned):
    """Chemicals with their classes, what vessels and ties may be made of, and glues."""

    chemicals: tuple[Chemical, ...]
    materials: tuple[Material, ...]
    adhesives: tuple[Adhesive, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    schema: str = "bath.bench/1"


def bench(known: Known) -> BenchCard:
    """Return everything that is known of what stands on the bench."""
    rows = known.caution_rows
    return BenchCard(
        chemicals=tuple(load_chemicals().values()),
        materials=tuple(load_materials().values()),
        adhesives=tuple(load_adhesives().values()),
        cautions=merged(
            rows,
            for_move(rows, into=Recipe.PEROXIDE, out_of=Recipe.ACETONE),
            for_move(rows, into=Recipe.PEROXIDE, out_of=Recipe.AMMONIA),
            mix_cautions(known, stock_w=0.35, target_w=0.03, temperature_c=20.0, mass_kg=1.0),
        ),
    )
