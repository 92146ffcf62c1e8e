"""The shipped chemicals of the wet bench, read from chemicals.toml and checked."""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType

from bonebench.errors import FileFault
from bonebench.figures import Figure
from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.bench import Chemical, Clash, ExposureLimit, FireClass, HazardClass
from bonebench.shop.bench.chemicals import ClassedBy, Loudness

FILE = "chemicals.toml"
BY: Mapping[str, ClassedBy] = {"harmonised": "harmonised", "supplier": "supplier", "general rule": "general rule"}
LEVELS: Mapping[str, Loudness] = {"read": "read", "strong": "strong", "stop": "stop"}
# What a chemical may clash with that is no chemical of this bench.
PLAIN_THINGS = ("metal", "tissue", "flame", "glycerin", "cloth and wood", "acid")
NEEDED = ("name", "words", "first_aid", "away", "standing", "source")
ALSO = ("classes", "fire", "never", "limits", "flash_point", "solvent", "note")


def number(row: Row, field: str, *, least: float = 0.0, most: float = 1e6) -> float:
    """Return a number within its ends."""
    value = row.fields[field]
    if type(value) not in (int, float) or not least <= value <= most:
        raise row.fault(field, "'{value}' is no number from {least} to {most}", value=str(value), least=least, most=most)
    return float(value)


def names(row: Row, field: str) -> tuple[str, ...]:
    """Return a list of words as people write them, in small letters."""
    value = row.fields[field]
    if not isinstance(value, list) or not value or not all(isinstance(word, str) and word.strip() for word in value):
        raise row.fault(field, "must be a list of words, like {example}", example='["one", "two"]')
    return tuple(word.casefold() for word in value)


def _class(row: Row) -> HazardClass:
    row.check(("name", "code", "from_w", "standing", "source"), ("below_w", "by"))
    from_w = number(row, "from_w", most=1)
    below = number(row, "below_w", least=from_w, most=1) if "below_w" in row.fields else None
    by: ClassedBy = row.one_of("by", BY) if "by" in row.fields else "harmonised"
    return HazardClass(row.text("name"), row.text("code"), from_w, below, row.one_of("standing", STANDINGS), row.text("source"), by)


def _fire(row: Row) -> FireClass:
    row.check(("number", "over_w", "to_w", "standing", "source"), ())
    over_w = number(row, "over_w", most=1)
    to_w = number(row, "to_w", least=over_w, most=1)
    return FireClass(
        int(number(row, "number", least=1, most=4)), over_w, to_w, row.one_of("standing", STANDINGS), row.text("source")
    )


def _clash(row: Row, other: str) -> Clash:
    row.check(("happens", "level", "standing", "source"), ())
    standing = row.one_of("standing", STANDINGS)
    return Clash(other, row.text("happens"), row.one_of("level", LEVELS), standing, row.text("source"))


def _limit(row: Row) -> ExposureLimit:
    row.check(("whose", "over", "value", "unit", "standing", "source"), ())
    value = number(row, "value")
    return ExposureLimit(
        row.text("whose"), row.text("over"), value, row.text("unit"), row.one_of("standing", STANDINGS), row.text("source")
    )


def _flash_point(row: Row) -> Figure | None:
    if "flash_point" not in row.fields:
        return None
    point = row.row("flash_point")
    point.check(("value", "low", "high", "standing", "source"), ())
    low, value, high = (number(point, name, least=-100.0, most=400.0) for name in ("low", "value", "high"))
    if not low <= value <= high:
        raise point.fault("value", "{value} lies outside its own range", value=value)
    return Figure(value, low, high, "°C", point.one_of("standing", STANDINGS), point.text("source"))


def _chemical(key: str, row: Row) -> Chemical:
    row.check(NEEDED, ALSO)
    never = row.row("never") if "never" in row.fields else None
    return Chemical(
        key=key,
        name=row.text("name"),
        words=names(row, "words"),
        classes=tuple(_class(one) for one in row.rows("classes")),
        fire_classes=tuple(_fire(one) for one in row.rows("fire")),
        clashes=() if never is None else tuple(_clash(never.row(other), other) for other in never.fields),
        exposure=tuple(_limit(one) for one in row.rows("limits")),
        flash_point_c=_flash_point(row),
        solvent=row.mark("solvent"),
        note=row.text("note") if "note" in row.fields else "",
        first_aid=row.text("first_aid"),
        away=row.text("away"),
        standing=row.one_of("standing", STANDINGS),
        source=row.text("source"),
    )


def read_chemicals(text: str, file: str = FILE) -> Mapping[str, Chemical]:
    """Read a table of chemicals; what a row may not meet must be a chemical of the table or one of the plain things."""
    rows = read_rows(text, file)
    found = {key: _chemical(key, row) for key, row in rows.items()}
    for key, chemical in found.items():
        for clash in chemical.clashes:
            if clash.other not in found and clash.other not in PLAIN_THINGS:
                raise FileFault(
                    "chemicals.clash", "{file}, {path}: '{other}' is no chemical of this table and none of {known}",
                    file=file, path=f"{key}.never.{clash.other}", other=clash.other, known=", ".join(PLAIN_THINGS),
                )  # fmt: skip
    return MappingProxyType(found)


@lru_cache(maxsize=1)
def load_chemicals() -> Mapping[str, Chemical]:
    """Return the shipped chemicals."""
    return read_chemicals((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
