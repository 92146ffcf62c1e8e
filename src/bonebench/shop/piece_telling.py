"""How a look at a piece and the settings of a beetle box are told back, in words."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from bonebench.said import Said, number, said, write_si
from bonebench.shop.box_entries import BoxSet
from bonebench.shop.piece_entries import PieceSeen
from bonebench.shop.pieces import SMELL_WORDS
from bonebench.shop.what import What

Names = Mapping[str, str]


def smell_word(smell: int) -> str:
    """Name a smell."""
    return SMELL_WORDS[smell] if 0 <= smell < len(SMELL_WORDS) else str(smell)


def _seen(what: PieceSeen, names: Names) -> Said:
    del names
    parts = [what.grade] if what.grade is not None else []
    parts += [f"smell {smell_word(what.smell)}"] if what.smell is not None else []
    return said("told.piece", "the piece: {found}", found="; ".join(parts) or "nothing written")


def _parts(what: BoxSet) -> Iterator[str]:
    if what.floor_m2 is not None:
        yield f"floor {write_si(what.floor_m2, 'area')}"
    if what.sites is not None:
        yield f"blocks for {number(what.sites, 6)}"
    if what.beetles is not None:
        yield what.beetles
    for name, watts in (("heater", what.heater_w), ("holding it takes", what.holding_w), ("to spare", what.spare_w)):
        if watts is not None:
            yield f"{name} {write_si(watts, 'power')}"


def _box(what: BoxSet, names: Names) -> Said:
    listed = "; ".join(_parts(what)) or "nothing is said of it"
    return said("told.box", "{box} set: {listed}", box=names.get(what.key, what.key), listed=listed)


TELL_PIECE: Mapping[type[What], Callable[[Any, Names], Said]] = {PieceSeen: _seen, BoxSet: _box}
