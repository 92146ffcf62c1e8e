"""Parts, vials, marks, condition and counts as entries tell them: what happened is kept, what is odd is flagged."""

import itertools

import pytest

from bonebench.shop.entries import Gone, Joined, Moved, Parted, PartFound, Received, Retagged, Seen, Weighed, specimen_subject
from bonebench.shop.fold import tell
from bonebench.shop.part_entries import ConditionNoted, Counted, Marked, PartJoined, PartSent, Repaired, SampleTaken
from bonebench.shop.rounds import fold_place, place_subject
from bonebench.shop.specimen import fold_specimen

from .logbook import FOX, entry, fox, story

IN = entry(1, Received("K7Q-K", "red-fox", parts=("skull", "mandible", "antlers")))
WHOLE = (specimen_subject(FOX),)


def of(part: str) -> tuple[str, ...]:
    return (specimen_subject(FOX, part),)


def part(specimen, name):
    return next(p for p in specimen.parts if p.name == name)


def keys(specimen):
    return [flag.what.key for flag in specimen.flags]


def test_a_part_on_the_skull_goes_where_the_skull_goes_until_it_is_moved_by_itself():
    on = fox(IN, entry(2, PartJoined("skull"), subjects=of("antlers")), entry(3, Moved("pot"), subjects=of("skull")))
    assert (part(on, "antlers").place, part(on, "antlers").joined_to) == ("pot", "skull")
    assert part(on, "antlers").been == {}, "on the skull it is above the water"
    off = fox(
        IN, entry(2, PartJoined("skull"), subjects=of("antlers")), entry(3, Moved("rack"), subjects=of("antlers")),
        entry(4, Moved("pot"), subjects=of("skull")),
    )  # fmt: skip
    assert (part(off, "antlers").place, part(off, "antlers").joined_to) == ("rack", None)


def test_what_is_on_a_part_that_is_on_another_goes_along_too():
    told = fox(
        IN, entry(2, PartFound("loose teeth")), entry(3, PartJoined("mandible"), subjects=of("loose teeth")),
        entry(4, PartJoined("skull"), subjects=of("mandible")), entry(5, Moved("tub"), subjects=of("skull")),
    )  # fmt: skip
    assert [part(told, name).place for name in ("skull", "mandible", "loose teeth", "antlers")] == ["tub", "tub", "tub", None]


def test_two_parts_that_are_each_on_the_other_are_flagged_and_nothing_runs_in_a_ring():
    ring = fox(
        IN, entry(2, PartJoined("skull"), subjects=of("mandible")), entry(3, PartJoined("mandible"), subjects=of("skull")),
        entry(4, Moved("pot"), subjects=WHOLE),
    )  # fmt: skip
    assert "flag.join_ring" in keys(ring)
    assert part(ring, "skull").joined_to is None


@pytest.mark.parametrize("subjects", [WHOLE, of("skull"), of("antlers")])
def test_a_join_to_what_it_has_not_or_to_itself_is_flagged_and_changes_nothing(subjects):
    told = fox(IN, entry(2, PartJoined("skull" if subjects == of("skull") else "tail"), subjects=subjects))
    assert "flag.join_to_nothing" in keys(told)
    assert all(one.joined_to is None for one in told.parts)


def test_a_part_nobody_said_it_has_is_kept_and_flagged_until_it_is_added():
    strange = fox(IN, entry(2, Moved("rack"), subjects=of("tail")))
    assert part(strange, "tail").place == "rack"
    assert keys(strange) == ["flag.unsaid_part"]
    assert keys(fox(IN, entry(2, Moved("rack"), subjects=of("tail")), entry(3, PartFound("tail")))) == []


def test_a_vial_and_what_is_out_of_the_room_stay_when_the_rest_is_moved():
    told = fox(
        IN, entry(2, SampleTaken("sample", "muscle", "DNA", "freezer")), entry(3, PartSent("the owner"), subjects=of("antlers")),
        entry(4, Moved("pot"), subjects=WHOLE),
    )  # fmt: skip
    assert [part(told, name).place for name in ("skull", "sample", "antlers")] == ["pot", "freezer", None]
    assert part(told, "sample").sample.purpose == "DNA"
    assert part(fox(IN, entry(3, PartSent("x"), subjects=of("antlers")), entry(4, Moved("rack"), subjects=of("antlers"))),
                "antlers").sent_to is None  # fmt: skip


def test_a_vial_filled_twice_under_one_name_is_flagged():
    assert keys(fox(IN, entry(2, SampleTaken()), entry(3, SampleTaken()))) == ["flag.vial_twice"]


def test_a_part_that_is_weighed_by_itself_is_not_the_head():
    told = fox(IN, entry(2, Weighed(0.9)), entry(3, Weighed(1.2), subjects=of("antlers")))
    assert (told.weighed_kg, part(told, "antlers").mass_kg) == (0.9, 1.2)


def test_the_first_time_in_each_place_is_kept():
    told = fox(IN, *(entry(n, Moved(place), subjects=of("antlers")) for n, place in enumerate(("tub", "rack", "tub"), 2)))
    assert part(told, "antlers").been == {"tub": entry(2, Seen("x")).when.latest, "rack": entry(3, Seen("x")).when.latest}


def test_what_a_count_missed_is_missing_until_it_is_seen_or_moved():
    there = entry(2, Moved("rack"), subjects=WHOLE)
    missed = entry(3, Counted("rack", 0, missing=WHOLE), subjects=WHOLE)
    assert all(one.missing == missed.when.latest for one in fox(IN, there, missed).parts)
    for found in (Seen("rack"), Moved("pot"), Counted("rack", 1, seen=WHOLE)):
        assert all(one.missing is None for one in fox(IN, there, missed, entry(4, found, subjects=WHOLE)).parts)
    elsewhere = fox(IN, there, entry(3, Counted("tub", 0, missing=WHOLE), subjects=WHOLE))
    assert all(one.missing is None for one in elsewhere.parts), "it was not in that place, so that count says nothing of it"


def test_what_a_count_saw_elsewhere_than_the_book_is_flagged_and_moves_nothing():
    told = fox(IN, entry(2, Moved("rack"), subjects=WHOLE), entry(3, Counted("tub", seen=of("skull")), subjects=of("skull")))
    assert keys(told) == ["flag.seen_elsewhere"]
    assert part(told, "skull").place == "rack"


def test_the_last_count_is_kept_with_the_place():
    counted = entry(5, Counted("rack", 2, seen=WHOLE, unknown=("K7Q-A",), expected=1), subjects=(place_subject("rack"), *WHOLE))
    told = fold_place("rack", tell([entry(4, Counted("rack", 9), subjects=(place_subject("rack"),)), counted], "place:rack"))
    assert (told.count.found, told.count.expected, told.count.unknown, told.count.entry) == (2, 1, ("K7Q-A",), "e005")
    assert told.seen == counted.when.latest


def test_condition_and_repairs_are_kept_with_the_part_and_a_void_takes_them_back():
    hole = entry(2, ConditionNoted("hole", "came", "left cheek"), subjects=of("skull"))
    told = fox(IN, hole, entry(3, Repaired("glued", adhesive="epoxy")))
    assert [(c.what, c.stage, c.part, c.where) for c in told.conditions] == [("hole", "came", "skull", "left cheek")]
    assert [(r.how, r.part, r.adhesive) for r in told.repairs] == [("glued", "", "epoxy")]
    taken_back = entry(4, ConditionNoted("cracked"), subjects=of("skull"), replaces=hole.id)
    assert [c.what for c in fox(IN, hole, taken_back).conditions] == ["cracked"]


def test_a_condition_of_a_part_it_has_not_is_kept_and_flagged():
    told = fox(IN, entry(2, ConditionNoted("cracked"), subjects=of("tail")))
    assert (told.conditions[0].part, keys(told)) == ("tail", ["flag.unsaid_part"])


def test_a_mark_is_kept_and_nothing_takes_it_away():
    assert fox(IN, entry(2, Marked("bag"))).marked == "bag"
    assert fox(IN, entry(2, Marked("bag")), entry(3, Marked("nothing"))).marked is None


def test_a_lot_that_it_joins_when_gone_or_leaves_without_being_in_it_is_flagged():
    assert keys(fox(IN, entry(2, Gone("lost")), entry(3, Joined("l1", "Tray")))) == ["flag.joined_gone"]
    told = fox(IN, entry(2, Joined("l1", "Tray")), entry(3, Parted("l2")))
    assert (told.lot, keys(told)) == ("l1", ["flag.parted_unknown"])


def test_tags_it_carried_before_are_known():
    told = fox(IN, entry(2, Retagged("0ZN-0")), entry(3, Retagged("0ZN-0")), entry(4, Retagged("0ZP-X")))
    assert (told.tag, told.former_tags) == ("0ZP-X", ("K7Q-K", "0ZN-0"))


def test_the_order_of_arrival_changes_nothing():
    entries = [
        IN, entry(2, Moved("rack"), subjects=WHOLE), entry(3, PartJoined("skull"), subjects=of("antlers")),
        entry(4, Counted("rack", 0, missing=WHOLE), subjects=WHOLE), entry(5, Moved("pot"), subjects=of("skull")),
    ]  # fmt: skip
    told = {repr(fold_specimen(FOX, story(*some))) for some in itertools.permutations(entries)}
    assert len(told) == 1
