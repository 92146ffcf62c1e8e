"""Money: a price as people write it, and sums in the smallest coin of one currency.

Currencies and the digits of their smallest coin are those of ISO 4217. A price (a kWh for 0.1532) may be finer than the smallest
coin, so it is a `Decimal`; a sum is a whole number of smallest coins.
"""

import re
from decimal import ROUND_HALF_UP, Decimal
from functools import cache

from .errors import NotAQuantity, OutsideRange, UnknownName

MOST = Decimal(1_000_000)
# Finer than this no bill prices anything.
FINEST = 6

_SHAPE = re.compile(r"\s*(?:([A-Za-z]{3})\s*)?(\d+(?:[.,]\d+)?|[.,]\d+)(?:\s*([A-Za-z]{3}))?\s*")


@cache
def digits_of(currency: str) -> int:
    """Return how many digits the smallest coin of a currency has: 2 for the euro, 0 for the yen."""
    from iso4217 import Currency  # noqa: PLC0415  it reads its table when imported

    try:
        return Currency(currency).exponent or 0
    except ValueError:
        raise UnknownName(
            "money.currency", "'{currency}' is no currency; write its three letters, such as EUR or USD",
            could_be=("EUR", "USD", "GBP", "CAD"), currency=currency,
        ) from None  # fmt: skip


def read_currency(text: str) -> str:
    """Read the three letters of a currency."""
    currency = text.strip().upper()
    digits_of(currency)
    return currency


def read_price(text: str, currency: str) -> Decimal:
    """Read a price as people write it: 12.50, 0,1532 or 12.50 EUR; another currency than the room's is refused."""
    shape = _SHAPE.fullmatch(text)
    if shape is None or (shape[1] and shape[3]):
        raise NotAQuantity("money.shape", "'{text}' is no price; write it like 12.50", text=text)
    written = (shape[1] or shape[3] or currency).upper()
    if written != currency:
        raise OutsideRange(
            "money.other", "{text} is in {written} and this room counts in {currency}; write it in {currency}",
            text=text, written=written, currency=currency,
        )  # fmt: skip
    if re.fullmatch(r"\d+,\d{3}", shape[2]):
        raise NotAQuantity(
            "money.comma", "'{text}' can be read two ways; write a point for the decimals and nothing for thousands", text=text
        )
    price = Decimal(shape[2].replace(",", "."))
    if price > MOST or -int(price.as_tuple().exponent) > FINEST:
        raise OutsideRange(
            "money.range", "{text} is no price: it lies from 0 to {most}, with at most {finest} decimals",
            text=text, most=f"{MOST}", finest=FINEST,
        )  # fmt: skip
    return price


def in_coins(amount: Decimal, currency: str) -> int:
    """Return an amount in whole smallest coins; half a coin is rounded up."""
    return int(amount.scaleb(digits_of(currency)).quantize(Decimal(1), ROUND_HALF_UP))


def write_coins(coins: int, currency: str) -> str:
    """Write a sum of smallest coins: 1250 as 12.50 EUR."""
    digits = digits_of(currency)
    return f"{Decimal(coins).scaleb(-digits):.{digits}f} {currency}"


def write_price(price: Decimal, currency: str) -> str:
    """Write a price with at least the digits of its smallest coin: 0.1532 EUR."""
    digits = max(digits_of(currency), -int(price.normalize().as_tuple().exponent))
    return f"{price:.{digits}f} {currency}"
