"""The colony run once on the plan: what the plan brings, and whether they shrink on it."""

import numpy as np
import pytest

from bonebench.door import Look
from bonebench.door.kinds import better_plan
from bonebench.services.colony.record import held, run_ahead
from bonebench.services.promise.do import for_search, keep_found
from bonebench.services.season.fed import CAUTIOUS, appetite_fed, brought_kg

from .hands import take_in


def gathered(door, **asked):
    return door.read(lambda tx, now: for_search(tx, now, {"moves": 2, **asked}))


def box_of(door):
    return next(place.key for place in door.room().places if place.kind == "beetle box")


def counted(door, number="400"):
    door.note_colony(Look(place=box_of(door), counted=number, part="5 %"))
    return box_of(door)


def looked(door):
    """Search, keep what was found, and return what stands beside the plan."""
    searching = gathered(door)
    found = better_plan(searching, lambda share, words, partial: None)
    with door.book.writing() as tx:
        keep_found(tx, door.now(), searching, found)
    return {flag.what.key: flag for flag in door.plan().flags}, found, searching


def test_what_a_plan_brings_is_the_tissue_of_the_pieces_it_puts_in_by_the_day_they_lie_there(desk):
    box = counted(desk)
    for _ in range(2):
        take_in(desk)
    _, found, searching = looked(desk)
    brought = brought_kg(found.plan, searching, box)
    assert len(brought) == 60
    assert brought.sum() == pytest.approx(sum(piece.tissue_kg for piece in searching.paces.working.pieces), rel=1e-9)
    slot = next(slot for slot in found.plan.slots if slot.step == "beetles")
    first = (slot.start - searching.paces.working.now).days
    assert not brought[:first].any()
    assert brought[first] > 0


def test_fed_more_than_they_can_eat_they_are_as_hungry_as_the_plan_takes_them(desk):
    # A limit: food without end, asked in two ways of the same model.
    box = counted(desk)
    take_in(desk)
    colony = gathered(desk).counted[box]
    plenty = appetite_fed(colony, np.full(60, 5.0))
    paths = run_ahead(*held(colony.looks, colony.box, colony.eaten, colony.at), 60).paths("appetite_kg")
    assert plenty == pytest.approx(np.quantile(paths, CAUTIOUS, axis=0), rel=0.02)


def test_less_food_never_makes_them_hungrier_for_long_and_none_at_all_shrinks_them(desk):
    box = counted(desk)
    take_in(desk)
    colony = gathered(desk).counted[box]
    none, some, plenty = (appetite_fed(colony, np.full(60, kg))[-1] for kg in (0.0, 0.02, 5.0))
    assert none < some < plenty
    assert none < 0.5 * plenty


def test_a_colony_that_the_plan_leaves_hungry_is_told_of_beside_it_and_by_its_own_name(desk):
    box = counted(desk, "2000")
    take_in(desk)
    flags, found, _ = looked(desk)
    note = next(note for note in found.plan.notes if note.key == "plan.note.fed")
    assert note.values["box"] == box
    assert 0.1 < note.values["less"] <= 1
    assert "beetles of Beetle box could eat about" in flags["plan.note.fed"].what.text
    assert "feed them between" in flags["plan.note.fed"].next.text


def test_a_colony_nobody_counted_or_that_gets_nothing_from_the_plan_has_no_such_word(desk):
    take_in(desk)
    flags, _, searching = looked(desk)
    assert (searching.counted, "plan.note.fed" in flags) == ({}, False)
