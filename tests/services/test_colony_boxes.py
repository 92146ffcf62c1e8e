"""The settings of a beetle box: entries of the room, refused where they cannot be, kept when the place is set again."""

import pytest

from bonebench.door import BoxTyped
from bonebench.errors import BonebenchError
from bonebench.services.colony.boxes import boxes


def card(desk):
    return desk.read(lambda tx, _: boxes(tx)).boxes[0]


def test_nothing_set_names_what_is_taken(desk):
    assert [fact.value.key for fact in card(desk).facts] == [
        "colony.box.no_floor", "colony.box.no_sites", "colony.box.no_beetles", "colony.box.no_spare",
    ]  # fmt: skip


def test_what_is_not_said_stays_and_none_takes_it_back(desk):
    desk.set_box(BoxTyped(floor="0.6 m2", sites="20 L"))
    desk.set_box(BoxTyped(heater="150 W", holding="90 W"))
    box = card(desk)
    # 150 sites a litre: common practice, no source; 150 - 90 by hand.
    assert (box.floor_m2, box.sites, box.heat_to_spare_w) == (0.6, 3000, 60)
    desk.set_box(BoxTyped(floor="none"))
    assert (card(desk).floor_m2, card(desk).sites) == (None, 3000)


def test_setting_the_place_again_keeps_what_was_said_of_the_box(desk):
    desk.set_box(BoxTyped(floor="0.6 m2"))
    desk.set_place(key="beetle-box", kind="beetle box", eats="200 g")
    assert card(desk).floor_m2 == 0.6


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "nothing was set"),
        ({"floor": "900 m2"}, "the floor is 900 m2; it lies from"),
        ({"floor": "0 m2"}, "look at its unit"),
        ({"heater": "90 kW"}, "it lies from 0 W to 5 kW"),
        ({"heater": "60 W", "holding": "90 W"}, "more than the heater's 60 W"),
        ({"heater": "60 W", "spare": "90 W"}, "more than the heater's 60 W"),
        ({"holding": "90 W"}, "says nothing without the heater's power"),
        ({"sites": "many"}, "many"),
        ({"place": "pot", "floor": "1 m2"}, "which box"),
    ],
)
def test_a_setting_that_cannot_be_is_refused_and_nothing_is_kept(desk, typed, words):
    with pytest.raises(BonebenchError, match=words):
        desk.set_box(BoxTyped(**typed))
    assert card(desk).heater_w is None


def test_other_beetles_are_named_with_what_differs(desk):
    desk.set_box(BoxTyped(beetles="D. lardarius"))
    box = card(desk)
    assert box.beetles == "Dermestes lardarius"
    assert [flag.what.key for flag in box.flags] == ["colony.kind.none"]
    # biology 1.3: Coombs 1978, lays at 20 and 25 °C only.
    assert "not at all at 30 °C" in box.flags[0].what.text
