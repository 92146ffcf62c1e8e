"""A tag as a pattern of holes that a finger can read when ink, paper and code are gone. Our own code; it is not braille.

A tag is written with 32 characters, so five holes say which one; a sixth makes the number of holes odd. A cell is two holes wide
and three high, and its places are numbered as a braille cell's are, down the left side, then down the right (ISO/TR 11548-1)::

    1 4        1 = 16   4 = 2
    2 5        2 = 8    5 = 1
    3 6        3 = 4    6 = makes the count odd

So a cell holds one, three or five holes, never none, and a finger that counts two or four knows that one is torn or closed. One,
two or three wrong places among the characters never pass: an odd number of them within one cell breaks its count, an even number
makes another character, which the tag's check character (ISO 7064 MOD 37-2) refuses; spread over cells, some cell's count breaks.

In front of the cells stand three holes in a column, behind them one, in the top row: the pattern is read right way up, turned
round, and from the back.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from bonebench.errors import InputError
from bonebench.shop.identity import read_tag

# The characters a tag may have (shop.identity never issues O, I, L and U), in the order of their values.
CHARACTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
WEIGHTS = {1: 16, 2: 8, 3: 4, 4: 2, 5: 1}
ODD = 6
START, END = frozenset({1, 2, 3}), frozenset({1})

Cell = frozenset[int]
Column = frozenset[int]  # the rows with a hole, 1 at the top


@dataclass(frozen=True, slots=True)
class Pattern:
    """What is punched: the column in front, the cells of the characters, the column behind."""

    start: Column
    cells: tuple[Cell, ...]
    end: Column

    def columns(self) -> tuple[Column, ...]:
        """Return all columns from left to right, two for a cell."""
        inner = [side for cell in self.cells for side in (cell & {1, 2, 3}, frozenset(n - 3 for n in cell & {4, 5, 6}))]
        return (self.start, *inner, self.end)


def pattern_of(tag: str) -> Pattern:
    """Return the holes of a tag; text that is no tag is refused."""
    return Pattern(START, tuple(cell_of(character) for character in read_tag(tag).replace("-", "")), END)


def cell_of(character: str) -> Cell:
    """Return the holes of one character."""
    value = CHARACTERS.index(character)
    holes = {place for place, weight in WEIGHTS.items() if value & weight}
    return frozenset(holes if len(holes) % 2 else holes | {ODD})


def tag_of(columns: Sequence[Column]) -> str:
    """Read the holes as they lie, whichever way the strip is turned, and refuse what is not a tag."""
    for flipped in _four_ways(columns):
        if flipped[0] == START and flipped[-1] == END:
            sides = flipped[1:-1]
            if len(sides) % 2:
                break
            pairs = zip(sides[::2], sides[1::2], strict=True)
            return tag_of_cells([left | {row + 3 for row in right} for left, right in pairs])
    raise InputError(
        "punch.ends",
        "these holes do not begin with three in a column and end with one in the top row, whichever way they are turned; "
        "feel the two ends again",
    )


def tag_of_cells(cells: Sequence[Cell]) -> str:
    """Read the cells of a tag, right way up, and refuse one with a hole too many or too few."""
    body = ""
    for number, cell in enumerate(cells, 1):
        if not len(cell) % 2 or not cell <= {1, 2, 3, 4, 5, 6}:
            raise InputError(
                "punch.count",
                "character {number} has {count} holes; a whole one has 1, 3 or 5; one is torn or closed: look at the label",
                number=number, count=len(cell),
            )  # fmt: skip
        body += CHARACTERS[sum(weight for place, weight in WEIGHTS.items() if place in cell)]
    return read_tag(body)


def read_holes(text: str) -> str:
    """Read a tag as a finger tells it: the numbers of the holes of each character, such as ``146 2 135 6``."""
    words = text.replace("-", " ").split()
    wrong = next((word for word in words if not set(word) <= set("123456") or len(set(word)) != len(word)), None)
    if wrong is not None or not words:
        raise InputError(
            "punch.numbers",
            "'{text}' are not the holes of a character; write the numbers of its holes, 1 to 6, each once, and a space after each "
            "character",
            text=wrong if wrong is not None else text,
        )
    return tag_of_cells([frozenset(int(place) for place in word) for word in words])


def holes_in_words(tag: str) -> str:
    """Return the holes of a tag as `read_holes` reads them."""
    return " ".join("".join(str(place) for place in sorted(cell)) for cell in pattern_of(tag).cells)


def _four_ways(columns: Sequence[Column]) -> tuple[list[Column], ...]:
    upside = [frozenset(4 - row for row in column) for column in columns]
    return list(columns), upside[::-1], list(columns)[::-1], upside
