"""How the pages write what the cards hold: the filters of the templates."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import groupby
from typing import Any
from zoneinfo import ZoneInfo

import msgspec

from bonebench.figures import Basis
from bonebench.said import Said, day_text, number
from bonebench.services.cards import Answer
from bonebench.services.today.cards import TaskCard
from bonebench.units import Reader, say, write
from bonebench.web.weeks import together

# Units of a basis line that the reader may want written another way; every other unit is shown as it stands.
_KINDS: Mapping[str, str] = {
    "kg": "mass", "L": "volume", "m": "length", "degC": "temperature", "K": "warming", "days": "days", "min": "minutes",
    "kg/m3": "density", "kg/kg": "strength", "kg/day": "feeding",
}  # fmt: skip
_BARE = frozenset({"", "1", "-"})


def _local(at: datetime, zone: ZoneInfo) -> datetime:
    if at.tzinfo is None:
        raise ValueError(f"{at} has no time zone")
    return at.astimezone(zone)


def _shared_unit(low: str, high: str) -> str:
    """Write '2 days', '5 days' as '2 to 5 days', and keep both units where they differ."""
    if low == high:
        return low
    first, _, unit = low.partition(" ")
    return f"{first} to {high}" if unit and high.partition(" ")[2] == unit else f"{low} to {high}"


def words(key: str) -> str:
    """Write a key as words: head_mass is 'head mass'."""
    return key.replace("_", " ").replace(".", " ").replace("-", " ")


def as_values(values: Mapping[str, Any]) -> str:
    """Write the values of a tap as the JSON text its form carries."""
    return msgspec.json.encode(dict(values)).decode()


def as_answer(answer: Answer, about: str | None = None) -> str:
    """Write a whole answer as the JSON text its button carries; ``about`` says when, where that was not just now."""
    whole = {"kind": answer.kind, "values": answer.values, "task": answer.task, "about": about or answer.about}
    return msgspec.json.encode(whole).decode()


@dataclass(slots=True)
class Bench:
    """Neighbouring tasks at one place in the same gloves: those about pieces, and the rounds of the place."""

    place_name: str
    gloves: Said | None
    pieces: list[TaskCard] = field(default_factory=list)
    rounds: list[TaskCard] = field(default_factory=list)


def benches(tasks: Iterable[TaskCard]) -> list[Bench]:
    """Group tasks by where they are done; another pair of gloves begins a new group, so that its line stands before all of it."""
    found: list[Bench] = []
    for task in tasks:
        if not found or task.gloves is not None or task.place_name != found[-1].place_name:
            found.append(Bench(task.place_name, task.gloves))
        is_round = bool(task.answers) and task.answers[0].kind == "round-done"
        (found[-1].rounds if is_round else found[-1].pieces).append(task)
    return found


def runs(cards: Iterable[Any], name: str) -> list[tuple[Any, list[Any]]]:
    """Group neighbours that share an attribute, and keep their order."""
    return [(key, list(group)) for key, group in groupby(cards, key=lambda card: getattr(card, name))]


def zip_same(names: Iterable[str]) -> list[tuple[str, str]]:
    """Return names as options of a list, which carry and show the same word."""
    return [(name, name) for name in names]


def tally(count: int) -> list[int]:
    """Return the strokes of a tally: fives, then what is left."""
    return [5] * (count // 5) + ([count % 5] if count % 5 else [])


class _Pen:
    """Writes for one reader in one zone."""

    def __init__(self, reader: Reader, zone: ZoneInfo) -> None:
        self._reader = reader
        self._zone = zone

    def say(self, sentence: Said | str) -> str:
        return say(sentence, self._reader) if isinstance(sentence, Said) else sentence

    def day(self, value: date) -> str:
        day = _local(value, self._zone).date() if isinstance(value, datetime) else value
        return day_text(day, with_year=self._reader.today is None or day.year != self._reader.today.year)

    def weekday(self, value: date) -> str:
        day = _local(value, self._zone).date() if isinstance(value, datetime) else value
        return f"{day:%A} {self.day(day)}"

    def moment(self, value: datetime) -> str:
        return f"{self.day(value)} {_local(value, self._zone):%H:%M}"

    def happened(self, earliest: datetime, latest: datetime) -> str:
        if earliest == latest:
            return self.moment(latest)
        first, last = self.day(earliest), self.day(latest)
        return f"{first}, about" if first == last else f"between {first} and {last}"

    def qty(self, value: float, kind: str) -> str:
        return write(value, kind, self._reader)

    def reach(self, low: float, high: float, kind: str) -> str:
        return _shared_unit(self.qty(low, kind), self.qty(high, kind))

    def rests(self, line: Basis) -> str:
        kind = _KINDS.get(line.unit)
        if kind is not None:
            return self.reach(line.low, line.high, kind)
        unit = "" if line.unit in _BARE else f" {line.unit}"
        return _shared_unit(f"{number(line.low)}{unit}", f"{number(line.high)}{unit}")


def filters(reader: Reader, zone: ZoneInfo) -> dict[str, Callable[..., Any]]:
    """Return the filters of the templates for one reader: ``say``, ``day``, ``moment``, ``qty``, ``num`` and the small ones."""
    pen = _Pen(reader, zone)
    return {
        "say": pen.say,
        "day": pen.day,
        "weekday": pen.weekday,
        "moment": pen.moment,
        "happened": pen.happened,
        "qty": pen.qty,
        "reach": pen.reach,
        "rests": pen.rests,
        "num": number,
        "words": words,
        "as_values": as_values,
        "as_answer": as_answer,
        "benches": benches,
        "runs": runs,
        "zip_same": zip_same,
        "tally": tally,
        "together": together,
    }
