"""The label of a bath: its words come out of the PDF, its code can be read, and no warning is lost without a word."""

from dataclasses import replace

import numpy as np
import pytest
import zxingcpp

from bonebench.errors import Impossible
from bonebench.papers.bathlabel import BathLabel, bath_label, bath_labels
from bonebench.papers.stocks import STOCKS
from tests.papers.rendering import page_count, rendered, words_of

LABEL = BathLabel(
    name="White tub no. 2 · Łódź",
    what="Peroxide in White tub",
    strength="3 % w/w",
    also="as mixed; 3.03 % w/v, 9.97 volumes; not tested since",
    made="made 14 Nov 2026 by Wren Halloway",
    look_by="test or look by 26 Nov 2026",
    hazards=("Serious eye damage (H318)",),
    dangers=(("Peroxide blinds and burns.", "Goggles, gloves. In the eye: rinse ≥ 15 minutes."), ("Never seal it.", "Loose lid.")),
    code="http://127.0.0.1:8437/baths/01a2170a-89b7-72d9-b149-134983381154",
    first_aid="Eye: rinse at once for 15 minutes and call a doctor.",
)


def test_everything_a_person_must_know_stands_on_it():
    text = words_of(bath_label(LABEL))
    for words in (LABEL.name, LABEL.what, LABEL.strength, LABEL.also, LABEL.made, LABEL.look_by, LABEL.first_aid):
        assert words in text
    assert "DANGER: Serious eye damage (H318)" in text
    assert "Defer to local codes, the makers' safety sheets and licensed practice." in text
    assert "rinse ≥ 15 minutes" in text, "signs and accents come out"


def test_it_is_one_page_of_the_size_it_is_sold_at():
    assert page_count(bath_label(LABEL)) == 1
    wide, high = rendered(bath_label(LABEL), 254).size  # ten dots a millimetre
    assert (wide / 10, high / 10) == pytest.approx((148, 105), abs=0.2)


def test_the_strength_is_the_largest_thing_on_it_and_read_at_arms_length():
    """At 254 dpi the rows of the strength's digits are ten dots a millimetre; 3.5 mm is a two-hundredth of 0.7 m (from memory)."""
    dark = np.array(rendered(bath_label(LABEL), 254)) < 128
    column = dark[:, 60:200].any(axis=1)  # under the first digit
    runs, run = [], 0
    for row in column:
        run = run + 1 if row else 0
        runs.append(run)
    assert 10 * 3.5 * 2 < max(runs[:700]) < 10 * 25


def test_the_same_label_gives_the_same_bytes():
    assert bath_label(LABEL) == bath_label(LABEL)


def test_a_warning_is_printed_whole_or_not_at_all():
    dangers = tuple((f"Danger number {n} with more words to fill the line.", f"Do thing number {n} slowly.") for n in range(40))
    many = replace(LABEL, dangers=dangers)
    text = words_of(bath_label(many))
    for n in range(40):
        assert (f"Danger number {n} with" in text) == (f"Do thing number {n} slowly." in text)


def test_what_has_no_room_is_counted_and_sent_for():
    dangers = tuple((f"Danger number {n}.", f"Do thing number {n} slowly.") for n in range(40))
    text = words_of(bath_label(replace(LABEL, dangers=dangers)))
    printed = sum(f"Danger number {n}." in text for n in range(40))
    assert 0 < printed < 40
    assert f"{40 - printed} more: scan the code before you work here." in text
    assert "more: scan" not in words_of(bath_label(LABEL))


@pytest.mark.parametrize("stock", ["a4-2x2-105x148.5", "letter-2x3", "roll-148x105", "a4-2x4-99.1x67.7"])
def test_its_code_is_read_from_the_rendered_page_whichever_the_stock(stock):
    # 300 dpi: on the smaller stocks a long address has modules of 0.45 mm, and a scanner wants some five dots of each.
    found = zxingcpp.read_barcodes(rendered(bath_labels([LABEL], STOCKS[stock]), 300))
    assert {code.text for code in found} == {LABEL.code}


def test_a_stock_that_cannot_carry_the_hazards_is_refused_in_words():
    with pytest.raises(Impossible, match=r"the label of White tub no\. 2 · Łódź must show its strength and all its hazards"):
        bath_labels([LABEL], STOCKS["a4-3x7-63.5x38.1"])
    many = replace(LABEL, hazards=tuple(f"A class with a long name, number {n} (H318)" for n in range(30)))
    with pytest.raises(Impossible, match="choose a larger stock"):
        bath_labels([many], STOCKS["letter-2x3"])


def test_a_long_name_stays_on_the_label():
    long = replace(LABEL, name="The tub that stands by the north window " * 4, strength="about 3 to 4 % w/w, tested by strip")
    image = np.array(rendered(bath_label(long), 100)) < 200
    assert not image[:, :4].any()
    assert not image[:, -4:].any()


def test_a_demo_label_says_so():
    assert "DEMO" in words_of(bath_label(LABEL, demo=True))
    assert "DEMO" not in words_of(bath_label(LABEL))
