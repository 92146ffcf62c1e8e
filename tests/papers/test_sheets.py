"""Sheets: labels lie where they should, nothing is printed between them, and printing goes on where the last one stopped."""

import numpy as np
import pytest
from reportlab.lib.units import mm

from bonebench.errors import Impossible, OutsideRange
from bonebench.papers.labels import BlankTag, JarLabel, SpecimenLabel, labels_pdf
from bonebench.papers.sheets import MOST_LABELS, Printing, label_box, on_sheets, printable, sheets_needed
from bonebench.papers.stocks import STOCKS
from tests.papers.rendering import page_count, rendered, words_of

DPI = 100
LONG = SpecimenLabel(tag="K7Q-K", species="Wśród nocnej ciszy " * 6, owner="Ł. Æ. W.", part="antlers and sheaths")
MIXED = (LONG, JarLabel(tag="K7Q-K", species="Black bear", expected=42), BlankTag("K7Q-K"))


def outside(stock, pages_image) -> np.ndarray:
    """The part of a rendered page that no label covers, from the stock's own figures."""
    dark = np.array(pages_image) < 200
    left, top = stock.margins_mm
    for place in range(stock.a_sheet):
        row, column = divmod(place, stock.columns)
        x, y = left + column * stock.across_mm, top + row * stock.down_mm
        box = [round(v / 25.4 * DPI) for v in (x, y, x + stock.width_mm, y + stock.height_mm)]
        dark[max(box[1], 0) : box[3], max(box[0], 0) : box[2]] = False
    return dark


@pytest.mark.parametrize("demo", [False, True])
@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS.keys())
def test_nothing_is_printed_outside_the_labels_nor_at_the_papers_edge(stock, demo):
    labels = [MIXED[n % 3] for n in range(stock.a_sheet if stock.paper else 1)]
    image = rendered(labels_pdf(labels, stock, Printing(demo=demo)), DPI)
    assert not outside(stock, image).any()
    dark = np.array(image) < 200
    edge = int((4.8 if stock.paper else 0.9) / 25.4 * DPI)
    inner = dark[edge:-edge, edge:-edge].sum()
    assert inner == dark.sum() > 1000, "the printer's white edge stays white, and there is something on the labels"


def test_every_label_stands_in_its_own_place():
    stock = STOCKS["a4-3x7-63.5x38.1"]
    dark = np.array(rendered(labels_pdf([BlankTag("K7Q-K")] * 4, stock, Printing(start=6)), DPI)) < 200
    used = []
    for place in range(stock.a_sheet):
        box = label_box(stock, place)
        high = dark.shape[0]
        x, y, wide, tall = (round(v / 72 * DPI) for v in (box.left, box.bottom, box.width, box.height))
        used.append(bool(dark[high - y - tall : high - y, x : x + wide].any()))
    assert [place for place, is_used in enumerate(used, 1) if is_used] == [6, 7, 8, 9]


@pytest.mark.parametrize(("count", "start", "pages"), [(21, 1, 1), (22, 1, 2), (1, 21, 1), (2, 21, 2), (42, 1, 2), (42, 2, 3)])
def test_a_print_goes_on_to_the_next_sheet(count, start, pages):
    stock = STOCKS["a4-3x7-63.5x38.1"]
    pdf = labels_pdf([BlankTag("K7Q-K")] * count, stock, Printing(start=start))
    assert page_count(pdf) == pages == sheets_needed(stock, count, start)


def test_a_roll_has_a_page_of_its_own_size_for_each_label():
    stock = STOCKS["roll-57x32"]
    assert page_count(labels_pdf([BlankTag("K7Q-K")] * 3, stock)) == 3
    wide, high = rendered(labels_pdf([BlankTag("K7Q-K")], stock), 254).size
    assert (wide / 10, high / 10) == pytest.approx((57, 32), abs=0.2)  # 254 dpi is ten dots a millimetre; a page is whole dots


def test_a_nudge_moves_the_print_and_an_outline_shows_the_label():
    stock = STOCKS["roll-100x50"]
    there, moved = (printable(stock, 0, Printing(nudge_right_mm=by)) for by in (0, 1.5))
    assert moved.left - there.left == pytest.approx(1.5 * mm)
    sheet = STOCKS["a4-2x7-99.1x38.1"]
    plain, lined = (np.array(rendered(labels_pdf([BlankTag("K7Q-K")], sheet, Printing(outlines=o)), DPI)) for o in (False, True))
    assert (lined < 250).sum() > (plain < 250).sum() + 400


def test_every_demo_label_says_so():
    assert words_of(labels_pdf(MIXED, STOCKS["a4-3x7-63.5x38.1"], Printing(demo=True))).count("DEMO") == 3
    assert words_of(labels_pdf([BlankTag("K7Q-K")] * 2, STOCKS["letter-4x20"], Printing(demo=True))).count("DEMO") == 2


REFUSED = [
    (Printing(start=22), 1, OutsideRange, "printing starts at label 22, but a sheet of A4, 3 x 7 of 63.5 x 38.1 mm holds 21"),
    (Printing(start=0), 1, OutsideRange, "starts at label 0"),
    (Printing(nudge_down_mm=-11), 1, OutsideRange, "nudged by 10 mm or more"),
    (Printing(), 0, Impossible, "there is nothing to print; choose at least one label"),
    (Printing(), MOST_LABELS + 1, OutsideRange, "3001 labels are asked for; at most 3000"),
]


@pytest.mark.parametrize(("printing", "count", "error", "words"), REFUSED)
def test_a_print_that_cannot_be_is_refused_in_words(printing, count, error, words):
    with pytest.raises(error, match=words):
        on_sheets("x", STOCKS["a4-3x7-63.5x38.1"], [lambda canvas, box: None] * count, printing)
