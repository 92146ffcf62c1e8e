"""What is said at the door: read into one entry, or refused before a tag is used up."""

from datetime import date

import pytest

from bonebench.errors import InputError, NotAQuantity, OutsideRange
from bonebench.services.specimens.intake import Intake, read_day, received_of


def received(**said):
    return received_of(Intake("red fox", **said), tag="K7Q-K", species="red-fox", owner="p1")


def test_what_was_said_is_kept_in_si():
    what = received(live_mass="10 lb", head_mass="14 oz", sex="male", promised="2026-06-01", permit="A 12", measure=True)
    # The international pound by definition, 0.45359237 kg; 14 of its 16 ounces.
    assert (what.live_mass_kg, what.head_mass_kg) == (pytest.approx(4.5359237), pytest.approx(0.45359237 * 14 / 16))
    assert (what.tag, what.species, what.owner, what.sex) == ("K7Q-K", "red-fox", "p1", "male")
    assert (what.promised, what.permit, what.measure, what.finish) == (date(2026, 6, 1), "A 12", True, "white")


def test_nothing_but_the_species_need_be_said():
    what = received()
    assert (what.live_mass_kg, what.head_mass_kg, what.promised, what.parts) == (None, None, None, ("skull", "mandible"))


@pytest.mark.parametrize("text", ["antlers", " Antlers ,", "skull, antlers", "ANTLERS"])
def test_parts_are_added_once_and_in_small_letters_so_that_antlers_stay_dry(text):
    assert received(parts=text).parts == ("skull", "mandible", "antlers")


WORDS = [
    ({"live_mass": "0 kg"}, OutsideRange, "the live animal is 0 kg; no animal weighs that"),
    ({"head_mass": "9000 kg"}, OutsideRange, "the head is 9000 kg; no animal weighs that"),
    ({"head_mass": "heavy"}, NotAQuantity, "'heavy' is not a mass; write it like 350 g or 3 lb"),
    ({"head_mass": "-1 kg"}, OutsideRange, "mass is -1 kg; it cannot be that small"),
    ({"live_mass": "3 kg", "head_mass": "3 kg"}, OutsideRange, "the head is 3 kg and the whole animal 3 kg; a head weighs less"),
    ({"finish": "purple"}, InputError, "'purple' is no finish; it is white or natural"),
    ({"promised": "June"}, NotAQuantity, "'June' is not a day; write it like 2026-05-09"),
    ({"promised": "2026-02-30"}, NotAQuantity, "'2026-02-30' is not a day; write it like 2026-05-09"),
]


@pytest.mark.parametrize(("said", "kind", "words"), WORDS)
def test_what_cannot_be_is_refused_in_words(said, kind, words):
    with pytest.raises(kind) as refused:
        received(**said)
    assert str(refused.value) == words


def test_a_day_that_is_not_said_is_none():
    assert (read_day(None), read_day(""), read_day("2026-05-09")) == (None, None, date(2026, 5, 9))


def test_a_plain_form_leaves_empty_fields_unsaid_and_ignores_what_it_does_not_know():
    intake = Intake.from_form({"species": "red fox", "owner": "", "measure": "yes", "button": "Add", "head_mass": "1 lb"})
    assert intake == Intake("red fox", head_mass="1 lb", measure=True)
    assert Intake.from_form({"measure": "no"}) == Intake("")
