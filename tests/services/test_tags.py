"""Rolls of tags, tags in hand at intake, and another tag for a lost one, through the door."""

import pytest

from bonebench.door import Door, Intake
from bonebench.errors import InputError, OutsideRange, UnknownName
from bonebench.shop.identity import read_tag

from .hands import flags, take_in


def test_a_roll_is_a_block_that_nobody_else_gets(door: Door):
    before = take_in(door).tag
    roll = door.issue_tags(20, "Shed roll").tags
    assert len(set(roll)) == 20
    assert all(read_tag(tag) == tag for tag in roll)
    assert take_in(door).tag not in {*roll, before}
    assert [(r.roll, r.count, r.used, r.free) for r in door.tags().rolls] == [("Shed roll", 20, 0, roll)]


def test_a_tag_of_a_roll_is_accepted_in_any_order_and_counted_as_used(desk: Door):
    roll = desk.issue_tags(5).tags
    assert take_in(desk, tag=roll[3].lower().replace("-", " ")).tag == roll[3]
    assert take_in(desk, tag=roll[0]).tag == roll[0]
    assert (desk.tags().rolls[0].used, desk.tags().rolls[0].free) == (2, (roll[1], roll[2], roll[4]))


def test_a_tag_that_is_used_is_refused_with_whose_it_is(desk: Door):
    roll = desk.issue_tags(2).tags
    take_in(desk, "red fox", owner="Ida Fennimore", tag=roll[0])
    with pytest.raises(InputError) as refused:
        take_in(desk, "bobcat", tag=roll[0])
    assert str(refused.value) == f"{roll[0]} is on the red fox of Ida Fennimore already; take the next tag of the roll"


@pytest.mark.parametrize("tag", ["K7Q-A", "", "OOO-O"])
def test_a_tag_that_fails_its_check_is_refused_before_anything_is_stored(desk: Door, tag):
    if not tag:
        assert take_in(desk, tag=tag).tag, "an empty field is no tag in hand"
        return
    with pytest.raises(InputError, match="its check letter does not fit"):
        take_in(desk, tag=tag)
    assert desk.specimens().rows == ()


def test_a_slip_is_answered_with_the_free_tag_it_could_be(desk: Door):
    roll = desk.issue_tags(1).tags[0]
    wrong = roll[:-1] + ("Z" if roll[-1] != "Z" else "Y")
    with pytest.raises(InputError, match=f"a free one of your rolls is {roll}"):
        take_in(desk, tag=wrong)


def test_a_tag_that_was_never_issued_is_refused_with_what_to_do(desk: Door):
    with pytest.raises(InputError, match="ZZZ-T was never issued by this book; issue a roll first, or leave the tag out"):
        take_in(desk, tag="ZZZ-T")


@pytest.mark.parametrize("count", [0, -1, 2001, 10**9])
def test_a_roll_of_none_or_too_many_is_refused_and_uses_no_tag_up(desk: Door, count):
    with pytest.raises(OutsideRange, match=f"{count} tags on one roll; it takes 1 to 2000"):
        desk.issue_tags(count)
    assert desk.tags().rolls == ()


def test_a_lost_tag_still_leads_to_the_piece_and_is_never_issued_again(desk: Door):
    roll = desk.issue_tags(3).tags
    take_in(desk, "red fox", tag=roll[0])
    desk.retag(roll[0], roll[1])
    card = desk.specimen(roll[1])
    assert (card.species.common, card.former_tags) == ("red fox", (roll[0],))
    with pytest.raises(UnknownName) as asked:
        desk.specimen(roll[0])
    assert str(asked.value) == f"{roll[0]} was lost or replaced: that specimen carries {roll[1]} now"
    assert asked.value.could_be == (roll[1],)
    with pytest.raises(InputError, match=f"{roll[0]} was on the red fox, which carries {roll[1]} now"):
        take_in(desk, tag=roll[0])


def test_without_a_tag_in_hand_the_next_one_is_made(desk: Door):
    old = take_in(desk).tag
    new = desk.retag(old).entries[0].what.tag
    assert new != old
    assert desk.specimen(new).tag == new


def test_a_tag_written_elsewhere_is_stored_even_if_it_fails_its_check_and_flagged(desk: Door):
    tag = take_in(desk).tag
    card = desk.log(tag, "retagged", ["tag=K7Q-A"])
    assert card.stored == "stored"
    assert "flag.tag_check" in flags(card)


def test_a_tag_somebody_used_offline_is_passed_over_when_the_next_is_made(desk: Door):
    first, roll = take_in(desk).tag, desk.issue_tags(1).tags[0]
    following = take_in(desk).tag
    desk.undo_last(following)
    desk.log(first, "retagged", [f"tag={following}"])
    assert take_in(desk).tag not in {first, roll, following}


def test_an_intake_says_nothing_of_a_tag_unless_it_has_one():
    assert Intake("red fox").tag is None
    assert Intake.from_form({"species": "red fox", "tag": " "}).tag == " "
