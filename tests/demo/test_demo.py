"""The invented room: the same for the same seed and day, made for today while nobody has added to it."""

import random
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from bonebench.demo.build import MORNING, ensure_demo, make_demo
from bonebench.demo.room import OWNERS, WORKERS, ZONE
from bonebench.demo.stories import STORIES
from bonebench.door import Door, Intake
from bonebench.records import entries as log_rows

DAY = date(2026, 5, 4)


def morning(day):
    return datetime.combine(day, MORNING, ZoneInfo(ZONE))


def open_demo(path, day=DAY):
    return Door.open(path, clock=lambda: morning(day), rng=random.Random(1), writer="test")


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    path = tmp_path_factory.mktemp("demo") / "demo.db"
    make_demo(path, DAY)
    return path


def log_of(path):
    with open_demo(path) as door, door.book.reading() as tx:
        return list(log_rows.all_entries(tx))


def test_forty_specimens_of_sixteen_species_stand_in_every_state(demo):
    assert len(STORIES) == 40
    assert len({story.species for story in STORIES}) == 16
    with open_demo(demo) as door:
        rows = door.specimens().rows
        card = door.today()
    assert len(rows) == 38
    assert {row.status for row in rows} == {"running", "waiting", "held"}
    assert {alert.level for alert in card.alerts} == {"act", "look"}
    assert any(task.members for task in card.tasks), "the tray of mice is one task"
    assert card.demo


def test_no_task_is_without_a_reason_and_a_button(demo):
    with open_demo(demo) as door:
        for task in door.today().tasks:
            assert task.why.text
            assert task.answers


def test_the_same_day_and_seed_give_the_same_entries(demo, tmp_path):
    make_demo(tmp_path / "again.db", DAY)
    assert log_of(tmp_path / "again.db") == log_of(demo)


def test_it_is_made_again_for_today_until_somebody_adds_to_it(tmp_path):
    path = tmp_path / "demo.db"
    ensure_demo(path, morning(DAY))
    ensure_demo(path, morning(date(2026, 5, 9)))
    with open_demo(path, date(2026, 5, 9)) as door:
        assert door.today().date == date(2026, 5, 9)
        assert door.today().silent_days < 1
        tag = door.add(Intake("raccoon")).tag
    ensure_demo(path, morning(date(2026, 5, 20)))
    with open_demo(path, date(2026, 5, 20)) as door:
        assert door.specimen(tag).tag == tag


def test_its_photos_are_whole_and_a_fresh_demo_adds_none(tmp_path):
    path = tmp_path / "demo.db"
    ensure_demo(path, morning(DAY))
    before = sorted(one.name for one in (tmp_path / "demo-files").glob("*.jpg"))
    ensure_demo(path, morning(date(2026, 5, 9)))
    with open_demo(path, date(2026, 5, 9)) as door:
        assert door.check().whole
    assert sorted(one.name for one in (tmp_path / "demo-files").glob("*.jpg")) == before
    assert len(before) >= 4
    assert [one.name for one in tmp_path.glob("*-files")] == ["demo-files"]


def test_its_people_are_marked_as_the_demos_own(demo):
    with open_demo(demo) as door:
        # Owners do not work here: only workers are asked who is at it.
        assert set(door.surface().people.values()) == {worker.name for worker in WORKERS}
        assert {row.owner for row in door.specimens().rows} == set(OWNERS)
        assert door.surface().demo
