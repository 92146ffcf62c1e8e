"""The punch pattern: read back whichever way it lies, and no wrong hole goes unseen."""

import itertools
import random

import pytest

from bonebench.errors import InputError
from bonebench.papers.punch import (
    CHARACTERS,
    END,
    START,
    Pattern,
    cell_of,
    holes_in_words,
    pattern_of,
    read_holes,
    tag_of,
    tag_of_cells,
)  # fmt: skip
from bonebench.shop.identity import NEVER_ISSUED, tag_from_number

TAGS = [tag for tag in map(tag_from_number, range(0, 40_000, 7)) if tag]
PLACES = (1, 2, 3, 4, 5, 6)


def flipped(cell, places):
    return cell ^ frozenset(places)


def misread(cells) -> str | None:
    try:
        return tag_of_cells(cells)
    except InputError:
        return None


def test_the_characters_are_those_a_tag_may_have():
    assert set(CHARACTERS) == set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ") - NEVER_ISSUED
    assert len(CHARACTERS) == 32


def test_a_character_by_hand():
    """K is the 20th character, number 19 = 16 + 2 + 1: holes 1, 4 and 5, an odd count already. 0 is no weight: hole 6 alone."""
    assert cell_of("K") == {1, 4, 5}
    assert cell_of("0") == {6}
    assert holes_in_words("K7Q-K") == "145 345 13456 145"


def test_every_character_has_one_three_or_five_holes_and_no_two_are_alike():
    cells = [cell_of(character) for character in CHARACTERS]
    assert {len(cell) for cell in cells} == {1, 3, 5}
    assert len(set(cells)) == 32


@pytest.mark.parametrize("number", [0, 31, 1023, 32767, 32768 * 3, 10**6 + 3])
def test_every_length_of_tag_comes_back(number):
    tag = next(tag for tag in map(tag_from_number, itertools.count(number)) if tag)
    assert tag_of(pattern_of(tag).columns()) == tag
    assert read_holes(holes_in_words(tag)) == tag


def test_a_strip_is_read_turned_round_upside_down_and_from_the_back():
    for tag in TAGS[::10]:
        columns = list(pattern_of(tag).columns())
        upside = [frozenset(4 - row for row in column) for column in columns]
        for way in (columns, columns[::-1], upside, upside[::-1]):
            assert tag_of(way) == tag


def test_any_one_wrong_hole_is_seen_over_thousands_of_tags():
    """Every place of every strip, the two ends too: 30 places and more on each of some 5,500 tags."""
    assert len(TAGS) > 4000
    for tag in TAGS:
        columns = pattern_of(tag).columns()
        for at, row in itertools.product(range(len(columns)), (1, 2, 3)):
            wrong = [*columns[:at], columns[at] ^ {row}, *columns[at + 1 :]]
            with pytest.raises(InputError):
                tag_of(wrong)


@pytest.mark.parametrize("tag", TAGS[::500])
def test_any_two_wrong_holes_among_the_characters_are_seen(tag):
    cells = pattern_of(tag).cells
    every = list(itertools.product(range(len(cells)), PLACES))
    for spots in itertools.combinations(every, 2):
        wrong = [flipped(cell, [place for where, place in spots if where == at]) for at, cell in enumerate(cells)]
        assert misread(wrong) is None


@pytest.mark.parametrize("tag", TAGS[::1500])
def test_any_three_wrong_holes_among_the_characters_are_seen(tag):
    cells = pattern_of(tag).cells
    every = list(itertools.product(range(len(cells)), PLACES))
    for spots in itertools.combinations(every, 3):
        wrong = [flipped(cell, [place for where, place in spots if where == at]) for at, cell in enumerate(cells)]
        assert misread(wrong) is None


def test_a_whole_block_read_wrong_or_two_blocks_swapped_are_seen():
    for tag in TAGS[::50]:
        cells = list(pattern_of(tag).cells)
        for at, other in itertools.product(range(len(cells)), CHARACTERS):
            wrong = [*cells[:at], cell_of(other), *cells[at + 1 :]]
            assert misread(wrong) in (None, tag)
        for at in range(len(cells) - 1):
            swapped = [*cells[:at], cells[at + 1], cells[at], *cells[at + 2 :]]
            assert misread(swapped) is None or swapped == cells


def test_a_worn_strip_is_hardly_ever_another_tag():
    """Four and more wrong holes are past what is promised; of made cases with 1 to 8, fewer than one in a hundred reads as a tag.

    Chance alone: every block must be odd again (1 in 16) and the check fit (1 in 37): 0.2 %, and none at all up to three.
    """
    rng = random.Random(11)
    passed = 0
    for _ in range(20_000):
        tag = rng.choice(TAGS)
        cells = [set(cell) for cell in pattern_of(tag).cells]
        for at, place in rng.sample(list(itertools.product(range(len(cells)), PLACES)), rng.randint(1, 8)):
            cells[at] ^= {place}
        passed += misread([frozenset(cell) for cell in cells]) not in (None, tag)
    assert passed / 20_000 < 0.01


REFUSED = [
    ("145 345 1345 145", "character 3 has 4 holes; a whole one has 1, 3 or 5"),
    ("145 345 13456 135", "'K7QN' is not a tag of this room: its check letter does not fit"),
    ("145 347 1 1", "'347' are not the holes of a character"),
    ("145 344 1 1", "'344' are not the holes of a character"),
    ("", "'' are not the holes of a character"),
    ("145", "'K' is not a tag of this room"),
]


@pytest.mark.parametrize(("text", "words"), REFUSED)
def test_holes_that_are_no_tag_are_refused_in_words(text, words):
    with pytest.raises(InputError, match=words):
        read_holes(text)


def test_ends_that_are_torn_are_refused_in_words():
    cells = pattern_of("K7Q-K").cells
    for start, end in ((frozenset({1, 2}), END), (START, frozenset()), (START, START), (END, END)):
        with pytest.raises(InputError, match="do not begin with three in a column and end with one in the top row"):
            tag_of(Pattern(start, cells, end).columns())
    with pytest.raises(InputError, match="do not begin"):
        tag_of([START, frozenset({1}), END])
