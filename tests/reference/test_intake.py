"""The shipped questions at the door, and what their loader refuses."""

import pytest

from bonebench.errors import FileFault
from bonebench.reference.intake import load_questions, read_questions

QUESTIONS = load_questions()

ROW = """[salted]
text = "Salt?"
why = "They starve"
source = "us"
standing = "practice"
values = { cold = 4 }
yes = { hold = "it was salted", ask = "the owner", route = "soak it at {cold:temperature}", treated = true }
unknown = { hold = "nobody knows", ask = "the owner", route = "wait", freezes = true }
"""


def test_the_door_asks_after_everything_that_can_harm_people_colony_or_law():
    assert list(QUESTIONS) == ["bite", "drug", "insects", "salted", "borax", "preserved", "found-dead", "papers"]
    assert load_questions() is QUESTIONS


def test_every_question_is_short_enough_to_be_asked_and_its_sentences_can_be_filled():
    for key, one in QUESTIONS.items():
        assert len(one.text) <= 90, key
        assert one.text.endswith("?"), key
        for outcome in (one.yes, one.unknown):
            for text in (outcome.hold, outcome.ask, outcome.route):
                assert 0 < len(one.say("any", text).text) <= 230, key


def test_a_row_is_read_as_it_stands():
    one = read_questions(ROW)["salted"]
    assert (one.must_ask, one.yes.treated, one.yes.freezes, one.unknown.freezes, one.unknown.no_freezer) == (
        False, True, False, True, False,
    )  # fmt: skip
    assert one.say("route", one.yes.route).text == "soak it at 4 °C"


FAULTS = [
    ('why = "They starve"\n', "", "salted.why: is missing"),
    ('why = "They starve"', 'why = ""', "salted.why: must be words between quotes, and not empty"),
    ('why = "They starve"', 'why = "They {do}"', "salted.why: the hole 'do' is filled by nothing; put it in values"),
    ('text = "Salt?"', 'text = "Salt at {cold}?"', "salted.text: the hole 'cold' is filled by nothing; put it in values"),
    ('text = "Salt?"', 'text = "Salt?"\nloud = true', "salted.loud: is no field here; it has text, why,"),
    ('text = "Salt?"', 'text = "Salt?"\nmust_ask = "yes"', "salted.must_ask: 'yes' is neither true nor false"),
    ('"practice"', '"gossip"', "salted.standing: 'gossip' is not known; use one of room, published,"),
    ('hold = "nobody knows", ', "", "salted.unknown.hold: is missing"),
    ("treated = true", "no_freezer = 1", "salted.yes.no_freezer: '1' is neither true nor false"),
    (
        "freezes = true", "freezes = true, no_freezer = true",
        "salted.unknown.no_freezer: it cannot both go into the freezer and stay out of it; choose one",
    ),
    (
        'yes = { hold = "it was salted", ask = "the owner", route = "soak it at {cold:temperature}", treated = true }',
        'yes = "hold it"', "salted.yes: must be a table of its own",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "words"), FAULTS)
def test_a_bad_row_is_named_with_its_field(old, new, words):
    assert old in ROW
    with pytest.raises(FileFault) as fault:
        read_questions(ROW.replace(old, new, 1))
    assert str(fault.value).startswith(f"intake.toml, {words}")
    assert fault.value.path == words.partition(":")[0]


def test_a_file_that_is_no_toml_says_where_it_breaks():
    with pytest.raises(FileFault, match=r"^intake.toml cannot be read: .*line 1"):
        read_questions("salted = = 1")
