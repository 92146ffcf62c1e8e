"""How one line of the log is told back, in words."""

import pytest

from bonebench.shop.entries import KINDS, read_what
from bonebench.shop.steps import STEP_ORDER, Step
from bonebench.shop.telling import told
from bonebench.shop.words import PROBLEMS, WORDS, action, tap

from .logbook import entry
from .test_entries import SAMPLES

NAMES = {"pot": "Big pot", "red-fox": "Red fox", "p1": "Wren Halloway", "three-percent": "3 % for a day"}

TOLD = [
    ("received", {"tag": "K7Q-K", "species": "red-fox"}, "came in as Red fox, tag K7Q-K"),
    ("received", {"tag": "K7Q-K", "species": "unicorn"}, "came in as unicorn, tag K7Q-K"),
    ("moved", {"place": "pot"}, "moved to Big pot"),
    ("moved", {"place": "attic"}, "moved to attic"),
    ("done", {"step": "trim"}, "trim done"),
    ("done", {"step": "trim", "visit": 2}, "trim done, time 2"),
    ("skipped", {"step": "whiten"}, "whiten left out"),
    ("skipped", {"step": "whiten", "why": "owner likes it brown"}, "whiten left out: owner likes it brown"),
    ("sent-back", {"step": "degrease", "why": "grease shows"}, "sent back to degrease: grease shows"),
    ("sent-back", {"step": "degrease"}, "sent back to degrease"),
    ("looked", {"step": "whiten"}, "looked at during whiten: not yet"),
    ("problem", {"what": "insects"}, "problem: Live insects"),
    ("problem", {"what": "it hums"}, "problem: it hums"),
    ("settled", {"problem": "e1"}, "problem settled"),
    ("held", {"reason": "papers"}, "on hold: papers"),
    ("released", {}, "free to go on"),
    ("weighed", {"mass_kg": 0.4}, "weighed 400 g"),
    ("described", {"changes": {"owner": "p1", "live_mass_kg": 5.0}}, "put right: live mass kg 5.0, owner Wren Halloway"),
    ("part-found", {"part": "antlers"}, "antlers kept track of from here"),
    ("joined", {"lot": "l1", "name": "Tray of mice"}, "joined Tray of mice"),
    ("parted", {"lot": "l1"}, "left its lot"),
    ("gone", {"why": "lost"}, "not here any more: lost"),
    ("retagged", {"tag": "B2C-3"}, "carries tag B2C-3 now"),
    ("merged-into", {"into": "other"}, "turned out to be the same as other"),
    ("noted", {"note": "n1"}, "note: text erased"),
    ("void", {"target": "e1"}, "took an entry back"),
    ("clock-corrected", {"writer": "phone", "first": 1, "last": 2, "offset_seconds": -3600.0},
     "the clock of phone corrected by -3600 s"),
    ("room-described", {"name": "Room", "zone": "America/Chicago"}, "the room is Room, its days are those of America/Chicago"),
    ("place-set", {"key": "pot", "name": "Big pot", "kind": "pot"}, "Big pot set up as pot"),
    ("person-set", {"person": "p1"}, "hours and training of Wren Halloway set"),
    ("method-chosen", {"step": "whiten", "method": "three-percent"}, "whiten is done by 3 % for a day from now on"),
    ("species-set", {"key": "red-fox", "values": {}}, "the room's own figures for Red fox set"),
    ("closed-on", {"days": []}, "days without work set"),
    ("teeth-marked", {"marks": {"ULP4": "loose", "LRC": "in the jar", "URC": "loose"}}, "teeth: ULP4, URC loose; LRC in the jar"),
    ("teeth-marked", {"marks": {}, "rest": "in place"}, "teeth: all teeth not marked otherwise in place"),
    ("teeth-marked", {"marks": {}}, "teeth: nothing marked"),
    ("jar-counted", {"count": 2}, "teeth counted in the jar: 2"),
    ("jar-changed", {"by": 1}, "teeth put into the jar: 1"),
    ("jar-changed", {"by": -2}, "teeth taken out of the jar: 2"),
    ("bath-made", {"name": "Tub 1", "place": "pot", "recipe": "peroxide", "strength_w": 0.03},
     "Tub 1 made in Big pot: peroxide at 3 %"),
    ("bath-made", {"name": "Pot", "place": "pot", "recipe": "detergent"}, "Pot made in Big pot: detergent"),
    ("bath-added", {"what": "water", "volume_l": 2.0}, "2 L of water added"),
    ("bath-added", {"what": "stock", "mass_kg": 0.4}, "400 g of stock added"),
    ("bath-added", {"what": "stock"}, "stock added, nobody said how much"),
    ("bath-taken", {}, "some of it taken out"),
    ("bath-taken", {"volume_l": 1.0}, "1 L taken out"),
    ("bath-tested", {"how": "permanganate", "strength_w": 0.028}, "tested by permanganate: 2.8 %"),
    ("bath-tested", {"how": "strip", "low_w": 0.01, "high_w": 0.03}, "tested by strip: from 1 % to 3 %"),
    ("bath-tested", {"how": "other"}, "tested by other, no strength written"),
    ("bath-looked", {"clarity": "hazy"}, "looked at: water hazy"),
    ("bath-looked", {}, "looked at: nothing to say"),
    ("bath-looked", {"temperature_c": 44.0, "level": "sunk"}, "44 °C by the thermometer; level sunk"),
    ("water-changed", {"clarity": "cloudy", "sieved": True, "teeth": 1, "whose": "p1"},
     "water changed: it was cloudy, sieved, 1 tooth found, of Wren Halloway"),
    ("water-changed", {"sieved": False, "teeth": 0}, "water changed: not sieved, no teeth found"),
    ("bath-discarded", {}, "thrown away"),
    ("colony-seen", {"counted": 0.0, "part": 0.05}, "colony looked at: 0 alive in 5 % of the bedding"),
    ("colony-seen", {"grade": "thousands", "pupae": 120.0, "fed_kg": 0.2, "dried": True, "smell": 1, "pests": ["mites"]},
     "colony looked at: thousands; 120 pupae; 200 g of dried food put in; smell 1; mites"),
    ("colony-seen", {}, "colony looked at: nothing written"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "values", "words"), TOLD)
def test_an_entry_is_told_in_the_words_of_the_trade(kind, values, words):
    assert told(entry(1, read_what(kind, 1, values)), NAMES).text == words


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_entry_can_be_told_even_where_no_name_is_known(kind):
    assert told(entry(1, read_what(kind, 1, SAMPLES[kind])), {}).text


def test_every_step_has_words_for_its_task_and_its_button():
    assert list(WORDS) == list(STEP_ORDER)
    for step in Step:
        assert "K7Q-K" in action(step, "K7Q-K", "Big pot").text
        assert tap(step).text == WORDS[step].tap


def test_an_action_names_the_place_or_says_that_it_has_one():
    assert action(Step.DEGREASE, "K7Q-K", "Big pot").text == "Put K7Q-K in Big pot"
    assert action(Step.DEGREASE, "K7Q-K", None).text == "Put K7Q-K in its place"


def test_every_problem_has_a_button_of_its_own():
    assert len({key for key, _ in PROBLEMS}) == len({label for _, label in PROBLEMS}) == len(PROBLEMS)
