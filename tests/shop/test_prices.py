"""Prices from a day on, in one currency."""

from datetime import date
from decimal import Decimal

from bonebench.shop.prices import PAID_FOR, PricesSet, prices_of, readable_price
from bonebench.shop.steps import Step

JAN, JUNE, JULY = date(2026, 1, 1), date(2026, 6, 1), date(2026, 7, 1)


def told(since, currency="EUR", **prices):
    return PricesSet(currency, since, prices)


def test_a_price_counts_from_its_day_on_whenever_it_was_said():
    prices = prices_of([told(JUNE, kwh="0.40"), told(JAN, kwh="0.30")])
    assert [prices.on("kwh", day) for day in (date(2025, 12, 31), JAN, date(2026, 5, 31), JUNE)] == [
        None, Decimal("0.30"), Decimal("0.30"), Decimal("0.40"),
    ]  # fmt: skip
    assert prices.next("kwh", JAN).since == JUNE
    assert prices.next("kwh", JUNE) is None


def test_what_is_said_later_for_the_same_day_wins_and_none_takes_it_back():
    prices = prices_of([told(JAN, kwh="0.30", hour="20"), told(JAN, kwh="0.31"), told(JULY, hour=None)])
    assert (prices.on("kwh", JAN), prices.on("hour", JUNE), prices.on("hour", JULY)) == (Decimal("0.31"), Decimal(20), None)


def test_prices_in_another_currency_than_the_last_no_longer_count():
    prices = prices_of([told(JAN, kwh="0.30"), told(JAN, "USD", hour="20")])
    assert (prices.currency, prices.on("kwh", JULY), prices.on("hour", JULY)) == ("USD", None, Decimal(20))


def test_what_is_paid_for_by_the_step_names_steps_there_are():
    assert {paid.step for paid in PAID_FOR.values()} - {None} <= {step.value for step in Step}


def test_only_numbers_of_money_can_be_read():
    assert [readable_price(text) for text in ("0", "0.15", "-1", "NaN", "Infinity", "much")] == [
        True,
        True,
        False,
        False,
        False,
        False,
    ]
