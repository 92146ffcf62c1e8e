"""Looking for a better order: never worse than the rules, exact where every order can be tried, the same for the same seed."""

import random
from datetime import timedelta
from itertools import permutations

import pytest

from bonebench.planning.dispatch import dispatch
from bonebench.planning.prepared import Prepared
from bonebench.planning.problem import Room
from bonebench.planning.rules import SIX_RULES, bottleneck_first, cost_of_waiting, least_slack, six_plans
from bonebench.planning.search import search
from tests.planning.checker import faults
from tests.planning.rooms import NOW, piece, problem, stay


def season(pieces, *, seed, tight):
    """A made-up queue at one pot and one tub: due days that cannot all be kept."""
    rng = random.Random(seed)
    made = [
        piece(
            f"{n:02d}",
            stay("degrease", "pot", rng.choice((1, 3, 6, 10))),
            stay("whiten", "tub", rng.choice((1, 2, 4))),
            due=NOW.date() + timedelta(days=rng.randrange(2, max(3, int(pieces * tight)))),
            weight=rng.choice((1.0, 1.0, 2.0, 5.0)),
        )
        for n in range(pieces)
    ]
    return problem(*made, places=[Room("pot", "pot", 1), Room("tub", "tub", 1)])


@pytest.mark.parametrize("seed", range(4))
def test_a_tiny_room_gets_the_best_of_every_order_and_says_that_it_is_proven(seed):
    room = season(5, seed=seed, tight=3)
    found = search(room, moves=200)
    assert found.proven
    assert found.plan.score == min(dispatch(room, order).score for order in permutations(p.key for p in room.pieces))


@pytest.mark.parametrize("seed", range(6))
def test_a_search_is_never_worse_than_the_best_of_the_six_rules_and_keeps_every_rule_of_the_room(seed):
    room = season(14, seed=seed, tight=4)
    found = search(room, moves=60, seed=seed)
    assert found.plan.score <= found.best_rule.score == min(plan.score for plan in six_plans(Prepared(room)))
    assert faults(room, found.plan) == []
    assert not found.proven


def test_a_search_finds_less_lateness_than_any_rule_in_most_overloaded_rooms():
    better = [
        found.plan.score[0] < found.best_rule.score[0]
        for found in (search(season(14, seed=s, tight=2), moves=120) for s in range(6))
    ]
    assert sum(better) >= 4


def test_the_same_problem_and_seed_give_the_same_plan_and_effort_is_counted():
    room = season(12, seed=1, tight=3)
    one, other = search(room, moves=50, seed=7), search(room, moves=50, seed=7)
    assert (one.plan, one.tried) == (other.plan, other.tried)
    assert one.tried == 50
    assert not one.cut_short


def test_what_the_ceiling_cuts_short_says_so_and_still_has_a_plan():
    room, asked = season(12, seed=1, tight=3), []
    found = search(room, moves=50, out_of_time=lambda: asked.append(1) or len(asked) > 10)
    assert found.cut_short
    assert found.tried == 10
    assert found.plan.score <= found.best_rule.score


def test_yesterdays_order_is_where_it_begins_with_what_is_gone_left_out_and_what_is_new_at_the_end():
    room = season(12, seed=3, tight=3)
    before = search(room, moves=80).plan
    again = search(room, moves=0, start=(*before.order, "gone"))
    assert again.plan.score == before.score


def test_progress_hears_of_each_better_plan():
    heard = []
    found = search(season(12, seed=5, tight=2), moves=80, progress=lambda tried, score: heard.append((tried, score)))
    assert [score for _, score in heard] == sorted((score for _, score in heard), reverse=True)
    assert not heard or heard[-1][1] == pytest.approx(found.plan.score)


def test_the_rules_say_what_their_names_say():
    late = piece("late", stay("degrease", "pot", 5), due=NOW.date() + timedelta(days=6))
    easy = piece("easy", stay("degrease", "pot", 1), due=NOW.date() + timedelta(days=3))
    never = piece("never", stay("degrease", "pot", 9))
    prepared = Prepared(problem(never, easy, late, places=[Room("pot", "pot", 1)]))
    # Slack by hand: late 6 - 5 = 1 day, easy 3 - 1 = 2 days, never: none that counts.
    assert least_slack(prepared) == ("late", "easy", "never")
    # The pot is the narrow place: 1, 5 and 9 days in it.
    assert bottleneck_first(prepared) == ("easy", "late", "never")
    assert cost_of_waiting(prepared)[-1] == "never"
    assert set(SIX_RULES) == {
        "earliest due",
        "shortest for its weight",
        "first come",
        "least slack",
        "cost of waiting",
        "bottleneck first",
    }
