"""Labels of specimens, jars of teeth, pots and tubs, and blank tags: the code, the tag as large as it goes, a few words."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from bonebench.errors import Impossible
from bonebench.papers import advice
from bonebench.papers.qr import GOOD_MODULE_MM, LEAST_MODULE_MM, draw_qr, least_side_mm
from bonebench.papers.sheets import AS_IS, Box, Draw, Printing, on_sheets
from bonebench.papers.stocks import Stock
from bonebench.papers.type import BOLD, PLAIN, fitted, largest, lines_of
from bonebench.shop.identity import read_tag
from bonebench.units import Reader, say

# A letter of a two-hundredth of the distance is read at it: 3.3 mm at an arm's length, which is 13 points here. # from memory
ARMS_LENGTH_PT = 13.0
LEAST_TAG_PT = 9.0  # on the smallest stocks, read in the hand
MOST_CODE = 30 * mm
LEAST_WORDS_PT = 5.5
MOST_WORDS_PT = 28.0
MOST_TAG_PT = 64.0
MOST_NAME_PT = 30.0
LEADING = 1.18
GAP = 1.5 * mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SpecimenLabel:
    """For the bag, tray or vessel of a specimen; ``owner`` is initials at most, ``part`` is named where it is not the skull."""

    tag: str
    species: str
    owner: str = ""
    part: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JarLabel:
    """For a jar of teeth. ``expected`` is how many teeth the whole animal has, None where nobody knows."""

    tag: str
    species: str
    expected: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLabel:
    """For a pot, tub, rack or freezer: its name, what it is, what its code opens; a peroxide tub always says NO METAL.

    ``wet`` where skulls lie together in water and can be mixed up.
    """

    name: str
    kind: str
    code: str
    peroxide: bool = False
    wet: bool = True


@dataclass(frozen=True, slots=True)
class BlankTag:
    """A tag issued but not yet used: its species is written in by hand."""

    tag: str


@dataclass(frozen=True, slots=True)
class TestLabel:
    """A strip to try a stock with: ``goes`` says where it is put, the rest is filled in by hand."""

    goes: str


Label = SpecimenLabel | JarLabel | PlaceLabel | BlankTag | TestLabel
TEST_CODE = "TEST STRIP"
# One in the pot, one in the tub, one dry on the shelf to hold the others against.
TEST_STRIPS = (TestLabel("POT"), TestLabel("TUB"), TestLabel("SHELF"))
_FILLED_IN = {"POT": "__ h at __ °, soap ____", "TUB": "__ days at __ %", "SHELF": "dry, to compare"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Words:
    code: str
    big: str
    must: tuple[str, ...] = ()  # printed in full, or the stock is refused
    more: tuple[str, ...] = ()  # printed while there is room
    shorten: bool = True  # a species cut short still helps; half an advice does not
    rule: bool = False  # a line to write on


_Plan = tuple[list[Box], Box, list[tuple[float, str]]]


def labels_pdf(labels: Sequence[Label], stock: Stock, printing: Printing = AS_IS, reader: Reader = Reader()) -> bytes:  # noqa: B008
    """Return labels on sheets of a stock; a stock too small for what must stand on them is refused."""
    return on_sheets("Labels", stock, [_drawing(_words(label, reader)) for label in labels], printing)


def _words(label: Label, reader: Reader) -> _Words:
    if isinstance(label, PlaceLabel):
        lines = ((advice.NO_METAL,) if label.peroxide else ()) + ((advice.ONE_SKULL,) if label.wet else ())
        kind = () if label.kind.casefold() == label.name.casefold() else (label.kind,)
        must = (*kind, "NO METAL") if label.peroxide else kind
        more = tuple(say(line, reader) for line in lines)
        return _Words(code=label.code, big=label.name, must=must, more=more, shorten=False)
    if isinstance(label, TestLabel):
        must = ("code ☐ letters ☐ glue ☐",)
        return _Words(code=TEST_CODE, big=label.goes, must=must, more=(f"TEST {_FILLED_IN[label.goes]}",), shorten=False)
    tag = read_tag(label.tag)
    if isinstance(label, BlankTag):
        return _Words(code=tag, big=tag, rule=True)
    if isinstance(label, JarLabel):
        return _Words(code=tag, big=tag, must=("TEETH", _expected(label)), more=(label.species,))
    more = tuple(word for word in (label.part, label.species, label.owner) if word)
    return _Words(code=tag, big=tag, more=more)


def _expected(label: JarLabel) -> str:
    if label.expected is None:
        return "of ?, now ___"
    if label.expected < 0:
        raise Impossible(
            "labels.teeth", "the jar of {tag} is to hold {count} teeth; a count starts at 0", tag=label.tag, count=label.expected
        )
    return f"of {label.expected}, now ___"


def _drawing(words: _Words) -> Draw:
    return lambda canvas, box: _draw(canvas, box, words)


def _draw(canvas: Canvas, box: Box, words: _Words) -> None:
    codes, room, found = _plan(box, words)
    for code in codes:
        draw_qr(canvas, words.code, code.left, code.bottom, code.width)
    canvas.setFillGray(0)
    at = room.top
    for size, line in found:
        at -= size * LEADING
        canvas.setFont(BOLD, size)
        canvas.drawString(room.left, at + size * (LEADING - 0.93), line)
    if words.rule and at - room.bottom > 5 * mm:
        canvas.setLineWidth(0.4)
        canvas.line(room.left, room.bottom + 1.2 * mm, room.right, room.bottom + 1.2 * mm)
    _more(
        canvas, Box(room.left, room.bottom, room.width, at - room.bottom - GAP / 2), words, max(0.5 * found[0][0], LEAST_WORDS_PT)
    )


def _plan(box: Box, words: _Words) -> _Plan:
    """Return where the codes go, where the words go, and the words that must stand.

    As many codes are taken as leave a heading that is read at arm's length.
    """
    best: _Plan | None = None
    for codes, room in places_of_codes(box, words.code):
        found = _sizes(words, room)
        if found is not None and (best is None or found[0][0] > best[2][0][0]):
            best = (codes, room, found)
        if best is not None and best[2][0][0] >= ARMS_LENGTH_PT:
            break
    if best is None:
        raise Impossible(
            "labels.small",
            "{what}, with what must stand beside it, has no room on a label of this size; choose a larger one",
            what=words.big,
        )
    return best


def places_of_codes(box: Box, code: str) -> list[tuple[list[Box], Box]]:
    """Return the ways to set a code on a label and the room each leaves for words: in four corners, at two ends, at one.

    Splashes hit a label here and there, and a code whose corner marks are hit is lost whatever its correction can bear: several
    small codes are read where one large one is not (tests/papers/test_dirt.py has the figures).
    """
    least = GOOD_MODULE_MM / LEAST_MODULE_MM * least_side_mm(code) * mm
    upright = box.height > box.width
    long, short = max(box.width, box.height), min(box.width, box.height)
    side = min(max(least, 0.25 * long), MOST_CODE)
    found = []
    if short >= 2 * least:
        # A fifth of the way stays free between the two rows, so that a dark band across the middle cannot take both.
        half = max(least, min(side, 0.4 * short))
        found.append((_corners(box, half, ((0, 1), (1, 1), (0, 0), (1, 0))), _between(box, half, upright)))
    if short >= least and long > 2 * least:
        end = min(side, short)
        found.append((_corners(box, end, ((0, 1), (1, 0))), _between(box, end, upright)))
    one = min(short, 0.48 * long, MOST_CODE)
    room = _between(box, one, upright)
    more = Box(room.left, room.bottom - one - GAP, room.width, room.height + one + GAP)
    wider = Box(room.left, room.bottom, room.width + one + GAP, room.height)
    found.append((_corners(box, one, ((0, 1),)), more if upright else wider))
    return found


def _corners(box: Box, side: float, corners: Sequence[tuple[int, int]]) -> list[Box]:
    return [Box(box.left + x * (box.width - side), box.bottom + y * (box.height - side), side, side) for x, y in corners]


def _between(box: Box, side: float, upright: bool) -> Box:
    taken = 2 * (side + GAP)
    if upright:
        return Box(box.left, box.bottom + side + GAP, box.width, box.height - taken)
    return Box(box.left + side + GAP, box.bottom, box.width - taken, box.height)


def _sizes(words: _Words, room: Box) -> list[tuple[float, str]] | None:
    """Return the heading and what must stand under it, as large as they go; a name is broken where that makes it larger.

    The rest gets room for lines of about a third of the heading's size; where nothing fits that way, it gets none.
    """
    # A single word cannot be broken: no size past the one that fills the width needs a look.
    most = MOST_NAME_PT if " " in words.big else largest(words.big, BOLD, room.width, MOST_TAG_PT, 0.0)
    if room.width <= 0:
        return None
    rest_wanted = 0.5 if words.rule else min(0.32 * len(words.more), 0.8)
    for rest in (rest_wanted, 0.0):
        for half_points in range(int(2 * most), int(2 * LEAST_TAG_PT) - 1, -1):
            size = half_points / 2
            lines = lines_of(words.big, BOLD, size, room.width)
            must = [
                largest(line, BOLD, room.width, min(MOST_WORDS_PT, max(0.6 * size, LEAST_WORDS_PT)), 0.0) for line in words.must
            ]
            high = LEADING * (size * len(lines) + sum(must) + min(rest * size, MOST_WORDS_PT))
            whole = " ".join(lines) == " ".join(words.big.split())
            if whole and high <= room.height and min(must, default=LEAST_WORDS_PT) >= LEAST_WORDS_PT:
                return [*((size, line) for line in lines), *zip(must, words.must, strict=True)]
    return None


def _more(canvas: Canvas, room: Box, words: _Words, most: float) -> None:
    size, lines = _fitting(words, room, most)
    at = room.top
    canvas.setFont(PLAIN, size)
    for line in lines:
        at -= size * LEADING
        canvas.drawString(room.left, at + size * (LEADING - 0.93), line)


def _fitting(words: _Words, room: Box, most: float) -> tuple[float, list[str]]:
    """Return one size for all lines that fit whole, the last ones left out first; a species alone is shortened if it must be."""
    for count in range(len(words.more), 0, -1):
        for half_points in range(int(2 * most), int(2 * LEAST_WORDS_PT) - 1, -1):
            size = half_points / 2
            broken = [lines_of(line, PLAIN, size, room.width) for line in words.more[:count]]
            lines = [part for parts in broken for part in parts]
            whole = all(" ".join(parts) == " ".join(line.split()) for parts, line in zip(broken, words.more, strict=False))
            if whole and len(lines) * size * LEADING <= room.height:
                return size, lines
    if words.shorten and words.more and room.height >= LEAST_WORDS_PT * LEADING:
        text, size = fitted(words.more[0], PLAIN, room.width, LEAST_WORDS_PT, LEAST_WORDS_PT)
        return size, [text]
    return LEAST_WORDS_PT, []
