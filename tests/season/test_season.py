"""A season recorded with in, moved, done and problem alone keeps Today, dates and learned durations going; weighing sharpens it."""

import os
import random
import shutil

import pytest

from bonebench.door import Door
from bonebench.records.book import Book
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import RoomDescribed
from tests.conftest import NOW, ZONE, Clock

from .world import POT_DAYS, Season, miss

# A sample in the suite; BONEBENCH_LONG=1 lives a whole season.
LONG = os.environ.get("BONEBENCH_LONG") == "1"
HEADS, DAYS = (40, 200) if LONG else (10, 56)

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def live(template_file, tmp_path_factory):
    """Live the same season, weighed or not, in a book of its own."""

    def season(*, weighs: bool) -> Season:
        path = shutil.copyfile(template_file, tmp_path_factory.mktemp("season") / "book.db")
        clock, rng = Clock(NOW), random.Random(8437)
        door = Door(Book.open(path), clock=clock, rng=rng, writer="season")
        door.write(lambda tx, pen: rooms.set_up(tx, pen, [RoomDescribed("Season", ZONE), *rooms.starter_places()]))
        # An appetite that no head has to wait for, so that the days in the box are each head's own.
        door.set_place(key="beetle-box", kind="beetle box", eats="3 kg")
        told = Season(door, clock, random.Random(11), weighs)
        told.live(DAYS, HEADS)
        return told

    return season


@pytest.fixture(scope="module")
def taps_only(live):
    """The season with taps alone."""
    season = live(weighs=False)
    yield season
    season.door.close()


def test_taps_alone_bring_every_head_through_its_steps_with_dates(taps_only):
    rows = {row.tag: row for row in taps_only.door.specimens().rows}
    assert len(taps_only.heads) == HEADS
    for head in taps_only.heads.values():
        assert head.in_box is not None
        assert head.tag not in rows or rows[head.tag].planned is not None or rows[head.tag].status == "waiting"
    assert all(task.why.text and task.answers for task in taps_only.door.today().tasks)
    assert not any("no time in the plan" in alert.what.text for alert in taps_only.door.today().alerts)


def test_taps_alone_teach_the_room_how_long_its_pot_takes(taps_only):
    """The class says about eight days for grease class 2; this world takes thirteen, and the room moves that way."""
    legs = [
        leg for head in taps_only.heads.values() for leg in taps_only.door.specimen(head.tag).route
        if leg.step == "degrease" and leg.pieces >= 2 and head.species != "raccoon"
    ]  # fmt: skip
    assert legs
    for leg in legs:
        assert 8.0 < leg.days_p50 < 1.3 * POT_DAYS["coyote"]
        assert leg.standing == ("measured in this room" if leg.pieces >= 10 else "common practice, no source")


def test_weighing_the_heads_makes_the_days_in_the_box_sharper(live, taps_only):
    weighed = live(weighs=True)
    blind, sharp = miss(list(taps_only.heads.values())), miss(list(weighed.heads.values()))
    weighed.door.close()
    print(f"mean miss of the days in the box: {blind:.0%} by taps alone, {sharp:.0%} with the heads weighed")
    # The world spreads weights by 35 % and the rest by 10 %: weighing must take at least a quarter of the miss away.
    assert sharp < 0.75 * blind
