"""How good the dates were, from the log alone: what would have been said when each piece went in, and what happened."""

import pytest

from bonebench.door import Look
from bonebench.services.colony.dates import dates
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import PlaceSet
from bonebench.shop.steps import PlaceKind

from .hands import moved, take_in


def through(desk, clock, days, species="red fox"):
    """A head that went into the box and was judged clean so many days later."""
    tag = take_in(desk, species).tag
    desk.log(tag, "done", ["step=trim"])
    desk.log(tag, "done", ["step=freeze again"])
    moved(desk, tag, "beetle-box", "step=beetles")
    clock.advance(days=days)
    desk.log(tag, "done", ["step=judged clean"])
    clock.advance(hours=1)
    return tag


def skill(desk):
    return desk.read(dates)


def test_without_a_piece_it_says_that_nobody_can_tell(desk):
    card = skill(desk)
    assert (card.count, card.share_by_80, card.title.key) == (0, None, "dates.none")


def test_the_prediction_is_what_its_page_said_when_it_went_in(desk, clock):
    tag = take_in(desk, "red fox").tag
    desk.log(tag, "done", ["step=freeze again"])
    moved(desk, tag, "beetle-box", "step=beetles")
    said = desk.specimen(tag).beetles
    clock.advance(days=6)
    desk.log(tag, "done", ["step=judged clean"])
    (one,) = skill(desk).pieces
    # The same law on the same log: what the page showed at that moment. Two digits are kept.
    assert (one.days_50, one.days_80) == (pytest.approx(said.days_50, abs=0.01), pytest.approx(said.days_80, abs=0.01))
    assert (one.days, one.look_by_80) == (6.0, said.look_by_80)


def test_shares_and_errors_by_hand(desk, clock):
    for days in (1.0, 3.0, 60.0):
        through(desk, clock, days)
    card = skill(desk)
    by_hand = [one.days - one.days_50 for one in card.pieces]
    assert card.count == 3
    assert card.share_by_80 == pytest.approx(2 / 3)
    assert card.mean_error_days == pytest.approx(sum(by_hand) / 3, abs=0.02)
    assert card.share_by_80_low < 0.35
    assert next(flag.what.key for flag in card.flags) == "dates.few.flag"


def test_a_setting_or_a_count_made_later_does_not_change_what_was_said_then(desk, clock):
    through(desk, clock, 4.0)
    before = skill(desk).pieces
    box = PlaceSet("beetle-box", "Beetle box", PlaceKind.ENCLOSURE, 4, appetite_kg_per_day=0.001)
    desk.write(lambda tx, pen: rooms.set_up(tx, pen, [box]))
    desk.note_colony(Look(counted="3", part="5%"))
    assert skill(desk).pieces == before


def test_a_count_before_it_went_in_is_what_it_was_said_by(desk, clock):
    desk.note_colony(Look(counted="200", part="5%"))
    clock.advance(days=2)
    through(desk, clock, 4.0)
    assert [one.appetite for one in skill(desk).pieces] == ["counted"]


def test_a_piece_that_is_still_in_and_one_left_out_count_for_nothing(desk, clock):
    tag = take_in(desk).tag
    moved(desk, tag, "beetle-box", "step=beetles")
    other = take_in(desk).tag
    desk.log(other, "skipped", ["step=beetles"])
    clock.advance(days=3)
    assert skill(desk).count == 0
