"""Transactions: writers lose nothing, readers see one moment and write nothing."""

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from bonebench.errors import BookMissing, BookNotWritable
from bonebench.records import people, plans, states, tags
from bonebench.records.book import FIRST_TAG, Book, about, bump_work, set_demo, set_fold_version
from bonebench.records.states import PartRow, StayRow

from .rows import AT, everything, row, store

THREADS, TIMES = 4, 25


def _take_numbers(book: Book) -> list[int]:
    taken = []
    for _ in range(TIMES):
        with book.writing() as tx:
            taken.append(tags.next_tag_number(tx))
            bump_work(tx)
    return taken


def test_four_threads_that_read_change_and_write_lose_nothing(book: Book):
    with ThreadPoolExecutor(THREADS) as pool:
        taken = [number for each in [pool.submit(_take_numbers, book) for _ in range(THREADS)] for number in each.result()]
    assert sorted(taken) == list(range(FIRST_TAG, FIRST_TAG + THREADS * TIMES))
    with book.reading() as tx:
        assert about(tx).work_revision == THREADS * TIMES


def test_a_transaction_that_fails_leaves_nothing(book: Book):
    def fails() -> None:
        with book.writing() as tx:
            people.add(tx, "p1", "Somebody")
            tags.next_tag_number(tx)
            raise ZeroDivisionError

    before = everything(book)
    with pytest.raises(ZeroDivisionError):
        fails()
    assert everything(book) == before


def test_a_reading_transaction_sees_one_moment_while_a_writer_commits(book: Book):
    store(book, row("e1"))
    with book.reading() as tx:
        first = about(tx).entries
        store(book, row("e2"))
        assert (first, about(tx).entries) == (1, 1)
    with book.reading() as tx:
        assert about(tx).entries == 2


def test_a_reading_transaction_cannot_write(book: Book):
    before = everything(book)
    words = "cannot be written: allow writing to the file and its folder"
    with pytest.raises(BookNotWritable, match=words), book.reading() as tx:
        bump_work(tx)  # type: ignore[arg-type]
    assert everything(book) == before


def test_writers_sync_fully(sqlite_where: str):
    # 2 is FULL (SQLite, PRAGMA synchronous): what was acknowledged is on the disk. And a foreign key is looked at.
    book = Book.open(sqlite_where)
    with book.writing() as tx:
        settings = [
            tx.connection.exec_driver_sql(f"pragma {p}").scalar_one() for p in ("synchronous", "foreign_keys", "journal_mode")
        ]
    book.close()
    assert settings == [2, 1, "wal"]


def test_a_plan_is_refused_when_the_book_has_moved_on(book: Book):
    with book.writing() as tx:
        assert plans.keep(tx, "working", {"n": 1}, work_revision=0, made_at=AT)
        bump_work(tx)
    with book.writing() as tx:
        assert not plans.keep(tx, "working", {"n": 2}, work_revision=0, made_at=AT)
        assert plans.latest(tx, "working") == {"n": 1}
        assert plans.keep(tx, "working", {"n": 3}, work_revision=1, made_at=AT)
    with book.reading() as tx:
        assert (plans.latest(tx, "working"), plans.latest(tx, "other"), plans.work_revision(tx)) == ({"n": 3}, None, 1)


def test_erasing_blanks_a_person_and_the_notes_about_them_once(book: Book):
    with book.writing() as tx:
        people.add(tx, "p1", "Anna Anders", "down the road")
        people.add(tx, "p2", "Bert Beispiel")
        people.add_note(tx, "n1", "p1", "owes a fox")
        people.add_note(tx, "n2", "p2", "pays early")
        assert [people.erase(tx, "p1", AT), people.erase(tx, "p1", AT)] == [2, 0]
    with book.reading() as tx:
        listed = {p.id: (p.name, p.contact, p.note, p.erased_at) for p in people.listed(tx)}
        assert listed == {"p1": (None, None, None, AT), "p2": ("Bert Beispiel", None, None, None)}
        assert [people.note_text(tx, n) for n in ("n1", "n2", "n3")] == [None, "pays early", None]


def test_what_was_erased_is_not_left_in_the_file(sqlite_where: str):
    book = Book.open(sqlite_where)
    with book.writing() as tx:
        people.add(tx, "p1", "Anna Anders", "contact " * 900)
        people.add_note(tx, "n1", "p1", "owes a fox")
    kept = Path(sqlite_where).read_bytes()
    with book.writing() as tx:
        people.erase(tx, "p1", AT)
    book.close()
    left = Path(sqlite_where).read_bytes()
    for word in (b"Anna Anders", b"contact contact", b"owes a fox"):
        assert word in kept
        assert word not in left


def test_what_sits_in_a_place_is_found_and_replaced_with_its_specimen(book: Book):
    here = (PartRow("skull", "pot", AT), PartRow("mandible", None, None))
    with book.writing() as tx:
        for parts in (here, (PartRow("skull", "pot", AT),)):
            states.put_specimen(tx, id="fox", tag="K7Q-K", owner="p1", finished=False, state={"n": len(parts)}, parts=parts)
        states.put_specimen(tx, id="hare", tag="K7R-X", owner=None, finished=True, state={"n": 0}, parts=())
    with book.reading() as tx:
        assert (states.sits_in(tx, "pot"), states.sits_in(tx, "tub")) == ([("fox", "skull")], [])
        assert (states.specimens(tx, tag="K7Q-K"), states.specimens(tx, finished=True)) == ([{"n": 1}], [{"n": 0}])
        assert (states.specimens(tx, owner="p1", finished=True), states.specimen(tx, "hare")) == ([], {"n": 0})


def test_no_name_is_too_long_for_either_database(book: Book):
    # History is never refused: what an entry calls a place, a part or a specimen may be of any length.
    long = "x" * 400
    with book.writing() as tx:
        parts = (PartRow(long, long, AT),)
        states.put_specimen(tx, id=long, tag=long, owner=long, finished=False, state={}, parts=parts)
        states.put_stays(tx, long, [StayRow("dry", 2**40, long, long, None, 1.5)])
        states.put_place(tx, long, {"a": 1})
    with book.reading() as tx:
        assert states.sits_in(tx, long) == [(long, long)]
        assert states.stays(tx) == [StayRow("dry", 2**40, long, long, None, 1.5)]
        assert states.places(tx) == {long: {"a": 1}}


def test_a_book_says_what_it_is(book: Book):
    with book.writing() as tx:
        set_fold_version(tx, 9)
        set_demo(tx, AT.date(), 12)
    with book.reading() as tx:
        said = about(tx)
    assert (said.kind, said.made_at, said.fold_version, said.demo_day, said.demo_entries) == ("room", AT, 9, AT.date(), 12)
    assert not book.demo


def test_a_book_that_went_away_is_missed_and_no_empty_file_is_made(sqlite_where: str):
    book = Book.open(sqlite_where)
    Path(sqlite_where).unlink()
    for using in (book.reading, book.writing):
        with pytest.raises(BookMissing, match="there is no book at"), using():
            pass
    book.close()
    assert not Path(sqlite_where).exists()
