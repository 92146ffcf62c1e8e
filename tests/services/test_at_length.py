"""Answers that take long: asked for, worked out with what is done so far at hand, kept with their age, shown again."""

from datetime import timedelta

import pytest

from bonebench.errors import Impossible, NotAQuantity, OutsideRange, UnknownName
from bonebench.files.whatif_toml import Otherwise, what_if_of
from bonebench.records import plans
from bonebench.services import at_length, jobs
from bonebench.services.promise.do import for_quote
from bonebench.services.what_if import long as what_if
from bonebench.services.what_if.do import Asked, for_what_if, worked
from bonebench.services.year import long as holiday
from bonebench.services.year.do import AskedSeason
from bonebench.services.year.do import holiday as at_once

from .hands import take_in

POT, RACK = Otherwise(name="one more pot", more={"pot": 1}), Otherwise(name="a rack", more={"rack": 1})
WHOLE_FILE = """
[[change]]
name = "everything at once"
more = { pot = 2 }
helper = { days = ["sat", "sun"], from = "09:00", to = "13:30", trained = ["teeth"] }
longer = { Wren = "60 min" }
appetite = 1.5
without = ["whitening"]
no_new_before = 2026-12-01
"""


def gather(door, kind, asked):
    return door.read(lambda tx, now: kind.for_long(tx, now, asked))


def keep(door, kind, long, card):
    with door.book.writing() as tx:
        return kind.keep(tx, door.now(), long, card)


def test_a_question_comes_back_from_the_work_as_it_was_asked():
    changes = what_if_of(WHOLE_FILE)
    assert what_if.asked_of(what_if.as_asked(changes, 7)) == Asked(changes, 7)


def test_beside_the_pages_the_answer_is_the_one_of_the_page_and_comes_back_whole(desk):
    for _ in range(3):
        take_in(desk, promised="2026-06-01")
    told = []
    long = gather(desk, what_if, what_if.as_asked((POT, RACK), 20))
    card = what_if.work_out(long, lambda *one: told.append(one))
    assert card == worked(Asked((POT, RACK), 20), desk.read(for_what_if))
    assert [share for share, _, _ in told] == sorted(share for share, _, _ in told)
    assert keep(desk, what_if, long, card) == {"sides": 3, "moves": 20}
    kept = desk.read(what_if.kept)
    assert (kept.card, kept.current) == (card, True)
    assert kept.age.text == "worked out just now; nothing was written in the book since"
    assert desk.read(what_if.kept_question) == Asked((POT, RACK), 20)


def test_what_is_planned_so_far_is_at_hand_and_says_what_is_missing(desk):
    take_in(desk)
    so_far = []
    what_if.work_out(gather(desk, what_if, what_if.as_asked((POT, RACK), 5)), lambda _, __, card: so_far.append(card))
    first = next(card for card in so_far if card is not None)
    assert [side.name for side in first.sides] == ["as it is", "one more pot"]
    assert first.flags[0].what.text == "it was stopped after 1 of 2 changes"


def test_an_answer_says_how_old_it_is_and_when_the_book_has_moved_on(desk, clock):
    take_in(desk)
    long = gather(desk, what_if, what_if.as_asked((POT,), 5))
    keep(desk, what_if, long, what_if.work_out(long, lambda *_: None))
    clock.advance(minutes=30)
    assert desk.read(what_if.kept).age.text == "worked out 30 min ago; nothing was written in the book since"
    take_in(desk)
    clock.advance(days=3)
    kept = desk.read(what_if.kept)
    assert (kept.current, kept.age.text) == (
        False, "worked out 3 days ago; the book has moved on since, so ask again before you rely on it",
    )  # fmt: skip


def test_a_card_kept_in_a_form_of_old_is_none_any_more(desk):
    with desk.book.writing() as tx:
        plans.put(tx, what_if.KIND, {"asked": {}, "card": {"sides": "many"}}, work_revision=1, made_at=desk.now())
    kept = desk.read(what_if.kept)
    assert (kept.card, kept.age, desk.read(what_if.kept_question)) == (None, None, None)


def test_the_last_day_is_the_one_of_the_page_and_is_kept_with_its_replays(desk):
    take_in(desk)
    told = []
    long = gather(desk, holiday, holiday.as_asked("2026-10-01", "red fox", 40))
    card = holiday.work_out(long, lambda share, *_: told.append(share))
    assert card == season_holiday(desk, 40)
    assert told[0] == 0
    assert told == sorted(told)
    assert told[-1] <= 1
    assert keep(desk, holiday, long, card) == {"last_day": card.last_day.isoformat(), "replays": 40}
    kept = desk.read(holiday.kept)
    assert (kept.holiday, kept.replays, kept.current, kept.job) == (card, 40, True, None)


def season_holiday(door, replays):
    return at_once(AskedSeason(holiday="2026-10-01", species="red fox"), door.read(for_quote), replays=replays)


@pytest.mark.parametrize(
    ("kind", "asked", "fault", "words"),
    [
        (what_if, what_if.as_asked((), 5), Impossible, "nothing is changed: tick or name at least one change"),
        (what_if, what_if.as_asked((POT,), -1), OutsideRange, "-1 orders were asked for; it is 0 to 20000"),
        (holiday, holiday.as_asked("soon", "red fox"), NotAQuantity, "'soon' is not a day"),
        (holiday, holiday.as_asked("", "red fox"), Impossible, "say by which day it should be through, such as 2026-12-20"),
        (holiday, holiday.as_asked("2026-05-01", "red fox"), Impossible, "1 May 2026 is not ahead"),
        (holiday, holiday.as_asked("2026-10-01", "griffin"), UnknownName, "griffin"),
        (holiday, holiday.as_asked("2026-10-01", "red fox", 0), OutsideRange, "0 replays were asked for; it is 1 to 5000"),
    ],
)
def test_what_cannot_be_is_refused_before_the_work_begins(desk, kind, asked, fault, words):
    with pytest.raises(fault, match=words):
        gather(desk, kind, asked)


def test_a_room_is_large_from_so_many_pieces_in_work(desk, monkeypatch):
    monkeypatch.setattr(at_length, "LARGE", 2)
    take_in(desk)
    assert not desk.read(at_length.is_large)
    take_in(desk)
    assert desk.read(at_length.is_large)


def test_the_newest_work_stands_beside_the_answer(desk):
    with desk.book.writing() as tx:
        jobs.begin(tx, "j", holiday.KIND, holiday.as_asked("2026-10-01", "red fox"), desk.now() - timedelta(seconds=5))
    kept = desk.read(holiday.kept)
    assert (kept.job.id, kept.job.live, kept.holiday) == ("j", True, None)
