"""The log's rows: stored once, found by what they are about and by what strikes them out."""

from datetime import datetime, timedelta, timezone

import pytest
from sqlalchemy import insert
from sqlalchemy.exc import IntegrityError, StatementError

from bonebench.records import entries
from bonebench.records import tables as t
from bonebench.records.book import Book

from .rows import AT, row, store, void


def test_the_same_entry_twice_is_already_stored(book: Book):
    assert store(book, row(), row()) == ["stored", "already stored"]
    # When this book got to know it is no part of what it says.
    assert store(book, row(recorded=AT + timedelta(days=1))) == ["already stored"]
    with book.reading() as tx:
        assert [e.recorded for e in entries.all_entries(tx)] == [AT]


def test_the_same_instant_written_in_another_zone_is_the_same_entry(book: Book):
    there = AT.astimezone(timezone(timedelta(hours=-5)))
    assert store(book, row(), row(earliest=there, latest=there)) == ["stored", "already stored"]


def test_other_content_under_an_id_is_kept_aside_once_and_the_first_stays(book: Book):
    other = row(values={"note": "another"})
    assert store(book, row(), other, other) == ["stored", "clash", "clash"]
    with book.reading() as tx:
        kept, aside = entries.entry(tx, "e1"), entries.asides(tx)
    assert kept is not None
    assert kept.values == {"note": "n"}
    assert [(a.id, a.content["values"]) for a in aside] == [("e1", {"note": "another"})]


def test_a_clash_that_was_settled_is_shown_no_more_and_does_not_come_back(book: Book):
    other = row(values={"note": "another"})
    store(book, row(), other)
    with book.writing() as tx:
        assert entries.settle_aside(tx, "e1", AT) == 1
    assert store(book, other) == ["clash"]
    with book.reading() as tx:
        assert entries.asides(tx) == ()


def test_a_naive_time_is_refused_and_nothing_is_stored(book: Book):
    with pytest.raises(StatementError, match="has no time zone; an instant in the book is UTC"):
        store(book, row(earliest=datetime(2026, 5, 4, 14, 0)))  # noqa: DTZ001  the naive time is the point
    with book.reading() as tx:
        assert list(entries.all_entries(tx)) == []


@pytest.mark.parametrize("hours", [-9.5, 0, 2, 14])
def test_a_time_of_another_zone_comes_back_as_the_same_instant_in_utc(book: Book, hours: float):
    there = AT.astimezone(timezone(timedelta(hours=hours))).replace(microsecond=123456)
    store(book, row(earliest=there, latest=there))
    with book.reading() as tx:
        kept = entries.entry(tx, "e1")
    assert kept is not None
    assert (kept.earliest, kept.earliest.utcoffset()) == (there, timedelta(0))


def test_a_row_without_what_it_belongs_to_is_refused(book: Book):
    with pytest.raises(IntegrityError), book.writing() as tx:
        tx.connection.execute(insert(t.entry_subject).values(root="specimen:fox", seq=4711))


def test_an_entry_comes_back_as_it_went_in(book: Book):
    sent = row(
        subjects=("specimen:fox/skull", "specimen:hare"), values={"note": "Zähne, 歯", "x": [1, 2.5, None, True]}, number=2**40,
        who="somebody", task="a" * 18, replaces="e0", targets=("e0",), latest=AT + timedelta(hours=3),
    )  # fmt: skip
    store(book, sent)
    with book.reading() as tx:
        assert entries.entry(tx, "e1") == sent


def test_half_a_character_from_a_broken_keyboard_is_stored(book: Book):
    # JSON allows a lone surrogate, RFC 8259 section 8.2.
    assert store(book, row(values={"note": "\ud83e"}), row(values={"note": "\ud83e"})) == ["stored", "already stored"]


def test_entries_about_a_part_are_found_with_its_specimen_and_no_other(book: Book):
    store(book, row("e1", subjects=("specimen:fox/skull", "specimen:fox/mandible")), row("e2", subjects=("specimen:foxes",)))
    with book.reading() as tx:
        assert [e.id for e in entries.entries_of(tx, "specimen:fox")] == ["e1"]
        assert [e.id for e in entries.entries_of(tx, "specimen:fox/skull")] == ["e1"]
        assert entries.all_subjects(tx, "specimen:") == ["specimen:fox", "specimen:foxes"]


def test_subjects_are_told_apart_by_their_capitals(book: Book):
    store(book, row("e1", subjects=("Specimen:fox",)), row("e2"), row("e3", subjects=("specimen_fox",)))
    with book.reading() as tx:
        assert entries.all_subjects(tx, "specimen:") == ["specimen:fox"]


CHAIN = [
    row("e1"),
    void("v1", "e1"),
    void("v2", "v1"),
    row("r1", replaces="v2", targets=("v2",), subjects=()),
    void("w1", "somebody-else's"),
]


@pytest.mark.parametrize("order", [(0, 1, 2, 3, 4), (4, 3, 2, 1, 0), (2, 0, 4, 3, 1)])
def test_everything_that_strikes_down_the_chain_is_found_whichever_came_first(book: Book, order: tuple[int, ...]):
    for place in order:
        store(book, CHAIN[place])
    with book.reading() as tx:
        found = entries.entries_of(tx, "specimen:fox")
    assert sorted(e.id for e in found) == ["e1", "r1", "v1", "v2"]
    assert {e.id: e.targets for e in found} == {"e1": (), "v1": ("e1",), "v2": ("v1",), "r1": ("v2",)}


def test_a_ring_of_voids_is_found_and_ends(book: Book):
    store(book, row("e1"), void("v1", "v2"), void("v2", "v1", targets=("v1",), subjects=("specimen:fox",)))
    with book.reading() as tx:
        assert sorted(e.id for e in entries.entries_of(tx, "specimen:fox")) == ["e1", "v1", "v2"]


def test_a_writers_next_number_follows_what_it_used_and_what_came_from_elsewhere(book: Book):
    with book.writing() as tx:
        assert [entries.next_number(tx, "phone"), entries.next_number(tx, "phone"), entries.next_number(tx, "desk")] == [1, 2, 1]
    store(book, row("e1", number=7), row("e2", number=3))
    with book.writing() as tx:
        assert [entries.next_number(tx, "phone"), entries.next_number(tx, "desk")] == [8, 2]


def test_the_subjects_of_a_writer_are_all_it_wrote_about(book: Book):
    about = [("specimen:fox/skull",), ("specimen:fox", "room")]
    store(book, *(row(f"e{n}", subjects=subjects) for n, subjects in enumerate(about)))
    store(book, row("other", writer="desk", subjects=("specimen:hare",)))
    with book.reading() as tx:
        assert entries.subjects_of_writer(tx, "phone") == ["room", "specimen:fox"]
