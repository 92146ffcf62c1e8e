"""What the room's own pots say: fillings, looks and dry-spot checks out of the log, into the days of the next head."""

from datetime import timedelta

import pytest

from bonebench.door import Door, Happened, NewBath
from tests.conftest import Clock

from .hands import moved, take_in


def pot(door: Door) -> None:
    door.make_bath(NewBath(place="pot", dose="1 %", volume="20 L", temperature="45 C"))


def soak(door: Door, clock: Clock, days: float) -> None:
    """Let it stand so long, the water changed every four days."""
    while days > 0:
        clock.now += timedelta(days=min(days, 4.0))
        days -= 4.0
        door.note_bath(Happened(bath="pot", what="changed", values={"sieved": "yes", "teeth": "0"}))


def through_the_pot(door: Door, clock: Clock, days: float, *, passed: bool, again: float = 0.0) -> str:
    """Take a raccoon through the pot, dry it, and send it back or say that it went on."""
    tag = take_in(door, "raccoon").tag
    moved(door, tag, "pot", "step=degrease")
    soak(door, clock, days)
    moved(door, tag, "rack", "step=dry")
    clock.now += timedelta(days=2)
    if not passed:
        door.log(tag, "sent-back", ["step=degrease", "why=a yellow patch"])
        moved(door, tag, "pot")
        soak(door, clock, again)
        moved(door, tag, "rack")
        clock.now += timedelta(days=2)
    door.log(tag, "done", ["step=teeth in", "visit=1" if passed else "visit=2"])
    return tag


def days(door: Door) -> tuple[float, float, float]:
    card = door.degrease(species="raccoon")
    return card.days_low, card.days, card.days_high


@pytest.mark.parametrize(("each", "passed", "again"), [(8.0, True, 0.0), (60.0, False, 40.0)])
def test_what_the_dry_spot_showed_moves_the_days_of_the_next_head(desk: Door, clock: Clock, each, passed, again):
    shipped = days(desk)
    pot(desk)
    for _ in range(6):
        through_the_pot(desk, clock, each, passed=passed, again=again)
    learned = days(desk)
    assert (learned[1] < shipped[1]) if passed else (learned[1] > shipped[1])
    assert learned[2] / learned[0] < shipped[2] / shipped[0]
    assert any("pieces of this room" in row.source for row in desk.degrease(species="raccoon").basis)


def test_a_room_that_writes_no_pot_down_keeps_the_table(desk: Door, clock: Clock):
    shipped = days(desk)
    tag = take_in(desk, "raccoon").tag
    moved(desk, tag, "pot", "step=degrease")
    clock.now += timedelta(days=5)
    moved(desk, tag, "rack", "step=dry")
    assert days(desk) == shipped


def test_a_piece_taken_back_teaches_nothing(desk: Door, clock: Clock):
    shipped = days(desk)
    pot(desk)
    tag = through_the_pot(desk, clock, 8.0, passed=True)
    assert days(desk) != shipped
    for entry in desk.specimen(tag).entries:
        if entry.kind in ("moved", "done"):
            desk.undo(entry.id)
    assert days(desk) == shipped


def test_a_pots_page_says_where_each_piece_stands(desk: Door, clock: Clock):
    pot(desk)
    tag = take_in(desk, "white-tailed deer").tag
    moved(desk, tag, "pot", "step=degrease")
    clock.now += timedelta(days=1)
    early = desk.bath("pot").contents[0].degreasing
    clock.now += timedelta(days=7)
    desk.note_bath(Happened(bath="pot", what="changed", values={"sieved": "yes", "teeth": "0", "clarity": "clear"}))
    clock.now += timedelta(days=8)
    late = desk.bath("pot").contents[0].degreasing
    assert early is not None
    assert late is not None
    assert early.clean_chance < 0.05 < late.clean_chance
    assert late.days < early.days
    assert (early.looks, late.looks) == (0, 1)
    assert late.standing == "estimate"


def test_water_that_two_share_tells_of_neither(desk: Door, clock: Clock):
    pot(desk)
    for _ in range(2):
        moved(desk, take_in(desk, "raccoon").tag, "pot", "step=degrease")
    clock.now += timedelta(days=4)
    desk.note_bath(Happened(bath="pot", what="changed", values={"sieved": "yes", "teeth": "0", "clarity": "fat on top"}))
    clock.now += timedelta(days=1)
    assert [piece.degreasing.looks for piece in desk.bath("pot").contents if piece.degreasing] == [0, 0]
