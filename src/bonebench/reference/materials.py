"""What touches the baths: the shipped materials, read from materials.toml and checked."""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Literal

from bonebench.reference.chemicals import names
from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.bench import MEDIA, Material, Touch

FILE = "materials.toml"
VERDICTS: Mapping[str, Literal["good", "watch", "never"]] = {"good": "good", "watch": "watch", "never": "never"}


def _touch(row: Row) -> Touch:
    row.check(("verdict", "why", "standing", "source"), ())
    return Touch(row.one_of("verdict", VERDICTS), row.text("why"), row.one_of("standing", STANDINGS), row.text("source"))


def read_materials(text: str, file: str = FILE) -> Mapping[str, Material]:
    """Read a table of materials: every one says how it bears every kind of bath."""
    found = {}
    for key, row in read_rows(text, file).items():
        row.check(("name", "words", *MEDIA), ())
        touches = {medium: _touch(row.row(medium)) for medium in MEDIA}
        found[key] = Material(key=key, name=row.text("name"), words=names(row, "words"), **touches)
    return MappingProxyType(found)


@lru_cache(maxsize=1)
def load_materials() -> Mapping[str, Material]:
    """Return the shipped materials."""
    return read_materials((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
