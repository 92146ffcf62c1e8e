"""How what happened to a bath is told back, in words."""

from collections.abc import Callable, Mapping
from typing import Any

from bonebench.said import Said, said
from bonebench.shop import bath_entries as log
from bonebench.shop.what import What

Names = Mapping[str, str]


def _made(what: log.BathMade, names: Names) -> Said:
    where = names.get(what.place, what.place)
    if what.strength_w is None:
        return said("told.bath.made", "{name} made in {where}: {recipe}", name=what.name, where=where, recipe=what.recipe.value)
    return said(
        "told.bath.made_strength", "{name} made in {where}: {recipe} at {strength:strength}",
        name=what.name, where=where, recipe=what.recipe.value, strength=what.strength_w,
    )  # fmt: skip


def _added(what: log.BathAdded, names: Names) -> Said:
    del names
    if what.volume_l is not None:
        return said("told.bath.added_l", "{volume:volume} of {what} added", volume=what.volume_l, what=what.what)
    if what.mass_kg is not None:
        return said("told.bath.added_kg", "{mass:mass} of {what} added", mass=what.mass_kg, what=what.what)
    return said("told.bath.added", "{what} added, nobody said how much", what=what.what)


def _taken(what: log.BathTaken, names: Names) -> Said:
    del names
    if what.volume_l is None:
        return said("told.bath.taken", "some of it taken out")
    return said("told.bath.taken_l", "{volume:volume} taken out", volume=what.volume_l)


def _tested(what: log.BathTested, names: Names) -> Said:
    del names
    if what.low_w is not None and what.high_w is not None:
        return said(
            "told.bath.tested_range", "tested by {how}: from {low:strength} to {high:strength}",
            how=what.how, low=what.low_w, high=what.high_w,
        )  # fmt: skip
    if what.strength_w is not None:
        return said("told.bath.tested", "tested by {how}: {strength:strength}", how=what.how, strength=what.strength_w)
    return said("told.bath.tested_nothing", "tested by {how}, no strength written", how=what.how)


def _looked(what: log.BathLooked, names: Names) -> Said:
    del names
    found = [f"water {what.clarity.value}"] if what.clarity is not None else []
    found += [f"level {what.level}"] if what.level is not None else []
    words = ", ".join(found)
    if what.temperature_c is None:
        return said("told.bath.looked", "looked at: {found}", found=words or "nothing to say")
    return said("told.bath.looked_warm", "{temperature:temperature} by the thermometer{found}", temperature=what.temperature_c,
                found=f"; {words}" if words else "")  # fmt: skip


def _sieve(what: log.WaterChanged | log.BathDiscarded, names: Names) -> list[str]:
    words = [] if what.sieved is None else ["sieved" if what.sieved else "not sieved"]
    if what.teeth is not None:
        whose = f", of {names.get(what.whose, what.whose)}" if what.whose else ""
        words.append(f"{what.teeth} {'tooth' if what.teeth == 1 else 'teeth'} found{whose}" if what.teeth else "no teeth found")
    return words


def _changed(what: log.WaterChanged, names: Names) -> Said:
    words = [f"it was {what.clarity.value}"] if what.clarity is not None else []
    words += _sieve(what, names)
    return said("told.bath.changed", "water changed{found}", found=f": {', '.join(words)}" if words else "")


def _discarded(what: log.BathDiscarded, names: Names) -> Said:
    words = [*([what.how] if what.how else []), *_sieve(what, names)]
    return said("told.bath.discarded", "thrown away{how}", how=f": {', '.join(words)}" if words else "")


TELL_BATH: Mapping[type[What], Callable[[Any, Names], Said]] = {
    log.BathMade: _made,
    log.BathAdded: _added,
    log.BathTaken: _taken,
    log.BathTested: _tested,
    log.BathLooked: _looked,
    log.WaterChanged: _changed,
    log.BathDiscarded: _discarded,
}
