"""Labels of specimens, jars, places, and blank tags: what stands on them, and that their codes are read from the page."""

import pytest
import zxingcpp

from bonebench.errors import Impossible, InputError
from bonebench.papers.labels import BlankTag, JarLabel, PlaceLabel, SpecimenLabel, labels_pdf, places_of_codes
from bonebench.papers.sheets import Printing, printable
from bonebench.papers.stocks import STOCKS
from bonebench.shop.identity import tag_from_number
from tests.papers.rendering import rendered, words_of

TAGS = [tag for tag in map(tag_from_number, range(5000, 5200)) if tag]
SHEET = STOCKS["a4-3x7-63.5x38.1"]
BEAVER = SpecimenLabel(tag=TAGS[0], species="American beaver", owner="W. H.", part="mandible")


def codes_on(pdf: bytes, dpi: int = 200) -> list[str]:
    return [code.text for code in zxingcpp.read_barcodes(rendered(pdf, dpi))]


@pytest.mark.parametrize("demo", [False, True])
@pytest.mark.parametrize("stock", STOCKS.values(), ids=STOCKS.keys())
def test_every_code_of_a_full_sheet_is_read_from_the_rendered_page(stock, demo):
    tags = TAGS[: stock.a_sheet if stock.paper else 1]
    pdf = labels_pdf([SpecimenLabel(tag=tag, species="Raccoon") for tag in tags], stock, Printing(demo=demo))
    # A sheet of the smallest labels at 200 dots an inch has less than three dots a module: a phone comes nearer than that.
    assert set(codes_on(pdf, 300 if stock.height_mm < 15 else 200)) == set(tags)


@pytest.mark.parametrize(
    ("stock", "count"), [("a4-3x7-63.5x38.1", 4), ("letter-3x10", 2), ("letter-4x20", 1), ("a4-2x2-105x148.5", 4)]
)
def test_a_label_carries_its_code_as_often_as_it_has_room(stock, count):
    assert codes_on(labels_pdf([BlankTag("K7Q-K")], STOCKS[stock]), 300) == ["K7Q-K"] * count


def test_codes_and_words_never_lie_on_one_another():
    for stock in STOCKS.values():
        for codes, room in places_of_codes(printable(stock, 0), "K7Q-K"):
            for at, one in enumerate(codes):
                for other in [*codes[at + 1 :], room]:
                    apart = one.right <= other.left + 0.01 or other.right <= one.left + 0.01
                    assert apart or one.top <= other.bottom + 0.01 or other.top <= one.bottom + 0.01


def test_a_specimens_label_says_tag_part_species_and_owner():
    words = words_of(labels_pdf([BEAVER], SHEET))
    for word in (TAGS[0], "mandible", "American beaver", "W. H."):
        assert word in words


def test_a_species_too_long_for_the_smallest_label_is_cut_but_the_tag_never_is():
    pdf = labels_pdf([SpecimenLabel(tag=TAGS[0], species="Canis lupus × familiaris, " * 5, owner="Q.")], STOCKS["letter-4x20"])
    assert TAGS[0] in words_of(pdf)
    assert "…" in words_of(pdf)


@pytest.mark.parametrize(
    ("expected", "words"), [(42, "TEETH of 42, now ___"), (0, "TEETH of 0, now ___"), (None, "TEETH of ?, now ___")]
)
def test_a_jar_says_how_many_teeth_it_is_one_of_and_leaves_room_to_count(expected, words):
    assert words in words_of(labels_pdf([JarLabel(tag=TAGS[0], species="Black bear", expected=expected)], SHEET))


def test_a_tub_says_one_skull_and_no_metal_and_a_pot_says_nothing_of_peroxide():
    tub = PlaceLabel(name="White tub no. 2", kind="peroxide tub", code="T2", peroxide=True)
    pot = PlaceLabel(name="Big pot", kind="degreasing pot", code="P1")
    said = words_of(labels_pdf([tub], STOCKS["a4-2x4-99.1x67.7"]))
    assert "White tub no. 2" in said
    assert "One skull to a pot, tub or net bag" in said
    assert "NO METAL" in said
    assert "No metal goes into peroxide" in said
    other = words_of(labels_pdf([pot], STOCKS["a4-2x4-99.1x67.7"]))
    assert "peroxide" not in other
    assert "METAL" not in other


@pytest.mark.parametrize("text", ["two\nlines\tand a tab", "熊 🐻", "a\u0000b", "עברית", "e\u0301"])
def test_odd_letters_in_a_name_spoil_no_sheet(text):
    pdf = labels_pdf([SpecimenLabel(tag="K7Q-K", species=text), PlaceLabel(name=text, kind=text, code="T2")], SHEET)
    assert {"K7Q-K", "T2"} == set(codes_on(pdf))


def test_an_advice_is_printed_whole_or_not_at_all():
    tub = PlaceLabel(name="White tub no. 2", kind="peroxide tub", code="T2", peroxide=True)
    for stock in STOCKS.values():
        if stock.key == "letter-4x20":
            continue
        words = words_of(labels_pdf([tub], stock))
        assert "NO METAL" in words
        assert "…" not in words
        assert ("One skull to a pot" in words) == ("a punched tag on each." in words)
        assert ("No metal" in words) == ("mark on plastic." in words)


def test_blank_tags_of_a_block_carry_tag_and_code_and_a_line_to_write_on():
    pdf = labels_pdf([BlankTag(tag) for tag in TAGS[:30]], STOCKS["letter-3x10"])
    words = words_of(pdf)
    assert all(tag in words for tag in TAGS[:30])
    assert set(codes_on(pdf)) == set(TAGS[:30])


def test_a_tag_that_fails_its_check_is_never_printed():
    with pytest.raises(InputError, match="'K7Q-J' is not a tag of this room"):
        labels_pdf([BlankTag("K7Q-J")], SHEET)


REFUSED = [
    (
        PlaceLabel(name="Tub", kind="tub", code="x" * 90),
        "letter-4x20",
        "has no room: it needs a square of .* larger label",
    ),
    (PlaceLabel(name="Incomprehensibilities", kind="tub", code="T"), "letter-4x20", "Incomprehensibilities, with what must stand"),
    (JarLabel(tag="K7Q-K", species="Bear", expected=-1), "a4-3x7-63.5x38.1", "the jar of K7Q-K is to hold -1 teeth"),
]


@pytest.mark.parametrize(("label", "stock", "words"), REFUSED)
def test_a_label_that_cannot_carry_what_it_must_is_refused_in_words(label, stock, words):
    with pytest.raises(Impossible, match=words):
        labels_pdf([label], STOCKS[stock])
