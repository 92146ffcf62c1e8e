"""The weeks ahead: the plan that is kept, told by day, by place, and as a file for other calendars."""

from datetime import UTC, date, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
import vobject

from bonebench.errors import OutsideRange
from bonebench.papers.calendar import icalendar_bytes
from bonebench.web.weeks import MOST_LANES, together, weeks
from tests.conftest import ZONE

from .hands import moved, take_in


def plan(door, days=90):
    return door.plan(days)


def test_every_step_of_the_kept_plan_is_in_it_once(desk):
    take_in(desk)
    card, ready = plan(desk), desk.specimen(desk.specimens().rows[0].tag).ready
    keys = [(task.specimen, task.step, task.visit) for task in card.tasks]
    assert len(keys) == len(set(keys)) > 10
    assert max(task.end for task in card.tasks).astimezone(ZoneInfo(ZONE)).date() == ready.planned
    assert [day.day for day in card.days if day.ready] == [ready.planned]


def test_what_a_day_says_begins_on_it_and_a_step_that_runs_is_not_begun_again(desk, clock):
    added, place = take_in(desk), next(place.key for place in desk.room().places if place.kind == "freezer")
    moved(desk, added.tag, place, "step=frozen hold")
    clock.advance(hours=2)
    desk.log(added.tag, "weighed", ["mass_kg=0.5"])
    card = plan(desk)
    assert [task.step for task in card.tasks if task.running] == ["frozen hold"]
    for day in card.days:
        for task in day.begins:
            assert task.start.astimezone(ZoneInfo(ZONE)).date() == day.day
            assert not task.running


def test_a_piece_that_misses_its_promise_is_late_in_words(desk, now):
    soon = (now + timedelta(days=3)).date()
    added = take_in(desk, promised=soon.isoformat())
    card = plan(desk)
    late = card.late[0]
    assert late.words.text.startswith(f"{added.tag}, red fox, was promised for 7 May 2026 and is through on ")
    assert (late.ends - date(2026, 5, 7)).days == late.days > 0


def test_a_piece_on_hold_is_listed_with_why(desk):
    added = take_in(desk)
    desk.log(added.tag, "held", ["reason=the tag papers are missing"])
    assert [(one.specimen, one.why.text) for one in plan(desk).unplaced] == [
        (added.tag, "it is on hold: the tag papers are missing")
    ]


def test_days_out_of_reach_are_refused_in_words(desk):
    with pytest.raises(OutsideRange, match="0 days were asked for; the calendar shows 1 to 420"):
        plan(desk, 0)


def test_a_second_library_reads_the_calendar_file_as_it_was_meant(desk):
    take_in(desk)
    card = plan(desk)
    data = icalendar_bytes(card, room="Łaciata room", book="b-1")
    read = vobject.readOne(data.decode())
    events = {event.uid.value: event for event in read.vevent_list}
    tasks = [task for day in card.days for task in day.begins]
    assert len(events) == len(tasks) + sum(1 for day in card.days if day.ready)
    for task in tasks:
        event = events[f"{task.id}/{task.step}/{task.visit}@b-1".replace(" ", "-")]
        assert event.dtstart.value.astimezone(UTC) == task.start.replace(microsecond=0)
        assert event.summary.value == f"{task.step}: {task.specimen} {task.species}"
    assert read.contents["x-wr-calname"][0].value == "Łaciata room"


def test_the_same_step_keeps_its_name_when_the_plan_moves(desk, clock):
    take_in(desk)
    before = {task.id + task.step for day in plan(desk).days for task in day.begins}
    clock.advance(days=1)
    after = {task.id + task.step for day in plan(desk).days for task in day.begins}
    assert len(after) > 5
    assert before >= after


def test_bars_of_a_place_never_cover_each_other_and_many_become_numbers(desk):
    for _ in range(MOST_LANES + 3):
        take_in(desk)
    drawn = weeks(plan(desk), ZoneInfo(ZONE), days=28, width=1000.0)
    assert any(line.counts for line in drawn.lines)
    for line in drawn.lines:
        bars = sorted(line.bars, key=lambda bar: (bar.y, bar.x))
        for one, other in pairwise(bars):
            assert other.y > one.y or other.x >= one.x + one.width - 1e-6


def test_the_same_step_of_many_stands_on_one_line_of_a_day(desk):
    for _ in range(3):
        take_in(desk)
    for day in plan(desk).days:
        lines = together(day)
        assert sum(len(line.tasks) for line in lines) == len(day.begins)
        assert len({(line.step, line.place) for line in lines}) == len(lines)


def test_what_moved_since_the_day_before_is_said_with_why(desk, clock):
    first = take_in(desk, promised="2026-12-01")
    clock.advance(days=1)
    plan(desk)
    for _ in range(4):
        take_in(desk, species="raccoon", promised="2026-06-10")
    clock.advance(days=3)
    moved_words = [one.text for one in plan(desk).moved]
    mine = [words for words in moved_words if words.startswith(f"{first.tag}, red fox, is through on ")]
    assert len(mine) == 1
    assert " later: " in mine[0]


def test_a_day_on_which_nothing_changed_moves_nothing(desk, clock):
    added, place = take_in(desk), next(place.key for place in desk.room().places if place.kind == "freezer")
    moved(desk, added.tag, place, "step=frozen hold")
    plan(desk)
    clock.advance(days=1)
    later = [one.text for one in plan(desk).moved]
    assert all("has not begun" in words or "was to be over" in words for words in later), later


def test_what_is_odd_about_a_room_is_said_with_names(desk):
    pot = next(place for place in desk.room().places if place.kind == "pot")
    desk.set_place(key=pot.key, kind="pot", name="Old kettle", holds=0)
    take_in(desk)
    assert any(flag.what.text.startswith("Old kettle holds nothing") for flag in plan(desk).flags)
