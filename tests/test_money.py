"""Money as it is written, in the coins of ISO 4217."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import NotAQuantity, OutsideRange, UnknownName
from bonebench.money import digits_of, in_coins, read_currency, read_price, write_coins, write_price


# ISO 4217, list one: the digits of the smallest coin.
@pytest.mark.parametrize(("currency", "digits"), [("EUR", 2), ("USD", 2), ("JPY", 0), ("KRW", 0), ("KWD", 3), ("TND", 3)])
def test_the_smallest_coin_is_that_of_the_standard(currency, digits):
    assert digits_of(currency) == digits


@pytest.mark.parametrize(
    ("text", "price"), [("12.50", "12.50"), ("0,15", "0.15"), (".5", "0.5"), ("7 EUR", "7"), ("EUR 7", "7"), ("0.1532", "0.1532")]
)
def test_a_price_is_read_as_people_write_it(text, price):
    assert read_price(text, "EUR") == Decimal(price)


@pytest.mark.parametrize(
    ("text", "fault", "words"),
    [
        ("much", NotAQuantity, "'much' is no price; write it like 12.50"),
        ("-3", NotAQuantity, "'-3' is no price"),
        ("nan", NotAQuantity, "'nan' is no price"),
        ("1,250", NotAQuantity, "can be read two ways"),
        ("3 USD", OutsideRange, "3 USD is in USD and this room counts in EUR"),
        ("10000000", OutsideRange, "it lies from 0 to 1000000"),
        ("0.00000001", OutsideRange, "with at most 6 decimals"),
    ],
)
def test_what_is_no_price_is_refused_in_words(text, fault, words):
    with pytest.raises(fault, match=words.replace("'", ".")):
        read_price(text, "EUR")


def test_letters_that_are_no_currency_are_refused():
    assert read_currency(" eur ") == "EUR"
    with pytest.raises(UnknownName, match="is no currency"):
        read_currency("EUT")


def test_half_a_coin_is_rounded_up_and_a_price_keeps_its_digits():
    assert in_coins(Decimal("0.125"), "EUR") == 13
    assert in_coins(Decimal("0.125"), "KWD") == 125
    assert (write_coins(1250, "EUR"), write_coins(1250, "JPY"), write_coins(-5, "EUR")) == ("12.50 EUR", "1250 JPY", "-0.05 EUR")
    assert (write_price(Decimal("0.1532"), "EUR"), write_price(Decimal(20), "EUR")) == ("0.1532 EUR", "20.00 EUR")


@given(coins=st.integers(0, 10**8), currency=st.sampled_from(["EUR", "JPY", "KWD"]))
def test_a_sum_that_is_written_reads_back_to_the_same_coins(coins, currency):
    written = write_coins(coins, currency)
    if Decimal(written.split()[0]) <= 1_000_000:
        assert in_coins(read_price(written, currency), currency) == coins
