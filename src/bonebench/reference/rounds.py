"""The shipped rounds, read from rounds.toml and checked."""

from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from importlib.resources import files

from bonebench.reference.methods import WORK
from bonebench.reference.rows import STANDINGS, Row, read_rows
from bonebench.said import Plain
from bonebench.shop.cautions import GIVEN, KEYS
from bonebench.shop.rounds import FEATURES, ROOM_PLACE, Hemisphere, Round, Wrong
from bonebench.shop.steps import PlaceKind

FILE = "rounds.toml"
ABOUT: Mapping[str, PlaceKind | None] = {ROOM_PLACE: None, **{kind.value: kind for kind in PlaceKind}}
NEEDED = ("name", "about", "minutes", "do", "look", "why", "source", "standing")
ALSO = ("days", "turn", "first_days", "work", "wrong", "needs", "in_use", "thirst", "cautions", "values")
# A caution whose holes a mix or a specimen fills says nothing on a round.
CAUTIONS = sorted(KEYS - GIVEN.keys())
HEMISPHERES: tuple[Hemisphere, ...] = ("north", "south")


def _days(row: Row) -> tuple[int, int] | None:
    if "days" not in row.fields:
        return None
    value = row.fields["days"]
    if not isinstance(value, list) or len(value) != 2 or not all(type(part) is int for part in value):
        raise row.fault("days", "give two whole numbers of days: the earliest and the latest, like [5, 7]")
    least, most = value
    if not 1 <= least <= most:
        raise row.fault("days", "the days {least}, {most} do not rise from 1 on", least=least, most=most)
    return least, most


def _month_day(row: Row, field: str) -> tuple[int, int]:
    text = row.text(field)
    try:
        # 2025 has no 29 February, and neither have three years in four.
        day = date.fromisoformat(f"2025-{text}")
    except ValueError:
        raise row.fault(field, "'{text}' is no day of every year; write it like 04-15", text=text) from None
    return day.month, day.day


def _turn(row: Row) -> dict[Hemisphere, tuple[int, int]] | None:
    if "turn" not in row.fields:
        return None
    table = row.row("turn")
    table.check(HEMISPHERES, ())
    return {hemisphere: _month_day(table, hemisphere) for hemisphere in HEMISPHERES}


def _wrongs(row: Row, values: Mapping[str, Plain]) -> tuple[Wrong, ...]:
    found = []
    for table in row.rows("wrong"):
        table.check(("tap", "next"), ("danger",))
        key = table.path.rpartition(".")[2]
        found.append(Wrong(key, table.text("tap"), table.sentence("next", ("place", *values)), table.mark("danger")))
    return tuple(found)


def _minutes(row: Row) -> float:
    value = row.fields["minutes"]
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 < value < float("inf"):
        raise row.fault("minutes", "'{value}' is not a number above zero", value=str(value))
    return float(value)


def _round(row: Row) -> Round:
    row.check(NEEDED, ALSO)
    values = row.values()
    holes = ("place", *values)
    days, turn = _days(row), _turn(row)
    if (days is None) == (turn is None):
        raise row.fault("days", "a round comes round by days or by a turn of the year: give one of the two")
    return Round(
        key=row.path,
        name=row.text("name"),
        about=row.one_of("about", ABOUT),
        days=days,
        turn=turn,
        first_days=row.whole("first_days"),
        minutes=_minutes(row),
        work=row.one_of("work", {work: work for work in WORK if work}) if "work" in row.fields else "",
        do=row.sentence("do", holes),
        look=row.sentence("look", holes),
        why=row.sentence("why", holes),
        wrongs=_wrongs(row, values),
        needs=row.one_of("needs", {feature: feature for feature in FEATURES}) if "needs" in row.fields else None,
        in_use=row.mark("in_use"),
        thirst=row.mark("thirst"),
        cautions=row.words("cautions", CAUTIONS),
        source=row.text("source"),
        standing=row.one_of("standing", STANDINGS),
        values=values,
    )


def read_rounds(text: str, file: str = FILE) -> dict[str, Round]:
    """Read a table of rounds; the row and the field that cannot be used are named."""
    return {key: _round(row) for key, row in read_rows(text, file).items()}


@lru_cache(maxsize=1)
def load_rounds() -> dict[str, Round]:
    """Return the shipped rounds by their keys; do not change what is returned."""
    return read_rounds((files("bonebench.reference") / FILE).read_text(encoding="utf-8"))
