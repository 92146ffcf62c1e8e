"""The shipped kinds of part, read from parts.toml and checked."""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import cast

from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.parts import BATHS, Kinds, May, PartKind, Way
from bonebench.shop.steps import PlaceKind

FILE = "parts.toml"
WAYS = dict(zip(("box", "pot", "tub", "rinse"), BATHS, strict=True))
NEEDED = ("name", "also", "kept", "note", *WAYS)
WAY_NEEDED = ("may", "why", "do", "standing", "source")
MAY: Mapping[str, May] = {"in": "in", "out": "out", "ask": "ask"}


def _way(row: Row) -> Way:
    row.check(WAY_NEEDED, ())
    return Way(
        may=cast(May, row.one_of("may", MAY)),
        why=row.text("why"),
        do=row.text("do"),
        standing=row.one_of("standing", STANDINGS),
        source=row.text("source"),
    )


def _kind(key: str, row: Row) -> PartKind:
    row.check(NEEDED, ())
    also = row.fields["also"]
    if not isinstance(also, list) or not all(isinstance(name, str) and name == name.casefold() for name in also):
        raise row.fault("also", "must be names in small letters, like {example}", example='["jaw"]')
    ways: dict[PlaceKind, Way] = {kind: _way(row.row(name)) for name, kind in WAYS.items()}
    return PartKind(key, row.text("name"), tuple(also), row.text("kept"), row.text("note"), MappingProxyType(ways))


def read_parts(text: str, file: str = FILE) -> Kinds:
    """Read a table of parts; a name that two of them go by is refused."""
    found: dict[str, PartKind] = {}
    taken: dict[str, str] = {}
    for key, row in read_rows(text, file).items():
        kind = _kind(key, row)
        for name in (kind.name, *kind.also):
            if taken.setdefault(name, key) != key:
                raise row.fault("also", "'{name}' is also a name of {other}; give it to one of them", name=name, other=taken[name])
        found[key] = kind
    return MappingProxyType(found)


@lru_cache(maxsize=1)
def load_parts() -> Kinds:
    """Return the shipped kinds of part by their keys."""
    return read_parts((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
