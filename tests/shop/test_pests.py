"""Pests by whatever somebody wrote: a near miss offers what it could be, and an unknown word is kept."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.reference.pests import load_pests
from bonebench.shop.pests import find_pest, pest_flag, pests_written

PESTS = load_pests()


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("mites", "mites"), ("Mite", "mites"), ("some white mites", "mites"), ("mold mites", "mould-mites"),
        ("Tyrophagus putrescentiae", "mould-mites"), ("ham beetle", "ham-beetle"), ("NECROBIA  rufipes", "ham-beetle"),
        ("fly", "flies"), ("maggots", "flies"), ("a spider's web", "spiders"), ("mold", "mould"), ("Lardoglyphus", "lardoglyphus"),
    ],
)  # fmt: skip
def test_a_pest_is_known_by_its_names_in_one_or_many(written, key):
    assert find_pest(written, PESTS).pest.key == key


def test_every_name_of_the_list_finds_its_own_row():
    for pest in PESTS.values():
        assert {find_pest(name, PESTS).pest.key for name in (pest.key, pest.name, *pest.names)} == {pest.key}


def test_a_near_miss_offers_the_ones_it_could_be():
    found = find_pest("mties", PESTS)
    assert found.pest is None
    assert "mites" in [pest.name for pest in found.could_be]
    flag = pest_flag(found, "Box", date(2026, 5, 4))
    assert flag.what.text.startswith("'mties' seen in Box on 4 May 2026: no pest of the list is called so; it could be mites")
    assert "nothing leaves this box" in flag.next.text


def test_a_pest_on_no_list_says_that_nothing_is_known_of_it():
    flag = pest_flag(find_pest("grobbles", PESTS))
    assert flag.what.text == "'grobbles' seen: it stands on no list here, so nothing is known of it"
    assert "ask a museum's keeper" in flag.next.text


@given(st.text(max_size=60))
def test_nothing_that_can_be_written_raises(written):
    for piece in pests_written(written):
        assert pest_flag(find_pest(piece, PESTS)).what.text


def test_none_is_no_pest():
    assert pests_written("mites, none; no flies ,, ham  beetle") == ("mites", "ham beetle")
    assert pests_written("none") == pests_written(None) == ()
