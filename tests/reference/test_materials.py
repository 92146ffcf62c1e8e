"""What vessels, tools, tags and ties are made of: verdicts, the words people use, and bad rows named."""

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.materials import load_materials, read_materials
from bonebench.shop.bench import MEDIA, material_of

MATERIALS = load_materials()


# Bench 1.7: HDPE/PP, glass, PTFE good; iron, copper, brass, zinc, lead, wood and cloth to be avoided; solid iron and lead oxide and
# a few ppm of copper are catalysts (R8). Passivated stainless may do.
@pytest.mark.parametrize(
    ("key", "verdict"),
    [("hdpe", "good"), ("glass", "good"), ("ptfe", "good"), ("stainless", "watch"), ("iron", "never"), ("copper", "never"),
     ("zinc", "never"), ("lead", "never"), ("aluminium", "never"), ("wood", "never"), ("cloth", "never")],
)  # fmt: skip
def test_what_may_touch_peroxide(key, verdict):
    assert MATERIALS[key].peroxide.verdict == verdict


def test_no_cell_is_silent_and_the_row_stands_as_its_weakest_cell():
    for material in MATERIALS.values():
        cells = [material.touch(medium) for medium in MEDIA]
        assert all(cell.why and cell.source for cell in cells), material.key
        assert material.standing.rank == max(cell.standing.rank for cell in cells)
    assert MATERIALS["iron"].peroxide.standing is Standing.PUBLISHED
    assert MATERIALS["iron"].standing is Standing.MEMORY


# Copper and its alloys are eaten by ammonia. # from memory: common chemistry
def test_brass_does_not_go_into_ammonia():
    assert MATERIALS["copper"].ammonia.verdict == "never"


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("stainless steel pot", "stainless"), ("Iron bucket", "iron"), ("Galvanised tub", "zinc"), ("galvanized", "zinc"),
        ("brass", "copper"), ("HDPE tub", "hdpe"), ("glass jar", "glass"), ("enamelled steel", "enamel"), ("tinned pail", "iron"),
        ("aluminum pan", "aluminium"), ("lead shot", "lead"), ("blue tub", None), ("environment", None), ("", None), (None, None),
    ],
)  # fmt: skip
def test_a_vessel_is_known_by_the_words_people_write(words, key):
    found = material_of(words, MATERIALS.values())
    assert (found.key if found else None) == key


ROW = '[x]\nname = "X"\nwords = ["x"]\n'
CELLS = "".join(f'[x.{medium}]\nverdict = "good"\nwhy = "w"\nstanding = "memory"\nsource = "s"\n' for medium in MEDIA)


def test_a_whole_row_is_read():
    assert read_materials(ROW + CELLS)["x"].source == "s"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ROW + CELLS.replace('"good"', '"fine"', 1), "x.peroxide.verdict: 'fine' is not known; use one of good, watch, never"),
        (ROW + CELLS.replace('why = "w"\n', "", 1), "x.peroxide.why: is missing"),
        (ROW, "x.peroxide: is missing"),
        (ROW + "peroxide = 3\ndetergent = 3\nacetone = 3\nammonia = 3\n", "x.peroxide: must be a table of its own"),
    ],
)
def test_a_bad_row_is_named_with_its_field(text, words):
    with pytest.raises(FileFault) as refused:
        read_materials(text)
    assert str(refused.value).startswith(f"materials.toml, {words}")
