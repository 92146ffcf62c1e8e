"""The shipped teeth: numbers, milk teeth and variants, against published totals and codes."""

import csv
from pathlib import Path

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.species import load_species
from bonebench.reference.teeth import load_teeth, read_teeth, teeth_of_species
from bonebench.science.anatomy import counts, quadrants, teeth_of, triadan
from bonebench.shop.species import species_from_values, with_overrides

DATA = Path(__file__).parents[1] / "data"


def rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((DATA / name).read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("row", rows("teeth_totals.csv"), ids=lambda row: f"{row['species']} {row['set']}")
def test_totals_agree_with_published_ones(row):
    record = load_teeth()[row["species"]]
    dentition = record.adult if row["set"] == "permanent" else record.milk
    assert len(teeth_of(dentition)) == int(row["total"]), row["source"]


@pytest.mark.parametrize("row", rows("teeth_triadan.csv"), ids=lambda row: f"{row['species']} {row['jaw']}")
def test_triadan_codes_of_whole_rows_agree_with_published_charts(row):
    record = load_teeth()[row["species"]]
    quarter = dict(quadrants(record.adult))[row["jaw"], "right"]
    assert " ".join(str(triadan(tooth)) for tooth in quarter) == row["codes"], row["source"]


def test_every_species_with_a_formula_has_a_line_that_adds_up_to_it():
    species = {key: one for key, one in load_species().items() if one.teeth.formula is not None}
    assert set(load_teeth()) == set(species)
    for key, record in load_teeth().items():
        assert counts(record.adult) == species[key].teeth.formula, key
        assert len(teeth_of(record.adult)) == species[key].total_teeth


# Glass and Todd 1977, abstract: the absence of P2 in Lynx is generally regarded as diagnostic.
def test_a_bobcat_lacks_the_second_upper_premolar_of_a_cat():
    assert load_teeth()["domestic-cat"].adult.upper.premolars == (2, 3, 4)
    assert load_teeth()["bobcat"].adult.upper.premolars == (3, 4)


# Veterinary manual: the canine tooth of domestic ruminants has commonly been counted as a fourth incisor; there are none above.
@pytest.mark.parametrize("key", ["white-tailed-deer", "domestic-cattle", "moose"])
def test_deer_and_cattle_have_a_canine_beside_the_lower_incisors_and_no_front_teeth_above(key):
    adult = load_teeth()[key].adult
    assert (adult.upper.incisors, adult.upper.canines, adult.lower.incisors, adult.lower.canines) == ((), (), (1, 2, 3), (1,))


# Griffin 2009: wolf teeth may be identified as Triadan 05.
def test_a_horse_may_have_wolf_teeth_and_a_mare_may_lack_canines():
    horse = load_teeth()["horse"]
    assert [triadan(tooth) for tooth in horse.may_also_have] == [105, 205, 405, 305]
    assert [triadan(tooth) for tooth in horse.often_missing] == [104, 204, 404, 304]


def test_milk_teeth_are_never_more_than_the_permanent_ones_and_have_no_molars():
    for key, record in load_teeth().items():
        if record.milk is not None:
            assert not record.milk.upper.molars + record.milk.lower.molars
            assert len(teeth_of(record.milk)) < len(teeth_of(record.adult)), key


def test_no_triadan_code_is_claimed_where_the_scheme_has_no_place_or_nobody_knows():
    for key, record in load_teeth().items():
        if record.triadan:
            assert None not in [triadan(tooth) for tooth in teeth_of(record.adult)], key
    assert not any(
        load_teeth()[key].triadan for key in ("virginia-opossum", "nine-banded-armadillo", "short-tailed-shrew", "walrus")
    )


def test_every_figure_says_how_well_it_is_known():
    for record in load_teeth().values():
        assert record.numbers.source
        assert (record.variants is None) == (not record.may_also_have and not record.often_missing)
        assert record.milk is None or record.milk_note is not None


def test_a_room_s_own_formula_is_numbered_by_the_common_rule_as_an_estimate_and_without_triadan():
    cat = with_overrides(load_species()["domestic-cat"], {"teeth": "I3/3 C1/1 P2/2 M1/1"})
    record = teeth_of_species(cat)
    assert (record.adult.upper.premolars, record.triadan, record.numbers.standing) == ((3, 4), False, Standing.ESTIMATE)
    serval = species_from_values("serval", {"common_name": "serval", "body_mass_kg": 12.0, "like": "bobcat"}, load_species())
    assert teeth_of_species(serval).numbers.standing is Standing.ESTIMATE


@pytest.mark.parametrize("key", ["mallard", "american-alligator"])
def test_where_no_formula_says_it_there_is_no_chart(key):
    assert teeth_of_species(load_species()[key]) is None


HEAD = (
    "key,upper_incisors,lower_incisors,upper_premolars,lower_premolars,triadan,numbers_source,milk_upper,milk_lower,"
    "milk_source,may_also_have,often_missing,variants_note,variants_source,full_mouth_years,full_mouth_source"
)
BAD = [
    ("domestic-cat,,,3 4,3 4,yes,from memory,,,x,,,,,,", "2 numbers, but the formula has 3 of them"),
    ("domestic-cat,,,,3 4,yes,from memory,,,x,,,,,,", "which premolars they are has to be said"),
    ("domestic-cat,,,2 3 x,3 4,yes,from memory,,,x,,,,,,", "'2 3 x' are not numbers of teeth such as 2 3 4"),
    ("domestic-cat,,,2 3 4,3 4,yes,hearsay,,,x,,,,,,", "'hearsay' names neither a source nor memory nor practice"),
    ("domestic-cat,,,2 3 4,3 4,yes,from memory,I1 M1,,from memory,,,,,,", "'M1' is no milk tooth such as I1, C or P2"),
    ("domestic-cat,,,2 3 4,3 4,yes,from memory,,,x,P1,,,,,", "'P1' is no tooth of a jaw such as UP1"),
    ("mallard,,,,,yes,from memory,,,x,,,,,,", "the species has no dental formula"),
    ("unicorn,,,,,yes,from memory,,,x,,,,,,", "no species of that key"),
    ("domestic-cat,,,2 3 4,3 4,yes,from memory,,,x,,,,,young,from memory", "'young' is not an age in years such as 2.5"),
]


@pytest.mark.parametrize(("line", "words"), BAD)
def test_a_line_that_cannot_be_is_refused_with_its_species_and_column(line, words):
    with pytest.raises(FileFault, match=words) as refused:
        read_teeth([HEAD, line], load_species())
    assert line.split(",")[0] in str(refused.value)
