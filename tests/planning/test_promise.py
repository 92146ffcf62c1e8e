"""Promises: quantiles against the distribution they were drawn from, the same draws for everybody, and what limits a date."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta
from statistics import NormalDist

import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.planning.dispatch import dispatch
from bonebench.planning.draws import Draws
from bonebench.planning.problem import Room, Running, Spread
from bonebench.planning.promise import Arrivals, Uncertain, promise, quote
from bonebench.planning.search import search
from tests.planning.rooms import NOW, at, eat, piece, problem, stay

Z80, Z95 = NormalDist().inv_cdf(0.8), NormalDist().inv_cdf(0.95)
POT = [Room("pot", "pot", 1)]


def soak(days, low=0.5, high=2.0, shared="", **more):
    return stay("degrease", "pot", days, spread=Spread(days * low, days * high, shared=shared), **more)


def test_the_dates_of_a_lone_piece_are_the_quantiles_of_its_duration():
    # Lognormal with p90 = 2 x p50: p80 = p50 x 2^(z80/z90), p95 = p50 x 2^(z95/z90). 1,000 draws: 3 standard errors of a sample
    # quantile at 95 % are about 9 % of the value here, at 50 and 80 % less.
    promised = promise(problem(piece("A", soak(40)), places=POT), ["A"], Uncertain())["A"]
    lasted = promised.lasting_days
    z90 = NormalDist().inv_cdf(0.9)
    assert lasted[500] == pytest.approx(40, rel=0.05)
    assert lasted[800] == pytest.approx(40 * 2 ** (Z80 / z90), rel=0.07)
    assert lasted[950] == pytest.approx(40 * 2 ** (Z95 / z90), rel=0.10)
    assert promised.p80 == (NOW + timedelta(days=lasted[799])).astimezone(problem().zone).date()
    assert [one.limit for one in promised.limited_by] == ["itself"]


def test_a_shared_error_does_not_average_out_and_an_own_one_does():
    # Ten in a row in one pot. Own errors: the spread of the sum is 1/sqrt(10) of one piece's; shared: all of it.
    def width(part):
        stage = stay("degrease", "pot", 4, spread=Spread(2, 8, shared="hot pot", shared_part=part))
        pieces = [piece(str(n), stage) for n in range(10)]
        ends = promise(problem(*pieces, places=POT), [p.key for p in pieces], Uncertain(), wanted=["9"], replays=400)["9"]
        return ends.lasting_days[360] / ends.lasting_days[40]

    assert width(1.0) == pytest.approx(4, rel=0.2)  # p90 / p10 of one piece
    assert width(0.0) < 2
    assert width(0.0) < width(0.5) < width(1.0)


def test_without_anything_unknown_a_promise_is_the_plan():
    room = problem(*(piece(str(n), stay("degrease", "pot", 3)) for n in range(4)), places=POT)
    plan = dispatch(room, list("3210"))
    for key, promised in promise(room, plan.order, Uncertain(), replays=5).items():
        ends = next(slot.end for slot in plan.slots if slot.piece == key).astimezone(room.zone).date()
        assert (promised.p50, promised.p80, promised.p95) == (ends, ends, ends)


def test_replays_are_the_same_on_many_workers_and_for_the_same_seed():
    room = problem(*(piece(str(n), soak(3, shared="x")) for n in range(4)), places=POT)
    alone = promise(room, list("0123"), Uncertain(), replays=30)
    with ThreadPoolExecutor(3) as pool:
        assert promise(room, list("0123"), Uncertain(), replays=30, executor=pool, workers=3) == alone
    assert promise(room, list("0123"), Uncertain(seed=2), replays=30) != alone


def test_a_draw_is_the_same_whichever_were_drawn_before_it():
    # The shared errors are drawn in rows that grow: 700 lies beyond the first of them.
    room = problem(*(piece(str(n), soak(3, shared="xy"[n % 2])) for n in range(4)), places=POT)
    through = Draws(room, Uncertain(), list("0123"))
    one_by_one = [through.draw(number).tables.leg for number in range(701)]
    for number in (0, 255, 256, 700):
        assert (Draws(room, Uncertain(), list("0123")).draw(number).tables.leg == one_by_one[number]).all()
    assert (one_by_one[255] != one_by_one[256]).any()


def test_what_limits_is_named_with_its_share():
    room = problem(*(piece(str(n), soak(5)) for n in range(6)), places=POT)
    promised = promise(room, list("012345"), Uncertain(), replays=50)
    assert [(one.limit, one.name, one.share) for one in promised["5"].limited_by] == [("place", "pot", 1.0)]
    fed = piece("A", eat(), tissue_kg=1, eating_kg_per_day=0.5)
    room = problem(fed, places=[Room("box", "box")], appetite={"box": 0.1})
    assert [(one.limit, one.name) for one in promise(room, ["A"], Uncertain(), replays=20)["A"].limited_by] == [("appetite", "box")]


def test_a_hungrier_colony_is_sooner_and_one_path_holds_for_the_whole_season():
    fed = [piece(str(n), eat(), tissue_kg=1, eating_kg_per_day=0.5) for n in range(3)]
    room = problem(*fed, places=[Room("box", "box")], appetite={"box": 0.1}, tail_share=0.0)
    order = [one.key for one in fed]
    # 3 kg at 0.1, 0.2 and 0.3 kg a day by hand: 30, 15 and 10 days; three paths in turn give each a third of the replays.
    paths = tuple(tuple([kg] * 100) for kg in (0.1, 0.2, 0.3))
    lasted = promise(room, order, Uncertain(appetite_paths={"box": paths}), wanted=["2"], replays=30)["2"].lasting_days
    assert [lasted[5], lasted[15], lasted[25]] == pytest.approx([10, 15, 30], rel=0.02)
    lasted = promise(room, order, Uncertain(0.5, 2.0), wanted=["2"], replays=300)["2"].lasting_days
    assert lasted[30] == pytest.approx(15, rel=0.2)  # one season in ten eats twice as much
    assert lasted[270] == pytest.approx(60, rel=0.2)  # one in ten half as much


def test_a_running_step_is_drawn_from_what_is_left_of_its_spread():
    # It was to last 10 days, one in ten over 20; it has lasted 19 and is not over: never sooner than now, rarely much longer.
    room = problem(piece("A", soak(10), running=Running("pot", at(-19))), places=POT)
    lasted = promise(room, ["A"], Uncertain(), replays=200)["A"].lasting_days
    assert lasted[0] >= 0
    assert lasted[100] > 1
    # Of a lognormal beyond its 88.2 % point (19 days) half lies beyond the 94.1 % point: 10 x 2^(1.563/1.2816) = 23.3 days.
    assert lasted[100] + 19 == pytest.approx(23.3, rel=0.05)


def test_arrivals_come_at_the_rate_of_their_month_and_never_push_aside_who_is_there():
    kinds = Arrivals((piece("k", stay("degrease", "pot", 1)),), {3: 30.44, 4: 0.0}, days=90)
    room = problem(piece("A", stay("degrease", "pot", 2)), places=POT)
    draws = Draws(room, Uncertain(arrivals=kinds), ["A"])
    came = [int((drawn.tables.piece[1:, 1] == 0).sum()) for drawn in map(draws.draw, range(200))]
    # One a day in March, from the 2nd on: 30 expected; the mean of 200 Poisson draws is within 3 x sqrt(30/200) = 1.2.
    assert sum(came) / 200 == pytest.approx(30, abs=1.2)
    promised = promise(room, ["A"], Uncertain(arrivals=kinds), replays=20)["A"]
    assert promised.lasting_days == (2.0,) * 20


def some_come(rate, ahead_days):
    """One-day pieces for the pot, so many a day, promised so many days ahead."""
    kinds = tuple(piece(f"k{at}", stay("degrease", "pot", 1)) for at in range(len(ahead_days)))
    return Uncertain(arrivals=Arrivals(kinds, dict.fromkeys(range(1, 13), 30.44 * rate), days=200, ahead_days=ahead_days))


def test_those_who_come_with_a_day_go_before_a_piece_without_one_as_in_the_room():
    # The pot is taken for 10 days, one in two days comes: on the 11 mornings until then 5.5 come, and while each of them has its
    # day in the pot half of another one does: 5.5 / (1 - 0.5) = 11 days until it is free at last. The number served in such a busy
    # time has variance 5.5 / 0.5^3 = 44: three standard errors of 400 replays are 1.0.
    first = piece("first", stay("degrease", "pot", 10), due=NOW.date())
    none, promised = piece("A", stay("degrease", "pot", 2)), piece("A", stay("degrease", "pot", 2), due=NOW.date())

    def mean(one, uncertain):
        told = promise(problem(first, one, places=POT), ["first", "A"], uncertain, wanted=["A"], replays=400)["A"]
        return sum(told.lasting_days) / 400

    assert mean(none, some_come(0.5, (20,))) == pytest.approx(10 + 11 + 2, abs=1.0)
    # Nobody is promised anything, or the piece is promised sooner than they: it goes before them all.
    assert mean(none, some_come(0.5, (None,))) == mean(none, some_come(0.5, ())) == 12
    assert mean(promised, some_come(0.5, (20,))) == 12
    # Half of them come with a day: 2.75 / (1 - 0.25) days.
    assert mean(none, some_come(0.5, (20, None))) == pytest.approx(10 + 11 / 3 + 2, abs=0.5)


def test_a_quote_joins_by_the_day_it_would_be_promised_where_pieces_are_promised():
    # One pot, nothing unknown, nobody comes: 10 days for the first, 5 for another, 2 for the new one.
    day = NOW.date() + timedelta(days=10)
    first, new = piece("first", stay("degrease", "pot", 10), due=day), piece("new", stay("degrease", "pot", 2))

    def days(other_due, uncertain):
        other = piece("other", stay("degrease", "pot", 5), due=other_due)
        return quote(problem(first, other, places=POT), ["first", "other"], new, uncertain, replays=10).lasting_days[0]

    promised, unpromised = some_come(0, (20,)), some_come(0, (None,))
    assert days(None, promised) == 10 + 2  # past the one without a day
    assert days(day + timedelta(days=50), promised) == 10 + 2  # and past the one whose day is much later
    assert days(day, promised) == 10 + 5 + 2  # behind the one whose day is sooner
    assert days(None, unpromised) == days(day + timedelta(days=50), unpromised) == 10 + 5 + 2  # nobody is promised: behind all


def test_those_who_come_stand_behind_a_quoted_piece_unless_they_are_promised_sooner():
    first, new = piece("first", stay("degrease", "pot", 10), due=NOW.date()), piece("new", stay("degrease", "pot", 2))
    room = problem(first, places=POT)
    assert set(quote(room, ["first"], new, some_come(0.5, (100,))).lasting_days) == {12.0}
    # The 5.5 of the first ten days go before it; were all promised sooner it would be 23 days as above, but it has a day itself.
    soon = quote(room, ["first"], new, some_come(0.5, (1,))).lasting_days
    assert 10 + 5.5 + 2 < sum(soon) / len(soon) < 23


def test_a_quote_stands_behind_what_is_there_and_agrees_with_its_own_promise():
    room = problem(*(piece(str(n), soak(3)) for n in range(3)), places=POT)
    new = piece("new", soak(2))
    asked = quote(room, list("012"), new, Uncertain(), replays=40)
    fuller = replace(room, pieces=(*room.pieces, new))
    assert asked == promise(fuller, [*"012", "new"], Uncertain(), wanted=["new"], replays=40)["new"]
    assert asked.p50 > promise(room, list("012"), Uncertain(), replays=40)["2"].p50
    assert asked.p50 <= asked.p80 <= asked.p95


def test_a_piece_that_never_comes_to_an_end_has_no_date():
    promised = promise(problem(piece("A", soak(30)), places=[], horizon_days=60), ["A"], Uncertain(), replays=3)["A"]
    assert (promised.p50, promised.unfinished, promised.lasting_days) == (None, 1.0, ())


def test_bad_input_is_refused_in_words():
    room = problem(piece("A", soak(3)), places=POT)
    with pytest.raises(OutsideRange, match="0 replays say nothing"):
        promise(room, ["A"], Uncertain(), replays=0)
    with pytest.raises(OutsideRange, match=r"an appetite from 1\.2 to 2"):
        Uncertain(1.2, 2)
    with pytest.raises(Impossible, match="A is in the plan already"):
        quote(room, ["A"], room.pieces[0], Uncertain())
    crooked = problem(piece("A", stay("degrease", "pot", 3, spread=Spread(5, 2))), places=POT)
    with pytest.raises(OutsideRange, match="degrease takes 3 days"):
        promise(crooked, ["A"], Uncertain(), replays=1)


def test_the_chance_to_be_through_in_time_is_read_off_the_replays():
    promised = promise(problem(piece("A", soak(10)), places=POT), ["A"], Uncertain())["A"]
    assert promised.chance_by(10) == pytest.approx(0.5, abs=0.05)  # 3 standard errors of 1,000 draws
    assert promised.chance_by(20) == pytest.approx(0.9, abs=0.03)
    assert search(problem(piece("A", soak(10)), places=POT)).proven


def test_who_waits_until_the_beetles_have_appetite_again_waits_for_the_box_by_name():
    # Nothing is eaten for ten days, and nobody may be put off: the box is named, not the kind of place it is.
    days = {NOW.date() + timedelta(days=n): 0.0 for n in range(10)}
    fed = piece("A", stay("degrease", "pot", 1), eat(), tissue_kg=0.1, eating_kg_per_day=0.1)
    room = problem(fed, places=[*POT, Room("the box", "box", 1)], appetite={"the box": 1}, appetite_kg_per_day={"the box": days})
    limited = promise(room, ["A"], Uncertain(), replays=3)["A"].limited_by
    assert [(one.limit, one.name) for one in limited] == [("appetite", "the box")]
