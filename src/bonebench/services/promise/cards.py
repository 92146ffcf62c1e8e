"""The cards of promises."""

from dataclasses import dataclass
from datetime import date

from bonebench.services.cards import Basis, Caution, Flag, Said, SpeciesName


@dataclass(frozen=True)
class LimitCard:
    """What a piece waited for longest, and in which share of the replays."""

    what: Said
    share: float


@dataclass(frozen=True)
class QuoteCard:
    """The days by which a piece would be through in half, four of five and nineteen of twenty replays, if it came on ``arrives``.

    A day is None where so many replays did not end within the horizon. ``sentence`` is for the owner, ready to paste.
    """

    arrives: date
    p50: date | None
    p80: date | None
    p95: date | None
    limited_by: tuple[LimitCard, ...]
    sentence: Said


@dataclass(frozen=True)
class PromiseCard:
    """A quote for a piece that has not come; the first day asked for stands at the top, every one in ``quotes``."""

    species: SpeciesName
    p50: date | None
    p80: date | None
    p95: date | None
    limited_by: tuple[LimitCard, ...]
    sentence: Said
    quotes: tuple[QuoteCard, ...]
    replays: int
    waiting: int
    arrivals_a_year: float
    basis: tuple[Basis, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "promise/1"


@dataclass(frozen=True)
class DeliveredCard:
    """One piece that was promised and handed over."""

    id: str
    specimen: str
    species: str
    owner: str | None
    promised: date
    delivered: date
    days_late: int


@dataclass(frozen=True)
class KeptCard:
    """How promises turned out. ``share_kept`` is None where none was given."""

    pieces: tuple[DeliveredCard, ...]
    kept: int
    share_kept: float | None
    median_days_late: float | None
    open_late: int
    words: Said
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "promise.kept/1"
