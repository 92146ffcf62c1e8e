"""What can hurt at a bath that stands there, at a warm pot, and between two baths."""

import itertools

import pytest

from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.cautions import load_cautions
from bonebench.reference.chemicals import load_chemicals
from bonebench.reference.materials import load_materials
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import clash_of
from bonebench.shop.cautions import (
    DEFER,
    Animal,
    BathFacts,
    Carried,
    Holds,
    Level,
    PotCare,
    for_bath,
    for_move,
    for_pot,
    for_standing_bath,
    merged,
)
from bonebench.shop.cautions.moves import NEVER_BOTH

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


# R83: acetone and peroxide; bench 1.7: ammonia; bench 7.3: bleach with ammonia or acid, acetone with peroxide.
@pytest.mark.parametrize(
    ("one", "other", "key", "stops_the_hand"),
    [
        ("acetone", "peroxide", "move.acetone_into_peroxide", True), ("ammonia", "peroxide", "move.ammonia_into_peroxide", False),
        ("ammonia", "bleach", "move.ammonia_and_bleach", True), ("bleach", "sulfuric-acid", "move.bleach_and_acid", True),
        ("white-spirit", "peroxide", "move.solvent_into_peroxide", True), ("bleach", "acetone", "move.bleach_and_solvent", True),
    ],
)  # fmt: skip
def test_what_must_not_follow_what_is_said_both_ways(one, other, key, stops_the_hand):
    for out_of, into in ((one, other), (other, one)):
        found = for_move(ROWS, into=into, out_of=out_of)
        assert key in keys(found)
        assert (key in stops(found)) == stops_the_hand


def test_the_moves_are_as_loud_as_the_table_of_chemicals():
    for pair, key in NEVER_BOTH.items():
        clash = clash_of(*pair, load_chemicals())
        # No table says it of thinners' esters beside peroxide: the caution is there for the flame alone.
        if clash is not None:
            assert ROWS[key].level.value == clash.level, pair
    assert {pair for pair in NEVER_BOTH if clash_of(*pair, load_chemicals()) is None} == {frozenset({"ethyl-acetate", "peroxide"})}


def test_a_piece_wet_with_solvent_does_not_go_over_a_hot_pot():
    assert "move.solvent_into_pot" in stops(for_move(ROWS, into=Recipe.DETERGENT, out_of=Recipe.ACETONE))
    assert "move.solvent_into_pot" not in keys(for_move(ROWS, into=Recipe.ACETONE, out_of=Recipe.DETERGENT))
    assert "move.solvent_into_pot" not in keys(for_move(ROWS, into=Recipe.RINSE, out_of=Recipe.ACETONE))


def test_a_plain_move_says_only_to_defer():
    for out_of, into in itertools.product((Recipe.DETERGENT, Recipe.RINSE, None), (Recipe.RINSE, Recipe.DETERGENT)):
        assert keys(for_move(ROWS, into=into, out_of=out_of)) == [DEFER]
    assert keys(for_move(ROWS, into=Recipe.PEROXIDE, out_of=Recipe.RINSE)) == [DEFER]


# Unknown glue: a day (common practice, no source). Acrylic in acetone: two days, by adhesives.toml.
@pytest.mark.parametrize(
    ("glue", "hours", "told"),
    [
        (None, 2.0, True), (None, 23.9, True), (None, 24.0, False), (None, None, False),
        ("acrylic-in-acetone", 24.0, True), ("acrylic-in-acetone", 47.9, True), ("acrylic-in-acetone", 48.0, False),
        ("acrylic-in-acetone", None, True), ("epoxy", 1.0, False), ("epoxy", None, False),
    ],
)  # fmt: skip
def test_glue_that_carries_acetone_waits_until_it_has_aired(glue, hours, told):
    carried = Carried(adhesive=load_adhesives()[glue] if glue else None, glued_hours=hours)
    assert ("move.acetone_into_peroxide" in stops(for_move(ROWS, into=Recipe.PEROXIDE, carried=carried))) == told
    assert "move.acetone_into_peroxide" not in keys(for_move(ROWS, into=Recipe.RINSE, carried=carried))


@pytest.mark.parametrize(
    ("glue", "into", "told"),
    [("pva-dispersion", Recipe.RINSE, True), ("epoxy", Recipe.RINSE, False), ("nitrocellulose", Recipe.PEROXIDE, True),
     ("nitrocellulose", Recipe.RINSE, False), ("acrylic-in-acetone", Recipe.PEROXIDE, False)],
)  # fmt: skip
def test_glue_that_does_not_bear_a_bath_is_named(glue, into, told):
    adhesive = load_adhesives()[glue]
    found = {c.key: c for c in for_move(ROWS, into=into, carried=Carried(adhesive=adhesive, glued_hours=500))}
    assert ("move.glue_lets_go" in found) == told
    assert not told or found["move.glue_lets_go"].hazard.text.startswith(adhesive.name)


def test_glue_that_has_not_set_is_told_until_its_slow_hour():
    epoxy = load_adhesives()["epoxy"]
    for hours, told in ((71.9, True), (72.0, False)):
        found = keys(for_move(ROWS, into=Recipe.RINSE, carried=Carried(adhesive=epoxy, glued_hours=hours)))
        assert ("move.glue_not_set" in found) == told


def test_what_a_piece_carries_stops_it_before_peroxide():
    found = for_move(ROWS, into=Recipe.PEROXIDE, carried=Carried(raw=True, metal=True, undegreased=True))
    assert {"move.raw_into_peroxide", "bath.metal"} == stops(found)
    assert "bath.undegreased" not in keys(found)  # flesh on it is the louder word for the same
    assert "bath.undegreased" in keys(for_move(ROWS, into=Recipe.PEROXIDE, carried=Carried(undegreased=True)))
    assert keys(for_move(ROWS, into=Recipe.DETERGENT, carried=Carried(raw=True, metal=True, undegreased=True))) == [DEFER]


def test_everything_in_a_tub_is_said_once_and_the_stops_come_first():
    every = Holds(raw=True, undegreased=True, glued=True, metal=True, teeth=True)
    found = for_bath(ROWS, BathFacts("peroxide", 0.2, 35, holds=every, age_days=9))
    assert stops(found) == {
        "move.raw_into_peroxide", "move.acetone_into_peroxide", "bath.metal", "peroxide.over_12", "peroxide.warm"
    }  # fmt: skip
    assert len(keys(found)) == len(set(keys(found)))
    assert {"bath.teeth", "bath.stale", "peroxide.no_drain"} <= set(keys(found))


# Bench 1.7: HDPE good, stainless to be watched, iron never.
@pytest.mark.parametrize(
    ("material", "stuff", "key"),
    [("hdpe", "peroxide", None), ("stainless", "peroxide", "vessel.watch"), ("iron", "peroxide", "vessel.never"),
     ("wood", "peroxide", "vessel.never"), ("copper", "ammonia", "vessel.never"), ("hdpe", "acetone", "vessel.watch"),
     ("copper", "detergent", "vessel.watch"), ("copper", "maceration water", "vessel.watch"), ("iron", "rinse water", None)],
)  # fmt: skip
def test_a_vessel_whose_material_is_known_is_judged_by_the_table(material, stuff, key):
    found = {c.key: c for c in for_bath(ROWS, BathFacts(stuff, 0.03, 20, "tub", load_materials()[material]))}
    assert {name for name in found if name.startswith("vessel.")} == ({key} if key else set())
    assert key is None or load_materials()[material].name in found[key].hazard.text


# common practice, no source: three days without a test.
@pytest.mark.parametrize(
    ("age", "tested", "told"), [(3.0, None, False), (3.1, None, True), (30, 1.0, False), (30, 4.0, True), (None, None, False)]
)
def test_a_bath_that_was_not_tested_for_days_says_so(age, tested, told):
    found = keys(for_bath(ROWS, BathFacts("peroxide", 0.03, 20, age_days=age, tested_days=tested)))
    assert ("bath.stale" in found) == told


# Bench 1.7: no drain for more than 8 %.
@pytest.mark.parametrize(("strength", "told"), [(0.08, False), (0.081, True), (None, True)])
def test_strong_or_unknown_peroxide_goes_down_no_drain(strength, told):
    assert ("peroxide.no_drain" in keys(for_bath(ROWS, BathFacts("peroxide", strength)))) == told


def test_a_warm_solvent_stops_the_hand():
    assert "solvent.warm" in stops(for_bath(ROWS, BathFacts("acetone", temperature_c=26)))
    assert "solvent.warm" not in keys(for_bath(ROWS, BathFacts("acetone", temperature_c=25)))


def test_bleach_is_named_for_what_it_does_to_bone_and_lungs():
    found = keys(for_bath(ROWS, BathFacts("bleach")))
    assert {"bleach.bone", "move.ammonia_and_bleach", "move.bleach_and_acid"} <= set(found)


# Bench 2.4: maceration water not above 50 °C (R102); above 60 °C the pot's own words are louder.
@pytest.mark.parametrize(("warm", "key"), [(50, None), (51, "macerate.hot"), (60, "macerate.hot"), (61, "pot.hot_for_bone")])
def test_water_too_warm_to_rot_says_so(warm, key):
    found = set(keys(for_bath(ROWS, BathFacts("maceration water", temperature_c=warm))))
    assert found & {"macerate.hot", "pot.hot_for_bone"} == ({key} if key else set())


@pytest.mark.parametrize(
    ("care", "wanted"),
    [
        (PotCare(), set()), (PotCare(in_kitchen=True), {"pot.in_kitchen"}), (PotCare(alone_days=0.3), {"pot.alone"}),
        (PotCare(alone_days=0.3, cut_out=False), {"pot.alone"}), (PotCare(alone_days=0.3, cut_out=True), set()),
    ],
)  # fmt: skip
def test_a_pot_alone_without_a_cut_out_or_in_a_kitchen_stops(care, wanted):
    assert stops(for_pot(ROWS, temperature_c=45, care=care)) == wanted


def test_an_open_pot_and_one_nobody_measured_say_so():
    assert "pot.open" in keys(for_pot(ROWS, temperature_c=45, care=PotCare(lid=False)))
    assert not {"pot.open", "pot.unmeasured"} & set(keys(for_pot(ROWS, temperature_c=45)))
    found = {c.key: c for c in for_pot(ROWS, temperature_c=None)}
    assert "75 °C to 95 °C" in found["pot.unmeasured"].hazard.text


def test_an_open_pot_loses_what_its_heat_of_vapour_allows():
    # Bench 2.5: 960 W/m2 at 45 °C over 2400 kJ/kg is 0.40 g/s, 1.44 kg an hour; the row prints two figures.
    assert ROWS["pot.open"].values["water"] == pytest.approx(960 / 2400e3 * 3600, abs=0.05)


def test_what_lives_in_raccoon_goes_with_its_pot():
    assert {"raw.roundworm", "pot.grease"} <= set(keys(for_pot(ROWS, temperature_c=45, animals=(RACCOON,))))


def test_several_lists_become_one_with_each_caution_once():
    one, other = standing(strength_w=0.03), for_pot(ROWS, temperature_c=45)
    both = merged(ROWS, one, other, one)
    assert len(keys(both)) == len(set(keys(both)))
    assert set(keys(both)) == set(keys(one)) | set(keys(other))
    assert both[-1].key == DEFER
