"""Species through the door: the record with the standing of every value, and the room's own word over the shipped one."""

import pytest

from bonebench.door import NoBook
from bonebench.errors import BonebenchError, Impossible, OutsideRange, UnknownName
from bonebench.figures import Standing

from .hands import take_in


def value(card, name):
    return next(one for one in card.values if one.name == name)


def test_every_value_of_a_species_shows_its_standing_and_source(desk):
    card = desk.species("Vulpes vulpes")
    assert (card.key, card.common, card.own) == ("red-fox", "red fox", False)
    assert {one.standing for one in card.values} <= {str(standing) for standing in Standing}
    assert all(one.source for one in card.values)
    # A red fox has 42 teeth: I3/3 C1/1 P4/4 M2/3 (any mammalogy text; the species table names its own source).
    assert value(card, "teeth").text.endswith("= 42")
    assert card.cautions[-1].key == "defer"


def test_the_list_holds_all_species_or_those_that_answer(desk):
    names = [row.common for row in desk.species_list("").rows]
    assert len(names) > 80
    assert names == sorted(names, key=str.casefold)
    assert {"red fox", "gray fox"} <= {row.common for row in desk.species_list("fox").rows}
    assert [row.common for row in desk.species_list("red fix").rows] == ["red fox"]


def test_the_rooms_own_figure_wins_and_says_so(door):
    before = take_in(door).basis[0]
    card = door.set_species("red fox", ["body_mass_kg=10", "grease_class=4"])
    mass = value(card, "body mass")
    assert (mass.value, mass.standing, card.own) == (10, "measured in this room", True)
    assert value(card, "grease class").text == "4 of 5"
    assert value(card, "teeth").standing != "measured in this room"
    assert take_in(door).basis[0].low > before.low


def test_the_rooms_grease_class_changes_the_days_in_the_pot(desk):
    tag = take_in(desk).tag
    desk.set_species("red fox", ["grease_class=5"])
    # common practice, no source: class 5 takes about 90 days in warm detergent (bench.md 2.1).
    assert next(leg.days_p50 for leg in desk.specimen(tag).route if leg.step == "degrease") == 90


def test_a_species_nobody_ships_is_made_like_a_known_one(door):
    card = door.set_species("Marsh fox", ["body_mass_kg=6", "like=red fox"])
    assert (card.key, card.common, card.own) == ("marsh-fox", "Marsh fox", True)
    assert value(card, "body mass").standing == "measured in this room"
    assert value(card, "head as it comes in").standing == "estimate"
    assert door.specimen(take_in(door, "marsh fox").tag).species.common == "Marsh fox"


REFUSED = [
    ("unicorn", ["body_mass_kg=6"], UnknownName, "no species 'unicorn' is known, nor one like it;"),
    ("Marsh fox", ["like=red fox"], BonebenchError, "a new species needs a body mass; give body_mass_kg, and I can work with it"),
    ("red fox", ["body_mass_kg=-1"], OutsideRange, "body mass is -1 kg; it has to be above zero and no more than 7000 kg"),
    ("red fox", ["body_mass_kg=nan"], BonebenchError, "body mass is 'nan'; write a number"),
    ("red fox", ["grease_class=9"], OutsideRange, "grease class is 9; it has to be a whole number from 1 to 5"),
    ("red fox", ["wings=2"], UnknownName, "a species has no 'wings'"),
    ("red fox", ["tissue_share=0.4", "head_share=0.1"], Impossible, "the tissue left after trimming, 40 % of the body,"),
    ("red fox", ["body_mass_kg"], BonebenchError, "'body_mass_kg' says nothing; write it like name=value"),
]


def test_a_figure_that_cannot_be_is_refused_in_words_and_changes_nothing(desk):
    before = desk.species("red fox")
    for name, pairs, kind, words in REFUSED:
        with pytest.raises(kind) as refused:
            desk.set_species(name, pairs)
        assert str(refused.value).startswith(words)
    assert desk.species("red fox") == before


def test_figures_are_written_in_the_readers_units(desk):
    desk.set_species("red fox", ["body_mass_kg=4.5359237"])
    assert value(desk.species("red fox"), "body mass").text.startswith("4.54 kg")
    desk.describe_room("Room", "UTC", "us")
    # Ten pounds, by the definition of the pound.
    assert value(desk.species("red fox"), "body mass").text.startswith("10 lb")


def test_without_a_book_the_shipped_species_can_be_read(now):
    shown = NoBook(clock=lambda: now)
    assert shown.species("red fox").common == "red fox"
    assert len(shown.species_list("").rows) > 80
    assert shown.reader().system == "metric"


def test_figures_of_the_rooms_own_that_cannot_be_used_are_said_and_the_shipped_ones_stay():
    from bonebench.services.known import known_in
    from bonebench.shop.room import Room

    known = known_in(Room(species={"red-fox": {"body_mass_kg": -3.0}}))
    (flag,) = known.flags
    assert flag.what.text.startswith("the room's own figures for red-fox cannot be used: ")
    assert known.species["red-fox"].body_mass_kg.value > 0
