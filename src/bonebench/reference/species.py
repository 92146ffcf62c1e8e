"""The shipped species, read from species.csv: every value with its range, its standing and where it was read."""

import csv
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from bonebench.errors import FileFault
from bonebench.figures import Figure, Standing, weakest
from bonebench.shop.species import TOOTH_CLASSES, Note, Species, Teeth, formula_total

FILE = "species.csv"
# What the words of a source say of its standing. A mean or a volume turned into a mass is arithmetic on published figures.
WORDS: tuple[tuple[str, Standing], ...] = (
    (r"estimate", Standing.ESTIMATE),
    (r"memory", Standing.MEMORY),
    (r"common practice", Standing.PRACTICE),
    (r"geometric mean| x 1\.036", Standing.DERIVED),
    (r"\bR\d{2,3}\b|\(read\)", Standing.PUBLISHED),
)
# How much brains differ between adults of one species; the table has only their mean.
BRAIN_SPREAD = 0.2


@lru_cache(maxsize=512)
def standing_of(source: str) -> Standing | None:
    """Return the weakest standing the words of a source name, None where they name none."""
    found = [standing for pattern, standing in WORDS if re.search(pattern, source)]
    return weakest(found) if found else None


@lru_cache(maxsize=64)
def _weaker(one: Standing, other: Standing) -> Standing:
    return weakest((one, other))


@dataclass(frozen=True, slots=True)
class _Row:
    cells: dict[str, str]
    line: int
    file: str

    def fault(self, column: str, template: str, **values: str) -> FileFault:
        return FileFault(
            "species.file", "{file}, line {line}, {path}: " + template, file=self.file, line=self.line, path=column, **values
        )

    def needed(self, column: str) -> str:
        value = self.cells[column]
        if not value:
            raise self.fault(column, "the cell is empty, and this one is needed")
        return value

    def number(self, column: str) -> float | None:
        text = self.cells[column]
        try:
            value = float(text) if text else None
        except ValueError:
            value = math.nan
        if value is not None and not math.isfinite(value):
            raise self.fault(column, "'{text}' is not a number; leave the cell empty if it is not known", text=text)
        return value

    def whole(self, column: str) -> int | None:
        value = self.number(column)
        if value is not None and (value < 0 or value != int(value)):
            raise self.fault(column, "'{text}' is not a count of teeth", text=self.cells[column])
        return None if value is None else int(value)

    def standing(self, column: str) -> tuple[Standing, str]:
        source = self.needed(column)
        standing = standing_of(source)
        if standing is None:
            raise self.fault(column, "'{text}' names neither a source nor memory nor practice", text=source)
        return standing, source

    def note(self, column: str, source_column: str) -> Note:
        return Note(self.needed(column), *self.standing(source_column))

    def figure(self, columns: tuple[str, str, str], unit: str, source_column: str, factor: float = 1.0) -> Figure:
        value, low, high = map(self.number, columns)
        if value is None or low is None or high is None:
            raise self.fault(columns[0], "the value or an end of its range is empty")
        if not 0 < low <= value <= high:
            raise self.fault(columns[0], "{text} lies outside its own range", text=self.cells[columns[0]])
        standing, source = self.standing(source_column)
        return Figure(value * factor, low * factor, high * factor, unit, standing, source)

    def maybe(self, columns: tuple[str, str, str], unit: str, source_column: str, factor: float = 1.0) -> Figure | None:
        cells = self.cells
        empty = not (cells[columns[0]] or cells[columns[1]] or cells[columns[2]])
        return None if empty else self.figure(columns, unit, source_column, factor)


def _share(row: _Row, stem: str, source_column: str) -> Figure:
    low, high = row.number(f"{stem}_low"), row.number(f"{stem}_high")
    if low is None or high is None or not 0 < low <= high < 100:
        raise row.fault(f"{stem}_low", "the share of the body has to rise from above 0 to below 100 %")
    standing, source = row.standing(source_column)
    return Figure((low + high) / 200, low / 100, high / 100, "share of the body", standing, source)


def _formula(row: _Row) -> dict[str, tuple[int, int]] | None:
    formula: dict[str, tuple[int, int]] = {}
    for name in TOOTH_CLASSES:
        upper, lower = row.whole(f"{name}_upper"), row.whole(f"{name}_lower")
        if upper is not None and lower is not None:
            formula[name] = (upper, lower)
    if formula and len(formula) < len(TOOTH_CLASSES):
        raise row.fault("dental_formula", "the formula is half filled in; give all eight counts or none")
    return formula or None


def _teeth(row: _Row) -> Teeth:
    formula, total = _formula(row), row.whole("total_teeth")
    if formula is not None and formula_total(formula) != total:
        raise row.fault(
            "total_teeth",
            "the formula makes {sum} teeth, not '{text}'",
            sum=str(formula_total(formula)),
            text=row.cells["total_teeth"],
        )
    standing, source = row.standing("dental_source")
    return Teeth(formula, _tooth_count(row, total, standing, source), row.needed("dental_formula"), standing, source)


def _tooth_count(row: _Row, total: int | None, standing: Standing, source: str) -> Figure:
    low, high = row.whole("total_teeth_low"), row.whole("total_teeth_high")
    if low is None or high is None:
        if total is None:
            raise row.fault("total_teeth", "neither a count nor a range of teeth is given; write 0 for none")
        return Figure(total, total, total, "teeth", standing, source)
    value = (low + high) / 2 if total is None else total
    if not low <= value <= high:
        raise row.fault("total_teeth_low", "the range of teeth does not hold the count")
    more, where = row.standing("total_teeth_range_source")
    return Figure(value, low, high, "teeth", _weaker(standing, more), source if where == source else f"{source}; range: {where}")


def _grease(row: _Row) -> int:
    text = row.needed("greasiness_class")
    if text[0] not in "12345":
        raise row.fault("greasiness_class", "'{text}' does not begin with a class from 1 to 5", text=text)
    return int(text[0])


def _brain(row: _Row) -> Figure | None:
    grams = row.number("brain_mass_g")
    if grams is None:
        return None
    if grams <= 0:
        raise row.fault(
            "brain_mass_g", "'{text}' is not a mass; leave the cell empty if it is not known", text=row.cells["brain_mass_g"]
        )
    standing, source = row.standing("brain_mass_source")
    mass = grams / 1000
    source = f"{source}; its range is an estimate of {BRAIN_SPREAD:.0%} either way"
    return Figure(mass, mass * (1 - BRAIN_SPREAD), mass * (1 + BRAIN_SPREAD), "kg", _weaker(standing, Standing.ESTIMATE), source)


def _species(row: _Row) -> Species:
    grease_standing, grease_source = row.standing("greasiness_source")
    return Species(
        key=row.needed("key"),
        common_name=row.needed("common_name"),
        scientific_name=row.needed("scientific_name"),
        class_name=row.needed("class"),
        order=row.needed("order"),
        other_names=tuple(name.strip() for name in row.cells["other_names"].split(";") if name.strip()),
        body_mass_kg=row.figure(("body_mass_kg", "body_mass_low_kg", "body_mass_high_kg"), "kg", "body_mass_source"),
        skull_length_m=row.maybe(
            ("skull_length_mm", "skull_length_low_mm", "skull_length_high_mm"), "m", "skull_length_source", 1e-3
        ),
        skull_length_kind=row.cells["skull_length_type"],
        zygomatic_width_m=row.maybe(("zygomatic_width_mm", "zygomatic_low_mm", "zygomatic_high_mm"), "m", "zygomatic_source", 1e-3),
        teeth=_teeth(row),
        loose_prone=row.note("loose_prone_note", "loose_prone_source"),
        grease_class=_grease(row),
        grease_standing=grease_standing,
        grease_source=grease_source,
        head_share=_share(row, "head_pct_body", "head_pct_source"),
        tissue_share=_share(row, "head_tissue_after_prep_pct_body", "head_tissue_source"),
        brain_mass_kg=_brain(row),
        fragile=row.note("fragile_features", "fragile_source"),
        zoonosis_note=row.note("zoonosis_note", "zoonosis_source"),
        legal_flag=row.note("legal_flag", "legal_source") if row.cells["legal_flag"] else None,
    )


def _rows(lines: Iterable[str], file: str) -> Iterator[_Row]:
    table = csv.reader(lines)
    header = next(table, [])
    for cells in table:
        yield _Row(dict(zip(header, map(str.strip, cells), strict=False)), table.line_num, file)


def read_species(lines: Iterable[str], file: str = FILE) -> dict[str, Species]:
    """Read a table of species; a line that cannot be used is named with its column."""
    result: dict[str, Species] = {}
    for row in _rows(lines, file):
        try:
            species = _species(row)
        except KeyError as missing:
            raise row.fault(str(missing.args[0]), "there is no such cell; the line is too short or the column is gone") from None
        if species.key in result:
            raise row.fault("key", "'{text}' is on an earlier line too; every species has a key of its own", text=species.key)
        result[species.key] = species
    return result


@lru_cache(maxsize=1)
def load_species() -> dict[str, Species]:
    """Return the shipped species by their keys, in the order of the table; do not change what is returned."""
    return read_species((files("bonebench.reference") / FILE).read_text(encoding="utf-8").splitlines())
