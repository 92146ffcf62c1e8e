"""The room's own pieces shift the days of its methods, but never the days that are a rule."""

import pytest

from bonebench.records.states import StayRow
from bonebench.services.known import known_in
from bonebench.services.learned import NOT_LEARNED, with_learned
from bonebench.shop.room import Room
from bonebench.shop.steps import Step

KNOWN = known_in(Room())


def stays(step, method, days, count=40):
    return [StayRow(step.value, 1, method, "red-fox", 0.4, days)] * count


@pytest.mark.parametrize(
    ("step", "method"), [(Step.KILL, "freeze-kill"), (Step.FREEZE_AGAIN, "freeze-again"), (Step.RINSE, "three-changes")]
)
def test_forty_heads_frozen_or_rinsed_too_briefly_do_not_shorten_the_rule(step, method):
    learned = with_learned(KNOWN, stays(step, method, 0.5))
    assert step in NOT_LEARNED
    assert learned.methods[method] == KNOWN.methods[method]


def test_forty_heads_in_the_pot_do_shift_the_pot_and_say_how_many_they_are():
    pot = with_learned(KNOWN, stays(Step.DEGREASE, "warm-pot", 20.0)).methods["warm-pot"]
    assert KNOWN.methods["warm-pot"].days["2"].p50 < pot.days["2"].p50 < 20.0
    assert (pot.pieces["2"], pot.pieces["red-fox"]) == (40, 40)
    assert pot.days["5"] == KNOWN.methods["warm-pot"].days["5"]


def test_a_stay_by_another_method_teaches_that_method_only():
    methods = with_learned(KNOWN, stays(Step.DEGREASE, "hot-pot", 0.3)).methods
    assert methods["warm-pot"] == KNOWN.methods["warm-pot"]
