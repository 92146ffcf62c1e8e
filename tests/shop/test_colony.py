"""A colony told from its looks: nothing is refused, what is odd is flagged."""

import pytest

from bonebench.shop.colony import at_hand, counts_none, fold_colony, tells_size
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
def test_a_count_of_none_is_kept_as_the_last_count(none):
    log = told(none)
    assert log.last_count.what == none
    assert keys(log) == []


def test_looks_at_hand_are_the_last_weeks_the_last_count_and_the_pests_of_a_year():
    days = [400, 300, 200, 90, 30, 0]
    pests = [ColonySeen(pests=("mites",)), ColonySeen(pests=("flies",))]
    whats = [*pests, ColonySeen(counted=0), *(ColonySeen(smell=n) for n in (1, 2, 0))]
    entries = [
        entry(n + 1, what, subjects=(BOX,), minutes=-1440 * ago) for n, (what, ago) in enumerate(zip(whats, days, strict=True))
    ]
    kept = at_hand(fold_colony(tell(entries, BOX)).seen)
    # By hand: 60 days before the newest keep 30 and 0; the last count is of day 200; the pests of day 400 are over a year old.
    assert [one.entry for one in kept] == ["e002", "e003", "e005", "e006"]
    assert at_hand(()) == ()


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
