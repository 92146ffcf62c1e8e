"""The teeth of a specimen told from its entries, what is flagged, and which teeth an age stands for."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.shop.bath_entries import BathDiscarded, WaterChanged
from bonebench.shop.entries import Void, specimen_subject
from bonebench.shop.teeth import teeth_flags
from bonebench.shop.teeth_age import dentition_at
from bonebench.shop.teeth_entries import JarChanged, JarCounted, TeethMarked, ToothState

from .logbook import FOX, entry, fox

WHOLE = specimen_subject(FOX)
LOOSE, JAR, MISSING, GLUED = ToothState.LOOSE, ToothState.IN_JAR, ToothState.MISSING_NOW, ToothState.GLUED


def told(*whats):
    return fox(*(entry(number, what) for number, what in enumerate(whats, 1))).teeth


def keys(teeth, *, gluing=False):
    return [flag.what.key.removeprefix("flag.teeth.") for flag in teeth_flags("K7Q-K", teeth, gluing=gluing)]


def test_many_teeth_are_marked_in_one_entry_and_the_last_word_counts():
    teeth = told(TeethMarked({"ULP4": LOOSE, "URC": LOOSE}), TeethMarked({"ULP4": JAR}))
    assert (teeth.of("ULP4"), teeth.of("URC"), teeth.of("URI1")) == (JAR, LOOSE, None)


def test_all_the_others_are_those_without_a_mark_of_their_own():
    teeth = told(TeethMarked({"ULP4": LOOSE}), TeethMarked({}, ToothState.IN_PLACE))
    assert (teeth.of("ULP4"), teeth.of("URI1")) == (LOOSE, ToothState.IN_PLACE)


def test_the_jar_counts_what_goes_in_and_out_and_a_count_sets_it_right():
    assert told().jar is None
    assert told(JarChanged(1), JarChanged(2), JarChanged(-1)).jar == 2
    assert told(JarChanged(1), JarCounted(5), JarChanged(1)).jar == 6


@pytest.mark.parametrize("poured", [WaterChanged, BathDiscarded])
def test_teeth_found_when_a_bath_was_poured_go_into_the_jar_of_the_skull_they_are_of(poured):
    mine, other = poured(sieved=True, teeth=2, whose=WHOLE), poured(sieved=True, teeth=2, whose="specimen:other")
    assert told(JarCounted(1), mine).jar == 3
    assert told(JarCounted(1), other, poured(sieved=True, teeth=0, whose=WHOLE), poured(sieved=True, teeth=2)).jar == 1


def test_what_was_taken_back_counts_for_nothing():
    assert told(TeethMarked({"ULP4": LOOSE}), Void("e001")).marks == {}


def test_marks_that_arrive_in_any_order_make_the_same_chart():
    entries = [entry(1, TeethMarked({"ULP4": LOOSE})), entry(2, TeethMarked({"ULP4": JAR})), entry(3, JarCounted(1))]
    assert fox(*entries).teeth == fox(*reversed(entries)).teeth


@given(st.lists(st.one_of(st.builds(JarChanged, by=st.integers(-9, 9)), st.builds(JarCounted, count=st.integers(0, 9)))))
def test_the_jar_balances(whats):
    last = max((at for at, what in enumerate(whats) if isinstance(what, JarCounted)), default=-1)
    counted = whats[last].count if last >= 0 else 0
    assert (told(*whats).jar or 0) == counted + sum(what.by for what in whats[last + 1 :])


FLAGGED = [
    ((), []),
    ((TeethMarked({"ULP4": JAR}), JarCounted(1)), []),
    ((TeethMarked({"ULP4": JAR}),), ["jar_less"]),
    ((TeethMarked({"ULP4": JAR}), JarCounted(0)), ["jar_less"]),
    ((JarCounted(2),), ["jar_more"]),
    ((TeethMarked({"ULP4": MISSING}),), ["missing"]),
    ((TeethMarked({"ULP4": MISSING}), JarCounted(1)), ["missing", "found"]),
    ((JarChanged(-1),), ["below"]),
    ((TeethMarked({"ULP4": ToothState.MISSING_BEFORE}),), []),
    ((TeethMarked({"ULP4": GLUED}), JarCounted(0)), []),
]


@pytest.mark.parametrize(("whats", "flagged"), FLAGGED)
def test_jar_and_chart_have_to_agree_and_no_tooth_may_be_missing(whats, flagged):
    assert keys(told(*whats)) == flagged


def test_glue_before_a_missing_tooth_is_found_is_flagged_with_where_to_look():
    (flag,) = teeth_flags("K7Q-K", told(TeethMarked({"ULP4": MISSING, "URI1": MISSING})), gluing=True)
    assert flag.what.text == "it is at the glue while teeth are unaccounted for: ULP4, URI1"
    assert flag.next.text.startswith("look for them first, in the sieve, the bag, the frass and the drain trap")


def test_a_skull_that_goes_out_with_teeth_in_its_jar_is_flagged():
    teeth = told(TeethMarked({"ULP4": JAR}), JarCounted(1))
    (flag,) = teeth_flags("K7Q-K", teeth, gluing=False, leaving=True)
    assert (flag.what.text, flag.next.text) == (
        "it is about to go out, and its jar holds 1 tooth", "glue them in, or send the jar with it",
    )  # fmt: skip
    assert list(teeth_flags("K7Q-K", told(JarCounted(0)), gluing=False, leaving=True)) == []


def test_many_missing_teeth_are_counted_and_not_listed():
    (flag,) = teeth_flags("K7Q-K", told(TeethMarked({f"UR{n}": MISSING for n in range(9)})), gluing=False)
    assert "9 teeth" in flag.what.text


# Years by when all permanent teeth stand: deer 2.5 (wildlife page), goats 4 (goat extension page), horses 5 (Craig 1915).
AGES = [
    (None, 1, "permanent"), ("", 1, "permanent"), ("adult", 1, "permanent"), ("old male", 1, "permanent"),
    ("8 years", 1, "permanent"), ("pup", 1, "changing"), ("young of the year", 1, "changing"), ("juvenile", 1, "changing"),
    ("subadult", 1, "changing"), ("6 months", 1, "changing"), ("10 weeks", 1, "changing"), ("14 months", 1, "permanent"),
    ("milk teeth", 1, "milk"), ("newborn", 4, "milk"), ("fawn", 2.5, "changing"), ("1.5 years", 2.5, "changing"),
    ("2,5 years", 2.5, "permanent"), ("1½", 4, "permanent"), ("3 yrs", 4, "changing"), ("5 yrs", 4, "permanent"),
    ("3 y", 5, "changing"), ("6 y", 5, "permanent"), ("young adult", 1, "permanent"), ("1/2 year", 1, "changing"),
    ("1/0 years", 1, "changing"), ("yearling", 2.5, "changing"), ("2-year-old", 2.5, "changing"),
]  # fmt: skip


@pytest.mark.parametrize(("age", "full_mouth_years", "dentition"), AGES)
def test_an_age_in_words_says_which_teeth_to_expect(age, full_mouth_years, dentition):
    assert dentition_at(age, full_mouth_years) == dentition


@given(st.text(max_size=30))
def test_whatever_was_written_as_an_age_some_teeth_are_expected(age):
    assert dentition_at(age) in ("permanent", "milk", "changing")
