"""A bath as the log tells it."""

import itertools
from dataclasses import replace
from datetime import date

from bonebench.shop.bath import Bath, fold_bath
from bonebench.shop.bath_entries import (
    BathAdded,
    BathDiscarded,
    BathLooked,
    BathMade,
    BathTaken,
    BathTested,
    Clarity,
    Recipe,
    WaterChanged,
    bath_subject,
)
from bonebench.shop.entries import Void
from bonebench.shop.fold import tell

from .logbook import NOON, entry

MADE = BathMade("Tub 1", "tub", Recipe.PEROXIDE, volume_l=10, strength_w=0.03, stock_w=0.35, vessel_l=15)
POT = BathMade("Pot", "pot", Recipe.DETERGENT, volume_l=20, dose=0.01, temperature_c=45)
SUBJECT = bath_subject("b1")


def bath(*whats):
    return fold_bath("b1", tell([entry(n, what, subjects=(SUBJECT,)) for n, what in enumerate(whats, 1)], SUBJECT))


def keys(found: Bath) -> list[str]:
    return [flag.what.key.removeprefix("flag.bath.") for flag in found.flags]


def test_a_bath_is_what_was_put_in_it():
    made = bath(MADE, BathAdded("stock", volume_l=0.5, strength_w=0.35), BathTaken(2.0))
    assert (made.name, made.place, made.recipe, made.volume_l, made.live) == ("Tub 1", "tub", Recipe.PEROXIDE, 8.5, True)
    assert [event.kind for event in made.events] == ["made", "added", "taken"]
    assert keys(made) == []


def test_the_same_entries_give_the_same_bath_in_every_order_of_arrival():
    written = [
        entry(n, what, subjects=(SUBJECT,))
        for n, what in enumerate((MADE, BathAdded("water", volume_l=1), BathTested("strip", low_w=0.01, high_w=0.03)), 1)
    ]
    told = {repr(fold_bath("b1", tell(order, SUBJECT))) for order in itertools.permutations(written)}
    assert len(told) == 1


def test_a_change_of_water_begins_a_new_filling_and_keeps_what_was_found():
    pot = bath(POT, BathLooked(Clarity.CLOUDY, 47.0), WaterChanged(Clarity.CLOUDY, sieved=True, teeth=0))
    assert (pot.temperature_c, pot.fresh_since, len(pot.changes)) == (47.0, pot.events[-1].at, 1)
    assert pot.changes[0].clarity is Clarity.CLOUDY


def test_a_bath_thrown_away_stands_there_no_more():
    gone = bath(MADE, BathDiscarded("stood open three days"))
    assert (gone.live, gone.discarded_how) == (False, "stood open three days")
    assert keys(bath(MADE, BathDiscarded(), BathLooked())) == ["after_discard"]


def test_what_is_odd_is_kept_and_flagged_with_what_to_check():
    assert keys(bath(replace(MADE, strength_w=0.4))) == ["above_stock"]
    assert keys(bath(replace(MADE, stock_opened=date(2026, 5, 9)))) == ["before_stock"]
    assert keys(bath(MADE, BathTested("permanganate", strength_w=0.5))) == ["stronger_than_stock"]
    assert keys(bath(MADE, BathTested("strip"))) == ["empty_test"]
    assert keys(bath(MADE, BathAdded("water", volume_l=9))) == ["over_full"]
    assert keys(bath(MADE, MADE)) == ["made_twice"]
    assert keys(bath(BathTested("strip", strength_w=0.03))) == ["never_made"]
    assert keys(bath(MADE, BathTaken(-1.0))) == ["negative"]
    assert keys(bath(replace(MADE, strength_w=3.0, stock_w=None))) == ["above_one"]


def test_water_poured_off_unsieved_or_teeth_of_nobody_are_flagged():
    assert keys(bath(POT, WaterChanged(sieved=False))) == ["not_sieved"]
    assert keys(bath(POT, WaterChanged(sieved=True, teeth=2))) == ["whose_teeth"]
    assert keys(bath(POT, WaterChanged(sieved=True, teeth=2, whose="specimen:fox"))) == []


def test_an_entry_taken_back_did_not_happen():
    entries = [entry(1, MADE, subjects=(SUBJECT,)), entry(2, BathDiscarded(), subjects=(SUBJECT,))]
    undone = [*entries, entry(3, Void("e002"), subjects=(SUBJECT,))]
    assert fold_bath("b1", tell(undone, SUBJECT)).live


def test_a_bath_nobody_wrote_about_is_nothing():
    assert fold_bath("b1", tell([], SUBJECT)) == Bath("b1")
    assert Bath("b1").fresh_since is None
    assert bath(MADE).made is not None
    assert bath(MADE).made > NOON
