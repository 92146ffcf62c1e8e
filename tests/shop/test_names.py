"""Finding a species by what a person calls it."""

import pytest

from bonebench.errors import UnknownName
from bonebench.reference.species import load_species
from bonebench.shop.names import find, search, unknown_field

SPECIES = load_species()


@pytest.mark.parametrize(
    ("asked", "key"),
    [
        ("white-tailed-deer", "white-tailed-deer"),
        ("White Tailed Deer", "white-tailed-deer"),
        ("whitetail", "white-tailed-deer"),
        ("white tail", "white-tailed-deer"),
        ("PROCYON LOTOR", "raccoon"),
        ("coon", "raccoon"),
        ("raccóon", "raccoon"),
        ("grey squirrel", "eastern-gray-squirrel"),
        ("wolf", "gray-wolf"),
        ("pronghorn ant", "pronghorn"),
        ("canis lat", "coyote"),
        ("mountain lion", "cougar"),
        ("skunk", "striped-skunk"),
    ],
)
def test_a_species_answers_to_its_names_whatever_their_case_hyphens_and_accents(asked: str, key: str) -> None:
    assert find(asked, SPECIES).key == key


def test_every_species_answers_to_its_key_and_to_both_its_names() -> None:
    for key, one in SPECIES.items():
        assert {find(name, SPECIES).key for name in (key, one.common_name, one.scientific_name, *one.other_names)} == {key}


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("bear", "'bear' could be black bear, brown bear or polar bear; say which"),
        ("lion", "'lion' could be cougar or California sea lion; say which"),
        ("racoon", "no species 'racoon' is known; did you mean raccoon?"),
        ("coyotes", "no species 'coyotes' is known; did you mean coyote?"),
        ("  ", "say which species, by its common or its scientific name"),
        ("zzz", "no species 'zzz' is known, nor one like it; look through the list of species, or add it as the room's own"),
        ("be", "no species 'be' is known, nor one like it; look through the list of species, or add it as the room's own"),
    ],
)
def test_a_name_that_is_not_one_species_says_what_to_do(asked: str, words: str) -> None:
    with pytest.raises(UnknownName) as fault:
        find(asked, SPECIES)
    assert str(fault.value) == words


def test_the_error_carries_what_it_could_be() -> None:
    with pytest.raises(UnknownName) as several:
        find("bear", SPECIES)
    assert several.value.could_be == ("black bear", "brown bear", "polar bear")
    with pytest.raises(UnknownName) as near:
        find("racoon", SPECIES)
    assert near.value.could_be == ("raccoon",)


def test_a_long_list_of_what_it_could_be_is_cut_short_in_the_words_only() -> None:
    with pytest.raises(UnknownName) as fault:
        find("ame", SPECIES)
    assert len(fault.value.could_be) > 6
    assert str(fault.value).endswith(f" or {len(fault.value.could_be) - 6} more; say which")


def test_a_search_puts_the_best_first_and_an_empty_one_lists_all() -> None:
    assert [one.key for one in search("fox", SPECIES)] == ["red-fox", "gray-fox", "arctic-fox", "fox-squirrel"]
    assert search("", SPECIES) == tuple(SPECIES.values())


def test_a_misspelt_search_lists_the_nearest_and_nonsense_nothing() -> None:
    assert [one.key for one in search("racoon", SPECIES)] == ["raccoon"]
    assert search("zzz", SPECIES) == ()


def test_a_value_no_species_has_is_refused_with_the_nearest_one() -> None:
    assert (
        str(unknown_field("grease_clas", ("grease_class", "teeth"))) == "a species has no 'grease_clas'; did you mean grease_class?"
    )
    assert str(unknown_field("colour", ("teeth", "order"))) == "a species has no 'colour'; it has teeth, order"
