"""Label stocks: their sizes add up to the paper, and one that cannot be is refused in words."""

import pytest

from bonebench.errors import Impossible, UnknownName
from bonebench.papers.stocks import STOCKS, Stock, stock_of

# Side and top margins of US sheets in inches, from memory of how such sheets are sold. They were not used to set the stocks, which
# are given by label size and gap alone and centred. Tolerance: a hundredth of a millimetre, for rounding.
US_MARGINS = [
    ("letter-3x10", 3 / 16, 1 / 2),
    ("letter-2x5", 5 / 32, 1 / 2),
    ("letter-2x10", 5 / 32, 1 / 2),
    ("letter-4x20", 9 / 32, 1 / 2),
]


@pytest.mark.parametrize(("key", "side", "top"), US_MARGINS)
def test_us_sheets_have_the_margins_they_are_sold_with(key, side, top):
    assert STOCKS[key].margins_mm == pytest.approx((side * 25.4, top * 25.4), abs=0.01)


@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS.keys())
def test_labels_margins_and_gaps_make_up_the_whole_page(stock):
    left, top = stock.margins_mm
    gaps_across = (stock.columns - 1) * (stock.across_mm - stock.width_mm) if stock.columns > 1 else 0
    gaps_down = (stock.rows - 1) * (stock.down_mm - stock.height_mm) if stock.rows > 1 else 0
    assert 2 * left + stock.columns * stock.width_mm + gaps_across == pytest.approx(stock.page_mm[0], abs=0.11)
    assert 2 * top + stock.rows * stock.height_mm + gaps_down == pytest.approx(stock.page_mm[1], abs=0.11)


def test_titles_and_keys_are_sizes_and_no_two_are_alike():
    assert len({stock.title for stock in STOCKS.values()}) == len(STOCKS)
    assert STOCKS["letter-3x10"].title == "US Letter, 1 x 2 5/8 in, 30 a sheet"
    assert STOCKS["a4-3x8-70x37"].title == "A4, 3 x 8 of 70 x 37 mm"


OWN = {
    "key": "own",
    "title": "my own",
    "paper": "a4",
    "columns": 2,
    "rows": 2,
    "width_mm": 90,
    "height_mm": 50,
    "across_mm": 95,
    "down_mm": 55,
}
WRONG = [
    ({"across_mm": 130}, "my own: its labels take 215 mm by 201 mm"),
    ({"left_mm": 40}, "more than the sheet has"),
    ({"across_mm": 80}, "the next label would start before this one ends"),
    ({"rows": 0}, "a sheet needs labels"),
    ({"width_mm": 0}, "a sheet needs labels"),
]


@pytest.mark.parametrize(("change", "words"), WRONG)
def test_a_stock_that_cannot_be_is_refused_in_words(change, words):
    Stock(**OWN)
    with pytest.raises(Impossible, match=words):
        Stock(**{**OWN, **change})


def test_an_unknown_stock_or_paper_says_which_there_are():
    with pytest.raises(UnknownName, match=r"there is no label stock called a5-1x1; known are a4-1x2-210x148\.5, "):
        stock_of("a5-1x1")
    with pytest.raises(UnknownName, match="there is no paper called a5; known are a4, letter"):
        Stock(**{**OWN, "paper": "a5"})
