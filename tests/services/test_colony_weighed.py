"""Weighed heads of the log as what their box ate: alone by the scale, beside others only as far as those are known."""

from datetime import timedelta

import pytest

from bonebench.door import Look
from bonebench.services.colony.book import colonies
from bonebench.services.colony.weighed import eaten_of
from bonebench.services.gather import everything_in_work, known_of

from .hands import moved, take_in


def into(desk, clock, before=None, species="coyote"):
    tag = take_in(desk, species).tag
    desk.log(tag, "done", ["step=trim"])
    clock.advance(hours=1)
    if before:
        desk.note_piece(tag, mass=before)
    desk.log(tag, "done", ["step=freeze again"])
    clock.advance(hours=1)
    moved(desk, tag, "beetle-box", "step=beetles")
    return tag


def eaten(desk, clock):
    with desk.book.reading() as tx:
        return eaten_of(everything_in_work(tx, known_of(tx)), clock.now, clock.now - timedelta(days=40))


def test_a_head_weighed_before_and_clean_is_all_its_tissue_in_so_many_days(desk, clock):
    tag = into(desk, clock, "660 g")
    clock.advance(days=5)
    desk.log(tag, "done", ["step=judged clean"])
    desk.note_piece(tag, mass="380 g")
    (one,) = eaten(desk, clock)
    # By hand: 660 - 380 g in 5 days.
    assert (one.tag, one.mass_kg) == (tag, pytest.approx(0.28))
    assert (one.until - one.since) == timedelta(days=5)


def test_one_weighed_in_between_counts_less_than_the_scale_lost_for_some_of_it_dried(desk, clock):
    tag = into(desk, clock, "660 g")
    clock.advance(days=1.5)
    desk.note_piece(tag, mass="470 g")
    found = eaten(desk, clock)
    assert all(one.mass_kg < 0.19 for one in found)
    assert all(one.spread > 0.35 for one in found)


def test_beside_pieces_that_nobody_weighed_it_says_nothing_where_they_are_most_of_it(desk, clock):
    for _ in range(3):
        into(desk, clock)
    tag = into(desk, clock, "660 g")
    clock.advance(days=5)
    desk.log(tag, "done", ["step=judged clean"])
    desk.note_piece(tag, mass="600 g")
    assert eaten(desk, clock) == ()


def test_two_weighed_heads_are_added_and_make_one_reading(desk, clock):
    first, second = into(desk, clock, "660 g"), into(desk, clock, "640 g")
    clock.advance(days=5)
    for tag in (first, second):
        desk.log(tag, "done", ["step=judged clean"])
        desk.note_piece(tag, mass="360 g")
    found = eaten(desk, clock)
    # By hand: 300 + 280 g, less the few grams of the first two hours of one of them.
    assert [one.mass_kg for one in found] == [pytest.approx(0.58, abs=0.04)]


def test_what_weighed_heads_ate_moves_the_appetite_of_a_counted_colony(desk, clock):
    desk.note_colony(Look(counted="60", part="5%"))
    tag = into(desk, clock, "660 g")
    clock.advance(days=4)
    before = desk.read(colonies).boxes[0].numbers
    desk.log(tag, "done", ["step=judged clean"])
    desk.note_piece(tag, mass="340 g")
    after = desk.read(colonies).boxes[0].numbers
    # 1,200 counted can eat about 20 g a day by the figures; 320 g in 4 days is 80: it must go up.
    assert after.appetite_kg_per_day.value > 1.3 * before.appetite_kg_per_day.value
    assert "colony.weighed_heads" in [flag.what.key for flag in after.flags]
