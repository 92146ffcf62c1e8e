"""The colony by the room's own log: looks are always stored, and the numbers of today are fitted to them."""

import pytest

from bonebench.door import Look
from bonebench.errors import InputError, NotAQuantity, UnknownName
from bonebench.services.colony.book import colonies
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import PlaceSet
from bonebench.shop.steps import PlaceKind

from .hands import take_in


def box(desk):
    return desk.read(colonies).boxes[0]


def add_ready(desk):
    """A trimmed fox that was frozen again: next for the beetles."""
    tag = take_in(desk).tag
    desk.log(tag, "done", ["step=freeze again"])
    return tag


def alive(card):
    return card.numbers.stages.larvae.value + card.numbers.stages.adults.value


def test_a_room_without_a_look_says_what_is_missing(desk):
    card = box(desk)
    assert card.numbers is None
    assert card.why_not.key == "colony.uncounted"


def test_a_count_is_stored_and_the_numbers_follow_it(desk):
    desk.note_colony(Look(counted="200", part="5%"))
    card = box(desk)
    # By hand: 200 / 0.05 = 4000; pulled a little by the prior, medians of parts do not add up exactly.
    assert alive(card) == pytest.approx(4000, rel=0.35)
    assert [look.what.text for look in card.looks] == ["colony looked at: 200 alive in 5 % of the bedding"]


def test_a_count_of_none_is_stored_flagged_and_overrules_what_was_before(desk, clock):
    desk.note_colony(Look(counted="200", part="5%"))
    clock.advance(days=5)
    desk.note_colony(Look(counted="0", part="5%"))
    card = box(desk)
    assert [flag.what.key for flag in card.flags] == ["flag.colony.none"]
    # Three expected would show some 19 times in 20: at most 3 / 0.05 = 60.
    assert card.numbers.stages.larvae.value < 60
    assert card.numbers.title.key == "colony.numbers.zero"
    assert len(card.looks) == 2


def test_more_pupae_than_sites_are_stored_and_flagged(desk):
    desk.note_colony(Look(sites="2 L", pupae="900", grade="thousands"))
    card = box(desk)
    assert [flag.what.key for flag in card.flags] == ["flag.colony.sites"]
    assert card.numbers is not None


def test_two_counts_lie_within_the_band_of_today(desk, clock):
    desk.note_colony(Look(counted="100", part="5%"))
    clock.advance(days=14)
    desk.note_colony(Look(counted="150", part="5%"))
    stages = box(desk).numbers.stages
    assert stages.larvae.low + stages.adults.low < 3000 < stages.larvae.high + stages.adults.high


def test_readings_and_species_of_a_look_are_warned_of(desk):
    desk.note_colony(
        Look(counted="100", part="5%", temperature="33 C", humidity="72%", beetles="Dermestes frischii", pests="mites")
    )
    card = box(desk)
    found = {flag.what.key for flag in (*card.flags, *card.numbers.flags)}
    assert found >= {"flag.colony.warm", "flag.colony.damp_once", "colony.kind.near", "flag.colony.pest"}


def test_feedings_count_once_they_are_written_down_each_week(desk, clock):
    desk.note_colony(Look(counted="100", part="5%", fed="50 g"))
    clock.advance(days=6)
    assert "colony.fed.written" in {flag.what.key for flag in box(desk).numbers.flags}
    clock.advance(days=14)
    assert "colony.fed.unknown" in {flag.what.key for flag in box(desk).numbers.flags}


def test_starved_for_weeks_they_are_fewer_than_fed(desk, clock):
    desk.note_colony(Look(counted="200", part="5%", fed="1 g"))
    for _ in range(4):
        clock.advance(days=6)
        desk.note_colony(Look(fed="1 g"))
    hungry = alive(box(desk))
    assert hungry < 4000


def test_an_old_count_says_when_it_was(desk, clock):
    desk.note_colony(Look(counted="100", part="5%"))
    clock.advance(days=60)
    assert box(desk).why_not.key == "colony.old_count"


def test_a_look_that_was_taken_back_counts_no_more(desk):
    entry = desk.note_colony(Look(counted="0", part="5%"))
    desk.undo(entry)
    card = box(desk)
    assert (card.numbers, card.looks, card.flags) == (None, (), ())


def test_with_two_boxes_it_is_asked_which(desk):
    desk.write(lambda tx, pen: rooms.set_up(tx, pen, [PlaceSet("second", "Second box", PlaceKind.ENCLOSURE)]))
    with pytest.raises(UnknownName) as caught:
        desk.note_colony(Look(grade="hundreds"))
    assert "which box?" in caught.value.said.text
    desk.note_colony(Look(place="second box", grade="hundreds"))
    assert {card.name: len(card.looks) for card in desk.read(colonies).boxes}["Second box"] == 1


@pytest.mark.parametrize(
    ("look", "fault", "words"),
    [
        (Look(), InputError, "nothing was written"),
        (Look(counted="many"), NotAQuantity, "'many' is not a count"),
        (Look(grade="lots"), NotAQuantity, "'lots' is no grade"),
        (Look(place="attic", grade="none"), UnknownName, "which box?"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(desk, look, fault, words):
    with pytest.raises(fault) as caught:
        desk.note_colony(look)
    assert words in caught.value.said.text


def test_the_fold_built_again_gives_the_same(desk):
    desk.note_colony(Look(counted="40", part="2%"))
    before = desk.read(colonies)
    desk.rebuild()
    assert desk.read(colonies) == before


def test_the_room_s_own_heads_wait_and_a_strong_colony_takes_them(desk):
    tag = add_ready(desk)
    desk.note_colony(Look(grade="the bedding moves"))
    night = box(desk).tonight
    assert (night.tags, night.waiting, night.limit) == ((tag,), 1, "none waiting")


def test_a_dead_colony_takes_none(desk):
    add_ready(desk)
    desk.note_colony(Look(counted="0", part="5%"))
    night = box(desk).tonight
    assert (night.tags, night.limit) == ((), "appetite")


def test_without_a_count_or_an_appetite_of_the_room_s_own_tonight_rests_on_a_named_estimate(desk):
    tonight = box(desk).tonight
    assert tonight.appetite == "estimate"
    assert "shipped estimate" in tonight.taken[0].text
