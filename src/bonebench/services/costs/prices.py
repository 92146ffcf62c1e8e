"""The room's prices: read as people write them, refused where they cannot be, and shown."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime

from bonebench.errors import Impossible, OutsideRange, UnknownName
from bonebench.money import read_currency, read_price, write_price
from bonebench.records.book import Reading, Writing
from bonebench.said import said
from bonebench.services.cards import Flag
from bonebench.services.costs.cards import PriceCard, PricesCard
from bonebench.services.gather import known_of, room_of
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.specimens.intake import read_day
from bonebench.shop.entries import ROOM, exactly
from bonebench.shop.prices import PAID_FOR, Paid, Prices, PricesSet
from bonebench.shop.room import Room

NONE = ("none", "unset", "-")  # takes back what was set
FURTHEST_DAYS = 3660


@dataclass(frozen=True, kw_only=True)
class PricesTyped:
    """Prices as they were typed, by what is paid for; what is empty stays as it was, and none takes it back."""

    currency: str | None = None
    since: str | None = None
    prices: Mapping[str, str] = field(default_factory=dict)


def prices(tx: Reading, now: datetime) -> PricesCard:
    """Return the room's prices as they are today."""
    known = known_of(tx)
    told, today = known.room.prices, known.room.day(now)
    return PricesCard(
        currency=told.currency,
        prices=tuple(_card(paid, told, today) for paid in PAID_FOR.values()),
        flags=tuple(_flags(known.room)),
        cautions=(known.defer,),
    )


def _card(paid: Paid, told: Prices, today: date) -> PriceCard:
    now, ahead = told.dated(paid.key, today), told.next(paid.key, today)
    price = told.on(paid.key, today)
    if price is None or told.currency is None:
        words = said("prices.none", "nobody said")
    else:
        words = said("prices.price", "{price}", price=write_price(price, told.currency))
    return PriceCard(
        key=paid.key, name=paid.name, hint=paid.hint, price=None if price is None else f"{price}",
        since=now.since if now is not None and price is not None else None, words=words,
        next_price=ahead.price if ahead is not None else None, next_on=ahead.since if ahead is not None else None,
    )  # fmt: skip


def _flags(room: Room) -> Iterable[Flag]:
    if room.prices.currency is None:
        yield Flag(
            said("prices.nothing", "nothing has a price yet, so plans are laid side by side in hours, days and pieces only"),
            said("prices.nothing.next", "begin with an hour of hands and a kWh of power; the rest can wait"),
        )


def set_prices(tx: Writing, pen: Pen, typed: PricesTyped) -> Kept:
    """Set prices; a setting is a plan, so what cannot be is refused."""
    what = _read(typed, room_of(tx), pen.now)
    return record(tx, [write_entry(tx, pen, what, (ROOM,), exactly(pen.now))], pen.now)


def _read(typed: PricesTyped, room: Room, now: datetime) -> PricesSet:
    written = {key: text.strip() for key, text in typed.prices.items() if text.strip()}
    for key in written:
        if key not in PAID_FOR:
            raise UnknownName(
                "prices.what", "'{what}' is nothing that has a price here; there are: {known}", could_be=tuple(PAID_FOR), what=key,
                known=", ".join(PAID_FOR),
            )  # fmt: skip
    currency = read_currency(typed.currency) if typed.currency and typed.currency.strip() else room.prices.currency
    if currency is None:
        raise Impossible("prices.currency", "say the currency first, by its three letters, such as EUR or USD")
    if not written:
        raise Impossible("prices.empty", "no price was given; write at least one, such as 0.32 for a kWh")
    read = {key: None if text.casefold() in NONE else f"{read_price(text, currency)}" for key, text in written.items()}
    return PricesSet(currency, _since(typed.since, room.day(now)), read)


def _since(text: str | None, today: date) -> date:
    day = read_day((text or "").strip()) or today
    if abs((day - today).days) > FURTHEST_DAYS:
        raise OutsideRange(
            "prices.since",
            "{day:day} is more than ten years from today; a price is from a day nearer than that",
            day=day.isoformat(),
        )
    return day
