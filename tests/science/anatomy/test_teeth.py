"""Teeth from a formula, their codes, and reading a name back: against published counts and Triadan examples."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange, UnknownName
from bonebench.science.anatomy import (
    JAWS,
    KINDS,
    SIDES,
    Tooth,
    counts,
    from_triadan,
    numbered,
    quadrants,
    read_tooth,
    teeth_of,
    triadan,
)
from bonebench.science.anatomy.teeth import MOST

DOG = numbered({"I": (3, 3), "C": (1, 1), "P": (4, 4), "M": (2, 3)})
CAT = numbered({"I": (3, 3), "C": (1, 1), "P": (3, 2), "M": (1, 1)})
PUPPY = numbered({"I": (3, 3), "C": (1, 1), "P": (3, 3)}, milk=True)
HUMAN = {"I": (2, 2), "C": (1, 1), "P": (2, 2), "M": (3, 3)}
TEETH = st.builds(Tooth, st.sampled_from(JAWS), st.sampled_from(SIDES), st.sampled_from(KINDS), st.just(1), st.booleans()).flatmap(
    lambda t: st.integers(1, MOST[t.kind]).map(lambda n: Tooth(t.jaw, t.side, t.kind, n, t.milk))
)

# Open encyclopedia on dentition: "Teeth are numbered starting at 1 in each group, except the premolars which end at 4 ... the
# human teeth are I1, I2, C1, P3, P4, M1, M2, and M3"; 32 of them, and 20 milk teeth of formula 2.1.2.
HUMAN_QUARTER = ["I1", "I2", "C", "P3", "P4", "M1", "M2", "M3"]


def test_human_teeth_are_numbered_as_anatomists_number_them():
    human = numbered(HUMAN)
    assert [[tooth.place for tooth in row] for _, row in quadrants(human)] == [HUMAN_QUARTER] * 4
    assert len(teeth_of(human)) == 32
    assert len(teeth_of(numbered({"I": (2, 2), "C": (1, 1), "P": (2, 2)}, milk=True))) == 20


# Each line: the code in words of its source, the tooth as we write it, the three digits.
PUBLISHED = [
    ("ULC", 204, "equine dental proceedings: an upper left permanent canine is a 204"),
    ("ULdC", 604, "equine dental proceedings: deciduous is 604"),
    ("LLM2", 310, "equine dental proceedings: lower left 2nd molar is 310"),
    ("URP2", 106, "equine dental proceedings: the first upper right cheek tooth of a horse would be a 106"),
    ("URdP2", 506, "equine dental proceedings: or 506, deciduous"),
    ("URP1", 105, "Griffin 2009: wolf teeth, the first premolars, are Triadan 05"),
    ("LLP2", 306, "veterinary manual: in horses, the left lower second premolar is tooth 306"),
    ("LRM3", 411, "veterinary manual: the last molar on the right mandible is 411"),
    ("LLC", 304, "veterinary wiki: dog, mandibular left canine 304"),
    ("LLdC", 704, "veterinary wiki: 704 for the deciduous tooth"),
    ("LRM1", 409, "veterinary wiki: the mandibular right first molar is 409"),
    ("LLP4", 308, "veterinary wiki: cat, the second mandibular left premolar is 308"),
    ("URP4", 108, "veterinary wiki: the upper carnassials are the last premolars, 108 and 208"),
    ("ULP4", 208, "veterinary wiki: the upper carnassials are the last premolars, 108 and 208"),
    ("LLM1", 309, "veterinary wiki: the lower carnassials are the first molars, 309 and 409"),
]


@pytest.mark.parametrize(("code", "digits", "source"), PUBLISHED, ids=[source for _, _, source in PUBLISHED])
def test_triadan_codes_agree_with_published_examples(code, digits, source):
    tooth = read_tooth(code, ())
    assert (triadan(tooth), from_triadan(digits)) == (digits, tooth), source


# Zoo Animal Learning and Training, figure 15.9: the cat has 106 107 108 109 above and 307 308 309 below, and no 105, 305, 306.
def test_a_cat_s_missing_premolars_leave_gaps_in_the_codes():
    rows = {key: [triadan(tooth) for tooth in row] for key, row in quadrants(CAT)}
    assert rows["upper", "right"] == [101, 102, 103, 104, 106, 107, 108, 109]
    assert rows["lower", "left"] == [301, 302, 303, 304, 307, 308, 309]


def test_milk_teeth_stand_in_the_quarters_from_five_to_eight():
    assert {triadan(tooth) // 100 for tooth in teeth_of(PUPPY)} == {5, 6, 7, 8}
    assert len(teeth_of(PUPPY)) == 28  # a puppy's milk teeth: 2(i3/3 c1/1 p3/3) = 28, veterinary table as quoted


@given(TEETH)
def test_a_code_is_read_back_to_the_same_tooth(tooth):
    assert read_tooth(tooth.code, ()) == tooth
    assert read_tooth(f" {tooth.code.lower()} ", ()) == tooth


@given(TEETH)
def test_triadan_goes_there_and_back_wherever_it_has_a_place(tooth):
    digits = triadan(tooth)
    # The scheme is the pig's: three incisors, one canine, four premolars, three molars in a quarter.
    assert (digits is None) == (tooth.number > {"I": 3, "C": 1, "P": 4, "M": 3}[tooth.kind])
    if digits is not None:
        assert from_triadan(digits) == tooth


@given(st.fixed_dictionaries({kind: st.tuples(st.integers(0, MOST[kind]), st.integers(0, MOST[kind])) for kind in KINDS}))
def test_a_formula_makes_twice_its_sum_of_teeth_all_different(formula):
    teeth = teeth_of(numbered(formula))
    assert len(teeth) == 2 * sum(map(sum, formula.values())) == len({tooth.code for tooth in teeth})
    assert counts(numbered(formula)) == formula
    premolars = [tooth.number for tooth in teeth if tooth.kind == "P"]
    assert not premolars or max(premolars) == 4


READ = [
    ("ULP4", "ULP4"), ("ul p4", "ULP4"), ("UL-P4", "ULP4"), ("upper left P4", "ULP4"), ("P4 upper left", "ULP4"),
    ("left upper fourth premolar", "ULP4"), ("upper left 4th premolar", "ULP4"), ("208", "ULP4"), ("lower right canine", "LRC"),
    ("LRC1", "LRC"), ("UL pm4", "ULP4"), ("URdP3", "URdP3"), ("milk upper right premolar 3", "URdP3"), ("upper left P 4", "ULP4"),
    ("maxillary left premolar 4", "ULP4"), ("LLM1", "LLM1"), ("ULM3", "ULM3"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "code"), READ)
def test_a_tooth_is_read_as_people_write_it(text, code):
    assert read_tooth(text, teeth_of(DOG)).code == code


UNCLEAR = [
    ("P4", ("URP4", "ULP4", "LRP4", "LLP4")),
    ("left P4", ("ULP4", "LLP4")),
    ("LP4", ("ULP4", "LRP4", "LLP4")),  # L may be the lower jaw or the left side
    ("upper P4", ("URP4", "ULP4")),
    ("UL4", ("ULP4",)),  # the fourth tooth to one person, the fourth premolar to another
    ("upper left molar", ("ULM1", "ULM2")),
]


@pytest.mark.parametrize(("text", "could_be"), UNCLEAR)
def test_half_a_name_is_refused_with_the_teeth_it_could_be(text, could_be):
    with pytest.raises(UnknownName, match="does not say which tooth it is") as refused:
        read_tooth(text, teeth_of(DOG))
    assert refused.value.could_be == could_be
    assert ", ".join(could_be) in str(refused.value)


def test_half_a_name_is_enough_where_it_fits_one_tooth():
    assert read_tooth("upper left molar", teeth_of(CAT)).code == "ULM1"


@pytest.mark.parametrize("text", ["", "xx", "ULP9", "ULB4", "left left P4", "tusk", "12", "upper lower P4", "ULP4!", "ULP0", "é"])
def test_what_is_no_tooth_is_refused_with_how_to_write_one(text):
    with pytest.raises(UnknownName) as refused:
        read_tooth(text, teeth_of(DOG))
    assert refused.value.could_be or text == "upper lower P4"


def test_a_slip_is_answered_with_the_nearest_codes():
    with pytest.raises(UnknownName) as refused:
        read_tooth("ULB4", teeth_of(DOG))
    assert refused.value.could_be[0] == "ULP4"
    assert str(refused.value).startswith("'ULB4' is no tooth I can read; write it like ULP4, ")
    assert str(refused.value).endswith("U or L for the jaw, R or L for the animal's own side, then the tooth")


@pytest.mark.parametrize("digits", [0, 99, 100, 112, 199, 812, 900, 999])
def test_digits_that_are_no_triadan_code_are_refused(digits):
    with pytest.raises(UnknownName, match="is no Triadan code: the first digit is 1 to 8"):
        from_triadan(digits)


def test_a_count_no_animal_has_is_refused():
    with pytest.raises(OutsideRange, match="5 of P on one side of a jaw: no animal here has more than 4"):
        numbered({"P": (5, 0)})
    with pytest.raises(OutsideRange, match="-1 of I"):
        numbered({"I": (0, -1)})


@given(st.text(max_size=20))
def test_whatever_is_typed_is_a_tooth_or_refused_in_words(text):
    with suppress(UnknownName):
        assert read_tooth(text, teeth_of(DOG)).number >= 1
