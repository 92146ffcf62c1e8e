"""Long work: it tells how far it is, ends in words, and can be stopped with the best so far."""

import random
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from bonebench.cli.face import now
from bonebench.door import Door, Intake
from bonebench.door.kinds import KINDS as THE_KINDS
from bonebench.door.work import Work
from bonebench.errors import UnknownName
from bonebench.files.whatif_toml import Otherwise
from bonebench.said import said
from bonebench.services import jobs
from bonebench.services.jobs import JobCard
from bonebench.services.what_if import long as what_if
from bonebench.services.year import long as holiday
from tests.door.tasks import KINDS

PATIENCE_S = 300  # a machine that never compiled the plan takes a minute or more


@pytest.fixture
def door(tmp_path: Path) -> Iterator[Door]:
    where = tmp_path / "room.db"
    with Door.make(where, name="Old dairy", zone="UTC", units="metric", clock=now, rng=random.Random(1), writer="test") as door:
        yield door


@pytest.fixture
def work(door: Door) -> Iterator[Work]:
    work = Work(door, KINDS)
    yield work
    work.close()


def _card(door: Door, job: str) -> JobCard:
    with door.book.reading() as tx:
        return jobs.job(tx, job, door.now())


def _when(door: Door, job: str, wanted: str) -> JobCard:
    for _ in range(PATIENCE_S * 20):
        card = _card(door, job)
        if card.state == wanted:
            return card
        assert card.live, f"{card.state}: {card.words.text}"
        time.sleep(0.05)
    raise AssertionError(f"it is still {card.state}")


def test_work_is_done_in_a_process_of_its_own_and_kept(door, work):
    card = work.start("count", {"to": 3})
    assert card.state == "waiting"
    done = _when(door, card.id, "done")
    assert (done.share, done.result) == (1.0, {"counted": 3, "room": "Old dairy"})


def test_work_that_is_stopped_keeps_the_best_so_far(door, work):
    card = work.start("count", {"to": None})
    while _card(door, card.id).share == 0:
        time.sleep(0.05)
    assert work.start("count", {"to": 5}).id == card.id, "two of a kind at once"
    with door.book.writing() as tx:
        jobs.ask_to_stop(tx, card.id, door.now())
    stopped = _when(door, card.id, "stopped")
    assert stopped.result is not None
    assert stopped.result["counted"] >= 1
    assert stopped.words.text == "it was stopped; the best so far was kept"


def test_work_that_cannot_be_ends_in_its_own_words(door, work):
    assert _when(door, work.start("refuse", {}).id, "refused").words.text == "Old dairy cannot count"


def test_a_fault_of_the_program_ends_only_that_work(door, work, capfd):
    broken = _when(door, work.start("fall", {"to": 0}).id, "broken")
    assert "fault of the program" in broken.words.text
    assert "ZeroDivisionError" in capfd.readouterr().err
    assert _when(door, work.start("count", {"to": 1}).id, "done").result == {"counted": 1, "room": "Old dairy"}


def test_what_plans_are_made_with_is_compiled_ahead_in_a_process_of_its_own(door):
    work = Work(door, THE_KINDS)
    assert _when(door, work.start("warm", {}).id, "done").result == {"kinds": 2}
    work.close()


def test_closing_stops_what_goes_on(door):
    work = Work(door, KINDS)
    card = work.start("count", {"to": None})
    _when(door, card.id, "running")
    work.close()
    assert _card(door, card.id).state == "stopped"
    assert _when(door, work.start("count", {"to": 1}).id, "done").result == {"counted": 1, "room": "Old dairy"}
    work.close()


def test_work_of_a_program_that_has_ended_is_shown_as_broken_off(door):
    with door.book.writing() as tx:
        jobs.begin(tx, "left", "count", {}, door.now() - timedelta(minutes=5))
    card = _card(door, "left")
    assert (card.state, card.words.text) == ("broken", "it was broken off: the program that did it has ended; ask again")


def test_only_the_newest_ended_work_stays_in_the_book(door):
    for n in range(25):
        at = door.now() + timedelta(seconds=n)
        with door.book.writing() as tx:
            jobs.begin(tx, f"j{n}", "count", {}, at)
            jobs.end(tx, f"j{n}", "done", said("x", "x"), {}, now=at)
    with door.book.reading() as tx:
        assert [card.id for card in jobs.newest(tx, door.now(), "count").jobs][:2] == ["j24", "j23"]
        with pytest.raises(UnknownName, match="there is no work j0 in this book"):
            jobs.job(tx, "j0", door.now())


CHANGES = tuple(Otherwise(name=f"{n} more pots", more={"pot": n}) for n in range(1, 13))


def test_a_what_if_that_is_stopped_keeps_the_changes_that_were_planned(door):
    for n in range(12):
        door.add(Intake("red fox", promised=f"2099-01-{n + 1:02d}"))
    work = Work(door, THE_KINDS)
    card = work.start(what_if.KIND, what_if.as_asked(CHANGES, 6000))
    while _card(door, card.id).share < 3 / 14:  # the search, the room as it is, the first change
        assert _card(door, card.id).live
        time.sleep(0.05)
    door.stop_work(card.id)
    stopped = _when(door, card.id, "stopped")
    kept = door.read(what_if.kept)
    assert 2 <= len(kept.card.sides) == stopped.result["sides"] < 13
    assert [side.name for side in kept.card.sides[1:]] == [one.name for one in CHANGES[: len(kept.card.sides) - 1]]
    assert kept.card.flags[0].what.key == "what_if.stopped"
    work.close()


def test_the_last_day_for_a_holiday_is_worked_out_in_a_process_of_its_own(door):
    work = Work(door, THE_KINDS)
    by = (door.now() + timedelta(days=200)).date()
    done = _when(door, work.start(holiday.KIND, holiday.as_asked(by.isoformat(), "red fox", 20)).id, "done")
    kept = door.read(holiday.kept)
    assert (kept.holiday.through_by, kept.holiday.last_day.isoformat(), kept.job) == (by, done.result["last_day"], done)
    work.close()


def test_work_that_waits_for_its_turn_is_known_to_wait_and_can_be_stopped(door, work, monkeypatch):
    first = work.start("count", {"to": None})
    _when(door, first.id, "running")
    monkeypatch.setattr(jobs, "SILENCE", timedelta(seconds=3))
    second = work.start("refuse", {})
    time.sleep(4)
    waiting = _card(door, second.id)
    assert (waiting.state, waiting.words.text) == ("waiting", "it waits for its turn: other work is being done")
    door.stop_work(second.id)
    assert _when(door, second.id, "stopped").words.text == "it was stopped before it had anything"
    door.stop_work(first.id)
    _when(door, first.id, "stopped")
    assert _when(door, work.start("count", {"to": 1}).id, "done").result == {"counted": 1, "room": "Old dairy"}
