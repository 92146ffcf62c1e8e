"""Hours of hands over some days: what is wanted of each kind of work against those trained for it."""

from datetime import time
from fractions import Fraction
from math import inf

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_flow

from bonebench.planning.calendars import Calendar
from bonebench.planning.draws import Arrivals
from bonebench.planning.hands import Person, hand_hours, minutes_wanted, people_over
from bonebench.planning.problem import Running
from bonebench.planning.season import inflow
from tests.planning.rooms import NOW, act, at, person, piece, problem, stay

KINDS = ("", "baths", "peroxide", "raw", "teeth")


def room(*people):
    return [Person(frozenset(trained), minutes) for trained, minutes in people]


def test_one_pair_of_hands_is_not_counted_twice():
    # Ada alone does both and has 100 minutes: 60 of each are 60 % of her one by one, and 120 of 100 together.
    found = hand_hours({"peroxide": 60, "teeth": 60}, room(({"peroxide", "teeth"}, 100)))
    assert [(one.kinds, one.share) for one in found.kinds] == [(("peroxide",), 0.6), (("teeth",), 0.6)]
    assert (found.tightest.kinds, found.tightest.share) == (("peroxide", "teeth"), 1.2)
    assert found.together == found.tightest


def test_two_kinds_may_be_tighter_than_each_and_than_all_of_it():
    # Ada (peroxide, teeth) has 100, Bo (raw) 300: peroxide and teeth want 112 of Ada's 100; with raw's 30 it is 142 of 400.
    people = room(({"peroxide", "teeth"}, 100), ({"raw"}, 300))
    found = hand_hours({"peroxide": 50, "teeth": 62, "raw": 30}, people)
    assert (found.tightest.kinds, found.tightest.share) == (("peroxide", "teeth"), 1.12)
    assert found.together.share == 142 / 400


def test_work_nobody_is_trained_for_is_there_as_none_and_what_needs_no_training_is_anyones():
    found = hand_hours({"teeth": 5, "": 30}, room(({"raw"}, 60), ((), 60)))
    by_kind = {one.kinds[0]: one for one in found.kinds}
    assert (by_kind["teeth"].there_minutes, by_kind["teeth"].share) == (0, inf)
    assert (by_kind[""].there_minutes, by_kind[""].share) == (120, 0.25)
    assert found.tightest.kinds == ("teeth",)
    assert hand_hours({}, room(({"raw"}, 60))).tightest is None


def fits(wanted, people, times_wanted=1, times_there=1, more_of=None):
    """Whether all the work finds hands, by the greatest flow from work over people (scipy); everything in whole minutes."""
    first, end = 1 + len(wanted), 1 + len(wanted) + len(people)
    flow = np.zeros((end + 1, end + 1), np.int32)
    for n, (kind, minutes) in enumerate(wanted.items()):
        flow[0, 1 + n] = minutes * times_wanted + (kind == more_of)
        for who, one in enumerate(people):
            flow[1 + n, first + who] = 2**30 if one.may_do_any((kind,)) else 0
    for who, one in enumerate(people):
        flow[first + who, end] = one.minutes * times_there
    return maximum_flow(csr_array(flow), 0, end).flow_value == flow[0].sum()


minutes = st.integers(0, 200)
crews = st.lists(st.tuples(st.sets(st.sampled_from(KINDS[1:])), minutes), max_size=4)


@given(st.dictionaries(st.sampled_from(KINDS), minutes, min_size=1), crews)
def test_the_tightest_share_is_where_the_greatest_flow_just_carries_the_work(wanted, crew):
    # Max-flow min-cut: with so many times the hours as the share says everything fits exactly, and not one minute more of it.
    people, tightest = room(*crew), hand_hours(wanted, room(*crew)).tightest
    if tightest is None:
        assert not any(wanted.values())
        return
    if tightest.share == inf:
        assert not fits(wanted, people, times_there=1000)
        return
    share = Fraction(tightest.wanted_minutes, tightest.there_minutes)
    assert fits(wanted, people, share.denominator, share.numerator)
    assert not fits(wanted, people, share.denominator, share.numerator, more_of=tightest.kinds[0])
    assert fits(wanted, people) == (share <= 1)


def test_hours_are_counted_from_now_on_without_closed_days_and_by_the_zones_own_clock():
    # Monday 2 March 2026, 8:00 in Chicago. 7:00 to 10:00 each day: two hours are left of today, three of Tuesday, Wednesday is
    # closed; on Sunday the 8th 1:30 to 4:00 is an hour and a half, for the clocks go from 2:00 to 3:00.
    early = {day: ((time(7), time(10)),) for day in range(6)} | {6: ((time(1, 30), time(4)),)}
    calendar = Calendar(problem(people=[person(hours=early)], closed=frozenset({at(2).date()})))
    today = calendar.today
    assert people_over(calendar, today, 3)[0].minutes == (2 + 3) * 60
    assert people_over(calendar, calendar.date_of(6), 1)[0].minutes == 90


def test_what_runs_has_had_its_hands():
    stages = (stay("whiten", "tub", 2, minutes=10, work="baths"), act("teeth", minutes=25, work="glue"))
    fresh, begun = piece("A", *stages), piece("B", *stages, running=Running("tub", NOW))
    assert minutes_wanted([(fresh, 1.0)]) == {"baths": 10, "glue": 25}
    assert minutes_wanted([(begun, 2.0)]) == {"glue": 50}


def test_a_month_names_the_hands_where_they_are_tightest():
    # April 2026 has 22 weekdays; an hour each is 22 h for everything. 30 of 30.44 expected pieces of 60 minutes trimming and 30
    # teeth are 45 h: 205 %.
    kind = piece("deer", act("trim", minutes=60, work="raw"), act("teeth", minutes=30, work="teeth"))
    hours = {day: ((time(9), time(10)),) for day in range(5)}
    months = inflow(problem(people=[person(hours=hours, trained=("raw", "teeth"))]), Arrivals((kind,), {4: 30.44}), months=2)
    april = months[1]
    assert april.tightest[0] == "hands"
    assert (april.hands.tightest.kinds, april.hands.tightest.there_minutes) == (("raw", "teeth"), 22 * 60)
    assert abs(april.tightest[1] - 45 / 22) < 1e-9
    assert inflow(problem(), Arrivals((kind,), {4: 30.44}), months=2)[1].hands is None
