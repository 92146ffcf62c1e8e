"""How what happened to teeth is told back, in words."""

from collections.abc import Callable, Mapping
from typing import Any

from bonebench.said import Said, said
from bonebench.shop import teeth_entries as log
from bonebench.shop.teeth_entries import ToothState
from bonebench.shop.what import What

Names = Mapping[str, str]
MOST_NAMED = 6


def listed(codes: list[str]) -> str:
    """Name a few teeth, or count the many."""
    return ", ".join(codes) if len(codes) <= MOST_NAMED else f"{len(codes)} teeth"


def _marked(what: log.TeethMarked, names: Names) -> Said:
    del names
    by_state: dict[ToothState, list[str]] = {}
    for code, state in what.marks.items():
        by_state.setdefault(state, []).append(code)
    words = [f"{listed(codes)} {state.value}" for state, codes in by_state.items()]
    if what.rest is not None:
        words.append(f"all others {what.rest.value}" if what.marks else f"all teeth not marked otherwise {what.rest.value}")
    return said("told.teeth", "teeth: {found}", found="; ".join(words) or "nothing marked")


def _counted(what: log.JarCounted, names: Names) -> Said:
    del names
    return said("told.jar", "teeth counted in the jar: {count}", count=what.count)


def _changed(what: log.JarChanged, names: Names) -> Said:
    del names
    if what.by < 0:
        return said("told.jar.out", "teeth taken out of the jar: {count}", count=-what.by)
    return said("told.jar.in", "teeth put into the jar: {count}", count=what.by)


TELL_TEETH: Mapping[type[What], Callable[[Any, Names], Said]] = {
    log.TeethMarked: _marked,
    log.JarCounted: _counted,
    log.JarChanged: _changed,
}
