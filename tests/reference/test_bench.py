"""Chemicals, materials and glues: the published classes at their published ends, and bad rows named."""

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.bench import load_adhesives, load_chemicals, load_materials, read_adhesives, read_chemicals, read_materials
from bonebench.shop.bench import classes_at

PEROXIDE = load_chemicals()["peroxide"]


# The EU harmonised limits for hydrogen peroxide (CLP Annex VI 008-003-00-9) as bench 1.6 has them: read for the ends marked so in
# chemicals.toml, from memory for the others. Lower ends belong to the class, upper ends do not.
@pytest.mark.parametrize(
    ("strength", "codes"),
    [
        (0.03, set()), (0.0499, set()), (0.05, {"H319"}), (0.0799, {"H319"}), (0.08, {"H318"}), (0.12, {"H318"}),
        (0.349, {"H318"}), (0.35, {"H318", "H315", "H335"}), (0.499, {"H318", "H315", "H335"}),
        (0.50, {"H272", "H314", "H335"}), (0.699, {"H272", "H314", "H335"}), (0.70, {"H271", "H314", "H335"}),
        (35 * 0.01, {"H318", "H315", "H335"}),
    ],
)  # fmt: skip
def test_the_classes_of_peroxide_change_at_the_published_strengths(strength, codes):
    assert {one.code for one in classes_at(PEROXIDE, strength)} == codes


def test_what_must_not_meet_is_said_from_both_sides():
    chemicals = load_chemicals()
    for one in chemicals.values():
        for other, _ in one.never_with:
            if other in chemicals:
                assert one.key in {key for key, _ in chemicals[other].never_with}, (one.key, other)


def test_metals_never_touch_peroxide_and_what_stock_is_sold_in_does():
    materials = load_materials()
    assert materials["iron"].peroxide.verdict == materials["copper"].peroxide.verdict == "never"
    assert materials["hdpe"].peroxide.verdict == "good"


def test_glues_that_carry_acetone_air_longer_than_the_bath_may_be_near():
    for glue in load_adhesives().values():
        assert not glue.carries_acetone or glue.airs_hours >= 24
        assert glue.standing in (Standing.PRACTICE, Standing.MEMORY)


GLUE = """[x]
name = "X"
cures_hours = [1, 2]
airs_hours = 1
undone_by = "water"
use = "teeth"
standing = "practice"
source = "none"
"""


STUFF = """[x]
name = "X"
peroxide = ["good", "w"]
detergent = ["good", ""]
acetone = ["good", ""]
standing = "memory"
source = "s"
"""
CHEMICAL = """[x]
name = "X"
limits = "l"
first_aid = "f"
away = "a"
standing = "memory"
source = "s"
[x.classes.y]
name = "n"
code = "H1"
from_w = 2
standing = "memory"
source = "s"
"""


@pytest.mark.parametrize(
    ("read", "text", "words"),
    [
        (read_adhesives, GLUE.replace("[1, 2]", "[2, 1]"), "adhesives.toml, x.cures_hours: must be two numbers of hours that rise"),
        (read_adhesives, GLUE.replace('"practice"', '"sure"'), "adhesives.toml, x.standing: 'sure' is not known"),
        (read_adhesives, GLUE + "colour = 1\n", "adhesives.toml, x.colour: is no field here"),
        (read_materials, STUFF.replace('"good", "w"', '"fine", "w"'), "materials.toml, x.peroxide: must be a verdict and why"),
        (read_chemicals, CHEMICAL, "chemicals.toml, x.classes.y.from_w: '2' is no number from 0 to 1"),
    ],
)  # fmt: skip
def test_a_bad_row_is_named_with_its_field(read, text, words):
    with pytest.raises(FileFault) as refused:
        read(text)
    assert words in str(refused.value)
