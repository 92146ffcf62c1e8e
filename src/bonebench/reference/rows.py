"""Rows of a shipped table, read field by field, so that a bad one is refused with the file, the row and the field."""

import string
import tomllib
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.said import SI_FORMS, Plain

STANDINGS: Mapping[str, Standing] = {standing.name.lower(): standing for standing in Standing}


@dataclass(frozen=True, slots=True)
class Row:
    """One table of a file; ``path`` is its heading."""

    file: str
    path: str
    fields: Mapping[str, Any]

    def fault(self, field: str, template: str, **values: Plain) -> FileFault:
        """Return the fault to raise about one field."""
        return FileFault("reference.file", "{file}, {path}: " + template, file=self.file, path=f"{self.path}.{field}", **values)

    def check(self, needed: Collection[str], also: Collection[str]) -> None:
        """Refuse a field nobody knows and a needed one that is missing."""
        known = (*needed, *also)
        for field in self.fields:
            if field not in known:
                raise self.fault(field, "is no field here; it has {known}", known=", ".join(known))
        for field in needed:
            if field not in self.fields:
                raise self.fault(field, "is missing")

    def text(self, field: str) -> str:
        """Return words that are not empty."""
        value = self.fields[field]
        if not isinstance(value, str) or not value.strip():
            raise self.fault(field, "must be words between quotes, and not empty")
        return value

    def sentence(self, field: str, holes: Collection[str] = ()) -> str:
        """Return words whose holes can all be filled when somebody needs them."""
        text = self.text(field)
        try:
            found = [(hole, kind) for _, hole, kind, _ in string.Formatter().parse(text) if hole is not None]
        except ValueError:
            raise self.fault(field, "has a brace without its partner; write holes like {example}", example="{place}") from None
        for hole, kind in found:
            if hole not in holes:
                raise self.fault(field, "the hole '{hole}' is filled by nothing; put it in values", hole=hole)
            if kind and kind not in SI_FORMS:
                known = ", ".join(SI_FORMS)
                raise self.fault(field, "'{kind}' is no kind of quantity; use one of {known}", kind=kind, known=known)
        return text

    def one_of(self, field: str, known: Mapping[str, Any]) -> Any:
        """Return what one of the known words stands for."""
        word = self.text(field)
        if word not in known:
            raise self.fault(field, "'{word}' is not known; use one of {known}", word=word, known=", ".join(known))
        return known[word]

    def words(self, field: str, known: Collection[str]) -> tuple[str, ...]:
        """Return a list of known words; a field left out is an empty list."""
        value = self.fields.get(field, [])
        if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
            raise self.fault(field, "must be a list of words, like {example}", example='["one", "two"]')
        for word in value:
            if word not in known:
                raise self.fault(field, "'{word}' is not known; use some of {known}", word=word, known=", ".join(known))
        return tuple(value)

    def whole(self, field: str, *, least: int = 0) -> int:
        """Return a whole number; a field left out is the least."""
        value = self.fields.get(field, least)
        if type(value) is not int or value < least:
            raise self.fault(field, "'{value}' is not a whole number of {least} or more", value=str(value), least=least)
        return value

    def mark(self, field: str) -> bool:
        """Return true or false; a field left out is false."""
        value = self.fields.get(field, False)
        if not isinstance(value, bool):
            raise self.fault(field, "'{value}' is neither true nor false", value=str(value))
        return value

    def values(self) -> dict[str, Plain]:
        """Return the numbers the row itself brings for the holes of its sentences."""
        value = self.fields.get("values", {})
        if not isinstance(value, dict) or not all(type(number) in (int, float) for number in value.values()):
            raise self.fault("values", "must be numbers by name, like {example}", example="{ limit = 30 }")
        return value

    def row(self, field: str) -> "Row":
        """Return a table inside this one."""
        value = self.fields[field]
        if not isinstance(value, dict):
            raise self.fault(field, "must be a table of its own")
        return Row(self.file, f"{self.path}.{field}", value)

    def rows(self, field: str) -> tuple["Row", ...]:
        """Return the tables inside this one by their names; a field left out holds none."""
        if field not in self.fields:
            return ()
        table = self.row(field)
        return tuple(table.row(name) for name in table.fields)


def read_rows(text: str, file: str) -> dict[str, Row]:
    """Read the tables of a file by their headings, in the order they stand in."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("reference.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from fault
    for key, table in tables.items():
        if not isinstance(table, dict):
            raise FileFault("reference.row", "{file}, {path}: must be a table of its own, headed [{path}]", file=file, path=key)
    return {key: Row(file, key, table) for key, table in tables.items()}
