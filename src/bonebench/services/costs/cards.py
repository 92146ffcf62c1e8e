"""The cards of prices and of what a plan costs. Money is in the smallest coin of the room's currency (ISO 4217)."""

from dataclasses import dataclass
from datetime import date

from bonebench.services.cards import Basis, Caution, Flag, Said


@dataclass(frozen=True)
class CostLineCard:
    """One thing a plan uses, with what it costs; the three costs are None where nobody said what it costs.

    ``amount`` is in ``unit`` (h, days, kWh, pieces, sum); its low and high end are apart where it is an estimate.
    """

    key: str
    words: Said
    amount: float
    amount_low: float
    amount_high: float
    unit: str
    cost_minor: int | None
    cost_low_minor: int | None
    cost_high_minor: int | None


@dataclass(frozen=True)
class CostCard:
    """What a plan uses and what that costs from now on; ``total_minor`` is the sum of what has a price, None where nothing has.

    ``without`` names what is used and has no price, so that the sum is known to lack it. ``compared`` lays it beside the room as
    it is, None for that itself.
    """

    currency: str | None
    lines: tuple[CostLineCard, ...]
    total_minor: int | None
    total_low_minor: int | None
    total_high_minor: int | None
    words: Said
    compared: Said | None
    without: tuple[str, ...]
    basis: tuple[Basis, ...]


@dataclass(frozen=True)
class PriceCard:
    """One price: as it is today, since when, and the next change that is known. Decimal text in the room's currency."""

    key: str
    name: str
    hint: str
    price: str | None
    since: date | None
    words: Said
    next_price: str | None
    next_on: date | None


@dataclass(frozen=True)
class PricesCard:
    """The room's prices; ``currency`` is None until one was said."""

    currency: str | None
    prices: tuple[PriceCard, ...]
    flags: tuple[Flag, ...]
    cautions: tuple[Caution, ...]
    schema: str = "prices/1"
