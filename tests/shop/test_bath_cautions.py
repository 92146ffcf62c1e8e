"""What can hurt at a bath that stands there, at a warm pot, and between two baths."""

import itertools

import pytest

from bonebench.reference.cautions import load_cautions
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.cautions import DEFER, Animal, Level, for_move, for_pot, for_standing_bath, merged

ROWS = load_cautions()
RACCOON = Animal("Mammalia", "Carnivora", "Baylisascaris procyonis (faeces); rabies", "", 4)


def keys(cautions):
    return [c.key for c in cautions]


def standing(recipe=Recipe.PEROXIDE, **more):
    return for_standing_bath(ROWS, recipe=recipe, **more)


def stops(cautions):
    return {c.key for c in cautions if c.level is Level.STOP}


@pytest.mark.parametrize("recipe", Recipe)
def test_no_bath_is_without_its_cautions_and_the_last_defers(recipe):
    found = standing(recipe)
    assert len(found) > 1
    assert found[-1].key == DEFER


def test_flesh_in_a_peroxide_bath_stops_and_is_said_first():
    found = standing(strength_w=0.03, raw=True)
    assert found[0].key == "move.raw_into_peroxide"
    assert "move.raw_into_peroxide" not in keys(standing(strength_w=0.03))


def test_fresh_solvent_glue_in_a_peroxide_bath_stops():
    assert "move.acetone_into_peroxide" in stops(standing(strength_w=0.03, glued=True))


@pytest.mark.parametrize(
    ("vessel", "said"),
    [("iron bucket", True), ("Galvanised tub", True), ("brass", True), ("HDPE", False), ("stainless steel", False), (None, False)],
)
def test_a_metal_vessel_stops_a_peroxide_bath(vessel, said):
    assert ("vessel.metal" in stops(standing(strength_w=0.03, vessel=vessel))) == said


def test_an_unknown_strength_counts_as_a_strong_one():
    assert "peroxide.unknown" in keys(standing())


def test_a_warm_pot_says_kitchen_and_what_it_does_not_kill():
    found = keys(standing(Recipe.DETERGENT, temperature_c=45, animals=(RACCOON,)))
    assert {"pot.kitchen", "pot.survives", "pot.scald", "pot.cut_out", "pot.grease", "raw.roundworm"} <= set(found)
    assert "pot.hot_for_bone" not in found


@pytest.mark.parametrize(
    ("warm", "key"), [(61, "pot.hot_for_bone"), (80, "pot.hot_for_bone"), (98, "pot.boils"), (100, "pot.boils")]
)
def test_a_pot_too_hot_for_bone_says_so(warm, key):
    assert key in keys(for_pot(ROWS, temperature_c=warm))


@pytest.mark.parametrize(
    ("out_of", "into", "key"),
    [
        (Recipe.ACETONE, Recipe.PEROXIDE, "move.acetone_into_peroxide"),
        (Recipe.PEROXIDE, Recipe.ACETONE, "move.acetone_into_peroxide"),
        (Recipe.AMMONIA, Recipe.PEROXIDE, "move.ammonia_into_peroxide"),
    ],
)  # fmt: skip
def test_what_must_not_follow_what_is_said_both_ways(out_of, into, key):
    assert key in keys(for_move(ROWS, into=into, out_of=out_of))


def test_a_plain_move_says_only_to_defer():
    for out_of, into in itertools.product((Recipe.DETERGENT, Recipe.RINSE, None), (Recipe.RINSE, Recipe.DETERGENT)):
        assert keys(for_move(ROWS, into=into, out_of=out_of)) == [DEFER]


@pytest.mark.parametrize(("hours", "said"), [(2.0, True), (23.9, True), (24.0, False), (None, False)])
def test_glue_that_carries_acetone_waits_until_it_has_aired(hours, said):
    found = for_move(ROWS, into=Recipe.PEROXIDE, acetone_hours=hours)
    assert ("move.acetone_into_peroxide" in keys(found)) == said


def test_several_lists_become_one_with_each_caution_once():
    one, other = standing(strength_w=0.03), for_pot(ROWS, temperature_c=45)
    both = merged(ROWS, one, other, one)
    assert len(keys(both)) == len(set(keys(both)))
    assert set(keys(both)) == set(keys(one)) | set(keys(other))
    assert both[-1].key == DEFER
