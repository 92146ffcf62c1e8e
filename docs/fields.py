"""Write the tables of docs/enclosure-file.md from what the program reads: ``python docs/fields.py`` prints them."""

from collections.abc import Iterator, Mapping

from bonebench.files import enclosure_toml as file
from bonebench.files.building_toml import BUILDING
from bonebench.files.quantities import Quantity
from bonebench.science.enclosure.defaults import DEFAULTS

TABLES: Mapping[str, Mapping[str, Quantity | None]] = {
    "box": file.BOX, "box.walls": file.LAYER, "window": file.WINDOW, "holes": file.HOLES, "duct": file.DUCT, "fan": file.FAN,
    "heater": file.HEATER, "humidistat": file.HUMIDISTAT, "bedding": file.BEDDING, "stores": file.STORE, "building": BUILDING,
    "site": file.SITE,    "band": file.BAND,
}  # fmt: skip


def rows() -> Iterator[str]:
    """Yield the lines of one table: place, how it is written, ends in SI, default and where that was read."""
    yield "| place | write it like | from, to (SI) | if left out | standing and source |"
    yield "|---|---|---|---|---|"
    for table, keys in TABLES.items():
        for key, quantity in keys.items():
            figure = DEFAULTS.get(f"{table}.{key}")
            example = f'`"{quantity.example}"`' if quantity else ""
            ends = f"{quantity.low:g}, {quantity.high:g}" if quantity else ""
            default = f"{figure.value:g} {figure.unit} ({figure.low:g} to {figure.high:g})" if figure else ""
            known = f"{figure.standing.value}; {figure.source}" if figure else ""
            yield f"| `{table}.{key}` | {example} | {ends} | {default} | {known} |"


if __name__ == "__main__":
    print("\n".join(rows()))
