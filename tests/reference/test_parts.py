"""Kinds of part: which bath each may enter, with why and whence; bad rows named."""

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.parts import load_parts, read_parts
from bonebench.shop.checks import DRY_PARTS
from bonebench.shop.parts import BATHS, kind_of
from bonebench.shop.steps import PlaceKind

KINDS = load_parts()


def test_every_part_has_a_way_with_every_bath_that_says_why_and_whence():
    for kind in KINDS.values():
        assert set(kind.ways) == set(BATHS)
        assert all(way.why and way.do and way.source for way in kind.ways.values())


def test_what_the_checks_of_the_shop_keep_dry_is_what_stays_out_of_every_liquid():
    # common practice, no source: antlers and sheaths dry and unbleached, a sample untouched.
    assert {kind.key for kind in KINDS.values() if kind.stays_dry} == DRY_PARTS


# bench 1.6: peroxide paste off antler burr and horn [CP]; peroxide left no nuclear DNA [R93]; enamel loses Ca and P at 3 % [R87].
# bench 2.2: boiling splits teeth [R104]; heat lowers DNA [R100].
@pytest.mark.parametrize(
    ("part", "bath", "may", "checked"),
    [
        ("antlers", PlaceKind.TUB, "out", False), ("horn sheaths", PlaceKind.TUB, "out", False),
        ("sample", PlaceKind.TUB, "out", True), ("sample", PlaceKind.POT, "out", True),
        ("loose teeth", PlaceKind.TUB, "ask", True), ("loose teeth", PlaceKind.POT, "out", True),
        ("skull", PlaceKind.POT, "in", True), ("mandible", PlaceKind.TUB, "in", False), ("skeleton", PlaceKind.TUB, "ask", False),
    ],
)  # fmt: skip
def test_a_way_is_as_the_reference_notes_have_it(part, bath, may, checked):
    way = KINDS[part].ways[bath]
    assert way.may == may
    assert (way.standing in (Standing.PUBLISHED, Standing.DERIVED)) is checked


def test_nothing_is_shown_as_checked_that_has_no_source():
    for kind in KINDS.values():
        for way in kind.ways.values():
            assert not (way.standing.checked and "no source" in way.source), kind.key


@pytest.mark.parametrize(
    ("name", "key"),
    [("Cranium", "skull"), ("lower jaw", "mandible"), ("rack", "antlers"), ("horn", "horn sheaths"), ("vial 2", "sample"),
     ("loose tooth", "loose teeth"), ("antler left", "antlers"), ("tail", None), ("", None), ("2", None)],
)  # fmt: skip
def test_a_part_is_known_by_what_people_call_it(name, key):
    kind = kind_of(name, KINDS)
    assert (kind.key if kind is not None else None) == key


ROW = 'name = "x"\nalso = []\nkept = "a bag"\nnote = "n"\n' + "".join(
    f'[x.{bath}]\nmay = "in"\nwhy = "w"\ndo = "d"\nstanding = "memory"\nsource = "s"\n' for bath in ("box", "pot", "tub", "rinse")
)


@pytest.mark.parametrize(
    ("old", "new", "path", "words"),
    [
        ('may = "in"', 'may = "perhaps"', "x.box.may", "'perhaps' is not known; use one of in, out, ask"),
        ("[x.rinse]", "[x.water]", "x.water", "is no field here"),
        ('why = "w"', 'why = ""', "x.box.why", "must be words between quotes"),
        ("also = []", 'also = ["X"]', "x.also", "must be names in small letters"),
        ('note = "n"\n', "", "x.note", "is missing"),
    ],
)
def test_a_bad_row_is_refused_with_its_field(old, new, path, words):
    with pytest.raises(FileFault) as refused:
        read_parts("[x]\n" + ROW.replace(old, new, 1))
    assert words in str(refused.value)
    assert refused.value.path == path


def test_a_name_of_two_parts_is_refused():
    with pytest.raises(FileFault, match="'x' is also a name of x"):
        read_parts(
            "[x]\n" + ROW + "[y]\n" + ROW.replace("[x.", "[y.").replace("also = []", 'also = ["x"]').replace('"x"', '"y"', 1)
        )
