"""From an old freezer to the first skull: the order of the steps, and dates that follow the colony."""

from datetime import UTC, date, datetime

import pytest

from bonebench.door import NoBook
from bonebench.errors import BonebenchError
from bonebench.reference.first_box import load_first_box
from bonebench.services.enclosure.begin import EMPTY_DAYS, begin

NOBODY = NoBook(clock=lambda: datetime(2026, 1, 5, tzinfo=UTC))


def guide(**asked):
    return NOBODY.work(lambda known: begin(known, **asked))


def at(word: str) -> int:
    """Which step speaks of it first."""
    return next(n for n, step in enumerate(load_first_box()) if word in step)


def test_what_can_kill_comes_before_what_can_be_spoilt():
    assert at("latch") < at("licensed person") < at("Drill the probe hole")
    assert at("frost begins") < at("Unplug it.")
    assert at("coils as photographed") < at("Drill the probe hole")
    assert at("cut-out") < at("three days") < at("Quarantine")


def test_bigger_pieces_come_later_and_bigger_starters_sooner():
    small, large = guide(starter="100"), guide(starter="1000")
    late = [piece.day_late for piece in small.pieces]
    assert late == sorted(late)
    assert all(big.day_late <= little.day_late for big, little in zip(large.pieces, small.pieces, strict=True))


def test_a_cautious_day_is_never_before_a_hopeful_one():
    for piece in guide().pieces:
        assert piece.day_soon <= piece.day_likely <= piece.day_late


def test_dates_count_from_the_empty_days():
    mouse = guide(first_day=date(2026, 5, 4)).pieces[0]
    assert (date.fromisoformat(mouse.on) - date(2026, 5, 4)).days == EMPTY_DAYS + mouse.day_late


def test_the_cautions_of_the_box_stand_with_it():
    assert {"box.fire", "box.emitter", "box.power"} <= {caution.key for caution in guide().cautions}


@pytest.mark.parametrize(("starter", "words"), [("3", "10 to a million"), ("a handful", "a handful"), ("-50", "10 to a million")])
def test_a_starter_that_cannot_be_is_refused(starter, words):
    with pytest.raises(BonebenchError) as fault:
        guide(starter=starter)
    assert words in fault.value.said.text
