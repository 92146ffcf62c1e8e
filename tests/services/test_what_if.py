"""What would be otherwise, on a real book: side by side, with names for keys, and nothing kept."""

import pytest

from bonebench.errors import OutsideRange, UnknownName
from bonebench.files.whatif_toml import Otherwise, what_if_of
from bonebench.services.what_if.do import Asked, for_what_if, worked

from .hands import flags, take_in


def ask(door, *changes, moves=20):
    return worked(Asked(changes, moves), door.read(for_what_if))


def crowd(door, count=4):
    """One pot that takes one head, and so many foxes that want it."""
    door.set_place(key=next(p.key for p in door.room().places if p.kind == "pot"), kind="pot", holds=1)
    return [take_in(door, promised="2026-06-01").tag for _ in range(count)]


POT = Otherwise(name="one more pot", more={"pot": 1})


def test_one_more_pot_lets_a_crowd_through_sooner_and_names_the_pieces_it_moves(desk):
    tags = crowd(desk, 6)
    as_it_is, more = ask(desk, POT).sides
    assert (as_it_is.name, as_it_is.verdict) == ("as it is", None)
    assert more.mean_days < as_it_is.mean_days
    assert more.last_through <= as_it_is.last_through
    assert more.moved[0].specimen in tags
    assert more.moved[0].days == (more.moved[0].after - more.moved[0].before).days < 0
    assert f"{more.moved[0].specimen}, red fox: " in more.moved[0].words.text
    assert more.changes[0].text == "1 more pot, like the one there is"


def test_a_change_that_does_not_bind_is_said_to_change_nothing(desk):
    take_in(desk)
    as_it_is, more = ask(desk, POT).sides
    assert (more.mean_days, more.moved) == (as_it_is.mean_days, ())
    assert more.verdict.key == "what_if.not_it"


def test_nothing_in_the_book_is_changed(desk):
    crowd(desk)
    desk.make_current(desk.now())
    before = desk.plan(90)
    ask(desk, POT, Otherwise(name="plain", without=("whitening",)))
    assert desk.plan(90) == before


def test_without_whitening_a_piece_is_through_sooner_and_the_owner_is_to_be_asked(desk):
    crowd(desk, 2)
    card = ask(desk, Otherwise(name="plain", without=("whitening",)))
    assert card.sides[1].mean_days < card.sides[0].mean_days - 1
    assert "what_if.plain" in flags(card)


def test_what_changes_nothing_for_want_of_knowledge_says_so(desk):
    take_in(desk)
    (later,) = what_if_of('[[change]]\nname = "later"\nno_new_before = 2026-08-01\n')
    card = ask(desk, Otherwise(name="hungry", appetite=1.5), later)
    assert {"what_if.no_appetite", "what_if.nobody_comes"} <= set(flags(card))


def test_longer_hours_are_of_a_person_of_the_room_by_name(desk):
    desk.set_person("Ada", ["mon 09:00-10:00"], "all")
    take_in(desk)
    card = ask(desk, Otherwise(name="longer", longer={"ada": 120.0}))
    assert card.sides[1].changes[0].text == "ada stays 2 h longer each day"
    with pytest.raises(UnknownName, match="nobody who works here is called 'Bo'; known are Ada"):
        ask(desk, Otherwise(name="longer", longer={"Bo": 60.0}))


def test_a_place_there_is_none_of_and_effort_that_cannot_be_are_refused_in_words(desk):
    for place in desk.room().places:
        if place.kind == "tub":
            desk.set_place(key=place.key, kind="tub", open=False)
    with pytest.raises(UnknownName, match="there is no open tub in the room"):
        ask(desk, Otherwise(name="tub", more={"tub": 1}))
    with pytest.raises(OutsideRange, match="-1 orders were asked for; it is 0 to 20000"):
        ask(desk, POT, moves=-1)


def test_an_empty_room_has_nothing_to_lay_side_by_side(desk):
    card = ask(desk, POT)
    assert [(side.late_pieces, side.last_through, side.mean_days) for side in card.sides] == [(0, None, None)] * 2
    assert card.sides[1].verdict.key == "what_if.nothing"
