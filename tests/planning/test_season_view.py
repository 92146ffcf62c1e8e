"""The season ahead: what comes in against what there is, when the freezer is full, the last day for a holiday."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bonebench.errors import Impossible
from bonebench.planning.draws import Arrivals, Uncertain
from bonebench.planning.problem import Load, Room, Spread
from bonebench.planning.season import expected_pieces, filling, inflow, last_day_to_accept
from tests.planning.rooms import NOW, at, eat, piece, problem, stay

POT = Room("pot", "pot", 2)


def test_a_month_is_counted_against_appetite_and_pots_by_hand():
    kind = piece("deer", eat(), stay("degrease", "pot", 6), tissue_kg=0.3, eating_kg_per_day=0.1, load=Load(1))
    known = replace(kind, key="K", release=at(20), received=at(20))
    room = problem(known, places=[POT, Room("box", "box")], appetite={"box": 0.1})
    march, april = inflow(room, Arrivals((kind,), {3: 30.44, 4: 60.88}), months=2)
    # From 2 March 30 days are left of it: one a day is 30, and the known one; 0.3 kg each against 0.1 kg a day; 6 days in two pots.
    assert march.pieces == pytest.approx(31)
    assert (march.tissue_kg, march.appetite_kg) == (pytest.approx(9.3), pytest.approx(3.0))
    assert (march.wanted, march.there) == ({"pot": pytest.approx(186)}, {"pot": 60})
    assert march.tightest == ("pot", pytest.approx(3.1)) or march.tightest == ("appetite", pytest.approx(3.1))
    assert april.first == date(2026, 4, 1)
    assert april.pieces == pytest.approx(60)


def test_the_freezer_fills_when_more_comes_in_than_goes_on():
    # One a day comes in, one in two days goes on into the only pot: half a piece a day stays. Six are too many after about 12 days.
    kind = piece("head", stay("degrease", "pot", 2))
    room = problem(places=[Room("freezer", "freezer", 5), Room("pot", "pot", 1)], horizon_days=200)
    filled = filling(room, Arrivals((kind,), dict.fromkeys(range(1, 13), 30.44), days=60), days=60)
    assert filled.holds == 5
    assert abs((filled.full_on - NOW.date()).days - 12) <= 2
    assert filling(room, Arrivals((kind,), dict.fromkeys(range(1, 13), 10.0), days=60), days=60).full_on is None


def test_litres_may_fill_before_the_count_does():
    here = [piece(str(n), stay("degrease", "pot", 2), place="freezer", load=Load(1, 10)) for n in range(3)]
    room = problem(*here, places=[Room("freezer", "freezer", 9, volume_l=25), Room("pot", "pot", 0)])
    filled = filling(room, None, days=10)
    assert (filled.holds, filled.days[0], filled.full_on) == (25, 30, NOW.date())


def test_the_last_day_for_a_holiday_is_the_holiday_less_what_it_takes_at_eighty_percent():
    # Alone in the room 10 days, p90 20: at 80 % 10 x 2^(0.8416/1.2816) = 15.8 days. 60 days ahead less 16: day 44 or so.
    new = piece("new", stay("degrease", "pot", 10, spread=Spread(5, 20)))
    room = problem(places=[Room("pot", "pot", 1)])
    found = last_day_to_accept(room, [], new, Uncertain(), through_by=NOW.date() + timedelta(days=60))
    assert abs((found.day - NOW.date()).days - 44) <= 2
    assert found.promised.p80 <= found.through_by


def test_too_late_is_said_and_a_day_that_is_past_is_refused():
    new = piece("new", stay("degrease", "pot", 10))
    room = problem(places=[Room("pot", "pot", 1)])
    assert last_day_to_accept(room, [], new, Uncertain(), through_by=NOW.date() + timedelta(days=5), replays=5).day is None
    with pytest.raises(Impossible, match="is not ahead"):
        last_day_to_accept(room, [], new, Uncertain(), through_by=NOW.date())


def test_who_is_expected_comes_evenly_and_is_promised_as_its_kind_was():
    # One a day from 2 March on; the kinds take turns: one was promised ten days ahead, the other no day.
    kinds = tuple(piece(key, stay("degrease", "pot", 1)) for key in "ab")
    arrivals = Arrivals(kinds, dict.fromkeys(range(1, 13), 30.44), 60, (10, None))
    found = expected_pieces(problem(), arrivals, 4)
    today = NOW.date()
    assert [(one.release - NOW).days for one in found] == [0, 1, 2, 3]
    assert [one.due for one in found] == [today + timedelta(days=10), None, today + timedelta(days=12), None]
