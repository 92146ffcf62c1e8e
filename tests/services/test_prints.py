"""What is printed for whom, the pencil sheet and its way back, and what a code means."""

from datetime import UTC, datetime, timedelta

import pytest

from bonebench.door import Choice, Door
from bonebench.errors import Impossible, InputError, UnknownName
from bonebench.services.prints.choose import initials
from bonebench.services.today.cards import TaskCard
from bonebench.shop.entries import specimen_subject

from .hands import press, take_in


def tags_of(found):
    return {one.tag for one in found}


def room(door: Door) -> dict[str, str]:
    """One in the pot, one thawed and waiting for the knife, one in the freezer that came in today."""
    tags = {name: take_in(door, arrived="2026-03-20").tag for name in ("pot", "trim")}
    door.log(tags["pot"], "moved", ["place=pot", "step=degrease"], about="1d")
    door.log(tags["trim"], "moved", ["place=thaw-shelf", "step=thaw to trim"], about="3d")
    tags["new"] = take_in(door, owner="Ada  Łoś-Kim").tag
    return tags


# -- who is printed --------------------------------------------------------------------------------------------------------------


def test_specimens_are_chosen_by_tag_by_place_by_waiting_and_by_todays_intake(desk):
    tags = room(desk)
    assert [one.tag for one in desk.labelled(Choice(tags=(tags["trim"], tags["pot"])))] == [tags["trim"], tags["pot"]]
    assert tags_of(desk.labelled(Choice(place="pot"))) == {tags["pot"]}
    assert tags_of(desk.labelled(Choice(arrived=True))) == {tags["new"]}
    waiting = tags_of(desk.labelled(Choice(waiting=True)))
    assert tags["new"] in waiting
    assert tags["pot"] not in waiting
    assert len(desk.labelled(Choice(tags=(tags["pot"],), place="pot"))) == 1, "each once"


def test_a_label_carries_initials_and_the_teeth_of_a_whole_animal(desk):
    (one,) = desk.labelled(Choice(tags=(take_in(desk, owner="Ada  Łoś-Kim").tag,)))
    # The red fox has 42 teeth: I3/3 C1/1 P4/4 M2/3, in any mammalogy; from memory.
    assert (one.owner, one.teeth, one.species) == ("A. Ł.", 42, "red fox")
    assert initials("  ødegård  -- 🦊 x") == "Ø. X."


REFUSED = [
    (Choice(), Impossible, "no specimen is chosen; name tags, or a place"),
    (Choice(place="pot"), Impossible, "nothing sits in Pot, so there is nothing to print"),
    (Choice(waiting=True), Impossible, "nothing waits in this room"),
    (Choice(arrived=True), Impossible, "nothing came in today"),
    (Choice(place="attic"), UnknownName, "there is no place called attic; there are: freezer"),
    (Choice(tags=("XXX-X",)), UnknownName, "'XXX-X' is not a tag of this room: its check letter does not fit"),
]


@pytest.mark.parametrize(("choice", "error", "words"), REFUSED)
def test_nobody_to_print_is_said_in_words(desk, choice, error, words):
    with pytest.raises(error, match=words):
        desk.labelled(choice)


def test_a_tub_says_no_metal_whatever_is_in_it(desk):
    kinds = {place.kind: place.peroxide for place in desk.places_labelled()}
    assert kinds["tub"]
    assert not kinds["freezer"]
    assert [place.key for place in desk.places_labelled(["Pot"])] == ["pot"]


def test_a_roll_is_printed_again_by_its_name(desk):
    issued = desk.issue_tags(40, "Shed")
    assert desk.tags_of_roll("  shed ") == issued.tags
    with pytest.raises(UnknownName, match="there is no roll called Attic; there are: Shed"):
        desk.tags_of_roll("Attic")


# -- the pencil sheet ------------------------------------------------------------------------------------------------------------


def row_of(kept, tag: str) -> int:
    return next(number for number, task in enumerate(kept.tasks, 1) if task.specimen == tag)


def entries_of(door: Door, tag: str):
    return [(e.kind, e.earliest, e.latest) for e in door.specimen(tag).entries if e.kind != "received"]


def test_a_row_typed_back_stores_what_its_button_would_have(door, clock):
    tags = room(door)
    kept = door.pencil_sheet()
    row = row_of(kept, tags["trim"])
    clock.advance(hours=5)  # 14:00 in the room
    card = door.typed_back(kept.card.number, f"{row} a at 11:15")
    (typed,) = card.rows
    assert (typed.stored, typed.label, typed.earliest) == ("stored", "Trimmed", datetime(2026, 5, 4, 16, 15, tzinfo=UTC))
    done = [leg for leg in door.specimen(tags["trim"]).route if leg.step == "trim"]
    assert done[0].status == "done"
    task: TaskCard = kept.tasks[row - 1]
    tapped = press(door, task.answers[0])
    assert tapped.state is not None


def test_typing_a_sheet_twice_stores_nothing_twice(door, clock):
    tags = room(door)
    kept = door.pencil_sheet()
    row = row_of(kept, tags["trim"])
    text = f"{row} a, {row} d4 at 9:30"
    clock.advance(hours=1)
    assert [one.stored for one in door.typed_back(kept.card.number, text).rows] == ["stored", "stored"]
    before = entries_of(door, tags["trim"])
    again = door.typed_back(kept.card.number, text)
    later = door.typed_back(kept.card.number, f"{row} a at 9:45")
    assert {one.stored for one in (*again.rows, *later.rows)} == {"already stored"}
    assert entries_of(door, tags["trim"]) == before


def test_a_row_that_somebody_tapped_meanwhile_is_not_stored_again(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    row = row_of(kept, tags["trim"])
    press(desk, kept.tasks[row - 1].answers[0])
    before = entries_of(desk, tags["trim"])
    (typed,) = desk.typed_back(kept.card.number, f"{row} a").rows
    assert typed.stored == "already stored"
    assert entries_of(desk, tags["trim"]) == before


def test_a_row_taken_back_can_be_typed_again(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    row = row_of(kept, tags["trim"])
    (typed,) = desk.typed_back(kept.card.number, f"{row} a").rows
    desk.undo(typed.entry_id)
    (again,) = desk.typed_back(kept.card.number, f"{row} a").rows
    assert again.stored == "stored"
    assert again.entry_id != typed.entry_id
    (third,) = desk.typed_back(kept.card.number, f"{row} a").rows
    assert (third.stored, third.entry_id) == ("already stored", again.entry_id)


def test_good_rows_are_kept_whatever_stands_beside_them(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    row = row_of(kept, tags["trim"])
    card = desk.typed_back(kept.card.number, f"{row} a, 99 b at 8:30\n{row + 0} q, hm, 2 d44")
    assert [(one.row, one.code) for one in card.rows] == [(row, "a")]
    whys = " | ".join(one.why.text for one in card.unread)
    assert f"this sheet has no row 99; its rows are 1 to {len(kept.tasks)}" in whys
    assert "not read: write the row's number and a letter" in whys
    assert "99 b at 8:30" in card.again.splitlines(), "with the time that was written for it"
    for one in card.unread:
        assert one.text in card.again


def test_two_letters_that_cannot_both_be_are_asked_about(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    row = row_of(kept, tags["trim"])
    card = desk.typed_back(kept.card.number, f"{row} a b")
    assert card.rows == ()
    assert {one.why.text for one in card.unread} == {f"row {row} says a and b; it can be one of them: type the one that holds"}


def test_a_sheet_of_another_day_still_works_and_means_its_own_day(door, clock):
    tags = room(door)
    kept = door.pencil_sheet()
    row = row_of(kept, tags["trim"])
    clock.advance(days=9)
    (typed,) = door.typed_back(kept.card.number, f"{row} a").rows
    # Printed at nine in the room (14:00 UTC), and the day ended at midnight there.
    assert typed.earliest == datetime(2026, 5, 4, 14, tzinfo=UTC)
    assert typed.latest == datetime(2026, 5, 5, 4, 59, 59, tzinfo=UTC)
    (other,) = door.typed_back(kept.card.number, f"{row} d1 2026-05-06 9:00").rows
    assert other.latest == datetime(2026, 5, 6, 14, tzinfo=UTC)


def test_a_time_still_ahead_is_not_stored_and_says_what_to_write(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    row = row_of(kept, tags["trim"])
    card = desk.typed_back(kept.card.number, f"{row} a at 18:30")
    assert card.rows == ()
    assert "4 May 2026 18:30 is still ahead, so nothing of it is stored; write the day it was, like 3 b 2026-05-03" in (
        card.unread[0].why.text
    )


def test_rounds_of_the_room_are_rows_too(desk):
    room(desk)
    kept = desk.pencil_sheet()
    row, task = next((n, t) for n, t in enumerate(kept.tasks, 1) if any("wrong" in a.values for a in t.answers))
    wrongs = [mark for mark in kept.card.rows[row - 1].marks if mark.code[0] == "d" and mark.code != "d"]
    (typed,) = desk.typed_back(kept.card.number, f"{row} d1").rows
    assert typed.label == wrongs[0].label
    assert any(alert.what.values.get("tap") == wrongs[0].label for alert in desk.today().alerts), task.about.text


def test_the_same_rows_are_the_same_sheet_and_others_another(door, clock):
    tags = room(door)
    first, again = door.pencil_sheet(), door.pencil_sheet()
    assert first.card.number == again.card.number
    door.log(tags["trim"], "done", ["step=trim"])
    other = door.pencil_sheet()
    assert other.card.number != first.card.number
    clock.advance(minutes=1)
    assert {line.number for line in door.last_sheets()} == {first.card.number, other.card.number}
    assert door.sheet(first.card.number.lower().replace("-", " ")).rows == first.card.rows


def test_printing_a_sheet_changes_nothing_that_is_planned(desk):
    room(desk)
    before = desk.today()
    desk.pencil_sheet()
    assert desk.today() == before


def test_a_sheet_outlives_folding_the_book_again(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    desk.rebuild()
    assert desk.typed_back(kept.card.number, f"{row_of(kept, tags['trim'])} a").rows[0].stored == "stored"


def test_a_sheet_that_is_not_is_refused_in_words(desk):
    with pytest.raises(InputError, match="'1126A-8' is not the number of a sheet"):
        desk.typed_back("1126A-8", "3 b")
    with pytest.raises(UnknownName, match="no sheet 1126A-4 was printed from this book"):
        desk.typed_back("1126A-4", "3 b")


def test_letters_of_a_piece_are_the_same_on_every_sheet(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    marks = {mark.code: mark for mark in kept.card.rows[row_of(kept, tags["trim"]) - 1].marks}
    assert [marks[code].kind for code in "abcde"] == ["done", "looked", "skipped", "problem", "gone"]
    assert marks["d10"].values == {"what": "mixed up"}
    specimen = specimen_subject(desk.specimen(tags["trim"]).id)
    assert all(mark.subjects == (specimen,) for mark in marks.values())


# -- codes -----------------------------------------------------------------------------------------------------------------------


def test_a_code_is_a_piece_a_place_a_sheet_or_nothing_of_this_room(desk):
    tags = room(desk)
    kept = desk.pencil_sheet()
    texts = [
        tags["pot"],
        f"http://shed.local:8437/specimens/{tags['pot']}",
        "place:pot",
        f"sheet:{kept.card.number}",
        "milk",
        "place:x",
    ]
    found = desk.scanned(texts).found
    assert [(one.kind, one.key) for one in found] == [
        ("specimen", tags["pot"]), ("place", "pot"), ("sheet", kept.card.number), ("unknown", "milk"), ("unknown", "place:x"),
    ]  # fmt: skip
    assert desk.scanned([]).teach


def test_the_care_card_says_only_what_was_written_down(desk):
    tag = take_in(desk, arrived="2026-01-10", owner="Ada Łoś").tag
    blank = desk.care_card(tag)
    assert [fact.value.text for fact in blank.done] == ["no record of it"]
    assert not blank.glued
    desk.log(tag, "moved", ["place=tub", "step=whiten"], at="2026-04-20T10:00")
    desk.log(tag, "done", ["step=teeth in"], at="2026-04-18T10:00")
    card = desk.care_card(tag)
    assert [fact.label.text for fact in card.done] == ["Teeth put back in", "Whitened"]
    assert card.glued
    assert card.cautions[-1].key == "defer"
    assert card.handed_over is None
    desk.log(tag, "done", ["step=hand over"], at=(datetime(2026, 5, 1, 15, tzinfo=UTC)).isoformat())
    assert desk.care_card(tag).handed_over == datetime(2026, 5, 1, 15, tzinfo=UTC) - timedelta(0)


def test_the_care_card_names_the_glue_and_how_it_comes_off(desk):
    tag = take_in(desk, arrived="2026-01-10").tag
    desk.log(tag, "repaired", ["how=glued", "where=left cheek arch", "adhesive=acrylic-in-acetone"])
    desk.log(tag, "repaired", ["how=pinned"])
    glues = [glue.text for glue in desk.care_card(tag).glues]
    # Comes off with acetone: adhesives.toml, whose sources are conservators' judgements that were read.
    assert "Glued, left cheek arch" in glues[0]
    assert "Comes off with: acetone on a swab" in glues[0]
    assert glues[1] == "Mended: Pinned; with what is not written down."
