"""Where new pieces join an order: examples by hand, and the laws a promise leans on."""

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.planning.draws import Arrivals, Draws, Uncertain
from bonebench.planning.joining import joined
from bonebench.planning.prepared import Prepared
from bonebench.planning.search import completed
from bonebench.science.scheduling.tables import HELD, RELEASE
from tests.planning.rooms import NOW, piece, problem, stay

TODAY = NOW.date()
days = st.none() | st.integers(-5, 30)
orders = st.lists(days, max_size=8)


def day(number):
    return None if number is None else TODAY + timedelta(days=number)


def dated(prefix, numbers):
    return [(f"{prefix}{at}", day(number)) for at, number in enumerate(numbers)]


def test_a_new_piece_goes_before_those_promised_later_and_those_not_promised():
    kept = [("early", day(3)), ("middle", day(9)), ("late", day(20)), ("none", None)]
    assert joined(kept, [("new", day(10))]) == ("early", "middle", "new", "late", "none")
    assert joined(kept, [("new", None)]) == ("early", "middle", "late", "none", "new")
    assert joined(kept, [("new", day(9))]) == ("early", "middle", "new", "late", "none")


def test_what_stands_early_without_a_day_does_not_let_a_new_piece_past_those_promised_sooner():
    # A search puts what is under way anywhere: nobody else loses a place by that.
    kept = [("under way", None), ("late", day(20)), ("early", day(3))]
    assert joined(kept, [("new", day(10))]) == ("under way", "late", "early", "new")
    assert joined(kept, [("new", day(1))]) == ("new", "under way", "late", "early")


@given(orders, orders)
def test_one_at_a_time_or_all_at_once_the_order_is_the_same(old, new):
    kept, coming = dated("old", old), dated("new", new)
    due = dict(kept + coming)
    order = tuple(key for key, _ in kept)
    for one in coming:
        order = joined([(key, due[key]) for key in order], [one])
    assert order == joined(kept, coming)


@given(orders, days)
def test_nobody_goes_before_one_who_was_promised_sooner_and_the_kept_keep_their_order(old, new):
    kept = dated("old", old)
    order = joined(kept, [("new", day(new))])
    assert [key for key in order if key != "new"] == [key for key, _ in kept]
    behind = order[order.index("new") + 1 :]
    assert all(due is None or (new is not None and due > day(new)) for key, due in kept if key in behind)
    # And it stands as far forward as that allows: directly behind such a one, or first.
    before = order[: order.index("new")]
    assert new is None or not before or (dict(kept)[before[-1]] or day(99)) <= day(new)


@settings(deadline=None, max_examples=25)
@given(orders, st.lists(st.none() | st.integers(0, 40), min_size=1, max_size=4), st.integers(0, 99))
def test_those_a_replay_draws_join_as_real_ones_do(old, ahead, number):
    stage = stay("degrease", "pot", 1)
    kept = [replace(piece(f"old{at}", stage), due=day(due)) for at, due in enumerate(old)]
    kinds = tuple(piece(f"kind {at}", stage) for at in range(len(ahead)))
    room = problem(*kept)
    order = [one.key for one in kept][::-1]
    arrivals = Arrivals(kinds, dict.fromkeys(range(1, 13), 6.0), 60, tuple(ahead))
    draws = Draws(room, Uncertain(arrivals=arrivals, seed=3), order)
    drawn = draws.draw(number)
    here = [at for at in drawn.order.tolist() if not drawn.tables.piece[at, HELD]]
    # The same who came on the same days, as pieces of the room: the pool takes the kinds in turn.
    came = sorted((at for at in here if at >= len(kept)), key=lambda at: drawn.tables.piece[at, RELEASE])
    real = []
    for at in came:
        release, days_ahead = int(drawn.tables.piece[at, RELEASE]) // 86400, ahead[(at - len(kept)) % len(ahead)]
        due = None if days_ahead is None else day(release + days_ahead)
        real.append(replace(piece(draws.quick.keys[at], stage), due=due))
    keys = [draws.quick.keys[at] for at in here]
    assert _classes(keys, real, drawn, draws) == _classes(
        list(completed(order, Prepared(problem(*kept, *real)))), real, drawn, draws
    )


def _classes(keys, real, drawn, draws):
    """An order in which those who came on one day for one day go by name: which of them comes first means nothing."""
    due = {one.key: one.due for one in real}
    names = {key: (int(drawn.tables.piece[draws.quick.number[key], RELEASE]), due[key]) for key in due}
    return [names.get(key, key) for key in keys]


def test_promised_days_are_given_for_every_kind_or_for_none():
    kinds = (piece("a", stay("degrease", "pot", 1)), piece("b", stay("degrease", "pot", 1)))
    assert Arrivals(kinds, {}).usual_ahead_days is None
    assert Arrivals(kinds, {}, 9, (None, None)).usual_ahead_days is None
    assert Arrivals(kinds, {}, 9, (None, 30)).usual_ahead_days == 30
    with pytest.raises(OutsideRange, match="1 promised days were given for 2 kinds of piece"):
        Arrivals(kinds, {}, 9, (30,))
