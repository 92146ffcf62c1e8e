"""The shipped cautions, read from cautions.toml."""

import string
import tomllib
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.said import SI_FORMS, Plain
from bonebench.shop.cautions import GIVEN, KEYS, CautionRow, Level, Rows

FILE = "cautions.toml"
TEXTS = ("hazard", "when", "do", "source")
STANDINGS = {
    "published": Standing.PUBLISHED,
    "derived": Standing.DERIVED,
    "practice": Standing.PRACTICE,
    "memory": Standing.MEMORY,
    "estimate": Standing.ESTIMATE,
}
LEVELS = {level.value: level for level in Level}


def _fault(path: str, template: str, **values: Plain) -> FileFault:
    return FileFault("cautions.file", "{file}, {path}: " + template, file=FILE, path=path, **values)


def _text(key: str, name: str, row: Mapping[str, Any]) -> str:
    if name not in row:
        raise _fault(f"{key}.{name}", "is missing; every caution has one")
    if not isinstance(row[name], str) or not row[name].strip():
        raise _fault(f"{key}.{name}", "must be words between quotes, and not empty")
    return str(row[name])


def _one_of(key: str, name: str, row: Mapping[str, Any], known: Mapping[str, Any]) -> Any:
    word = _text(key, name, row)
    if word not in known:
        raise _fault(f"{key}.{name}", "'{word}' is not known; use one of {known}", word=word, known=", ".join(known))
    return known[word]


def _values(key: str, row: Mapping[str, Any]) -> Mapping[str, Plain]:
    values = row.get("values", {})
    if not isinstance(values, dict) or not all(type(value) in (int, float) for value in values.values()):
        raise _fault(f"{key}.values", "must be numbers by name, like {{ limit = 30 }}")
    return MappingProxyType(values)


def _check_holes(key: str, name: str, text: str, values: Mapping[str, Plain]) -> None:
    """Refuse a sentence that could not be filled when somebody needs it."""
    try:
        holes = [(hole, kind) for _, hole, kind, _ in string.Formatter().parse(text) if hole is not None]
    except ValueError:
        raise _fault(f"{key}.{name}", "has a brace without its partner; write holes like {{limit:temperature}}") from None
    for hole, kind in holes:
        if hole not in values and hole not in GIVEN.get(key, ()):
            raise _fault(f"{key}.{name}", "the hole '{hole}' is filled by nothing; put it in values", hole=hole)
        if kind and kind not in SI_FORMS:
            raise _fault(
                f"{key}.{name}", "'{kind}' is no kind of quantity; use one of {known}", kind=kind, known=", ".join(SI_FORMS)
            )


def _row(key: str, row: Any) -> CautionRow:
    if not isinstance(row, dict):
        raise _fault(key, 'must be a table of its own, like ["{key}"]', key=key)
    for name in row:
        if name not in (*TEXTS, "standing", "level", "values"):
            raise _fault(f"{key}.{name}", "is not a field of a caution; take it out or spell it right")
    values = _values(key, row)
    texts = {name: _text(key, name, row) for name in TEXTS}
    for name in ("hazard", "when", "do"):
        _check_holes(key, name, texts[name], values)
    return CautionRow(
        key=key,
        **texts,
        standing=_one_of(key, "standing", row, STANDINGS),
        level=_one_of(key, "level", row, LEVELS),
        values=values,
    )


def read_cautions(text: str) -> Rows:
    """Read caution rows; a malformed row, or one that a rule needs and the file lacks, is refused."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("cautions.toml", "{file} cannot be read: {why}", file=FILE, why=str(fault)) from fault
    rows = {key: _row(key, row) for key, row in tables.items()}
    for key in sorted(KEYS - rows.keys()):
        raise _fault(key, "is missing; a rule needs this caution")
    return MappingProxyType(rows)


@lru_cache(maxsize=1)
def load_cautions() -> Rows:
    """Return the shipped cautions by key."""
    return read_cautions(files("bonebench.reference").joinpath(FILE).read_text(encoding="utf-8"))
