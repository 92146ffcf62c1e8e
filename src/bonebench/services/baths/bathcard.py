"""The cards of baths as things: one bath whole, and the list."""

from dataclasses import dataclass
from datetime import date, datetime

from bonebench.services.cards import Answer, Basis, EntryCard, Flag, Said, SpeciesName
from bonebench.shop.cautions import Cautioned


@dataclass(frozen=True)
class StrengthCard:
    """How strong a bath probably is now; one time in ten it is below ``low_w`` and one in ten above ``high_w``.

    ``tests`` is how many tests of this bath stand behind it; with none it rests on age, load and warmth alone. ``look_by`` is
    the day by which it should be tested. Nothing here says that a bath is harmless.
    """

    strength_w: float
    low_w: float
    high_w: float
    half_life_days: float
    to_floor_days: float
    to_floor_low_days: float
    to_floor_high_days: float
    oxygen_l_per_day: float
    look_by: date
    tests: int
    days_since_test: float | None
    standing: str
    rests_on: Said


@dataclass(frozen=True)
class TopUpCard:
    """What brings a bath back to what it was mixed to: so much stock, and what to take out first where it would overflow."""

    to_w: float
    stock_w: float
    stock_kg: float
    stock_l: float
    take_out_l: float
    said: Said


@dataclass(frozen=True)
class DegreasingCard:
    """Where a piece in a pot stands by its fillings, looks and dry-spot checks; the dry-spot check decides, never this.

    ``days_low`` to ``days_high`` are days still to go, one time in ten outside each end; ``clean_chance`` is that of being there.
    """

    days_low: float
    days: float
    days_high: float
    clean_chance: float
    looks: int
    checks: int
    standing: str
    said: Said


@dataclass(frozen=True)
class InBathCard:
    """A specimen that is in a bath, and since when."""

    specimen_id: str
    tag: str
    species: SpeciesName
    parts: tuple[str, ...]
    since: datetime | None
    days: float
    degreasing: DegreasingCard | None = None


@dataclass(frozen=True, kw_only=True)
class BathCard(Cautioned):
    """One bath, whole."""

    id: str
    name: str
    place: str | None
    place_name: str | None
    recipe: str
    live: bool
    made: datetime | None
    made_by: str | None
    age_days: float
    volume_l: float | None
    vessel: str | None
    vessel_l: float | None
    made_w: float | None
    stock_w: float | None
    dose: float | None
    temperature_c: float | None
    strength: StrengthCard | None
    top_up: TopUpCard | None
    changes: int
    fresh_days: float
    next_change: Said | None
    change_due: date | None
    advice: tuple[Said, ...]
    contents: tuple[InBathCard, ...]
    answers: tuple[Answer, ...]
    entries: tuple[EntryCard, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    schema: str = "bath.show/1"


@dataclass(frozen=True)
class BathRow:
    """One line of the list of baths."""

    id: str
    name: str
    place: str | None
    place_name: str | None
    recipe: str
    live: bool
    made: datetime | None
    age_days: float
    summary: Said
    holds: int
    look_by: date | None
    flags: int


@dataclass(frozen=True, kw_only=True)
class BathListCard(Cautioned):
    """The baths that stand in the room, and how many are gone."""

    rows: tuple[BathRow, ...]
    discarded_left_out: int
    teach: Said | None
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    schema: str = "bath.list/1"
