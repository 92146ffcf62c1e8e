"""Which teeth each shipped species has by number, its milk teeth and its variants, read from teeth.csv.

How many there are stands in species.csv and nowhere else; a line here that does not add up to it is refused.
"""

import csv
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.species import load_species, standing_of
from bonebench.science.anatomy import JAWS, SIDES, Dentition, Kind, Row, Tooth, numbered
from bonebench.shop.species import Note, Species
from bonebench.shop.teeth_age import FULL_MOUTH_YEARS

FILE = "teeth.csv"
UNKNOWN = "not known here"
NO_MILK = re.compile(r"no milk teeth|lost before birth")
Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class ToothRecord:
    """The teeth of one species: how they are numbered, its milk teeth (None: not known here), and what may differ between skulls.

    ``triadan`` is False where the three-digit codes would only be a guess. ``born_with_adult`` is set where no young animal that
    comes in has milk teeth; ``full_mouth_years`` is by when all permanent ones stand. ``may_also_have`` and ``often_missing`` are
    teeth whose presence or lack is nothing odd.
    """

    adult: Dentition
    triadan: bool
    numbers: Note
    milk: Dentition | None = None
    milk_note: Note | None = None
    born_with_adult: bool = False
    full_mouth_years: float = FULL_MOUTH_YEARS
    full_mouth_note: Note | None = None
    may_also_have: tuple[Tooth, ...] = ()
    often_missing: tuple[Tooth, ...] = ()
    variants: Note | None = None


def _fault(key: str, column: str, template: str, **values: str) -> FileFault:
    return FileFault("teeth.file", "{file}, {key}, {path}: " + template, file=FILE, key=key, path=column, **values)


def _note(cells: Cells, column: str, text: str) -> Note:
    source = cells[column]
    standing = standing_of(source)
    if standing is None:
        raise _fault(cells["key"], column, "'{text}' names neither a source nor memory nor practice", text=source)
    return Note(text, standing, source)


def _numbers(cells: Cells, column: str) -> tuple[int, ...]:
    text = cells[column]
    if not re.fullmatch(r"(\d( \d)*)?", text):
        raise _fault(cells["key"], column, "'{text}' are not numbers of teeth such as 2 3 4", text=text)
    return tuple(int(one) for one in text.split())


def _row(cells: Cells, jaw: str, formula: Mapping[str, tuple[int, int]]) -> Row:
    at = JAWS.index(jaw)
    said: dict[Kind, tuple[int, ...]] = {"I": _numbers(cells, f"{jaw}_incisors"), "P": _numbers(cells, f"{jaw}_premolars")}
    counted = {kind: tuple(range(1, counts[at] + 1)) for kind, counts in formula.items()}
    for kind, numbers in said.items():
        if numbers and len(numbers) != formula[kind][at]:
            raise _fault(
                cells["key"], f"{jaw} {kind}", "{count} numbers, but the formula has {of} of them", count=str(len(numbers)),
                of=str(formula[kind][at]),
            )  # fmt: skip
    if formula["P"][at] and not said["P"]:
        raise _fault(cells["key"], f"{jaw}_premolars", "which premolars they are has to be said")
    return Row(said["I"] or counted["I"], counted["C"], said["P"], counted["M"])


def _milk_row(cells: Cells, column: str) -> Row:
    found: dict[str, list[int]] = {"I": [], "C": [], "P": []}
    for one in cells[column].split():
        if not re.fullmatch(r"[IP][1-5]|C", one):
            raise _fault(cells["key"], column, "'{text}' is no milk tooth such as I1, C or P2", text=one)
        found[one[0]].append(int(one[1:] or 1))
    return Row(tuple(found["I"]), tuple(found["C"]), tuple(found["P"]))


def _both_sides(cells: Cells, column: str) -> tuple[Tooth, ...]:
    teeth = []
    for one in cells[column].split():
        match = re.fullmatch(r"([UL])([ICPM])(\d?)", one)
        if match is None:
            raise _fault(cells["key"], column, "'{text}' is no tooth of a jaw such as UP1", text=one)
        jaw, kind, number = match.groups()
        teeth += [Tooth("upper" if jaw == "U" else "lower", side, kind, int(number or 1)) for side in SIDES]  # type: ignore[arg-type]
    return tuple(teeth)


def _full_mouth(cells: Cells) -> dict[str, Any]:
    text = cells["full_mouth_years"]
    if not text:
        return {}
    if not re.fullmatch(r"\d(\.\d+)?", text):
        raise _fault(cells["key"], "full_mouth_years", "'{text}' is not an age in years such as 2.5", text=text)
    note = _note(cells, "full_mouth_source", f"all permanent teeth by {text} years")
    return {"full_mouth_years": float(text), "full_mouth_note": note}


def _record(cells: Cells, species: Species) -> ToothRecord:
    formula = species.teeth.formula
    if formula is None:
        raise _fault(cells["key"], "key", "the species has no dental formula, so its teeth cannot be numbered")
    without_milk = NO_MILK.search(cells["milk_source"]) is not None
    has_milk = bool(cells["milk_upper"] or cells["milk_lower"])
    known = has_milk or without_milk
    return ToothRecord(
        adult=Dentition(_row(cells, "upper", formula), _row(cells, "lower", formula)),
        triadan=cells["triadan"] == "yes",
        numbers=_note(cells, "numbers_source", "homologue" if cells["triadan"] == "yes" else "counted from the front"),
        milk=Dentition(_milk_row(cells, "milk_upper"), _milk_row(cells, "milk_lower"), milk=True) if has_milk else None,
        milk_note=_note(cells, "milk_source", "none" if without_milk else "milk teeth") if known else None,
        born_with_adult=without_milk,
        **_full_mouth(cells),
        may_also_have=_both_sides(cells, "may_also_have"),
        often_missing=_both_sides(cells, "often_missing"),
        variants=_note(cells, "variants_source", cells["variants_note"]) if cells["variants_source"] else None,
    )


def read_teeth(lines: Iterable[str], species: Mapping[str, Species]) -> dict[str, ToothRecord]:
    """Read a table of teeth; a line that does not fit its species is named with its column."""
    found: dict[str, ToothRecord] = {}
    for cells in csv.DictReader(lines):
        key = cells["key"]
        if key not in species or key in found:
            raise _fault(key, "key", "no species of that key, or the second line about it")
        found[key] = _record(cells, species[key])
    return found


@lru_cache(maxsize=1)
def load_teeth() -> dict[str, ToothRecord]:
    """Return what is shipped of each species' teeth; do not change what is returned."""
    return read_teeth((files("bonebench.reference") / FILE).read_text(encoding="utf-8").splitlines(), load_species())


def teeth_of_species(species: Species) -> ToothRecord | None:
    """Return the teeth of a species as the room knows it; None where no formula says what they are.

    Where the room has a formula of its own, or a species of its own, the numbers follow the common rule as an estimate, and no
    Triadan code is given.
    """
    formula = species.teeth.formula
    if formula is None or not any(upper + lower for upper, lower in formula.values()):
        return None
    shipped = load_teeth().get(species.key)
    if shipped is not None and formula == load_species()[species.key].teeth.formula:
        return shipped
    note = Note("common rule", Standing.ESTIMATE, "numbered by the common rule: the last premolar is the fourth; an estimate")
    return ToothRecord(adult=numbered(formula), triadan=False, numbers=note)
