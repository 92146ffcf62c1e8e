"""A colony told from its looks: nothing is refused, what is odd is flagged."""

import pytest

from bonebench.shop.colony import counts_none, fold_colony, tells_size
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.entries import Noted, Void
from bonebench.shop.fold import tell

from .logbook import entry

BOX = "place:box"


def told(*looks: ColonySeen):
    return fold_colony(tell([entry(n + 1, look, subjects=(BOX,)) for n, look in enumerate(looks)], BOX))


def keys(log):
    return [flag.what.key for flag in log.flags]


def test_looks_are_told_in_order_and_other_entries_are_none():
    entries = [
        entry(2, ColonySeen(fed_kg=0.2), subjects=(BOX,)),
        entry(1, ColonySeen(counted=40, part=0.02), subjects=(BOX,)),
        entry(3, Noted("n"), subjects=(BOX,)),
    ]
    log = fold_colony(tell(entries, BOX))
    assert [one.what.fed_kg for one in log.seen] == [None, 0.2]
    assert log.last_count.entry == "e001"


def test_a_look_that_was_taken_back_tells_nothing():
    entries = [entry(1, ColonySeen(counted=0), subjects=(BOX,)), entry(2, Void("e001"), subjects=(BOX,))]
    log = fold_colony(tell(entries, BOX))
    assert (log.seen, log.flags) == ((), ())


@pytest.mark.parametrize("none", [ColonySeen(counted=0, part=0.05), ColonySeen(counted=0), ColonySeen(grade="none")])
def test_a_count_of_none_is_kept_and_flagged(none):
    log = told(none)
    assert log.last_count.what == none
    assert keys(log) == ["flag.colony.none"]


def test_a_later_count_of_some_ends_the_alarm():
    assert keys(told(ColonySeen(counted=0), ColonySeen(counted=5, part=0.05))) == []


def test_more_pupae_than_sites_are_kept_and_flagged():
    log = told(ColonySeen(sites=300), ColonySeen(pupae=100, pupae_part=0.25))
    assert keys(log) == ["flag.colony.sites"]
    assert keys(told(ColonySeen(sites=300), ColonySeen(pupae=70, pupae_part=0.25))) == []


@pytest.mark.parametrize(
    ("look", "key"),
    [
        (ColonySeen(counted=40), "flag.colony.part"),
        (ColonySeen(counted=40, part=7.0), "flag.colony.part"),
        (ColonySeen(counted=-1, part=0.5), "flag.colony.negative"),
        (ColonySeen(smell=3), "flag.colony.foul"),
        (ColonySeen(pests=("mites",)), "flag.colony.pest"),
        (ColonySeen(pupae=1e308, pupae_part=1e-300, sites=1), "flag.colony.sites"),
    ],
)
def test_what_is_odd_is_flagged_and_never_raises(look, key):
    assert key in keys(told(look))


def test_only_a_grade_a_share_or_none_at_all_tells_the_size():
    assert tells_size(ColonySeen(grade="hundreds"))
    assert tells_size(ColonySeen(counted=40, part=0.02))
    assert tells_size(ColonySeen(counted=0))
    assert not tells_size(ColonySeen(counted=40))
    assert not tells_size(ColonySeen(counted=-3, part=0.02))
    assert not counts_none(ColonySeen(pupae=0))
