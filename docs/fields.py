"""Write the tables of docs/enclosure-file.md, docs/colony-file.md and docs/what-if-file.md from what the program reads:
``python docs/fields.py`` prints them."""

from collections.abc import Iterator, Mapping

from bonebench.figures import Figure
from bonebench.files import colony_toml, whatif_toml
from bonebench.files import enclosure_toml as file
from bonebench.files.building_toml import BUILDING
from bonebench.files.quantities import Quantity
from bonebench.science.enclosure.defaults import DEFAULTS
from bonebench.services.colony.asked import FLOOR, HUMIDITY, SEED, SITES, WARM_C
from bonebench.services.enclosure.around import USUAL_RH
from bonebench.services.season.led import OTHER_WATER

TABLES: Mapping[str, Mapping[str, Quantity | None]] = {
    "box": file.BOX, "box.walls": file.LAYER, "window": file.WINDOW, "holes": file.HOLES, "duct": file.DUCT, "fan": file.FAN,
    "heater": file.HEATER, "humidistat": file.HUMIDISTAT, "bedding": file.BEDDING, "stores": file.STORE, "building": BUILDING,
    "site": file.SITE,    "band": file.BAND,
}  # fmt: skip


# What the file of a colony takes where it says nothing: words, or a figure with its standing.
LEFT_OUT: Mapping[str, str | Figure] = {
    "colony.beetles": "Dermestes maculatus", "colony.pests": "none", "colony.seed": f"{SEED}",
    "looks.pupae_part": "all of them", "house.floor": FLOOR, "house.sites": SITES, "house.cover": "true",
    "food.ration": "all they can eat", "food.dried": "false", "food.water": "true", "air.temperature": f"{WARM_C:g} degC",
    "air.humidity": f"{HUMIDITY:g}", "air.zone": "the room's", "box.humidity": f"{USUAL_RH:g}", "box.water": OTHER_WATER,
    "ahead.days": "90 days", "ahead.first_day": "today, or the first whole day of the log",
}  # fmt: skip
WRITTEN: Mapping[str, str] = {
    "colony.size": '`3000`, `"40 in 2 %"` or `"thousands"`',
    "colony.beetles": '`"Dermestes maculatus"`',
    "colony.pests": '`["mites"]`',
    "colony.seed": "`6`",
    "looks.counted": "`35`",
    "looks.grade": '`"thousands"`',
    "looks.pupae": "`120`",
    "house.sites": "`3000`",
    "house.cover": "`true`",
    "food.dried": "`false`",
    "food.water": "`true`",
    "food.waiting": '`"4 raccoon, 1 coyote"` or `"4 kg"`',
    "air.log": '`"box.csv"`',
    "air.log_unit": '`"C"` or `"F"`',
    "air.zone": '`"America/Chicago"`',
    "box.file": '`"enclosure.toml"`',
    "box.weather": '`"year.epw"` or `"normals:months.csv"`',
    "ahead.first_day": "`2026-05-04`",
}


# Ends of plain numbers, which no quantity holds.
COUNTS: Mapping[str, str] = {
    "colony.size": f"1, {colony_toml.MOST:g}", "colony.seed": f"0, {2**32 - 1}",
    **dict.fromkeys(("looks.counted", "looks.pupae", "house.sites"), f"0, {colony_toml.MOST:g}"),
}  # fmt: skip


def colony_rows() -> Iterator[str]:
    """Yield the lines of the table of a colony's file, as `rows` does for a box."""
    yield "| place | write it like | from, to (SI) | if left out | standing and source |"
    yield "|---|---|---|---|---|"
    for table, keys in colony_toml.TOP.items():
        for key, quantity in keys.items():
            place = f"{table}.{key}"
            example = f'`"{quantity.example}"`' if quantity else WRITTEN[place]
            ends = f"{quantity.low:g}, {quantity.high:g}" if quantity else COUNTS.get(place, "")
            left = LEFT_OUT.get(place, "")
            default, known = (left, "") if isinstance(left, str) else (_range(left), f"{left.standing.value}; {left.source}")
            yield f"| `{place}` | {example} | {ends} | {default} | {known} |"


def _range(figure: Figure) -> str:
    return f"{figure.value:g} {figure.unit} ({figure.low:g} to {figure.high:g})"


def rows() -> Iterator[str]:
    """Yield the lines of one table: place, how it is written, ends in SI, default and where that was read."""
    yield "| place | write it like | from, to (SI) | if left out | standing and source |"
    yield "|---|---|---|---|---|"
    for table, keys in TABLES.items():
        for key, quantity in keys.items():
            figure = DEFAULTS.get(f"{table}.{key}")
            example = f'`"{quantity.example}"`' if quantity else ""
            ends = f"{quantity.low:g}, {quantity.high:g}" if quantity else ""
            default = _range(figure) if figure else ""
            known = f"{figure.standing.value}; {figure.source}" if figure else ""
            yield f"| `{table}.{key}` | {example} | {ends} | {default} | {known} |"


def what_if_rows() -> Iterator[str]:
    """Yield the lines of the table of a what-if file: place, how it is written, what it may be, what it is if left out."""
    kinds, longest = ", ".join(f"`{kind}`" for kind in whatif_toml.KINDS), whatif_toml.LONGER
    told = {
        "change.name": ('`"one more pot"`', "1 to 60 letters, each once", "must be there"),
        "change.more": ('`{ pot = 1, "beetle box" = 1 }`', f"whole places, 1 to {whatif_toml.MOST_PLACES}, of {kinds}", "none"),
        "change.helper": ("`[change.helper]`", "one more person", "nobody"),
        "change.longer": (
            f'`{{ NAME = "{longest.example}" }}`', f"time a day, {longest.low / 60:g} min to {longest.high / 3600:g} h", "as now"
        ),
        "change.appetite": ("`1.5`", f"times as much as now, above 0, to {whatif_toml.MOST_APPETITE:g}", "1"),
        "change.without": ('`["whitening"]`', ", ".join(f"`{one}`" for one in whatif_toml.WITHOUT), "nothing"),
        "change.no_new_before": ("`2026-12-01`", "a day", "who is expected comes"),
        "change.buys": ('`"45.00"`', "a sum in the room's currency, or with its three letters", "nothing is bought"),
        "change.helper.days": ('`["sat"]`', ", ".join(f"`{day}`" for day in whatif_toml.WEEKDAYS), "must be there"),
        "change.helper.from": ('`"9:00"`', "wall time of the room", "must be there"),
        "change.helper.to": ('`"13:00"`', "wall time, later on the same day", "must be there"),
        "change.helper.trained": ('`["raw heads"]`', ", ".join(f"`{work}`" for work in whatif_toml.TRAINED), "all of them"),
    }  # fmt: skip
    yield "| place | write it like | what it may be | if left out |"
    yield "|---|---|---|---|"
    for table, keys in {"change": whatif_toml.CHANGE, "change.helper": whatif_toml.HELPER}.items():
        for key in keys:
            yield "| `" + " | ".join((f"{table}.{key}`", *told[f"{table}.{key}"])) + " |"


if __name__ == "__main__":
    print("\n".join([*rows(), "", *colony_rows(), "", *what_if_rows()]))
