"""The shipped chemicals, materials and glues of the wet bench, read and checked."""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from typing import Literal

from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.bench import Adhesive, Chemical, HazardClass, Material, Touch

VERDICTS: Mapping[str, Literal["good", "watch", "never"]] = {"good": "good", "watch": "watch", "never": "never"}


def _text(file: str) -> str:
    return (files("bonebench.reference") / file).read_text(encoding="utf-8")


def _number(row: Row, field: str, *, least: float = 0.0, most: float = 1e6) -> float:
    value = row.fields[field]
    if type(value) not in (int, float) or not least <= value <= most:
        raise row.fault(field, "'{value}' is no number from {least} to {most}", value=str(value), least=least, most=most)
    return float(value)


def _class(row: Row) -> HazardClass:
    row.check(("name", "code", "from_w", "standing", "source"), ("below_w",))
    from_w = _number(row, "from_w", most=1)
    below = _number(row, "below_w", least=from_w, most=1) if "below_w" in row.fields else None
    return HazardClass(row.text("name"), row.text("code"), from_w, below, row.one_of("standing", STANDINGS), row.text("source"))


def read_chemicals(text: str, file: str = "chemicals.toml") -> dict[str, Chemical]:
    """Read a table of chemicals."""
    found = {}
    for key, row in read_rows(text, file).items():
        row.check(("name", "limits", "first_aid", "away", "standing", "source"), ("classes", "never"))
        never = row.row("never") if "never" in row.fields else None
        found[key] = Chemical(
            key=key,
            name=row.text("name"),
            classes=tuple(_class(one) for one in row.rows("classes")),
            never_with=() if never is None else tuple((other, never.text(other)) for other in never.fields),
            limits=row.text("limits"),
            first_aid=row.text("first_aid"),
            away=row.text("away"),
            standing=row.one_of("standing", STANDINGS),
            source=row.text("source"),
        )
    return found


def _touch(row: Row, field: str) -> Touch:
    value = row.fields[field]
    if not isinstance(value, list) or len(value) != 2 or value[0] not in VERDICTS or not isinstance(value[1], str):
        raise row.fault(field, "must be a verdict and why, like {example}", example='["never", "rusts"]')
    return Touch(VERDICTS[value[0]], value[1])


def read_materials(text: str, file: str = "materials.toml") -> dict[str, Material]:
    """Read a table of materials."""
    found = {}
    for key, row in read_rows(text, file).items():
        row.check(("name", "peroxide", "detergent", "acetone", "standing", "source"), ())
        found[key] = Material(
            key, row.text("name"), _touch(row, "peroxide"), _touch(row, "detergent"), _touch(row, "acetone"),
            row.one_of("standing", STANDINGS), row.text("source"),
        )  # fmt: skip
    return found


def read_adhesives(text: str, file: str = "adhesives.toml") -> dict[str, Adhesive]:
    """Read a table of glues."""
    found = {}
    for key, row in read_rows(text, file).items():
        row.check(
            ("name", "cures_hours", "airs_hours", "undone_by", "use", "standing", "source"),
            ("carries_acetone", "bears_water", "bears_peroxide"),
        )
        hours = row.fields["cures_hours"]
        if not isinstance(hours, list) or len(hours) != 2 or not all(type(h) in (int, float) for h in hours) or hours[0] > hours[1]:
            raise row.fault("cures_hours", "must be two numbers of hours that rise, like {example}", example="[6, 24]")
        found[key] = Adhesive(
            key=key,
            name=row.text("name"),
            carries_acetone=row.mark("carries_acetone"),
            cures_hours=(float(hours[0]), float(hours[1])),
            airs_hours=_number(row, "airs_hours"),
            bears_water=row.mark("bears_water"),
            bears_peroxide=row.mark("bears_peroxide"),
            undone_by=row.text("undone_by"),
            use=row.text("use"),
            standing=row.one_of("standing", STANDINGS),
            source=row.text("source"),
        )
    return found


@lru_cache(maxsize=1)
def load_chemicals() -> Mapping[str, Chemical]:
    """Return the shipped chemicals."""
    return read_chemicals(_text("chemicals.toml"))


@lru_cache(maxsize=1)
def load_materials() -> Mapping[str, Material]:
    """Return the shipped materials."""
    return read_materials(_text("materials.toml"))


@lru_cache(maxsize=1)
def load_adhesives() -> Mapping[str, Adhesive]:
    """Return the shipped glues."""
    return read_adhesives(_text("adhesives.toml"))
