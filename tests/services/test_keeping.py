"""Lots and counts through the door: who is who stays known, and what is missing is named with where it was seen last."""

import pytest

from bonebench.door import Door
from bonebench.errors import Impossible, InputError, OutsideRange, UnknownName
from bonebench.services.parts import do as parts
from bonebench.services.parts.do import Vial
from bonebench.services.places.do import Count

from .hands import flags, moved, press, take_in


def foxes(door: Door, count: int = 3, place: str | None = "pot") -> list[str]:
    tags = [take_in(door).tag for _ in range(count)]
    for tag in tags if place else ():
        moved(door, tag, place)
    return tags


def test_a_lot_is_joined_added_to_and_split_without_losing_who_is_who(door: Door):
    one, two, three = foxes(door)
    lot = door.join_lot("Small pot, May", [one, two])
    assert [m.tag for m in lot.members] == [one, two]
    assert [m.tag for m in door.join_lot(" small POT, may ", [three]).members] == [one, two, three]
    door.split_lot("Small pot, May", [three])
    assert [m.tag for m in door.lot("small pot, may").members] == [one, two]
    assert door.split_lot("Small pot, May").lots == ()
    assert [door.specimen(tag).lot for tag in (one, two, three)] == [None, None, None]


def test_the_last_one_is_not_left_alone_in_a_lot(desk: Door):
    one, two = foxes(desk, 2)
    desk.join_lot("Tray", [one, two])
    assert desk.split_lot("Tray", [one]).lots == ()
    assert desk.lots().teach is not None


def test_plans_of_lots_that_cannot_be_are_refused_in_words(desk: Door):
    one, two, gone = foxes(desk)
    desk.log(gone, "gone", ["why=lost"])
    desk.join_lot("Tray", [one, two])
    other = take_in(desk).tag
    for asked, words in (
        (lambda: desk.join_lot("Lonely", [other]), f"{other} alone is no lot; name at least two that are treated together"),
        (lambda: desk.join_lot("Lonely", [other, other]), f"{other} alone is no lot"),
        (lambda: desk.join_lot("Tray", [gone]), f"{gone} is not here any more, so it joins no lot"),
        (lambda: desk.join_lot("Tray", [one]), "all of them are in Tray already"),
        (lambda: desk.join_lot(" ", [one, other]), "a lot needs a name"),
        (lambda: desk.join_lot("Tray", []), "say which specimens, by their tags"),
        (lambda: desk.split_lot("Tray", [other]), f"{other} is not in Tray; in it are {one}, {two}"),
    ):
        with pytest.raises(Impossible) as refused:
            asked()
        assert str(refused.value).startswith(words)
    with pytest.raises(UnknownName, match="there is no lot 'Bucket'; there are: Tray"):
        desk.split_lot("Bucket")


def test_a_lot_of_one_in_history_is_flagged_and_so_is_a_lot_in_two_places(desk: Door):
    one, two = foxes(desk, 2)
    desk.log(one, "joined", ["lot=l1", "name=Tray"])
    assert flags(desk.lot("Tray")) == ["flag.lot_of_one"]
    desk.log(two, "joined", ["lot=l1", "name=Tray"])
    moved(desk, two, "tub")
    said = [flag.what.text for flag in desk.lot("Tray").flags]
    assert said == [f"Tray is not together: {one} in Pot; {two} in Tub"]


def test_unmarked_skulls_of_one_species_in_one_vessel_are_told_of_until_all_but_one_are_marked(desk: Door):
    one, two = foxes(desk, 2)
    place = desk.place("pot")
    assert [flag.what.key for flag in place.flags] == ["flag.unmarked"]
    assert place.flags[0].next.text.startswith("one skull to a pot or bag")
    desk.note_part(lambda tx: parts.mark(tx, one, "bag"))
    assert desk.place("pot").flags == ()
    desk.note_part(lambda tx: parts.mark(tx, one, "nothing"))
    moved(desk, take_in(desk, "bobcat").tag, "pot")
    assert {item.tag for item in desk.place("pot").mixed} == {one, two}, "the bobcat is alone of its kind"
    press(desk, desk.place("pot").marks[0])
    assert (desk.place("pot").flags, desk.specimen(two).marked) == ((), "bag")


@pytest.mark.parametrize("place", ["rack", "freezer", "shelf"])
def test_on_a_rack_or_in_bags_in_the_cold_nothing_is_mixed(desk: Door, place):
    foxes(desk, 2, place)
    assert desk.place(place).flags == ()


def test_a_place_shows_what_should_be_in_it_tags_parts_and_jars(desk: Door):
    tag = take_in(desk, "white-tailed deer", parts="antlers, loose teeth").tag
    moved(desk, tag, "pot")
    desk.note_part(lambda tx: parts.move(tx, tag, "antlers", "rack"))
    desk.note_part(lambda tx: parts.move(tx, tag, "teeth", "rack"))
    item = desk.place("Rack").items[0]
    assert (item.tag, item.parts) == (tag, ("antlers", "loose teeth"))
    assert item.kept == ("hung dry, tagged", "a jar with its tag")
    assert desk.place("pot").items[0].parts == ("skull", "mandible")
    desk.note_part(lambda tx: parts.sample(tx, tag, Vial("DNA", place="freezer")))
    assert desk.place("freezer").items[0].kept == ("a vial with its tag, cold",)


def test_a_count_by_tags_names_what_is_missing_with_where_it_was_seen_last(door: Door):
    here, lost = foxes(door, 2)
    other = foxes(door, 1, "tub")[0]
    count = door.count_place("pot", Count(tags=[here, other, "K7Q-A"])).count
    assert count.summary.text == "1 missing, 1 that the book has elsewhere, 1 with a tag nobody knows"
    assert [(m.tag, m.last.text, m.last_at) for m in count.missing] == [(lost, "moved to Pot", door.now())]
    assert [(s.tag, s.recorded) for s in count.strange] == [(other, "Tub")]
    assert count.unknown == ("K7Q-A",)
    assert "flag.missing" in flags(door.specimen(lost))
    assert "flag.seen_elsewhere" in flags(door.specimen(other))


def test_what_was_missing_is_found_by_one_tap_and_what_is_too_many_is_moved_by_one(desk: Door):
    here, lost = foxes(desk, 2)
    other = foxes(desk, 1, "tub")[0]
    count = desk.count_place("pot", Count(tags=[here, other])).count
    press(desk, count.missing[0].found)
    press(desk, count.strange[0].move)
    after = desk.place("pot").count
    assert (after.missing, after.strange, after.summary.text) == ((), (), "what was missing was found since")
    assert "flag.missing" not in flags(desk.specimen(lost))


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (2, "all 2 that should be here are here"),
        (1, "1 fewer than the book has; tick the tags that are here to find which"),
        (5, "3 more than the book has; type the tags that are not in the list"),
        (0, "2 missing"),
    ],
)
def test_a_count_by_number_says_how_many_too_few_or_too_many(desk: Door, found, words):
    foxes(desk, 2)
    assert desk.count_place("pot", Count(found)).count.summary.text == words


def test_ticks_count_like_tags(desk: Door):
    foxes(desk, 2)
    items = desk.place("pot").items
    ticked = [subject for item in items for subject in item.subject]
    assert desk.count_place("pot", Count(ticked=ticked)).count.summary.text == "all 2 that should be here are here"
    less = desk.count_place("pot", Count(ticked=items[0].subject)).count
    assert [m.tag for m in less.missing] == [items[1].tag]


def test_a_part_alone_can_be_missing_and_the_skull_is_not(desk: Door):
    tag = take_in(desk, "white-tailed deer", parts="antlers").tag
    desk.note_part(lambda tx: parts.move(tx, tag, "antlers", "rack"))
    count = desk.count_place("rack", Count(0)).count
    assert [(m.tag, m.parts) for m in count.missing] == [(tag, ("antlers",))]
    assert [p.missing_since is None for p in desk.specimen(tag).parts] == [True, True, False]


def test_the_count_is_an_entry_that_can_be_taken_back(desk: Door):
    tag = foxes(desk, 1)[0]
    entry = desk.count_place("pot", Count(0)).count.entry
    desk.undo(entry)
    assert desk.place("pot").count is None
    assert "flag.missing" not in flags(desk.specimen(tag))


@pytest.mark.parametrize(
    ("counted", "kind", "words"),
    [
        (Count(), InputError, "say how many there are, or tick or scan the tags that are there"),
        (Count(-1), OutsideRange, "-1 pieces in one place cannot be; count again"),
        (Count(10**9), OutsideRange, "pieces in one place cannot be"),
    ],
)
def test_a_count_that_says_nothing_or_cannot_be_is_refused_in_words(desk: Door, counted, kind, words):
    with pytest.raises(kind) as refused:
        desk.count_place("pot", counted)
    assert words in str(refused.value)


def test_a_place_nobody_has_is_refused_with_what_there_is(desk: Door):
    with pytest.raises(UnknownName, match="this room has no place 'attic'"):
        desk.place("attic")


def test_what_was_ticked_and_is_no_specimen_here_is_kept_as_unknown(desk: Door):
    foxes(desk, 1)
    count = desk.count_place("pot", Count(ticked=["specimen:nobody", "room"])).count
    assert set(count.unknown) == {"specimen:nobody", "room"}
    assert len(count.missing) == 1


def test_the_list_of_places_says_when_each_was_counted_and_what_is_missing(desk: Door):
    foxes(desk, 2)
    desk.count_place("pot", Count(0))
    row = next(row for row in desk.places().places if row.key == "pot")
    assert (row.holds, row.counted, row.missing) == (2, desk.now(), 2)
