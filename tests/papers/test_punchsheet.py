"""Strips to punch: drawn to scale, read back from the page, wide enough apart for a finger."""

import itertools

import numpy as np
import pytest
import zxingcpp

from bonebench.errors import Impossible, InputError, UnknownName
from bonebench.papers.punch import tag_of
from bonebench.papers.punchsheet import (
    BARE,
    EDGE_MM,
    GLOVED,
    PAGE_EDGE_MM,
    Holes,
    Strip,
    hole_middles_mm,
    punch_guide,
    punch_strips,
    strip_size_mm,
)  # fmt: skip
from bonebench.shop.identity import tag_from_number
from bonebench.units import Reader
from tests.papers.rendering import page_count, rendered, words_of

TAGS = [tag for tag in map(tag_from_number, range(5000, 5200)) if tag]
# NLS specification 800 (US Library of Congress, 2008), 3.2.3.1 and 3.2.3.2: dots of a braille cell 2.34 mm, cells 6.2 mm apart.
BRAILLE_DOTS_MM, BRAILLE_CELLS_MM = 2.34, 6.2
DPI = 254  # ten dots a millimetre


@pytest.mark.parametrize("holes", [BARE, GLOVED])
def test_holes_lie_at_least_three_times_as_far_apart_as_braille_dots(holes):
    middles = hole_middles_mm("K7Q-K", holes)
    nearest = min(max(abs(a[0] - b[0]), abs(a[1] - b[1])) for a, b in itertools.combinations(middles, 2))
    assert nearest >= 2.9 * BRAILLE_DOTS_MM
    assert holes.pitch_mm + holes.step_mm >= 2.5 * BRAILLE_CELLS_MM
    assert holes.pitch_mm - holes.hole_mm >= 4, "what is left between two holes must not tear"


def discs(image, hole_mm) -> list[tuple[float, float]]:
    """Middles in mm of round dark places of the size of a hole, found on the page without knowing where they should be."""
    dark = np.array(image) < 60
    reach = int(hole_mm * 5) - 2
    ys, xs = np.mgrid[-reach : reach + 1, -reach : reach + 1]
    ring = np.argwhere((xs**2 + ys**2 <= reach**2) & (xs**2 + ys**2 >= (reach - 1.5) ** 2)) - reach
    full = np.ones_like(dark)
    for dy, dx in ring:
        full &= np.roll(dark, (-dy, -dx), (0, 1))
    found: list[tuple[float, float]] = []
    for y, x in np.argwhere(full):
        if all(abs(x / 10 - a) > hole_mm / 2 or abs(y / 10 - b) > hole_mm / 2 for a, b in found):
            near = [(q[1], q[0]) for q in np.argwhere(full) if abs(q[1] - x) < 5 * hole_mm and abs(q[0] - y) < 5 * hole_mm]
            found.append(tuple(np.mean(near, axis=0) / 10))
    return found


@pytest.mark.parametrize(("holes", "tag"), [(BARE, TAGS[0]), (BARE, TAGS[9]), (GLOVED, TAGS[3])])
def test_a_tag_is_read_back_from_the_discs_on_the_printed_page(holes, tag):
    found = discs(rendered(punch_strips([Strip(tag=tag)], holes=holes), DPI), holes.hole_mm)
    x0 = min(x for x, _ in found)
    y0 = min(y for _, y in found)
    # The distances on paper are those that were asked for, to a dot.
    expected = sorted(hole_middles_mm(tag, holes))
    assert np.allclose(sorted((round(x - x0, 1), round(y - y0, 1)) for x, y in found), expected, atol=0.15)
    cells = (len({round(x) for x, _ in found}), 4)[1]
    lefts = [
        0.0,
        *(holes.step_mm + n * (holes.step_mm + holes.pitch_mm) + side for n in range(cells) for side in (0, holes.pitch_mm)),
    ]
    lefts.append(holes.step_mm + cells * (holes.step_mm + holes.pitch_mm))
    columns = [frozenset(1 + round((y - y0) / holes.pitch_mm) for x, y in found if abs(x - x0 - left) < 1) for left in lefts]
    assert tag_of(columns) == tag


def test_the_ruler_on_the_page_is_fifty_millimetres_long():
    dark = np.array(rendered(punch_strips([Strip(tag=TAGS[0])]), DPI)) < 128
    row = dark[round((PAGE_EDGE_MM + 5) * 10)]
    xs = np.nonzero(row)[0]
    assert (xs.max() - xs.min()) / 10 == pytest.approx(50, abs=0.3)  # two dots and the line's own breadth


def test_each_strip_has_its_code_its_tag_twice_and_its_holes_in_numbers():
    strips = [Strip(tag=tag, species="Łoś") for tag in TAGS[:12]]
    pdf = punch_strips(strips, "letter")
    words = words_of(pdf)
    assert all(words.count(tag) >= 2 for tag in TAGS[:12])
    assert words.count("Łoś") == 12
    found = {code.text for page in range(1, page_count(pdf) + 1) for code in zxingcpp.read_barcodes(rendered(pdf, 200, page))}
    assert found == set(TAGS[:12])


def test_a_strip_fits_what_it_is_said_to_measure_and_leaves_plastic_round_its_holes():
    wide, high = strip_size_mm("K7Q-K", BARE)
    middles = hole_middles_mm("K7Q-K", BARE)
    span = max(x for x, _ in middles) - min(x for x, _ in middles)
    assert wide - span - BARE.hole_mm >= 3 * EDGE_MM
    assert high >= 2 * BARE.pitch_mm + BARE.hole_mm + 2 * EDGE_MM


def test_the_guide_shows_every_character_and_what_to_mind():
    words = words_of(punch_guide("letter", Reader("us")))
    assert "the ruler must measure 1.97 in." in words
    for line in ("send a test strip through your own pot and your own tub", "No metal goes into peroxide", "One skull to a pot"):
        assert line in words
    assert page_count(punch_guide()) == 1
    assert "DEMO" in words_of(punch_guide(demo=True))


def test_strips_that_cannot_be_are_refused_in_words():
    with pytest.raises(Impossible, match="there is nothing to print"):
        punch_strips([])
    with pytest.raises(InputError, match="'K7Q-J' is not a tag"):
        punch_strips([Strip(tag="K7Q-J")])
    with pytest.raises(UnknownName, match="there is no paper called a5; known are a4, letter"):
        punch_strips([Strip(tag=TAGS[0])], "a5")
    with pytest.raises(Impossible, match="more than the paper has; choose smaller holes"):
        punch_strips([Strip(tag=TAGS[0])], holes=Holes(10, 20, 30))
