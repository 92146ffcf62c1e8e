"""Which cautions a mix or a step brings; the rows are the shipped ones."""

import itertools

import pytest

from bonebench.figures import Figure, Standing
from bonebench.reference.adhesives import load_adhesives
from bonebench.reference.cautions import load_cautions
from bonebench.reference.materials import load_materials
from bonebench.reference.methods import load_methods
from bonebench.shop.bath_entries import Recipe
from bonebench.shop.cautions import (
    DEFER,
    KEYS,
    RULES,
    Animal,
    BathFacts,
    Carried,
    Caution,
    Cautioned,
    Holds,
    Level,
    PotCare,
    asks_for_a_yes,
    for_bath,
    for_box,
    for_colony,
    for_mix,
    for_move,
    for_pot,
    for_step,
)
from bonebench.shop.methods import Method, Span
from bonebench.shop.steps import PlaceKind, Step

ROWS = load_cautions()

# The words of the species table for these animals.
RACCOON = Animal(
    "Mammalia", "Carnivora", "Baylisascaris procyonis (faeces); rabies; leptospirosis", "rabies vector rules in some states", 2
)
DEER = Animal("Mammalia", "Artiodactyla", "ticks; brucellosis (some herds); CWD tissue rules", "CWD transport rules", 2)
MOUSE = Animal(
    "Mammalia", "Rodentia", "hantavirus (deer mice, some rats); leptospirosis; plague (western US)", "hantavirus precautions", 1
)
BEAR = Animal(
    "Mammalia",
    "Carnivora",
    "trichinellosis; rabies (rare); toxoplasmosis",
    "CITES App II; skull presentation/tag and gall-bladder rules by state",
    5,
)
COYOTE = Animal(
    "Mammalia", "Carnivora", "rabies; echinococcosis (Echinococcus spp. in faeces/intestine); tularemia; leptospirosis", "", 2
)
CROW = Animal("Aves", "Passeriformes", "psittacosis/ornithosis; avian influenza; salmonellosis", "Migratory Bird Treaty Act", 1)
DONKEY = Animal("Mammalia", "Perissodactyla", "Q fever; leptospirosis", "euthanasia drug residue", 2)


def method(step: Step, *, name: str = "a way", place: PlaceKind | None = None, **more) -> Method:
    """A method with nothing in it but what the caution rules read."""
    return Method(
        key="m", step=step, name=name, place=place, classed_by="all", days={"all": Span(1, 2, 3)}, minutes={"all": 5}, work="",
        standing=Standing.PRACTICE, source="made up", effort="", harm="", **more,
    )  # fmt: skip


def exactly(value: float, unit: str) -> Figure:
    return Figure(value, value, value, unit, Standing.PRACTICE, "made up")


def keys(cautions: tuple[Caution, ...]) -> list[str]:
    return [caution.key for caution in cautions]


def mix(**changes) -> tuple[Caution, ...]:
    usual = {"stock_w": 0.04, "target_w": 0.03, "temperature_c": 20.0, "oxygen_l": 107.0, "heat_rise_k": 21.0, "boils": False}
    return for_mix(ROWS, **{**usual, **changes})


def trimmed(animal: Animal | None) -> list[str]:
    return keys(for_step(ROWS, step=Step.TRIM, animal=animal))


def test_the_mildest_mix_still_brings_the_cautions_of_every_bath():
    assert set(keys(mix())) == {
        "mix.order", "mix.oxygen", "mix.warms", "peroxide.eyes", "peroxide.vent", "peroxide.no_metal", "peroxide.no_acetone",
        "peroxide.tissue", "peroxide.label", "peroxide.spent", DEFER,
    }  # fmt: skip


# Bench 1.6: caution above 5 %, strong caution above 8 %, explicit confirmation above 12 %.
@pytest.mark.parametrize(
    ("target", "gate", "level"),
    [
        (0.05, None, None),
        (0.0501, "peroxide.over_5", Level.READ),
        (8 * 0.01, "peroxide.over_5", Level.READ),
        (0.081, "peroxide.over_8", Level.STRONG),
        (12 * 0.01, "peroxide.over_8", Level.STRONG),
        (0.121, "peroxide.over_12", Level.STOP),
    ],
)
def test_the_gates_of_the_bath(target, gate, level):
    found = [(c.key, c.level) for c in mix(target_w=target, stock_w=0.3) if c.key.startswith("peroxide.over")]
    assert found == ([] if gate is None else [(gate, level)])


# Bench 1.6, EU classes: eye irritation from 5 %, eye damage from 8 %, the next from 35 %, burns from 50 %.
@pytest.mark.parametrize(
    ("stock", "gate"),
    [
        (0.049, None),
        (0.05, "stock.irritant"),
        (0.08, "stock.eye_damage"),
        (0.349, "stock.eye_damage"),
        (35 * 0.01, "stock.specialist"),
        (0.5, "stock.burns"),
        (0.699, "stock.burns"),
        (0.7, "stock.may_explode"),
    ],
)
def test_the_classes_of_the_stock(stock, gate):
    found = [key for key in keys(mix(stock_w=stock)) if key.startswith("stock.") and key != "stock.sale"]
    assert found == ([] if gate is None else [gate])


# Bench 1.6, from memory: the EU restricts sale to the public above 12 %.
@pytest.mark.parametrize(("stock", "told"), [(0.12, False), (0.13, True)])
def test_who_may_buy_strong_stock(stock, told):
    assert ("stock.sale" in keys(mix(stock_w=stock))) is told


# Bench 1.4: stop above 30 °C.
@pytest.mark.parametrize(("temperature", "told"), [(30.0, False), (30.5, True)])
def test_a_warm_bath_is_stopped(temperature, told):
    found = [c for c in mix(temperature_c=temperature) if c.key == "peroxide.warm"]
    assert [c.level for c in found] == ([Level.STOP] if told else [])


def test_a_mix_that_could_boil_says_so_instead_of_a_number():
    found = keys(mix(boils=True, heat_rise_k=246))
    assert "mix.boils" in found
    assert "mix.warms" not in found


def test_the_numbers_of_the_mix_stand_in_the_words():
    said = {caution.key: caution for caution in mix(target_w=0.06, stock_w=0.35, oxygen_l=42, heat_rise_k=21)}
    assert said["mix.oxygen"].hazard.text == "This bath can give off 42 L of oxygen, and oxygen feeds fire."
    assert said["mix.warms"].hazard.text == "If it all broke down at once, this bath would warm by up to 21 K."
    assert said["peroxide.over_5"].hazard.text.startswith("6 % irritates")
    assert said["stock.specialist"].hazard.values == {"strength": 0.35}


def test_the_loudest_come_first_and_the_last_defers():
    found = mix(target_w=0.2, stock_w=0.6, temperature_c=40, boils=True)
    loudness = [[Level.STOP, Level.STRONG, Level.READ].index(c.level) for c in found[:-1]]
    assert loudness == sorted(loudness)
    assert found[-1].key == DEFER
    assert "Defer to local codes" in found[-1].do.text
    assert "licensed practice" in found[-1].do.text


def test_every_step_has_a_rule_and_ends_by_deferring():
    assert set(RULES) == set(Step)
    for step in Step:
        assert keys(for_step(ROWS, step=step))[-1] == DEFER


# Bench 7.1: which animal carries what.
@pytest.mark.parametrize(
    ("animal", "wanted"),
    [
        (RACCOON, {"raw.rabies", "raw.roundworm"}),
        (DEER, {"raw.prion", "raw.brucella"}),
        (MOUSE, {"raw.hantavirus", "raw.tularemia"}),
        (BEAR, {"raw.trichinella", "raw.rabies"}),
        (COYOTE, {"raw.rabies", "raw.tapeworm", "raw.tularemia"}),
        (CROW, {"raw.bird_dust"}),
        (DONKEY, {"raw.brucella"}),
    ],
)
def test_trimming_says_what_the_animal_can_carry(animal, wanted):
    always = {"raw.hygiene", "raw.note", "raw.knife", DEFER}
    assert set(trimmed(animal)) == always | wanted


def test_the_note_of_the_species_is_repeated_in_words():
    note = next(c for c in for_step(ROWS, step=Step.TRIM, animal=DONKEY) if c.key == "raw.note")
    assert note.hazard.text == "What this animal can carry: Q fever; leptospirosis."


def test_silence_about_an_animal_is_no_all_clear():
    assert "raw.unknown" in trimmed(None)
    assert "raw.unknown" in trimmed(Animal(zoonosis_note="  "))
    assert "law.unknown" in keys(for_step(ROWS, step=Step.HAND_OVER))


@pytest.mark.parametrize(
    ("order", "class_name", "key"),
    [("Chiroptera", "", "raw.rabies"), ("Carnivora", "", "raw.rabies"), ("", "Aves", "raw.bird_dust")],
)
def test_an_animal_without_a_note_is_judged_by_its_kind(order, class_name, key):
    assert {key, "raw.unknown"} <= set(trimmed(Animal(class_name, order)))


# The words of the species table for boar and seal: pseudorabies is no rabies, and a seal's influenza is no bird's dust.
@pytest.mark.parametrize(
    ("note", "flag"),
    [
        ("trichinellosis", "feral swine transport rules; Brucella/pseudorabies"),
        ("seal finger (Mycoplasma/Erysipelothrix); brucellosis; influenza", "Marine Mammal Protection Act"),
    ],
)
def test_a_word_inside_another_calls_nothing(note, flag):
    found = trimmed(Animal("Mammalia", "Carnivora", note, flag))
    assert not {"raw.rabies", "raw.bird_dust"} & set(found)


@pytest.mark.parametrize("step", [Step.RECEIVE, Step.THAW, Step.TRIM])
def test_rabies_is_named_wherever_the_head_is_raw(step):
    assert "raw.rabies" in keys(for_step(ROWS, step=step, animal=RACCOON))


@pytest.mark.parametrize("step", [Step.BEETLES, Step.OUT, Step.DEGREASE])
def test_roundworm_stays_dangerous_in_box_and_pot(step):
    cautions = {c.key: c for c in for_step(ROWS, step=step, animal=RACCOON)}
    assert "45 °C pot does not kill eggs" in cautions["raw.roundworm"].when.text
    assert "raw.roundworm" not in keys(for_step(ROWS, step=step, animal=DEER))


@pytest.mark.parametrize(
    ("flag", "wanted"),
    [
        ("Migratory Bird Treaty Act", {"law.protected"}),
        ("Migratory Bird Treaty Act - lawfully taken game only", {"law.flag"}),
        ("PROTECTED: MBTA - permit holders only", {"law.protected"}),
        ("PROTECTED: Bald and Golden Eagle Protection Act + MBTA - report to authorities", {"law.protected"}),
        ("Marine Mammal Protection Act; CITES; ESA", {"law.protected", "law.tag"}),
        ("CITES App I; ESA endangered - do not handle without permit", {"law.protected", "law.tag"}),
        ("CITES App II tag in most states", {"law.flag", "law.tag"}),
        ("CWD transport rules; some herds protected", {"law.protected", "law.cwd"}),
        ("CWD transport rules", {"law.flag", "law.cwd"}),
        ("game bird", {"law.flag"}),
        ("", {"law.unknown"}),
    ],
)
@pytest.mark.parametrize("step", [Step.RECEIVE, Step.HAND_OVER])
def test_the_law_is_named_when_a_piece_comes_and_goes(step, flag, wanted):
    found = for_step(ROWS, step=step, animal=Animal(zoonosis_note="ticks", legal_flag=flag))
    assert {key for key in keys(found) if key.startswith("law.")} == wanted


def test_a_protected_animal_stops_the_hand():
    found = for_step(ROWS, step=Step.RECEIVE, animal=CROW)
    assert [c.key for c in found if c.level is Level.STOP] == ["law.protected"]
    assert "Migratory Bird Treaty Act" in found[0].hazard.text


def test_poisoned_tissue_is_kept_from_the_beetles():
    for cautions in (
        for_step(ROWS, step=Step.BEETLES, animal=DONKEY),
        for_step(ROWS, step=Step.BEETLES, animal=DEER, treated=True),
    ):
        assert cautions[0].key == "box.treated"
        assert cautions[0].level is Level.STOP
    assert "box.untreated_only" in keys(for_step(ROWS, step=Step.BEETLES, animal=DEER))


@pytest.mark.parametrize("step", [Step.BEETLES, Step.JUDGE_CLEAN, Step.ONE_MORE_DAY, Step.OUT])
def test_opening_the_box_names_dust_and_power(step):
    assert {"box.dust", "box.power"} <= set(keys(for_step(ROWS, step=step, animal=DEER)))


def test_fire_and_gas_are_named_when_a_piece_goes_in_and_escape_when_it_comes_out():
    assert {"box.fire", "box.flame"} <= set(keys(for_step(ROWS, step=Step.BEETLES)))
    assert "box.escape" in keys(for_step(ROWS, step=Step.OUT))


@pytest.mark.parametrize(
    ("way", "key"),
    [
        (None, "kill.cold"),
        (method(Step.KILL, place=PlaceKind.FREEZER), "kill.cold"),
        (method(Step.KILL, place=PlaceKind.POT), "kill.heat"),
        (method(Step.KILL, leaves_out=True), "kill.heat"),
    ],
)
def test_killing_by_cold_and_by_a_later_hot_step(way, key):
    assert keys(for_step(ROWS, step=Step.KILL, method=way)) == [key, "box.dust", DEFER]


def test_a_pot_scalds_shocks_and_burns_down():
    assert set(keys(for_step(ROWS, step=Step.DEGREASE))) == {"pot.scald", "pot.power", "pot.cut_out", "pot.unmeasured", DEFER}


# Bench 2.2: never above 60 °C for bone.
@pytest.mark.parametrize(("temperature", "told"), [(45, False), (60, False), (85, True)])
def test_a_hot_pot_is_named_as_hot(temperature, told):
    way = method(Step.DEGREASE, temperature_c=exactly(temperature, "degC"))
    found = {c.key: c for c in for_step(ROWS, step=Step.DEGREASE, method=way)}
    assert ("pot.hot_for_bone" in found) is told
    assert not told or found["pot.hot_for_bone"].hazard.text.startswith("85 °C scalds")


@pytest.mark.parametrize(("animal", "told"), [(BEAR, True), (DEER, False), (Animal(greasiness=None), False)])
def test_grease_of_bear_and_pig_is_named(animal, told):
    assert ("pot.grease" in keys(for_step(ROWS, step=Step.DEGREASE, animal=animal))) is told


def test_solvents_are_stopped_first_and_say_what_they_must_not_meet():
    by_acetone = keys(for_step(ROWS, step=Step.DEGREASE, method=method(Step.DEGREASE, chemical="acetone")))
    by_ammonia = keys(for_step(ROWS, step=Step.DEGREASE, method=method(Step.DEGREASE, chemical="ammonia")))
    by_alcohol = keys(for_step(ROWS, step=Step.DEGREASE, method=method(Step.DEGREASE, chemical="ethanol")))
    assert by_acetone == ["solvent.acetone", "move.acetone_into_peroxide", "solvent.waste", DEFER]
    assert by_ammonia == ["solvent.ammonia", "move.ammonia_and_bleach", "move.ammonia_into_peroxide", DEFER]
    assert by_alcohol == ["solvent.flammable", "move.solvent_into_peroxide", "solvent.waste", DEFER]


def test_water_instead_of_beetles_names_rot_and_gas_and_no_box():
    way = method(Step.BEETLES, place=PlaceKind.POT, temperature_c=exactly(35, "degC"))
    found = keys(for_step(ROWS, step=Step.BEETLES, method=way, animal=RACCOON, treated=True))
    assert {"macerate.rot", "macerate.gas", "pot.cut_out", "raw.rabies", "raw.roundworm"} <= set(found)
    assert not {key for key in found if key.startswith("box.")}


def test_a_paste_says_that_it_foams_and_stays():
    way = method(Step.WHITEN, strength_w=exactly(0.12, "w/w"), chemical="carbonate")
    assert {"peroxide.paste", "peroxide.over_8", "peroxide.no_drain"} <= set(keys(for_step(ROWS, step=Step.WHITEN, method=way)))


# Acknowledged once by each person, by every shipped method: peroxide above 12 %, solvents, ammonia, the hot pot (bench 1.6-2.3).
def test_the_shipped_methods_that_ask_for_a_yes_are_the_ones_with_a_hazard_above_the_gate():
    asking = {one.key for one in load_methods().values() if asks_for_a_yes(for_step(ROWS, step=one.step, method=one))}
    assert asking == {"hot-pot", "acetone-soak", "ammonia-soak", "ethanol-swab", "fifteen-percent"}


@pytest.mark.parametrize(
    ("strength", "gate"),
    [(None, "peroxide.unknown"), (0.06, "peroxide.over_5"), (0.10, "peroxide.over_8"), (0.158, "peroxide.over_12")],
)
def test_whitening_brings_the_cautions_of_its_bath(strength, gate):
    way = method(Step.WHITEN, strength_w=None if strength is None else exactly(strength, "w/w"))
    assert {gate, "peroxide.eyes", "peroxide.no_metal", "peroxide.on_bone", DEFER} <= set(
        keys(for_step(ROWS, step=Step.WHITEN, method=way))
    )


def test_whitening_at_three_percent_passes_no_gate_and_a_warm_one_is_stopped():
    mild = method(Step.WHITEN, strength_w=exactly(0.03, "w/w"), temperature_c=exactly(20, "degC"))
    warm = method(Step.WHITEN, strength_w=exactly(0.03, "w/w"), temperature_c=exactly(40, "degC"))
    found = keys(for_step(ROWS, step=Step.WHITEN, method=mild))
    assert not {key for key in found if key.startswith("peroxide.over") or key == "peroxide.unknown"}
    assert keys(for_step(ROWS, step=Step.WHITEN, method=warm))[0] == "peroxide.warm"


def test_whitening_without_a_method_is_taken_as_strong():
    assert "peroxide.unknown" in keys(for_step(ROWS, step=Step.WHITEN))


def test_a_step_left_out_brings_nothing_but_the_last_word():
    assert keys(for_step(ROWS, step=Step.WHITEN, method=method(Step.WHITEN, leaves_out=True))) == [DEFER]


@pytest.mark.parametrize(
    ("step", "wanted"),
    [
        (Step.FROZEN_HOLD, ["raw.hygiene", "freezer.raw"]),
        (Step.FREEZE_AGAIN, ["raw.hygiene", "freezer.raw"]),
        (Step.DRY, ["pot.scald", "dry.heat"]),
        (Step.DRY_AGAIN, ["dry.heat"]),
        (Step.TEETH, ["glue.vapour", "glue.skin"]),
        (Step.CURE, ["glue.vapour"]),
        (Step.RINSE, ["peroxide.eyes", "peroxide.spent"]),
        (Step.FINISH, ["finish.dust", "glue.vapour"]),
        (Step.MEASURE, []),
        (Step.LOOK_BACK_6, []),
    ],
)
def test_the_quiet_steps(step, wanted):
    assert keys(for_step(ROWS, step=step, animal=DEER)) == [*wanted, DEFER]


def test_thawing_names_what_drips():
    assert "raw.thaw" in keys(for_step(ROWS, step=Step.THAW, animal=DEER))


def test_no_caution_is_said_twice():
    for step, animal in itertools.product(Step, (RACCOON, DEER, BEAR, CROW)):
        found = keys(for_step(ROWS, step=step, animal=animal))
        assert len(found) == len(set(found))


STUFFS = (*(recipe.value for recipe in Recipe), "bleach", "white-spirit", "ethanol", "ethyl-acetate", "sulfuric-acid")


def _everything_that_can_be_said() -> set[str]:
    ways = [
        None,
        *(method(Step.KILL, chemical=chemical, place=place, temperature_c=exactly(90, "degC"), strength_w=strength)
          for chemical in ("", "acetone", "ammonia", "ethanol", "carbonate") for place in (PlaceKind.POT, PlaceKind.FREEZER)
          for strength in (None, exactly(0.03, "w/w"))),
    ]  # fmt: skip
    animals = (None, RACCOON, DEER, MOUSE, BEAR, COYOTE, CROW, DONKEY)
    found = {
        key
        for step, way, animal in itertools.product(Step, ways, animals)
        for key in keys(for_step(ROWS, step=step, method=way, animal=animal))
    }
    for target, stock, boils in itertools.product((0.03, 0.06, 0.1, 0.2), (0.04, 0.06, 0.3, 0.4, 0.6, 0.75), (True, False)):
        found |= set(keys(mix(target_w=target, stock_w=stock, boils=boils, temperature_c=35)))
    every = Holds(raw=True, undegreased=True, glued=True, metal=True, teeth=True)
    known = load_materials()
    for stuff, strength, warm, vessel, material, holds in itertools.product(
        STUFFS, (None, 0.03), (20, 55, 70, 99), (None, "iron"), (None, known["nylon"], known["iron"]),
        (Holds(), every, Holds(undegreased=True)),
    ):  # fmt: skip
        bath = BathFacts(stuff, strength, warm, vessel, material, holds, age_days=9)
        found |= set(keys(for_bath(ROWS, bath, (BEAR,))))
    care = PotCare(lid=False, cut_out=False, alone_days=0.4, in_kitchen=True)
    found |= set(keys(for_pot(ROWS, temperature_c=None, care=care)))
    found |= set(keys(for_box(ROWS, heated=True, bottles=True, cut=True, unvented=True)))
    found |= set(keys(for_colony(ROWS, raw=True, out=True, given=True, killed=True)))
    glued = Carried(adhesive=load_adhesives()["pva-dispersion"])
    for into, out_of in itertools.product(STUFFS, STUFFS):
        found |= set(keys(for_move(ROWS, into=into, out_of=out_of, carried=glued)))
    return found


def test_every_shipped_row_is_reached_and_every_key_a_rule_names_exists():
    assert _everything_that_can_be_said() == KEYS == set(ROWS)


def test_a_heated_box_says_fire_and_cut_out_and_a_cold_one_does_not():
    heated, cold = set(keys(for_box(ROWS, heated=True))), set(keys(for_box(ROWS, heated=False)))
    assert {"box.fire", "box.emitter", "box.lamp", "box.power", "box.dust"} <= heated
    assert not {"box.fire", "box.emitter", "box.bottles"} & cold
    assert "box.bottles" in keys(for_box(ROWS, heated=True, bottles=True, cut=True))


def test_a_card_cannot_be_made_without_its_cautions():
    assert Cautioned(cautions=mix()).cautions[-1].key == DEFER
    for missing in ((), mix()[:-1]):
        with pytest.raises(ValueError, match="must carry its cautions, and the last must defer"):
            Cautioned(cautions=missing)


def test_a_colony_that_is_thinned_is_never_let_go_and_its_surplus_is_frozen():
    found = keys(for_colony(ROWS, out=True, given=True, killed=True))
    assert {"box.dust", "colony.release", "colony.surplus", "colony.quarantine", "colony.wild", "box.lamp"} <= set(found)
    assert found[-1] == DEFER
