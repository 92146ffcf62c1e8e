"""The plan is current after every write and on every new day, and is not kept when the book has moved on."""

from datetime import date, timedelta

import pytest

from bonebench.services import keeping
from bonebench.services.gather import kept_plan
from bonebench.services.plans.problem import days_of, tissue_left_kg
from bonebench.services.plans.stored import StoredPlan, plan_from_json, plan_to_json
from bonebench.shop.methods import Span

from .hands import moved, take_in


def plan(door):
    with door.book.reading() as tx:
        return kept_plan(tx)


def gathered(door, now):
    with door.book.reading() as tx:
        return keeping.gather(tx, now)


def test_after_every_write_the_plan_is_of_that_revision(door, clock):
    revisions = []
    for act in (
        lambda: take_in(door),
        lambda: door.set_place(key="pot", kind="pot", holds=1),
        lambda: door.close_on(["2026-07-04"]),
    ):
        act()
        revisions.append(plan(door).work_revision)
        assert gathered(door, clock.now) is None
    assert revisions == sorted(set(revisions))


def test_on_a_new_day_the_plan_is_made_again(door, clock):
    take_in(door)
    made = plan(door).made_at
    clock.advance(hours=1)
    door.today()
    assert plan(door).made_at == made
    clock.advance(days=1)
    door.today()
    assert (plan(door).day, plan(door).made_at > made) == (date(2026, 5, 5), True)


def test_a_plan_is_not_kept_when_somebody_wrote_meanwhile(door, clock):
    take_in(door)
    clock.advance(days=1)
    stale = keeping.compute(gathered(door, clock.now))
    take_in(door)
    newer = plan(door)
    with door.book.writing() as tx:
        assert keeping.keep(tx, stale) is False
    assert plan(door) == newer


def test_a_plan_survives_being_written_down(door):
    take_in(door)
    kept = plan(door)
    assert plan_from_json(plan_to_json(kept)) == kept
    assert isinstance(kept, StoredPlan)


def test_the_same_book_at_the_same_moment_gives_the_same_plan(desk, clock):
    for species in ("red fox", "white-tailed deer", "house mouse"):
        take_in(desk, species)
    once, again = (
        keeping.make_plan(g.subjects, g.known, now=clock.now, work_revision=1) for g in [everything(desk, clock.now)] * 2
    )
    assert once == again


def everything(door, now):
    return gathered(door, now + timedelta(days=1))


def test_quick_comes_before_working_and_slow_after(desk):
    for species in ("red fox", "white-tailed deer", "black bear"):
        ready = take_in(desk, species).ready
        assert ready.if_quick <= ready.planned <= ready.if_slow


def test_a_piece_is_planned_in_the_order_of_its_route(desk):
    tag = take_in(desk).tag
    legs = [leg for leg in desk.specimen(tag).route if leg.planned_start is not None]
    starts = [leg.planned_start for leg in legs]
    assert [leg.step for leg in legs][:3] == ["frozen hold", "thaw to trim", "trim"] or legs[0].step == "thaw to trim"
    assert starts == sorted(starts)
    assert all(leg.planned_start <= leg.planned_end for leg in legs)


def test_the_planned_day_is_the_day_the_last_step_ends(desk):
    tag = take_in(desk).tag
    card = desk.specimen(tag)
    last = max(leg.planned_end for leg in card.route if leg.planned_end is not None)
    assert (card.ready.planned == desk.room() and None) or last.astimezone(card.received.tzinfo).date() >= card.ready.planned


def test_nobody_works_on_a_closed_day(desk):
    closed = [f"2026-05-{day:02d}" for day in range(4, 31)]
    desk.close_on(closed)
    tag = take_in(desk).tag
    starts = [leg.planned_start for leg in desk.specimen(tag).route if leg.planned_start is not None and leg.step != "frozen hold"]
    assert min(starts).date() >= date(2026, 5, 31)


def test_a_fuller_pot_makes_the_next_one_wait(desk):
    desk.set_place(key="pot", kind="pot", holds=1)
    first, second = (take_in(desk).ready.planned for _ in range(2))
    assert second > first


def test_tissue_goes_down_with_the_days_in_the_box_until_it_is_to_be_looked_at(desk, clock):
    tag = take_in(desk, head_mass="400 g").tag
    moved(desk, tag, "beetle-box", "step=beetles")
    g = everything(desk, clock.now)
    (subject,) = g.subjects
    left = [tissue_left_kg(subject, clock.now + timedelta(days=days)) for days in (0, 1, 2, 400)]
    assert left == sorted(left, reverse=True)
    assert left[0] == pytest.approx(subject.head.tissue_kg.value)
    # Our own rule: it comes down to nothing, for a look that is planned for ever is never made.
    assert left[-1] == 0


def test_the_three_paces_are_the_three_ends_of_a_span():
    assert [days_of(Span(1, 2, 3), pace) for pace in ("quick", "working", "slow")] == [1, 2, 3]


def test_an_act_needs_no_bench_in_a_room_that_has_none(desk):
    desk.set_place(key="glue-bench", kind="glue bench", open=False)
    assert take_in(desk).ready.why_not is not None
