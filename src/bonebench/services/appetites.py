"""What the beetles of counted colonies can eat day by day, as it is kept in the book for the plan."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import msgspec


@dataclass(frozen=True, slots=True)
class BoxDays:
    """What the beetles of a box can eat: from ``first`` on a figure for each day that seven colonies in ten exceed, and today's."""

    first: date
    cautious_kg: tuple[float, ...]
    value_kg: float
    low_kg: float
    high_kg: float

    def by_day(self) -> dict[date, float]:
        """Return the cautious figure by its day."""
        return {self.first + timedelta(days=n): kg for n, kg in enumerate(self.cautious_kg)}


@dataclass(frozen=True, slots=True)
class Appetites:
    """The appetite of each box whose colony was counted, as it was worked out then."""

    made_at: datetime
    boxes: dict[str, BoxDays]


def appetites_to_json(appetites: Appetites) -> dict[str, Any]:
    """Return appetites as plain JSON values."""
    plain: dict[str, Any] = msgspec.to_builtins(appetites)
    return plain


def appetites_from_json(plain: Mapping[str, Any]) -> Appetites:
    """Read appetites back."""
    return msgspec.convert(dict(plain), Appetites)
