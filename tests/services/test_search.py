"""Search over everything: tag, owner, species, place, note; and a tag that is one slip off."""

import random

import pytest

from bonebench.door import Door
from bonebench.errors import UnknownName
from bonebench.records.making import take_back
from bonebench.services.parts import do as parts
from bonebench.services.parts.do import Seen, Vial
from bonebench.shop.identity import near_tags, read_tag

from .hands import moved, take_in


def found(door: Door, words: str) -> list[str]:
    return [row.tag for row in door.find(words).rows]


@pytest.fixture
def room(desk: Door) -> dict[str, str]:
    fox = take_in(desk, "red fox", owner="Marigold Teller").tag
    bear = take_in(desk, "black bear", owner="Ansel Röake").tag
    coyote = take_in(desk, "coyote", owner="Marigold Teller").tag
    moved(desk, coyote, "pot", "step=degrease")
    desk.log(bear, "noted", ["note=Chipped canine, upper left"])
    return {"fox": fox, "bear": bear, "coyote": coyote}


@pytest.mark.parametrize(
    ("words", "who"),
    [
        ("marigold", {"fox", "coyote"}), ("Teller fox", {"fox"}), ("röake", {"bear"}), ("roake", {"bear"}),
        ("vulpes", {"fox"}), ("bear", {"bear"}), ("pot", {"coyote"}), ("teller pot", {"coyote"}),
        ("chipped", {"bear"}), ("canine upper", {"bear"}), ("unicorn", set()), ("marigold bear", set()),
    ],
)  # fmt: skip
def test_every_word_must_fit_somewhere(desk: Door, room, words, who):
    assert set(found(desk, words)) == {room[name] for name in who}


def test_a_tag_or_its_beginning_finds_it_however_it_is_typed(desk: Door, room):
    tag = room["fox"]
    assert found(desk, tag) == [tag]
    assert found(desk, tag.lower().replace("-", "")) == [tag]
    assert tag in found(desk, tag[:2])


def test_a_tag_that_is_one_slip_off_is_offered_what_it_could_be(desk: Door, room):
    tag = room["fox"]
    wrong = tag[:-1] + ("Z" if tag[-1] != "Z" else "Y")
    assert tag in desk.find(wrong).could_be
    with pytest.raises(UnknownName) as refused:
        desk.specimen(wrong)
    assert tag in refused.value.could_be
    assert f"it could be {tag}" in str(refused.value)


def test_letters_that_look_alike_are_read_as_what_they_look_like():
    assert near_tags("1O4M", ["104-M", "204-M"]) == ("104-M",)
    assert near_tags("I04-M", ["104-M"]) == ("104-M",)


@pytest.mark.parametrize("typed", ["014-M", "104-N", "14-M", "1004-M", "104-M"])
def test_one_wrong_swapped_missing_or_added_character_still_leads_there(typed):
    assert near_tags(typed, ["104-M", "9ZZ-9"]) == ("104-M",)


def test_two_slips_lead_nowhere():
    assert near_tags("9Z4-M", ["104-M"]) == ()


def test_a_note_that_was_erased_is_found_no_more(desk: Door, room):
    desk.erase_person("Ansel Röake")
    assert found(desk, "chipped") == []
    assert found(desk, "röake") == []


def test_signs_that_a_database_reads_as_wild_are_plain_here(desk: Door, room):
    assert found(desk, "%") == []
    assert found(desk, "_") == []
    assert found(desk, "ch_pped") == []


def test_nothing_asked_is_answered_with_what_can_be_asked(desk: Door):
    assert "Ask for a tag" in desk.find("  ").teach.text


def test_search_is_the_same_on_both_databases(door: Door):
    tag = take_in(door, "red fox", owner="Marigold Teller").tag
    door.log(tag, "noted", ["note=Needs a NEW jaw"])
    assert found(door, "teller") == found(door, "FOX") == found(door, "new jaw") == [tag]
    assert read_tag(tag) == tag


@pytest.fixture
def kept(desk: Door, room) -> dict[str, str]:
    desk.join_lot("Tray Über 7", [room["fox"], room["coyote"]])
    fox, bear = room["fox"], room["bear"]
    desk.note_part(lambda tx: parts.sample(tx, fox, Vial("isotopes", "tongue", "freezer")))
    desk.note_part(lambda tx: parts.condition(tx, bear, Seen("gnawed", "mandible", "came", "left ramus")))
    desk.note_part(lambda tx: parts.repair(tx, bear, Seen("glued", adhesive="epoxy", note="Second try held")))
    desk.note_part(lambda tx: parts.send(tx, fox, "sample", "county laboratory"))
    return room


@pytest.mark.parametrize(
    ("words", "who"),
    [
        ("tray", {"fox", "coyote"}), ("über 7", {"fox", "coyote"}), ("tray fox", {"fox"}), ("isotopes", {"fox"}),
        ("tongue teller", {"fox"}), ("sample", {"fox"}), ("laboratory", {"fox"}), ("gnawed ramus", {"bear"}), ("epoxy", {"bear"}),
        ("second held", {"bear"}), ("mandible bear", {"bear"}), ("purpose", set()), ("adhesive", set()), ("gnawed fox", set()),
    ],
)  # fmt: skip
def test_parts_vials_lots_and_conditions_are_found_and_names_of_fields_are_not(desk: Door, kept, words, who):
    assert set(found(desk, words)) == {kept[name] for name in who}


def test_what_was_taken_back_is_found_no_more(desk: Door, kept):
    desk.undo_last(kept["fox"])
    assert found(desk, "laboratory") == []
    desk.undo_last(kept["bear"])
    assert (found(desk, "epoxy"), found(desk, "second held"), found(desk, "gnawed")) == ([], [], [kept["bear"]])


def test_accents_and_capitals_do_not_matter_in_what_is_written(desk: Door, kept):
    assert set(found(desk, "uber")) == set(found(desk, "ÜBER 7")) == {kept["fox"], kept["coyote"]}


def test_a_rebuild_keeps_every_word_and_brings_no_erased_note_back(desk: Door, kept):
    desk.erase_person("Ansel Röake")
    desk.rebuild()
    assert (set(found(desk, "tray")), found(desk, "chipped")) == ({kept["fox"], kept["coyote"]}, [])


def test_a_book_of_an_older_form_is_searched_whole_once_it_is_opened(door: Door):
    tags, where = [take_in(door, "red fox").tag, take_in(door, "coyote").tag], door.book.where
    door.join_lot("Spring tray", tags)
    door.close()
    take_back(where, "0004")
    with Door.open(where, clock=door.now, rng=random.Random(2), writer="test") as opened:
        assert set(found(opened, "spring")) == set(tags)


def test_a_tag_that_was_lost_finds_the_piece_that_carried_it(desk: Door, room):
    new = desk.retag(room["fox"]).entries[0].what.tag
    assert found(desk, room["fox"]) == [new]
    assert found(desk, room["fox"].replace("-", "").lower()) == [new]


def test_parts_and_lots_are_found_on_both_databases(door: Door):
    one, two = take_in(door, parts="loose teeth").tag, take_in(door, "coyote").tag
    door.join_lot("Spring tray", [one, two])
    assert (set(found(door, "spring")), found(door, "teeth")) == ({one, two}, [one])
