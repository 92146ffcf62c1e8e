"""Copies of a book: whole while somebody writes, put back without losing what was there."""

import os
import random
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from bonebench.errors import BookDamaged, BookMissing, BookNotWritable, InputError
from bonebench.records import entries
from bonebench.records.backup import backup, check, restore
from bonebench.records.book import Book
from bonebench.records.engines import sqlite_engine

from .rows import everything, row, store

SERVER = (
    "this book is a database on a server: copy and restore it with pg_dump and pg_restore, and its folder of photos (see "
    "BONEBENCH_FILES) like any folder"
)


def _ids(where: str | Path) -> list[str]:
    book = Book.open(where)
    with book.reading() as tx:
        found = sorted(e.id for e in entries.all_entries(tx))
    book.close()
    return found


def _book_with(where: str, *ids: str) -> Book:
    book = Book.open(where)
    store(book, *(row(id, number=n) for n, id in enumerate(ids)))
    return book


@contextmanager
def _somebody_writing(book: Book, acknowledged: list[str]) -> Iterator[threading.Event]:
    """Store two entries in each transaction until told to stop; the event says that it is well under way."""
    stop, under_way = threading.Event(), threading.Event()

    def write() -> None:
        number = 0
        while not stop.is_set():
            number += 1
            store(book, row(f"a{number}", number=number), row(f"b{number}", number=number))
            acknowledged.append(f"a{number}")
            if number == 20:
                under_way.set()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        yield under_way
    finally:
        stop.set()
        writer.join()


def test_a_copy_made_while_somebody_writes_is_whole_and_complete(sqlite_where: str, tmp_path: Path):
    book = _book_with(sqlite_where)
    acknowledged: list[str] = []
    with _somebody_writing(book, acknowledged) as under_way:
        assert under_way.wait(timeout=60)
        before = list(acknowledged)
        backup(book, tmp_path / "copy.db")
    book.close()
    copied = set(_ids(tmp_path / "copy.db"))
    assert set(before) <= copied
    # A transaction is in the copy whole, or not at all.
    assert {id.replace("a", "b") for id in copied if id[0] == "a"} == {id for id in copied if id[0] == "b"}
    copy = Book.open(tmp_path / "copy.db")
    assert check(copy).faults == ()
    copy.close()


def test_a_copy_holds_every_row(sqlite_where: str, tmp_path: Path):
    book = _book_with(sqlite_where, "e1", "e2")
    backup(book, tmp_path / "copy.db")
    copy = Book.open(tmp_path / "copy.db")
    assert everything(copy) == everything(book)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["book.db", "copy.db"]
    for each in (book, copy):
        each.close()


def test_a_copy_is_for_its_maker_alone(sqlite_where: str, tmp_path: Path):
    # Names and addresses of owners are in it.
    if os.name != "posix":
        pytest.skip("file modes are POSIX")
    book = _book_with(sqlite_where)
    backup(book, tmp_path / "copy.db")
    book.close()
    assert (tmp_path / "copy.db").stat().st_mode & 0o077 == 0


def test_a_copy_is_never_made_over_something(sqlite_where: str, tmp_path: Path):
    (tmp_path / "copy.db").write_text("mine")
    book = _book_with(sqlite_where)
    with pytest.raises(BookNotWritable) as refused:
        backup(book, tmp_path / "copy.db")
    book.close()
    assert str(refused.value) == f"there is already something at {tmp_path / 'copy.db'}: name another file"
    assert (tmp_path / "copy.db").read_text() == "mine"


def test_a_copy_needs_a_folder_that_is_there(sqlite_where: str, tmp_path: Path):
    book = _book_with(sqlite_where)
    with pytest.raises(BookNotWritable) as refused:
        backup(book, tmp_path / "stick" / "copy.db")
    book.close()
    assert str(refused.value) == f"there is no folder {tmp_path / 'stick'} to put a copy in: make it first"


def _spoil(where: str) -> None:
    """Overwrite the last tenth, where the entries are; the pages that say what the file is stay."""
    size = os.path.getsize(where)
    with open(where, "r+b") as file:
        file.seek(size * 9 // 10)
        file.write(random.Random(1).randbytes(size - size * 9 // 10))


def test_a_damaged_book_is_not_copied(sqlite_where: str, tmp_path: Path):
    book = _book_with(sqlite_where, *(f"e{n}" for n in range(50)))
    _spoil(sqlite_where)
    with pytest.raises(BookDamaged) as refused:
        backup(book, tmp_path / "copy.db")
    book.close()
    assert str(refused.value) == f"the copy of {sqlite_where} is not whole; the book may be damaged"
    assert [p.name for p in tmp_path.iterdir()] == ["book.db"]


def test_a_copy_is_put_back_where_there_is_no_book(sqlite_where: str, tmp_path: Path):
    _book_with(sqlite_where, "e1").close()
    restore(Path(sqlite_where), tmp_path / "back.db")
    assert _ids(tmp_path / "back.db") == ["e1"]


def test_a_book_is_only_replaced_when_that_was_said(sqlite_where: str, tmp_path: Path):
    there = tmp_path / "there.db"
    _book_with(str(shutil.copyfile(sqlite_where, there)), "mine").close()
    with pytest.raises(BookNotWritable) as refused:
        restore(Path(sqlite_where), there)
    assert str(refused.value) == (f"there is a book at {there}: say --over to replace it (it is kept beside, as there.db.replaced)")
    assert _ids(there) == ["mine"]


def test_the_replaced_book_is_kept_each_time(sqlite_where: str, tmp_path: Path):
    there = tmp_path / "there.db"
    _book_with(str(shutil.copyfile(sqlite_where, there)), "mine").close()
    _book_with(sqlite_where, "copied").close()
    restore(Path(sqlite_where), there, over=True)
    restore(Path(sqlite_where), there, over=True)
    assert [_ids(tmp_path / name) for name in ("there.db", "there.db.replaced", "there.db.replaced-2")] == [
        ["copied"], ["mine"], ["copied"],
    ]  # fmt: skip


def test_what_is_still_in_the_log_beside_a_replaced_book_is_kept_with_it(sqlite_where: str, tmp_path: Path):
    there = tmp_path / "there.db"
    book = _book_with(str(shutil.copyfile(sqlite_where, there)))
    with book.reading() as tx:
        list(entries.all_entries(tx))
        store(book, row("in the log"))
        assert there.with_name("there.db-wal").stat().st_size > 0
        restore(Path(sqlite_where), there, over=True)
        kept = shutil.copyfile(tmp_path / "there.db.replaced", tmp_path / "kept.db")
        shutil.copyfile(tmp_path / "there.db.replaced-wal", tmp_path / "kept.db-wal")
    book.close()
    assert (_ids(there), _ids(kept)) == ([], ["in the log"])


def test_a_damaged_book_can_be_replaced(sqlite_where: str, tmp_path: Path):
    there = tmp_path / "there.db"
    there.write_bytes(b"\0" * 5000)
    _book_with(sqlite_where, "copied").close()
    restore(Path(sqlite_where), there, over=True)
    assert _ids(there) == ["copied"]
    assert (tmp_path / "there.db.replaced").read_bytes() == b"\0" * 5000


def test_a_copy_that_is_not_whole_replaces_nothing(sqlite_where: str, tmp_path: Path):
    there, copy = tmp_path / "there.db", tmp_path / "copy.db"
    _book_with(str(shutil.copyfile(sqlite_where, there)), "mine").close()
    _book_with(str(shutil.copyfile(sqlite_where, copy)), *(f"e{n}" for n in range(50))).close()
    _spoil(str(copy))
    with pytest.raises(BookDamaged, match=r"the copy of .*copy\.db is not whole; the book may be damaged"):
        restore(copy, there, over=True)
    assert _ids(there) == ["mine"]
    assert sorted(p.name for p in tmp_path.iterdir()) == ["book.db", "copy.db", "there.db"]


def test_what_is_no_book_is_not_put_back(tmp_path: Path):
    with pytest.raises(BookMissing, match="there is no book at"):
        restore(tmp_path / "nothing.db", tmp_path / "there.db")
    (tmp_path / "letter.txt").write_text("Dear colleague, the foxes are done.\n" * 40)
    with pytest.raises(BookDamaged, match="is damaged or no book"):
        restore(tmp_path / "letter.txt", tmp_path / "there.db")
    assert not (tmp_path / "there.db").exists()


def test_a_check_counts_the_rows_of_each_table(book: Book):
    store(book, row("e1"), row("e2", subjects=("specimen:fox", "room")), row("e1", values={"note": "another"}))
    checked = check(book)
    assert checked.faults == ()
    assert {name: count for name, count in checked.counts.items() if count} == {
        "book": 1, "entry": 2, "entry_subject": 3, "entry_aside": 1, "writer": 1,
    }  # fmt: skip


def test_a_check_finds_a_row_without_what_it_belongs_to(sqlite_where: str):
    engine = sqlite_engine(sqlite_where, ("foreign_keys=off",), begin="BEGIN")
    with engine.begin() as connection:
        connection.exec_driver_sql("insert into entry_subject values ('specimen:fox', 4711)")
    engine.dispose()
    book = Book.open(sqlite_where)
    assert check(book).faults == ("entry_subject: a row without what it belongs to",)
    book.close()


@pytest.mark.postgres
def test_a_database_is_copied_with_its_own_tools(postgres_where: str, tmp_path: Path):
    book = Book.open(postgres_where)
    with pytest.raises(InputError) as refused:
        backup(book, tmp_path / "copy.db")
    book.close()
    assert str(refused.value) == SERVER


@pytest.mark.parametrize("address", ["postgresql://bone@here/room", "postgresql+psycopg://bone@here/room"])
def test_a_copy_is_not_put_back_into_a_database(sqlite_where: str, address: str):
    with pytest.raises(InputError) as refused:
        restore(Path(sqlite_where), Path(address), over=True)
    assert str(refused.value) == SERVER
