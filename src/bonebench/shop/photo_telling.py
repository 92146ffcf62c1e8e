"""How a photo and a measured colour are told back, in words."""

from collections.abc import Callable, Mapping
from typing import Any

from bonebench.said import Said, number, said
from bonebench.shop.photo_entries import ColourMeasured, Photographed
from bonebench.shop.what import What

Names = Mapping[str, str]


def _photographed(what: Photographed, names: Names) -> Said:
    at = "" if what.step is None else f" at {what.step.value}"
    note = "" if not what.note else f": {names.get(what.note, 'text erased')}"
    return said("told.photo", "photo{at}{note}", at=at, note=note)


def _measured(what: ColourMeasured, names: Names) -> Said:
    del names
    with_what = f", {what.setting}" if what.setting else ""
    return said(
        "told.colour", "colour in a photo: L* {lightness}, a* {a}, b* {b}{with_what}",
        lightness=number(what.lightness), a=number(what.a, 2), b=number(what.b, 2), with_what=with_what,
    )  # fmt: skip


TELL_PHOTO: Mapping[type[What], Callable[[Any, Names], Said]] = {Photographed: _photographed, ColourMeasured: _measured}
