"""The shipped pests, and what the loader refuses."""

from importlib.resources import files

import pytest

from bonebench.errors import FileFault
from bonebench.reference.pests import load_pests, read_pests
from bonebench.reference.rounds import load_rounds

PESTS = load_pests()
TEXT = (files("bonebench.reference") / "pests.toml").read_text(encoding="utf-8")


def test_every_pest_of_the_reference_stands_on_the_list():
    # Reference biology.md, section 8: three mites, two ham beetles, a phorid, two wasps, spiders.
    names = {name for pest in PESTS.values() for name in pest.names}
    assert names >= {
        "Lardoglyphus zacheri", "Paracarophenax dermestidarum", "Tyrophagus putrescentiae", "Necrobia rufipes",
        "Necrobia ruficollis",
        "Megaselia scalaris", "Laelius pedatus", "Lariophagus distinguendus", "spider",
    }  # fmt: skip
    assert load_pests() is PESTS


def test_no_name_means_two_pests():
    every = [name.casefold() for pest in PESTS.values() for name in (pest.name, *pest.names)]
    assert len(every) == len(set(every))


def test_every_answer_of_the_round_but_done_is_a_pest():
    assert {pest.answer for pest in PESTS.values()} - {None} == {wrong.key for wrong in load_rounds()["pests"].wrongs}


def test_every_pest_says_what_it_does_what_to_do_and_whence_that_is_known():
    for pest in PESTS.values():
        assert pest.source
        assert 20 <= len(pest.does) <= 120, pest.key
        assert 20 <= len(pest.do) <= 160, pest.key


ROW = '[bug]\nname = "bug"\nnames = ["bugs"]\ndoes = "eats"\ndo = "out"\nact = true\nsource = "us"\nstanding = "practice"\n'


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('["bugs"]', '"bugs"', "bug.names: must be a list of words"),
        ("act = true", "act = 1", "bug.act: '1' is neither true nor false"),
        ('does = "eats"\n', "", "bug.does: is missing"),
        ("act = true", 'act = true\nround = "dragon"', "bug.round: 'dragon' is not known; use one of mites,"),
        ('"practice"', '"sure"', "bug.standing: 'sure' is not known"),
    ],
)
def test_a_bad_row_is_named_with_its_field(old, new, words):
    assert read_pests(ROW)["bug"].names == ("bugs",)
    with pytest.raises(FileFault, match=r"pests\.toml") as fault:
        read_pests(ROW.replace(old, new, 1))
    assert words in str(fault.value)
