"""A what-if file: changes of the room as people write them down, checked place by place. The room itself is not asked here."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from bonebench.errors import FileFault
from bonebench.files import quantities as q
from bonebench.files.enclosure_toml import text_of
from bonebench.files.quantities import Quantity, value_of
from bonebench.files.tables import Part, Reading, Table
from bonebench.reference.methods import WORK
from bonebench.shop.room import WEEKDAYS
from bonebench.shop.steps import PlaceKind

FILE = "what-if.toml"
MOST_CHANGES = 12
MOST_PLACES = 20
MOST_APPETITE = 10.0
LONGER = q.seconds(60, 12 * 3600, "60 min")
KINDS = tuple(kind.value for kind in PlaceKind)
TRAINED = tuple(work for work in WORK if work)
# What may be left out, with all that follows from it; what is left out in the room for good is one of its methods.
WITHOUT: Mapping[str, tuple[str, ...]] = {"whitening": ("whiten", "rinse", "dry again")}
# A sum, with the three letters of a currency or without.
SUM = re.compile(r"\d+([.,]\d{1,6})?( ?[A-Za-z]{3})?")
CHANGE: Mapping[str, Quantity | None] = dict.fromkeys(
    ("name", "more", "helper", "longer", "appetite", "without", "no_new_before", "buys")
)
HELPER: Mapping[str, Quantity | None] = dict.fromkeys(("days", "from", "to", "trained"))


@dataclass(frozen=True, slots=True)
class Helper:
    """One more pair of hands: weekdays (0 is Monday), wall hours, and what they are trained for."""

    days: tuple[int, ...]
    begins: time
    ends: time
    trained: tuple[str, ...] = TRAINED


@dataclass(frozen=True, slots=True, kw_only=True)
class Otherwise:
    """One change of the room under a name; what is left empty stays as it is.

    ``more`` is places by kind, ``longer`` minutes by the name of a person, ``appetite`` times what the beetles eat now; ``buys`` is
    what it costs to have the change at all, as it was written.
    """

    name: str
    more: Mapping[str, int] = field(default_factory=dict)
    helper: Helper | None = None
    longer: Mapping[str, float] = field(default_factory=dict)
    appetite: float | None = None
    without: tuple[str, ...] = ()
    no_new_before: date | None = None
    buys: str | None = None


def read_what_if(path: Path) -> tuple[Otherwise, ...]:
    """Read the changes of a file."""
    return what_if_of(text_of(path, "what-if"), path.name)


def what_if_of(text: str, file: str = FILE) -> tuple[Otherwise, ...]:
    """Read the changes of a file's text."""
    try:
        whole = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise FileFault("what_if.toml", "{file} cannot be read: {why}", file=file, why=str(fault)) from fault
    return changes_in(whole, file)


def changes_in(whole: Table, file: str = FILE) -> tuple[Otherwise, ...]:
    """Build the changes from the tables of a file."""
    reading = Reading(file)
    for key in whole:
        if key != "change":
            raise reading.fault(key, "unknown table; a what-if file is made of [[change]]")
    parts = reading.tables(whole.get("change", []), "change", CHANGE)
    if not 1 <= len(parts) <= MOST_CHANGES:
        raise reading.fault(
            "change", "{count} changes; write 1 to {most}, each under [[change]]", count=len(parts), most=MOST_CHANGES
        )
    changes = tuple(_change(part) for part in parts)
    for n, change in enumerate(changes):
        if change.name in {other.name for other in changes[:n]} or change.name == "as it is":
            raise reading.fault(f"change[{n}].name", "'{name}' is taken: every change has a name of its own", name=change.name)
    return changes


def _change(part: Part) -> Otherwise:
    name = part.whole.get("name")
    if not isinstance(name, str) or not name.strip() or len(name) > 60:
        raise part.reading.fault(f"{part.path}.name", 'a change has a name of up to 60 letters, such as name = "one more pot"')
    change = Otherwise(
        name=name.strip(), more=_more(part), helper=_helper(part), longer=_longer(part), appetite=_appetite(part),
        without=_without(part), no_new_before=_no_new_before(part), buys=_buys(part),
    )  # fmt: skip
    if not part.whole.keys() - {"name", "buys"}:
        known = ", ".join(key for key in CHANGE if key not in ("name", "buys"))
        raise part.reading.fault(part.path, "nothing is changed; say one of: {known}", known=known)
    return change


def _table(part: Part, key: str, example: str) -> Table:
    whole = part.whole.get(key, {})
    if not isinstance(whole, dict) or (key in part.whole and not whole):
        raise part.reading.fault(f"{part.path}.{key}", "write it like {key} = {example}", key=key, example=example)
    return whole


def _more(part: Part) -> dict[str, int]:
    more = _table(part, "more", "{ pot = 1 }")
    for kind, number in more.items():
        path = f"{part.path}.more.{kind}"
        if kind not in KINDS:
            raise part.reading.fault(
                path, "no kind of place is called '{kind}'; known are {known}", kind=kind, known=", ".join(KINDS)
            )
        if isinstance(number, bool) or not isinstance(number, int) or not 1 <= number <= MOST_PLACES:
            raise part.reading.fault(path, "{n} more; write a whole number, 1 to {most}", n=str(number), most=MOST_PLACES)
    return dict(more)


def _longer(part: Part) -> dict[str, float]:
    longer = _table(part, "longer", '{ NAME = "60 min" }')
    return {
        name: value_of(written, LONGER, f"{part.path}.longer.{name}", part.reading.file) / 60 for name, written in longer.items()
    }


def _appetite(part: Part) -> float | None:
    if "appetite" not in part.whole:
        return None
    times = part.plain("appetite")
    if not 0 < times <= MOST_APPETITE:
        raise part.reading.fault(
            f"{part.path}.appetite",
            "{times} times what they eat now; it lies above 0 and up to {most}",
            times=times,
            most=MOST_APPETITE,
        )
    return times


def _words(part: Part, key: str, known: tuple[str, ...]) -> tuple[str, ...]:
    """Return a list of words that are all known."""
    path, words = f"{part.path}.{key}", part.whole[key]
    if not isinstance(words, list) or not words:
        raise part.reading.fault(path, 'this is to be a list, such as ["{example}"]', example=known[0])
    for word in words:
        if word not in known:
            raise part.reading.fault(path, "'{word}' is not known; known are {known}", word=str(word), known=", ".join(known))
    return tuple(dict.fromkeys(words))


def _without(part: Part) -> tuple[str, ...]:
    return _words(part, "without", tuple(WITHOUT)) if "without" in part.whole else ()


def _helper(part: Part) -> Helper | None:
    if "helper" not in part.whole:
        return None
    said = part.reading.table(part.whole["helper"], f"{part.path}.helper", HELPER)
    for key, example in (("days", '["sat"]'), ("from", '"9:00"'), ("to", '"13:00"')):
        if key not in said.whole:
            raise said.reading.fault(f"{said.path}.{key}", "missing; write it like {key} = {example}", key=key, example=example)
    days = tuple(WEEKDAYS.index(day) for day in _words(said, "days", WEEKDAYS))
    begins, ends = _clock(said, "from"), _clock(said, "to")
    if begins >= ends:
        raise said.reading.fault(
            f"{said.path}.to", "from {begins} to {ends} is no time at all; it ends later on the same day than it begins",
            begins=f"{begins:%H:%M}", ends=f"{ends:%H:%M}",
        )  # fmt: skip
    return Helper(days, begins, ends, _words(said, "trained", TRAINED) if "trained" in said.whole else TRAINED)


def _clock(part: Part, key: str) -> time:
    written = part.whole[key]
    if isinstance(written, time):
        return written.replace(second=0, microsecond=0)
    try:
        at = datetime.strptime(str(written), "%H:%M")  # noqa: DTZ007  a wall time has no zone of its own
    except ValueError:
        raise part.reading.fault(
            f"{part.path}.{key}", "'{written}' is no time of day; write it like \"9:00\"", written=str(written)
        ) from None
    return at.time()


def _no_new_before(part: Part) -> date | None:
    day: Any = part.whole.get("no_new_before")
    if isinstance(day, str):
        try:
            day = date.fromisoformat(day)
        except ValueError:
            day = False
    if day is not None and (not isinstance(day, date) or isinstance(day, datetime)):
        raise part.reading.fault(f"{part.path}.no_new_before", "this is to be a day, such as 2026-12-01")
    return day


def _buys(part: Part) -> str | None:
    """A sum as text; the room knows its currency, this file does not."""
    if "buys" not in part.whole:
        return None
    written = part.whole["buys"]
    if not isinstance(written, str) or not SUM.fullmatch(written.strip()):
        raise part.reading.fault(f"{part.path}.buys", 'what it costs to have it at all is a sum, such as buys = "45.00"')
    return written.strip()


def example() -> str:
    """Return a complete file with every change there is, which reads back."""
    return (Path(__file__).parent / "whatif_example.toml").read_text(encoding="utf-8")
