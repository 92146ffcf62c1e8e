"""A number with how well it is known.

Nothing in Bonebench shows a number without its standing. A result takes the weakest standing among what went into it.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Standing(StrEnum):
    """How well a number is known, strongest first."""

    ROOM = "measured in this room"
    PUBLISHED = "published, source read"
    DERIVED = "worked out from published figures"
    PRACTICE = "common practice, no source"
    MEMORY = "from memory"
    ESTIMATE = "estimate"

    @property
    def rank(self) -> int:
        """0 for the strongest."""
        return list(Standing).index(self)

    @property
    def checked(self) -> bool:
        """Whether a reader may lean on it without trying it in the room first."""
        return self in (Standing.ROOM, Standing.PUBLISHED, Standing.DERIVED)


def weakest(standings: Iterable[Standing]) -> Standing:
    """Return the standing a result has when these went into it."""
    return max(standings, key=lambda standing: standing.rank, default=Standing.PUBLISHED)


@dataclass(frozen=True, slots=True)
class Figure:
    """One number: its value, the honest range, its unit, its standing and where it was read."""

    value: float
    low: float
    high: float
    unit: str
    standing: Standing
    source: str

    def __post_init__(self) -> None:
        if not self.low <= self.value <= self.high:
            raise ValueError(f"figure {self.value} {self.unit} lies outside its own range {self.low}..{self.high}")

    def scaled(self, factor: float, unit: str) -> "Figure":
        """Return the same figure in another unit, or times a constant that is known exactly and is above zero."""
        return Figure(self.value * factor, self.low * factor, self.high * factor, unit, self.standing, self.source)

    def times(self, other: "Figure", unit: str) -> "Figure":
        """Multiply two figures of zero or more: the ends multiply, the weaker standing wins."""
        return Figure(
            self.value * other.value,
            self.low * other.low,
            self.high * other.high,
            unit,
            weakest((self.standing, other.standing)),
            f"{self.source}; {other.source}" if other.source != self.source else self.source,
        )


@dataclass(frozen=True, slots=True)
class Basis:
    """One line under a result: which figure it rests on, how wide that is, and how well it is known."""

    key: str
    low: float
    high: float
    unit: str
    standing: Standing
    source: str


def basis(key: str, figure: Figure) -> Basis:
    """Return the line that a card shows for this figure."""
    return Basis(key, figure.low, figure.high, figure.unit, figure.standing, figure.source)
