"""What the looks into a box say today: warnings that stand until somebody looked again, and when a pad is wetted."""

from datetime import timedelta

import pytest

from bonebench.reference.pests import load_pests
from bonebench.services.colony.news import BOUNDS
from bonebench.shop.colony_entries import ColonySeen
from bonebench.shop.colony_news import Asked, news, too_damp_to_wet
from bonebench.shop.entries import RoundDone
from bonebench.shop.fold import tell
from bonebench.shop.rounds import fold_place

from .logbook import NOON, entry

BOX = "place:box"
DAY = 1440


def asked(days: float = 0) -> Asked:
    return Asked(NOON + timedelta(days=days), lambda at: at.date(), BOUNDS, load_pests())


def place(*whats):
    """A box with these entries, each so many days after noon: (day, what)."""
    return fold_place(
        "box", tell([entry(n + 1, what, subjects=(BOX,), minutes=day * DAY + 1) for n, (day, what) in enumerate(whats)], BOX)
    )


def keys(log, days=1.0, moist=None):
    return [(one.key, one.act) for one in news(log, "Box", asked(days), moist)]


def test_a_room_that_wrote_nothing_is_told_nothing():
    assert keys(place()) == []


def test_damp_over_seventy_for_a_day_of_looks_is_a_warning_and_one_reading_asks_for_another():
    # Reference, section 7: warn above 70 % lasting 24 h, act above 75 % lasting 48 h (estimates).
    assert keys(place((0, ColonySeen(humidity=0.72)))) == [("damp", False)]
    log = place((0, ColonySeen(humidity=0.72)), (1.2, ColonySeen(humidity=0.74)))
    (one,) = news(log, "Box", asked(2))
    assert one.flag.what.text == "Box stayed above 70 % humidity at every look from 4 May 2026 to 5 May 2026"
    wet = place((0, ColonySeen(humidity=0.76)), (2.1, ColonySeen(humidity=0.80)))
    assert keys(wet, 3) == [("damp", True)]
    assert news(wet, "Box", asked(3))[0].flag.what.text.startswith("Box stayed above 75 %")


def test_a_dry_reading_between_or_after_ends_the_damp():
    between = place((0, ColonySeen(humidity=0.8)), (1, ColonySeen(humidity=0.6)), (2.5, ColonySeen(humidity=0.72)))
    assert [one.flag.what.key for one in news(between, "Box", asked(3))] == ["flag.colony.damp_once"]
    assert keys(place((0, ColonySeen(humidity=0.8)), (2, ColonySeen(humidity=0.7))), 3) == []


@pytest.mark.parametrize(
    ("warm", "found"),
    [(26.6, []), (26.7, [("flight", False)]), (32.5, [("warm", False)]), (38.5, [("hot", True)])],
)
def test_warmth_is_warned_of_from_the_colonys_own_figures_on(warm, found):
    # 26.7 degC: a museum keeper's 80 F [S38]; 32 and 38 degC: estimates of the reference, section 7.
    assert keys(place((0, ColonySeen(temperature_c=warm)))) == found
    assert keys(place((0, ColonySeen(temperature_c=warm))), 4) == []


def test_none_alive_stands_until_somebody_counts_again():
    assert keys(place((0, ColonySeen(counted=0))), 90) == [("none", True)]
    assert keys(place((0, ColonySeen(counted=0)), (1, ColonySeen(grade="a few"))), 2) == []


def test_starved_stands_until_they_were_fed_or_look_better():
    starved = (0, ColonySeen(hunger="starved"))
    assert keys(place(starved)) == [("starved", True)]
    assert keys(place(starved), moist=NOON + timedelta(days=0.5)) == []
    assert keys(place(starved, (0.5, ColonySeen(fed_kg=0.05)))) == []
    assert keys(place(starved, (0.5, ColonySeen(hunger="food left")))) == []
    assert keys(place((0, ColonySeen(hunger="hungry")))) == []


@pytest.mark.parametrize(("smell", "found"), [(1, []), (2, [("smell", False)]), (3, [("smell", True)])])
def test_a_strong_smell_is_said_and_a_foul_one_is_acted_on(smell, found):
    assert keys(place((0, ColonySeen(smell=smell)))) == found
    assert keys(place((0, ColonySeen(smell=smell)), (0.5, ColonySeen(smell=0)))) == []


def test_a_pest_stands_until_its_round_finds_none():
    seen = (0, ColonySeen(pests=("Mites", "spider")))
    assert keys(place(seen), 200) == [("pest", True), ("pest", False)]
    assert keys(place(seen, (3, RoundDone("pests"))), 4) == []
    # The round says mites itself, as an alert of its own; the spider is not in that answer.
    assert keys(place(seen, (3, RoundDone("pests", wrong="mites"))), 4) == [("pest", False)]
    assert keys(place((0, RoundDone("pests")), (1, ColonySeen(pests=("mites",)))), 4) == [("pest", True)]


def test_a_word_on_no_list_is_acted_on_until_somebody_knows():
    (one,) = news(place((0, ColonySeen(pests=("grobbles",)))), "Box", asked(1))
    assert (one.act, one.flag.what.key) == (True, "flag.colony.pest_unknown")


def test_a_look_that_lies_ahead_of_the_clock_says_nothing_yet():
    assert keys(place((5, ColonySeen(humidity=0.9, temperature_c=40, smell=3, hunger="starved"))), 1) == []


def test_a_box_read_as_damp_these_two_days_gets_no_wet_pad():
    looks = place((0, ColonySeen(humidity=0.74))).looks
    assert too_damp_to_wet(looks, asked(1))
    assert not too_damp_to_wet(looks, asked(3))
    assert not too_damp_to_wet(place((0, ColonySeen(humidity=0.74)), (0.5, ColonySeen(humidity=0.6))).looks, asked(1))
