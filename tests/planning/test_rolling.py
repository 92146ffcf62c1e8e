"""A backlog of many, searched stretch by stretch."""

from bonebench.planning.prepared import Prepared
from bonebench.planning.rolling import search_rolling
from bonebench.planning.rules import six_plans
from tests.planning.checker import faults
from tests.planning.test_search import season


def test_a_long_backlog_comes_out_better_than_any_rule_and_keeps_every_rule_of_the_room():
    room = season(60, seed=2, tight=3)
    found = search_rolling(room, stretch=20, moves_each=60)
    assert found.best_rule.score == min(plan.score for plan in six_plans(Prepared(room)))
    assert found.plan.score < found.best_rule.score
    assert faults(room, found.plan) == []


def test_the_same_seed_gives_the_same_plan_and_the_ceiling_is_said():
    room = season(40, seed=5, tight=3)
    assert search_rolling(room, stretch=20, moves_each=20).plan == search_rolling(room, stretch=20, moves_each=20).plan
    cut = search_rolling(room, stretch=20, moves_each=20, out_of_time=lambda: True)
    assert cut.cut_short
    assert cut.plan == cut.best_rule
