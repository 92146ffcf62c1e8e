"""The card of a specimen's teeth."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from bonebench.services.cards import Answer, Basis, Caution, Flag, Said, SpeciesName

NOT_LOOKED = "not looked at"
OnChart = Literal["expected", "may be there", "not of this species"]


@dataclass(frozen=True)
class ToothCard:
    """One tooth: what it is called, how it is, and whether this animal should have it.

    ``state`` is one of the states of a tooth, or "not looked at". ``triadan`` is None where the code would be a guess.
    """

    code: str
    state: str
    triadan: int | None
    name: str
    jaw: str
    side: str
    kind: str
    number: int
    milk: bool
    on_chart: OnChart
    often_missing: bool = False
    since: datetime | None = None


@dataclass(frozen=True)
class TeethChartCard:
    """The teeth of one specimen.

    ``expected`` is how many this animal has when nothing is lost, None where no fixed number holds. ``in_place``, ``loose``,
    ``reseated`` (glued), ``chipped``, ``in_jar`` (by the chart), ``missing``, ``missing_before`` and ``not_looked`` count
    ``teeth`` by state. ``jar`` is how many the jar holds by count, None while nobody said; ``agrees`` compares it with the chart.
    """

    tag: str
    species: SpeciesName
    age: str | None
    dentition: Literal["permanent", "milk", "changing", "none", "unknown"]
    formula: str
    standing: str
    source: str
    expected: int | None
    expected_low: int | None
    expected_high: int | None
    in_place: int
    loose: int
    reseated: int
    chipped: int
    in_jar: int
    missing: int
    missing_before: int
    not_looked: int
    jar: int | None
    jar_at: datetime | None
    agrees: bool
    agreement: Said
    teeth: tuple[ToothCard, ...]
    notes: tuple[Said, ...]
    answers: tuple[Answer, ...]
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "specimen.teeth/1"


@dataclass(frozen=True)
class TeethToldCard:
    """What came of writing something down about teeth: the entry, and the chart after it."""

    entry_id: str
    stored: Literal["stored", "already stored", "clash"]
    chart: TeethChartCard
    schema: str = "specimen.tooth/1"
