"""What a room may say of a species, and what it may not."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, InputError, OutsideRange, UnknownName
from bonebench.figures import Standing
from bonebench.reference.species import load_species
from bonebench.shop.species import head_mass, read_formula, slug, species_from_values, tissue_mass, with_overrides

SPECIES = load_species()
COYOTE = SPECIES["coyote"]
JACKAL = {"common_name": "golden jackal", "body_mass_kg": 10.0, "like": "coyote"}


def test_a_room_value_wins_and_says_that_it_is_the_rooms() -> None:
    own = with_overrides(COYOTE, {"body_mass_kg": 15, "grease_class": 3, "zoonosis_note": "rabies seen here", "teeth": None})
    assert (own.body_mass_kg.value, own.body_mass_kg.standing) == (15, Standing.ROOM)
    assert (own.grease_class, own.grease_standing) == (3, Standing.ROOM)
    assert own.zoonosis_note.standing is Standing.ROOM
    assert own.own
    assert own.teeth == COYOTE.teeth
    assert not COYOTE.own


@given(st.floats(0.001, 7000))
def test_a_bare_number_keeps_the_relative_width_of_the_range(mass: float) -> None:
    figure, old = with_overrides(COYOTE, {"body_mass_kg": mass}).body_mass_kg, COYOTE.body_mass_kg
    # The same ratio by construction; the tolerance is for floating point.
    assert figure.high / figure.low == pytest.approx(old.high / old.low)
    assert figure.low <= figure.value <= figure.high


def test_a_formula_of_the_room_counts_its_teeth() -> None:
    # R39 dog: twice 3+3+1+1+4+4+2+3 is 42.
    own = with_overrides(COYOTE, {"teeth": "i3/3 c1/1 p4/4 m2/3", "total_teeth": 42})
    assert own.total_teeth == 42
    assert own.teeth.formula == COYOTE.teeth.formula
    assert with_overrides(COYOTE, {"total_teeth": 40}).total_teeth == 40
    assert with_overrides(COYOTE, {"total_teeth": 0}).teeth.written == "none"


def test_other_names_are_split_at_semicolons() -> None:
    assert with_overrides(COYOTE, {"other_names": "prairie wolf; brush wolf;"}).other_names == ("prairie wolf", "brush wolf")


def test_a_value_that_was_never_known_has_no_range_of_its_own() -> None:
    sheep = with_overrides(SPECIES["bighorn-sheep"], {"brain_mass_kg": 0.2})
    assert sheep.brain_mass_kg is not None
    assert (sheep.brain_mass_kg.low, sheep.brain_mass_kg.high, sheep.brain_mass_kg.unit) == (0.2, 0.2, "kg")


def test_a_new_species_takes_what_is_not_said_from_the_one_it_is_like_as_an_estimate() -> None:
    jackal = species_from_values("golden-jackal", JACKAL, SPECIES)
    assert (jackal.key, jackal.common_name, jackal.scientific_name, jackal.own) == ("golden-jackal", "golden jackal", "", True)
    assert jackal.body_mass_kg.standing is Standing.ROOM
    assert (jackal.head_share.standing, jackal.head_share.source) == (Standing.ESTIMATE, "taken from coyote")
    assert (jackal.grease_class, jackal.grease_standing) == (2, Standing.ESTIMATE)
    assert (jackal.total_teeth, jackal.teeth.standing) == (42, Standing.ESTIMATE)
    assert jackal.brain_mass_kg is None


def test_lengths_of_a_new_species_grow_with_the_cube_root_of_its_mass() -> None:
    # Same shape: eight times the mass is twice the length. Exact but for floating point.
    giant = species_from_values("giant", {**JACKAL, "body_mass_kg": 8 * COYOTE.body_mass_kg.value}, SPECIES)
    assert giant.skull_length_m is not None
    assert COYOTE.skull_length_m is not None
    assert giant.skull_length_m.value == pytest.approx(2 * COYOTE.skull_length_m.value)


def test_a_new_species_without_a_noted_law_says_to_ask() -> None:
    flag = species_from_values("golden-jackal", JACKAL, SPECIES).legal_flag
    assert flag is not None
    assert flag.text == "not looked up; ask the wildlife agency before it comes in"


def test_masses_of_head_and_tissue_are_shares_of_the_body() -> None:
    # 13 kg times the middle of 6-9 % and of 1.4-2.5 %, by hand.
    assert head_mass(COYOTE).value == pytest.approx(13 * 0.075)
    assert tissue_mass(COYOTE).value == pytest.approx(13 * 0.0195)
    assert head_mass(COYOTE).standing is Standing.ESTIMATE


def test_a_key_is_plain_letters() -> None:
    assert slug("  Grévy’s Zebra (mare) ") == "grevys-zebra-mare"


@pytest.mark.parametrize(
    ("values", "kind", "words"),
    [
        ({"body_mass_kg": -3}, OutsideRange, "body mass is -3 kg; it has to be above zero and no more than 7000 kg"),
        ({"skull_length_m": 190.0}, OutsideRange, "skull length is 190 m; it has to be above zero and no more than 1.5 m"),
        ({"head_share": 7.5}, OutsideRange, "head share of the body is 750 %; it has to be above zero and no more than 50 %"),
        ({"body_mass_kg": "heavy"}, InputError, "body mass is 'heavy'; write a number"),
        ({"body_mass_kg": True}, InputError, "body mass is 'True'; write a number"),
        ({"body_mass_kg": math.nan}, InputError, "body mass is 'nan'; write a number"),
        ({"grease_class": 6}, OutsideRange, "grease class is 6; it has to be a whole number from 1 to 5"),
        ({"total_teeth": 41.5}, OutsideRange, "number of teeth is 41.5; it has to be a whole number from 0 to 260"),
        ({"total_teeth": math.inf}, OutsideRange, "number of teeth is inf; it has to be a whole number from 0 to 260"),
        ({"common_name": " "}, InputError, "common_name is ' '; write it in words"),
        ({"order": 4}, InputError, "order is '4'; write it in words"),
        ({"teeth": "42"}, InputError, "'42' is not a dental formula; write one side like I3/3 C1/1 P4/4 M2/3"),
        ({"body_mas_kg": 4}, UnknownName, "a species has no 'body_mas_kg'; did you mean body_mass_kg?"),
        (
            {"teeth": "I3/3 C1/1 P4/4 M2/3", "total_teeth": 40},
            Impossible,
            "the formula I3/3 C1/1 P4/4 M2/3 x2 = 42 does not make 40 teeth; give one of the two",
        ),
        (
            {"tissue_share": 0.1},
            Impossible,
            "the tissue left after trimming, 10 % of the body, has to be less than the head, 7.5 %",
        ),
        (
            {"zygomatic_width_m": 0.3},
            Impossible,
            "the width across the cheeks, 300 mm, is not less than the skull length, 190 mm",
        ),
    ],
)
def test_nonsense_is_refused_in_plain_words(values: dict[str, object], kind: type[InputError], words: str) -> None:
    with pytest.raises(kind) as fault:
        with_overrides(COYOTE, values)
    assert str(fault.value) == words


@pytest.mark.parametrize(
    ("without", "words"),
    [
        ("common_name", "a new species needs a common name; give common_name, and I can work with it"),
        ("body_mass_kg", "a new species needs a body mass; give body_mass_kg, and I can work with it"),
        ("like", "a new species needs a species it is like; give like, and I can work with it"),
    ],
)
def test_a_new_species_says_what_it_still_needs(without: str, words: str) -> None:
    with pytest.raises(InputError) as fault:
        species_from_values("golden-jackal", {**JACKAL, without: None}, SPECIES)
    assert str(fault.value) == words
    assert fault.value.path == without


def test_a_model_nobody_knows_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(UnknownName) as fault:
        species_from_values("golden-jackal", {**JACKAL, "like": "coyotte"}, SPECIES)
    assert str(fault.value) == "no species 'coyotte' is known; did you mean coyote?"


def test_a_formula_is_read_with_or_without_spaces() -> None:
    assert read_formula("I 0/3 C0/1 P3/3 M 3/3") == {"I": (0, 3), "C": (0, 1), "P": (3, 3), "M": (3, 3)}
