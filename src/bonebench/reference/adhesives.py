"""The shipped glues, read from adhesives.toml and checked."""

from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import cast

from bonebench.reference.chemicals import number
from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.shop.bench import Adhesive
from bonebench.shop.bench.adhesives import USES, Use

FILE = "adhesives.toml"
NEEDED = ("name", "solvent", "cures_hours", "airs_hours", "undone_by", "uses", "use", "caution", "standing", "source")
MARKS = ("carries_acetone", "bears_water", "bears_peroxide", "reversible")


def _cures(row: Row) -> tuple[float, float]:
    hours = row.fields["cures_hours"]
    if not isinstance(hours, list) or len(hours) != 2 or not all(type(h) in (int, float) for h in hours) or hours[0] > hours[1]:
        raise row.fault("cures_hours", "must be two numbers of hours that rise, like {example}", example="[6, 24]")
    return float(hours[0]), float(hours[1])


def read_adhesives(text: str, file: str = FILE) -> Mapping[str, Adhesive]:
    """Read a table of glues; one that carries acetone and airs no time at all is refused."""
    found = {}
    for key, row in read_rows(text, file).items():
        row.check(NEEDED, MARKS)
        marks = {mark: row.mark(mark) for mark in MARKS}
        airs_hours = number(row, "airs_hours")
        if marks["carries_acetone"] and airs_hours == 0:
            raise row.fault("airs_hours", "a glue that carries acetone airs out for some hours; 0 would let it into peroxide wet")
        found[key] = Adhesive(
            key=key,
            name=row.text("name"),
            solvent=row.text("solvent"),
            cures_hours=_cures(row),
            airs_hours=airs_hours,
            undone_by=row.text("undone_by"),
            uses=cast(tuple[Use, ...], row.words("uses", USES)),
            use=row.text("use"),
            caution=row.text("caution"),
            standing=row.one_of("standing", STANDINGS),
            source=row.text("source"),
            **marks,
        )
    return MappingProxyType(found)


@lru_cache(maxsize=1)
def load_adhesives() -> Mapping[str, Adhesive]:
    """Return the shipped glues."""
    return read_adhesives((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
