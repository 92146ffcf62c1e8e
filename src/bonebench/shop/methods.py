"""How a room does a step: one data row per method, with durations by class, effort, harm and standing."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from bonebench.figures import Figure, Standing
from bonebench.shop.steps import PlaceKind, Step


class Size(StrEnum):
    """Size of a head by its mass as it comes in, skin on."""

    TINY = "tiny"  # below 0.1 kg: mouse, squirrel
    SMALL = "small"  # to 1 kg: fox, raccoon
    MIDDLE = "middle"  # to 4.5 kg: deer, wolf
    BIG = "big"  # above: bear, elk


SIZE_LIMITS_KG: tuple[tuple[float, Size], ...] = ((0.1, Size.TINY), (1.0, Size.SMALL), (4.5, Size.MIDDLE))


# From so many of the room's own pieces on, what the room measured outweighs what it was told.
OWN_FROM = 10

# Warmer than any room or beetle box: what a museum's profile means by heat.
WARM_ROOM_C = 35.0


def size_of(head_mass_kg: float) -> Size:
    """Return the size class of a head."""
    return next((size for limit, size in SIZE_LIMITS_KG if head_mass_kg < limit), Size.BIG)


@dataclass(frozen=True, slots=True)
class Span:
    """How many days a step takes: one in ten is quicker than p10, half are quicker than p50, one in ten is slower than p90."""

    p10: float
    p50: float
    p90: float

    def __post_init__(self) -> None:
        if not 0 <= self.p10 <= self.p50 <= self.p90:
            raise ValueError(f"a span must rise from zero: {self.p10}, {self.p50}, {self.p90} days")


@dataclass(frozen=True, slots=True)
class Method:
    """One way to do one step.

    ``days`` and ``minutes`` are keyed by grease class ("1".."5"), size ("tiny".."big") or "all", as ``classed_by`` says.
    ``longest_days`` is how long a piece may stay at most before it is harmed. ``leaves_out`` marks a method that does nothing
    ("no whitening"): its step, and whatever hangs on it, is not in the route. ``standing`` and ``source`` speak of the days and
    the harm; the hands-on minutes have their own. On `Step.KILL` a method that leaves its step out holds only where the room's
    way to degrease ``kills_insects``.
    """

    key: str
    step: Step
    name: str
    place: PlaceKind | None
    classed_by: Literal["grease", "size", "all"]
    days: Mapping[str, Span]
    minutes: Mapping[str, float]
    work: str
    standing: Standing
    source: str
    effort: str
    harm: str
    temperature_c: Figure | None = None
    strength_w: Figure | None = None
    look_every_days: float | None = None
    longest_days: Mapping[str, float] | None = None
    most_wait_days: float | None = None
    kills_insects: bool = False
    leaves_out: bool = False
    minutes_standing: Standing = Standing.PRACTICE
    minutes_source: str = "common practice, no source; time your own"
    own_days: Mapping[str, Span] = field(default_factory=dict)  # by species: shipped, or learned from the room's own pieces
    chemical: str = ""  # what it uses beside water, detergent and peroxide: a key of chemicals.toml
    alternative: bool = False  # another way than the trade's usual ones: shown with its dangers, never offered by itself
    pieces: Mapping[str, int] = field(default_factory=dict)  # by class and by species: how many of the room's own are behind it

    def fits(self, profile: str | None) -> bool:
        """Whether a locked profile lets the room use this method: a museum's has no heat, no whitening, no solvent."""
        hot = self.temperature_c is not None and self.temperature_c.value > WARM_ROOM_C
        return profile is None or self.leaves_out or not (hot or self.strength_w is not None or self.chemical)

    def class_of(self, *, grease: int, size: Size) -> str:
        """Return the key under which this method keeps the figures of such a piece."""
        return {"grease": str(grease), "size": str(size), "all": "all"}[self.classed_by]

    def span(self, *, grease: int, size: Size) -> Span:
        """Return how long the step takes for such a piece."""
        return self.days[self.class_of(grease=grease, size=size)]
