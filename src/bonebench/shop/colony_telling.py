"""How a look at a colony is told back, in words."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from bonebench.said import Said, number, said, write_si
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.what import What

Names = Mapping[str, str]


def _parts(what: ColonySeen) -> Iterator[str]:
    if what.counted is not None:
        of = "" if what.part is None else f" in {write_si(what.part, 'percent')} of the bedding"
        yield f"{number(what.counted, 6)} alive{of}"
    if what.grade is not None:
        yield what.grade
    if what.pupae is not None:
        of = "" if what.pupae_part is None else f" in {write_si(what.pupae_part, 'percent')} of the blocks"
        yield f"{number(what.pupae, 6)} pupae{of}"
    if what.sites is not None:
        yield f"blocks for {number(what.sites, 6)}"
    if what.fed_kg is not None:
        yield f"{write_si(what.fed_kg, 'mass')} of {'dried' if what.dried else 'fresh'} food put in"
    if what.temperature_c is not None:
        yield write_si(what.temperature_c, "temperature")
    if what.humidity is not None:
        yield f"{write_si(what.humidity, 'percent')} damp"
    if what.smell is not None:
        yield f"smell {what.smell}"
    if what.hunger is not None:
        yield {"food left": "food left over", "hungry": "hungry", "starved": "starved"}.get(what.hunger, what.hunger)
    yield from what.pests
    if what.beetles is not None:
        yield f"determined as {what.beetles}"


def tell_look(what: ColonySeen) -> Said:
    """Tell one look."""
    return said("told.colony", "colony looked at: {found}", found="; ".join(_parts(what)) or "nothing written")


def _seen(what: ColonySeen, names: Names) -> Said:
    del names
    return tell_look(what)


TELL_COLONY: Mapping[type[What], Callable[[Any, Names], Said]] = {ColonySeen: _seen}
