"""What things cost here: prices the room says, each from a day on, all in one currency."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import ClassVar

from bonebench.errors import UnknownName
from bonebench.money import digits_of
from bonebench.shop.what import What


@dataclass(frozen=True, slots=True)
class Paid:
    """One thing that has a price: its key, how people call it, and for how much of it the price is."""

    key: str
    name: str
    hint: str
    step: str | None = None


# What one piece takes in materials at a step is one price: the room knows it from what it buys, better than any sum of drops.
PAID_FOR: Mapping[str, Paid] = {
    paid.key: paid
    for paid in (
        Paid("hour", "an hour of our own hands", "0 where nobody counts it"),
        Paid("helper-hour", "an hour of a paid helper", "with what the employer adds"),
        Paid("kwh", "a kWh of power", "from the bill, with all that hangs on it"),
        Paid("pot-day", "a warm pot in use, a day", "a meter at the plug knows; wins over the kWh"),
        Paid("box-day", "a beetle box, a day", "heater, light and fan; a meter at the plug knows"),
        Paid("trim", "trimming, a piece", "gloves, blades, bags", "trim"),
        Paid("degrease", "degreasing, a piece", "detergent and water", "degrease"),
        Paid("teeth", "teeth in, a piece", "glue", "teeth in"),
        Paid("whiten", "whitening, a piece", "peroxide; what the bath costs by what it serves", "whiten"),
        Paid("finish", "finishing, a piece", "wire, coating, box", "finish"),
    )
}


@dataclass(frozen=True)
class PricesSet(What):
    """What things cost from a day on; a price is decimal text, None takes it back."""

    KIND: ClassVar[str] = "prices-set"
    currency: str
    since: date
    prices: dict[str, str | None]


PRICE_KINDS: tuple[type[What], ...] = (PricesSet,)


@dataclass(frozen=True, slots=True)
class Dated:
    """One price from a day on; None: there is none from then on."""

    key: str
    since: date
    price: str | None


@dataclass(frozen=True, slots=True)
class Prices:
    """All prices that were ever said in the room's currency, in the order they were said."""

    currency: str | None = None
    said: tuple[Dated, ...] = ()

    def on(self, key: str, day: date) -> Decimal | None:
        """Return a price as it is on a day; what was said later for the same day wins."""
        found = self.dated(key, day)
        return None if found is None or found.price is None else Decimal(found.price)

    def dated(self, key: str, day: date) -> Dated | None:
        """Return what was said of a price for a day."""
        told = [one for one in self.said if one.key == key and one.since <= day]
        return max(reversed(told), key=lambda one: one.since, default=None)

    def next(self, key: str, day: date) -> Dated | None:
        """Return the next change of a price after a day."""
        ahead = [one for one in self.said if one.key == key and one.since > day]
        return min(reversed(ahead), key=lambda one: one.since, default=None)


def prices_of(told: Sequence[PricesSet]) -> Prices:
    """Return the prices from what was said of them; those in another currency than the last no longer count."""
    if not told:
        return Prices()
    currency = told[-1].currency
    kept = [Dated(key, one.since, price) for one in told if one.currency == currency for key, price in one.prices.items()]
    return Prices(currency, tuple(kept))


def readable_price(price: str) -> bool:
    """Whether this is a number of money, 0 or more."""
    try:
        return Decimal(price).is_finite() and Decimal(price) >= 0
    except InvalidOperation:
        return False


def known_currency(currency: str) -> bool:
    """Whether these are the three letters of a currency."""
    try:
        digits_of(currency)
    except UnknownName:
        return False
    return True
