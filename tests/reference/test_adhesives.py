"""Glues: what carries acetone waits, what is not checked says so, and bad rows named."""

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.adhesives import load_adhesives, read_adhesives
from bonebench.shop.bench.adhesives import USES

GLUES = load_adhesives()


def test_a_glue_that_carries_acetone_airs_two_days_before_it_meets_peroxide():
    # common practice, no source: no solvent to be smelled, two days and more.
    carrying = [glue for glue in GLUES.values() if glue.carries_acetone]
    assert {glue.key for glue in carrying} == {"acrylic-in-acetone", "acrylic-consolidant", "nitrocellulose"}
    assert all(glue.airs_hours >= 48 and "acetone" in glue.solvent for glue in carrying)
    assert all("acetone" not in glue.solvent for glue in GLUES.values() if not glue.carries_acetone)


def test_a_glue_waits_for_the_slower_of_setting_and_airing():
    assert GLUES["epoxy"].bath_after_hours == 72
    assert GLUES["cyanoacrylate"].bath_after_hours == 24
    assert all(glue.bath_after_hours >= glue.cures_hours[0] for glue in GLUES.values())


def test_hours_are_practice_or_memory_and_never_look_checked():
    assert {glue.standing for glue in GLUES.values()} == {Standing.PRACTICE, Standing.MEMORY}
    assert not any(glue.standing.checked for glue in GLUES.values())


# cdl 1995/0855: 5-10 % in acetone on dry bone. Podany and others 2001: acrylic as barrier under epoxy. cdl 2003/0912: polyvinyl
# acetate crosslinks and gives off acid.
@pytest.mark.parametrize(
    ("key", "words"), [("acrylic-consolidant", "5-10 %"), ("epoxy", "a coat of acrylic under it"), ("pva-dispersion", "acid")]
)
def test_what_conservators_say_of_it_stands_with_it(key, words):
    glue = GLUES[key]
    assert words in f"{glue.name} {glue.undone_by} {glue.caution}"


def test_every_use_has_a_glue_that_can_be_undone_but_the_antler_plate():
    served = {use for glue in GLUES.values() if glue.reversible for use in glue.uses}
    assert set(USES) - served == {"antler plate"}


ROW = """[x]
name = "X"
solvent = "water"
cures_hours = [1, 2]
airs_hours = 0
undone_by = "water"
uses = ["tooth"]
use = "teeth"
caution = "none known"
standing = "practice"
source = "none"
"""


def test_a_whole_row_is_read():
    assert read_adhesives(ROW)["x"].cures_hours == (1.0, 2.0)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ROW.replace("[1, 2]", "[2, 1]"), "x.cures_hours: must be two numbers of hours that rise"),
        (ROW.replace('"practice"', '"sure"'), "x.standing: 'sure' is not known"),
        (ROW.replace('["tooth"]', '["nose"]'), "x.uses: 'nose' is not known; use some of tooth, jaw"),
        (ROW + "carries_acetone = true\n", "x.airs_hours: a glue that carries acetone airs out for some hours"),
        (ROW + "bears_water = 1\n", "x.bears_water: "),
        (ROW + "colour = 1\n", "x.colour: is no field here"),
    ],
)
def test_a_bad_row_is_named_with_its_field(text, words):
    with pytest.raises(FileFault) as refused:
        read_adhesives(text)
    assert str(refused.value).startswith(f"adhesives.toml, {words}")
