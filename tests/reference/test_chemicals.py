"""Chemicals of the bench: the published classes at their published ends, what must not meet what, and bad rows named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.chemicals import PLAIN_THINGS, load_chemicals, read_chemicals
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.bench import chemical_of, clash_of, classes_at, fire_class_at, listed_by_suppliers_at

CHEMICALS = load_chemicals()
PEROXIDE = CHEMICALS["peroxide"]


def codes(chemical, strength):
    return {one.code for one in classes_at(CHEMICALS[chemical], strength)}


# The EU harmonised limits for hydrogen peroxide (CLP Annex VI 008-003-00-9) as bench 1.6 has them: read for the ends marked so in
# chemicals.toml, from memory for the others. Lower ends belong to the class, upper ends do not.
@pytest.mark.parametrize(
    ("strength", "wanted"),
    [
        (0.0, set()), (0.03, set()), (0.0499, set()), (0.05, {"H319"}), (0.0799, {"H319"}), (0.08, {"H318"}), (0.12, {"H318"}),
        (0.349, {"H318"}), (0.35, {"H318", "H315", "H335"}), (0.499, {"H318", "H315", "H335"}),
        (0.50, {"H272", "H314", "H335"}), (0.699, {"H272", "H314", "H335"}), (0.70, {"H271", "H314", "H335"}),
        (1.0, {"H271", "H314", "H335"}), (35 * 0.01, {"H318", "H315", "H335"}),
    ],
)  # fmt: skip
def test_the_classes_of_peroxide_change_at_the_published_strengths(strength, wanted):
    assert codes("peroxide", strength) == wanted


# Whole sheets as read: each says which classes a solution in a range has; harmonised and supplier classes together.
# GisChem 770 (5 to below 8 %), 6380 (8 to below 35 %: H302 from 25 %, H332 from 30 %), 750 (60 % and more; its H318 goes with H314,
# H290 is not carried here); a maker's sheet for 35 % in water, which gives no oxidiser class and is held against the rest.
@pytest.mark.parametrize(
    ("strength", "sheet"),
    [
        (0.06, {"H319"}), (0.079, {"H319"}), (0.08, {"H272", "H318"}), (0.249, {"H272", "H318"}),
        (0.25, {"H272", "H302", "H318"}), (0.30, {"H272", "H302", "H332", "H318"}),
        (0.35, {"H272", "H302", "H332", "H315", "H318", "H335"}), (0.72, {"H271", "H302", "H332", "H314", "H335"}),
    ],
)  # fmt: skip
def test_with_the_suppliers_classes_a_solution_is_labelled_as_its_sheet_says(strength, sheet):
    assert codes("peroxide", strength) | {one.code for one in listed_by_suppliers_at(PEROXIDE, strength)} == sheet


# GisChem 6380: oxidising category 3 below 20 %, 2 from there.
@pytest.mark.parametrize(("strength", "category"), [(0.199, "3"), (0.20, "2"), (0.349, "2")])
def test_suppliers_call_it_an_oxidiser_of_the_sheets_category(strength, category):
    (name,) = [one.name for one in listed_by_suppliers_at(PEROXIDE, strength) if one.code == "H272"]
    assert f"liquid {category}" in name


# Fire codes say "over .. up to": class 1 8-27.5 % (R18), class 2 "greater than 27.5 percent up to 52 percent" (2015 Minnesota State
# Fire Code, appendix E). # from memory: classes 3 and 4
@pytest.mark.parametrize(
    ("strength", "number"),
    [(0.08, None), (0.0801, 1), (0.275, 1), (0.276, 2), (0.52, 2), (0.521, 3), (0.91, 3), (0.911, 4), (1.0, 4)],
)
def test_the_fire_class_changes_above_the_published_strengths(strength, number):
    found = fire_class_at(PEROXIDE, strength)
    assert (found.number if found else None) == number


def test_only_peroxide_has_fire_classes_here():
    assert fire_class_at(CHEMICALS["acetone"], 0.5) is None


# Battery makers' safety sheet 2018: Skin Corr. 1A from 15 %, Skin Irrit. 2 and Eye Irrit. 2 from 5 to below 15 %.
@pytest.mark.parametrize(
    ("strength", "wanted"), [(0.049, set()), (0.05, {"H315", "H319"}), (0.149, {"H315", "H319"}), (0.15, {"H314"})]
)
def test_sulfuric_acid_burns_from_fifteen_percent(strength, wanted):
    assert codes("sulfuric-acid", strength) == wanted


# GisChem 4435, 5 to below 10 %: H314, H318, H335 (H290, corrosive to metals, is not carried here).
@pytest.mark.parametrize("strength", [0.05, 0.099])
def test_household_ammonia_has_the_classes_of_its_sheet(strength):
    assert codes("ammonia", strength) == {"H314", "H318", "H335"}


# EUH031 from 5 % chlorine, EUH206 above 1 % (CLP annex II 2.6); the general limits for burns from memory.
@pytest.mark.parametrize(
    ("strength", "wanted"), [(0.009, set()), (0.03, {"EUH206", "H315", "H318"}), (0.05, {"EUH206", "EUH031", "H314", "H318"})]
)
def test_bleach_says_that_it_gives_gas_with_acids(strength, wanted):
    assert codes("bleach", strength) == wanted


def test_two_molar_hundredths_of_permanganate_weigh_a_third_of_a_percent_and_harm_water_life_only():
    # KMnO4 158.03 g/mol: 0.02 mol/L is 3.16 g/L, 0.32 % of water's weight.
    assert codes("permanganate", 0.02 * 158.03 / 1000) == {"H412"}


@given(st.sampled_from(sorted(CHEMICALS)), st.floats(0, 1), st.floats(0, 1))
def test_a_stronger_solution_never_loses_a_burn_or_a_flame(key, one, other):
    worst = {"H314", "H225", "H226", "H271"}
    assert codes(key, min(one, other)) & worst <= codes(key, max(one, other)) & worst


@given(st.sampled_from(sorted(CHEMICALS)), st.floats(0, 1))
def test_no_class_is_said_twice_at_a_strength(key, strength):
    found = [one.code for one in classes_at(CHEMICALS[key], strength)]
    assert len(found) == len(set(found))


def test_what_must_not_meet_is_said_from_both_sides_and_as_loudly():
    for one in CHEMICALS.values():
        for clash in one.clashes:
            if clash.other in CHEMICALS:
                back = {c.other: c.level for c in CHEMICALS[clash.other].clashes}
                assert back.get(one.key) == clash.level, (one.key, clash.other)


# R83: acetone and peroxide; household rule, from memory: ammonia and bleach.
@pytest.mark.parametrize(
    ("one", "other", "words"),
    [
        ("acetone", "peroxide", "explosive"), ("ammonia", "bleach", "chloramine"), ("bleach", "sulfuric-acid", "chlorine"),
        ("peroxide", "tissue", "foams"),
    ],
)  # fmt: skip
def test_the_pairs_that_hurt_most_stop_the_hand_either_way_round(one, other, words):
    for a, b in ((one, other), (other, one)):
        found = clash_of(a, b, CHEMICALS)
        assert found is not None
        assert found.level == "stop"
        assert words in found.happens


def test_what_does_not_clash_says_nothing():
    assert clash_of("thiosulfate", "peroxide", CHEMICALS) is None
    assert clash_of("nobody knows", "peroxide", CHEMICALS) is None


# OSHA chemical sampling pages CH_246600, CH_216600, CH_268000 (read) and R107, R107a: the limits as printed there.
@pytest.mark.parametrize(
    ("key", "limit"),
    [
        ("peroxide", ("OSHA, NIOSH", 1, "ppm")), ("peroxide", ("NIOSH", 75, "ppm")), ("acetone", ("OSHA", 1000, "ppm")),
        ("acetone", ("NIOSH", 250, "ppm")), ("acetone", ("NIOSH", 2500, "ppm")), ("white-spirit", ("NIOSH", 350, "mg/m³")),
        ("white-spirit", ("OSHA", 500, "ppm")), ("ammonia", ("OSHA", 50, "ppm")), ("ammonia", ("NIOSH", 300, "ppm")),
    ],
)  # fmt: skip
def test_the_limits_of_air_are_the_printed_ones(key, limit):
    published = [one for one in CHEMICALS[key].exposure if one.standing is Standing.PUBLISHED]
    assert limit in [(one.whose, one.value, one.unit) for one in published]


def test_limits_are_told_with_how_well_they_are_known():
    assert CHEMICALS["acetone"].limits.endswith("flash point -20 °C (from memory)")
    assert "1 ppm over a working day (OSHA, NIOSH; published, source read)" in PEROXIDE.limits


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("Oxygen bleach (peroxide)", "peroxide"), ("chlorine bleach", "bleach"), ("Ammonia, old", "ammonia"),
        ("mineral spirits", "white-spirit"), ("soda water", None), ("", None),
    ],
)  # fmt: skip
def test_a_chemical_is_known_by_what_people_call_it(words, key):
    found = chemical_of(words, CHEMICALS.values())
    assert (found.key if found else None) == key


def test_every_bath_that_bites_has_its_chemical():
    for recipe in (Recipe.PEROXIDE, Recipe.DETERGENT, Recipe.ACETONE, Recipe.AMMONIA):
        assert recipe.value in CHEMICALS


def test_no_row_is_silent_about_first_aid_disposal_or_source():
    for chemical in CHEMICALS.values():
        assert chemical.first_aid, chemical.key
        assert chemical.away, chemical.key
        assert all(one.source for one in (*chemical.classes, *chemical.clashes, *chemical.exposure)), chemical.key


# Flash points, solvents: a solvent says where its vapour lights, or that it bites the lungs (ammonia).
def test_every_solvent_says_where_its_vapour_lights_or_how_it_bites():
    for chemical in CHEMICALS.values():
        if chemical.solvent:
            assert chemical.flash_point_c is not None or chemical.exposure, chemical.key


ROW = """[x]
name = "X"
words = ["x"]
first_aid = "f"
away = "a"
standing = "memory"
source = "s"
"""
CLASS = '[x.classes.y]\nname = "n"\ncode = "H1"\nfrom_w = 0.5\nstanding = "memory"\nsource = "s"\n'
CLASH = '[x.never.metal]\nhappens = "h"\nlevel = "stop"\nstanding = "memory"\nsource = "s"\n'
FIRE = '[x.fire.one]\nnumber = 1\nover_w = 0.1\nto_w = 0.2\nstanding = "memory"\nsource = "s"\n'
FLASH = '[x.flash_point]\nvalue = 5\nlow = 1\nhigh = 9\nstanding = "memory"\nsource = "s"\n'


def test_a_whole_row_is_read():
    (found,) = read_chemicals(ROW + CLASS + CLASH + FIRE + FLASH).values()
    assert found.never_with == (("metal", "h"),)
    assert found.limits == "flash point 5 °C (from memory)"
    assert read_chemicals(ROW)["x"].limits == "no limit is written down here"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (ROW + CLASS.replace("0.5", "2"), "x.classes.y.from_w: '2' is no number from 0 to 1"),
        (ROW + CLASS + "below_w = 0.4\n", "x.classes.y.below_w: '0.4' is no number from 0.5 to 1"),
        (ROW + CLASS + 'by = "me"\n', "x.classes.y.by: 'me' is not known; use one of harmonised, supplier, general rule"),
        (ROW + CLASH.replace('"stop"', '"loud"'), "x.never.metal.level: 'loud' is not known; use one of read, strong, stop"),
        (
            ROW + CLASH.replace("metal", "moonlight"),
            f"x.never.moonlight: 'moonlight' is no chemical of this table and none of {PLAIN_THINGS[0]}",
        ),
        (ROW + FIRE.replace("0.2", "0.05"), "x.fire.one.to_w: '0.05' is no number from 0.1 to 1"),
        (ROW + FLASH.replace("low = 1", "low = 6"), "x.flash_point.value: 5 lies outside its own range"),
        (ROW.replace('["x"]', '"x"'), "x.words: must be a list of words, like [\"one\", \"two\"]"),
        (ROW.replace('words = ["x"]\n', ""), "x.words: is missing"),
        (ROW + "colour = 1\n", "x.colour: is no field here"),
    ],
)  # fmt: skip
def test_a_bad_row_is_named_with_its_field(text, words):
    with pytest.raises(FileFault) as refused:
        read_chemicals(text)
    assert str(refused.value).startswith(f"chemicals.toml, {words}")
