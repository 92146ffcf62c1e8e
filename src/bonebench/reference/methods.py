"""The shipped ways to do each step, read from methods.toml and checked, so that a bad row is named and never half used."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Literal, cast

from bonebench.errors import FileFault
from bonebench.figures import Figure, Standing
from bonebench.reference.chemicals import load_chemicals
from bonebench.shop.methods import Method, Size, Span
from bonebench.shop.steps import PlaceKind, Step

FILE = "methods.toml"
CLASSES: Mapping[str, tuple[str, ...]] = {
    "grease": ("1", "2", "3", "4", "5"),
    "size": tuple(size.value for size in Size),
    "all": ("all",),
}
# The training a person needs before the work is given to them; "" is anyone.
WORK = ("", "raw heads", "beetles", "hot baths", "peroxide", "teeth")
STANDINGS: Mapping[str, Standing] = {standing.name.lower(): standing for standing in Standing}
NEEDED = ("step", "name", "classed_by", "days", "minutes", "standing", "source", "effort", "harm")
UNITS: Mapping[str, tuple[str, str]] = {"temperature_c": ("degC", "°C"), "strength_w": ("w/w", "w/w")}
AMOUNTS = ("look_every_days", "most_wait_days")
MARKS = ("kills_insects", "leaves_out", "alternative")
KNOWN = frozenset((*NEEDED, "place", "work", "chemical", "longest_days", "species_days", *UNITS, *AMOUNTS, *MARKS))


@dataclass(frozen=True, slots=True)
class _Row:
    key: str
    values: Mapping[str, Any]
    file: str

    def fault(self, field: str, template: str, **values: str) -> FileFault:
        return FileFault("methods.file", "{file}, {path}: " + template, file=self.file, path=f"{self.key}.{field}", **values)

    def text(self, field: str) -> str:
        value = self.values.get(field, "")
        if not isinstance(value, str):
            raise self.fault(field, "'{value}' is not text; put it in quotes", value=str(value))
        return value

    def one_of(self, field: str, known: Mapping[str, Any], value: str | None = None) -> Any:
        text = self.text(field) if value is None else value
        if text not in known:
            raise self.fault(field, "'{value}' is none of {known}", value=text, known=", ".join(known))
        return known[text]

    def number(self, field: str, value: object, *, above: float = 0.0) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not above <= value < float("inf"):
            raise self.fault(field, "'{value}' is not a number of zero or more", value=str(value))
        return float(value)

    def table(self, field: str) -> Mapping[str, Any]:
        value = self.values.get(field)
        if not isinstance(value, dict):
            raise self.fault(field, "write it by class, like {example}", example="{ all = 1 }")
        return value


def _classes(row: _Row, field: str, classes: tuple[str, ...]) -> Mapping[str, Any]:
    """A table that holds every class once and no other."""
    table = row.table(field)
    missing = [name for name in classes if name not in table]
    if missing:
        raise row.fault(
            field, "nothing is said for class {missing}; it needs {classes}", missing=missing[0], classes=", ".join(classes)
        )
    other = [name for name in table if name not in classes]
    if other:
        raise row.fault(field, "'{other}' is none of its classes {classes}", other=other[0], classes=", ".join(classes))
    return table


def _span(row: _Row, name: str, value: object, table: str = "days") -> Span:
    field = f"{table}.{name}"
    if not isinstance(value, list) or len(value) != 3:
        raise row.fault(field, "give three numbers of days: one in ten is quicker, half are, one in ten is slower")
    p10, p50, p90 = (row.number(field, part) for part in value)
    if not p10 <= p50 <= p90:
        raise row.fault(field, "the days {days} do not rise", days=", ".join(f"{part:g}" for part in (p10, p50, p90)))
    return Span(p10, p50, p90)


def _species_days(row: _Row) -> dict[str, Span]:
    """Days of single species that go another way than their class."""
    if "species_days" not in row.values:
        return {}
    return {name: _span(row, name, value, "species_days") for name, value in row.table("species_days").items()}


def _minutes(row: _Row, classes: tuple[str, ...]) -> dict[str, float]:
    """Minutes go by the method's own classes, by size, or are the same for all."""
    table = row.table("minutes")
    ways = (classes, CLASSES["size"], CLASSES["all"])
    fitting = next((way for way in ways if set(table) & set(way)), classes)
    return {name: row.number(f"minutes.{name}", value) for name, value in _classes(row, "minutes", fitting).items()}


def _longest(row: _Row, classes: tuple[str, ...], days: Mapping[str, Span]) -> dict[str, float] | None:
    if "longest_days" not in row.values:
        return None
    longest = {k: row.number(f"longest_days.{k}", v) for k, v in _classes(row, "longest_days", classes).items()}
    for name, most in longest.items():
        if most < days[name].p50:
            raise row.fault(
                f"longest_days.{name}", "the longest stay, {most} days, is shorter than the usual one", most=f"{most:g}"
            )
    return longest


def _figure(row: _Row, field: str) -> Figure | None:
    if field not in row.values:
        return None
    table, (written, unit) = row.table(field), UNITS[field]
    if table.get("unit") != written:
        raise row.fault(
            f"{field}.unit", "the unit is '{unit}'; it has to be {wanted}", unit=str(table.get("unit", "")), wanted=written
        )
    least = -273.15 if field == "temperature_c" else 0.0
    value, low, high = (row.number(f"{field}.{name}", table.get(name), above=least) for name in ("value", "low", "high"))
    if not low <= value <= high:
        raise row.fault(field, "{value} lies outside its own range", value=f"{value:g}")
    standing = row.one_of(f"{field}.standing", STANDINGS, str(table.get("standing", "")))
    source = str(table.get("source", ""))
    if not source:
        raise row.fault(f"{field}.source", "say where it was read, or that nobody knows")
    return Figure(value, low, high, unit, standing, source)


def _amount(row: _Row, field: str) -> float | None:
    return row.number(field, row.values[field]) if field in row.values else None


def _mark(row: _Row, field: str) -> bool:
    value = row.values.get(field, False)
    if not isinstance(value, bool):
        raise row.fault(field, "'{value}' is neither true nor false", value=str(value))
    return value


def _check_fields(row: _Row) -> None:
    for field in row.values:
        if field not in KNOWN:
            raise row.fault(field, "a method has no '{named}'; it has {known}", named=field, known=", ".join(sorted(KNOWN)))
    for field in NEEDED:
        if not row.values.get(field):
            raise row.fault(field, "it is missing, and every method needs it")


def _method(row: _Row) -> Method:
    _check_fields(row)
    classed_by = row.one_of("classed_by", {name: name for name in CLASSES})
    classes = CLASSES[classed_by]
    days = {name: _span(row, name, value) for name, value in _classes(row, "days", classes).items()}
    return Method(
        key=row.key,
        step=row.one_of("step", {step.value: step for step in Step}),
        name=row.text("name"),
        place=row.one_of("place", {kind.value: kind for kind in PlaceKind}) if "place" in row.values else None,
        classed_by=cast(Literal["grease", "size", "all"], classed_by),
        days=days,
        minutes=_minutes(row, classes),
        work=row.one_of("work", {work: work for work in WORK}),
        standing=row.one_of("standing", STANDINGS),
        source=row.text("source"),
        effort=row.text("effort"),
        harm=row.text("harm"),
        temperature_c=_figure(row, "temperature_c"),
        strength_w=_figure(row, "strength_w"),
        look_every_days=_amount(row, "look_every_days"),
        longest_days=_longest(row, classes, days),
        most_wait_days=_amount(row, "most_wait_days"),
        kills_insects=_mark(row, "kills_insects"),
        leaves_out=_mark(row, "leaves_out"),
        own_days=_species_days(row),
        chemical=row.one_of("chemical", {key: key for key in load_chemicals()}) if "chemical" in row.values else "",
        alternative=_mark(row, "alternative"),
    )


def read_methods(text: str, file: str = FILE) -> dict[str, Method]:
    """Read a table of methods; the row and the field that cannot be used are named."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("methods.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from None
    result: dict[str, Method] = {}
    for key, values in tables.items():
        if not isinstance(values, dict):
            raise FileFault("methods.row", "{file}, {path}: a method is a table of its own, headed [{path}]", file=file, path=key)
        result[key] = _method(_Row(key, values, file))
    for step in Step:
        # A room that leaves a step out still needs one shipped way to do it: the kill, when the pot is not hot enough.
        if not any(method.step is step and not method.leaves_out for method in result.values()):
            raise FileFault("methods.step", "{file}: no method does the step '{step}'; add one", file=file, step=step.value)
    return result


@lru_cache(maxsize=1)
def load_methods() -> dict[str, Method]:
    """Return the shipped methods by their keys, the usual one first for each step; do not change what is returned."""
    return read_methods((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
