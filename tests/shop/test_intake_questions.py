"""What follows from the answers at the door; the questions are the shipped ones where nothing else is said."""

import itertools

import pytest

from bonebench.figures import Standing
from bonebench.reference.intake import load_questions
from bonebench.shop.intake import Outcome, Question, hold_reason, holds, treated

SHIPPED = load_questions()
CALM = {"bite": "no", "drug": "no"}


def question(key: str = "salted", *, must_ask: bool = False, yes: Outcome | None = None) -> Question:
    return Question(
        key=key, text="Salt?", why="They starve", must_ask=must_ask,
        yes=yes or Outcome("it was salted", "the owner", "soak it at {cold:temperature}", treated=True),
        unknown=Outcome("nobody knows", "the owner", "wait"), source="us", standing=Standing.PRACTICE, values={"cold": 4},
    )  # fmt: skip


ONE = {"salted": question()}


def test_yes_holds_it_and_says_why_whom_to_ask_and_what_to_do():
    (hold,) = holds({"salted": "yes"}, ONE)
    assert (hold.reason.text, hold.ask.text, hold.route.text) == ("it was salted", "the owner", "soak it at 4 °C")
    assert (hold.question, hold.answer, hold.asked) == ("salted", "yes", True)
    assert hold.reason.key == "intake.salted.yes.hold"


def test_nobody_knows_holds_it_too_and_no_does_not():
    assert [hold.reason.text for hold in holds({"salted": "unknown"}, ONE)] == ["nobody knows"]
    assert holds({"salted": "no"}, ONE) == ()


def test_silence_holds_only_what_must_be_asked():
    assert holds({}, ONE) == ()
    (hold,) = holds({}, {"drug": question("drug", must_ask=True)})
    assert (hold.reason.text, hold.answer, hold.asked) == ("nobody asked at the door: nobody knows", "unknown", False)


def test_an_answer_nobody_can_read_counts_as_unknown():
    assert [hold.answer for hold in holds({"salted": "perhaps"}, ONE)] == ["unknown"]


def test_a_worry_about_a_question_this_version_does_not_ask_is_not_dropped():
    (hold,) = holds({"radium": "yes", "lead": "no"}, ONE)
    assert hold.reason.text == "'radium' was answered with yes; this version does not ask that"
    assert hold.ask.text == "ask whoever took it in"
    assert hold.route.text == "leave it where it is, bagged and cold, until somebody has asked"


def test_only_two_questions_must_be_asked_so_that_two_taps_take_a_piece_in():
    assert [key for key, one in SHIPPED.items() if one.must_ask] == ["bite", "drug"]
    assert holds(CALM, SHIPPED) == ()
    assert not treated(CALM, SHIPPED)


def test_silence_about_bite_and_drug_holds_it():
    assert [hold.question for hold in holds({}, SHIPPED)] == ["bite", "drug"]
    assert treated({}, SHIPPED)


def test_a_head_that_may_be_tested_for_rabies_stays_out_of_the_freezer():
    # Health departments (a state and two counties of the US): keep cold, do not freeze.
    first, insects = holds({**CALM, "bite": "yes", "insects": "yes"}, SHIPPED)
    assert "do not freeze it" in first.route.text
    assert first.ask.text.startswith("the health department, today")
    assert insects.route.text == (
        "not into the freezer yet; first the answer to: Did it bite or scratch a person or pet, act oddly, or look sick before "
        "it died? Two sealed bags, kept cold, away from the box"
    )


def test_maggots_on_an_animal_nobody_was_bitten_by_go_into_the_freezer_at_once():
    # NPS Conserve O Gram (R145): 6-10 days at -20 °C; a museum: one week (R147).
    (hold,) = holds({**CALM, "insects": "yes"}, SHIPPED)
    assert hold.route.text.startswith("bag it and freeze it at once, 7 days at -20 °C or colder, before anything else")


@pytest.mark.parametrize("key", ["drug", "salted", "borax", "preserved", "found-dead"])
def test_what_may_harm_the_colony_is_treated_even_when_nobody_knows(key):
    assert treated({**CALM, key: "yes"}, SHIPPED)
    assert treated({**CALM, key: "unknown"}, SHIPPED)


@pytest.mark.parametrize("key", ["bite", "insects", "papers"])
def test_what_harms_people_or_law_alone_does_not_call_the_piece_treated(key):
    assert not treated({**CALM, key: "yes"}, SHIPPED)


@pytest.mark.parametrize("key", ["drug", "borax", "preserved"])
def test_poison_never_goes_to_the_beetles(key):
    (hold,) = holds({**CALM, key: "yes"}, SHIPPED)
    assert hold.route.text.startswith("never to the beetles")


def test_every_yes_and_unknown_holds_and_no_words_give_an_all_clear():
    for key, answer in itertools.product(SHIPPED, ("yes", "unknown")):
        (hold,) = holds({**CALM, key: answer}, SHIPPED)
        words = " ".join(said.text for said in (hold.reason, hold.ask, hold.route)).casefold()
        assert hold.question == key
        assert not any(clear in words for clear in ("safe to", "is safe", "legal", "harmless", "all clear"))


def test_the_reasons_go_into_the_log_as_one_line():
    found = holds({**CALM, "salted": "yes", "papers": "unknown"}, SHIPPED)
    assert hold_reason(found) == "it was salted; nobody has seen its papers"
    assert hold_reason(()) is None


def test_the_text_and_reason_of_a_question_can_be_said():
    one = SHIPPED["insects"]
    assert one.say("why", one.why).text.startswith("Wild beetles carry mites")
