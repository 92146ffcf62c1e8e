"""Opening what is no book, and making one where it cannot be."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from bonebench.errors import BookDamaged, BookMissing, BookNotWritable, BookTooNew
from bonebench.records import making
from bonebench.records.backup import check
from bonebench.records.book import FORM, Book, about
from bonebench.records.engines import sqlite_engine

from .rows import AT, row, store


def _make(where: str | Path) -> Book:
    return Book.create(where, kind="room", book_id="a-book", now=AT, fold_version=1)


def _change(where: str, statement: str) -> None:
    engine = sqlite_engine(where, (), begin="BEGIN")
    with engine.begin() as connection:
        connection.exec_driver_sql(statement)
    engine.dispose()


def test_a_missing_book_says_where_it_looked_and_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(BookMissing) as refused:
        Book.open("room.db")
    assert str(refused.value) == (
        f"there is no book at {tmp_path / 'room.db'}: name one with --book, or make one with `bonebench book new`"
    )
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_book_is_said(tmp_path: Path):
    where = tmp_path / "letter.txt"
    where.write_text("Dear colleague, the foxes are done.\n" * 40)
    with pytest.raises(BookDamaged) as refused:
        Book.open(where)
    assert str(refused.value) == f"{where} is damaged or no book: restore the latest backup"


def test_an_empty_file_is_no_book_and_stays_empty(tmp_path: Path):
    where = tmp_path / "empty.db"
    where.touch()
    with pytest.raises(BookDamaged) as refused:
        Book.open(where)
    assert str(refused.value) == f"{where} is not a Bonebench book"
    assert where.read_bytes() == b""


def test_another_programs_database_is_no_book(tmp_path: Path):
    where = tmp_path / "other.db"
    where.touch()
    _change(str(where), "create table book (one integer, title text)")
    with pytest.raises(BookDamaged, match=r"other\.db is not a Bonebench book"):
        Book.open(where)


def test_a_book_that_was_never_finished_is_said(sqlite_where: str):
    _change(sqlite_where, "delete from book")
    with pytest.raises(BookDamaged) as refused:
        Book.open(sqlite_where)
    assert str(refused.value) == f"{sqlite_where} was never finished: make it again with `bonebench book new`"


@pytest.mark.parametrize("share", [0.3, 0.9])
def test_a_book_cut_short_is_said_at_the_latest_when_it_is_checked(sqlite_where: str, share: float):
    book = Book.open(sqlite_where)
    store(book, *(row(f"e{n}", number=n, values={"note": "n" * 2000}) for n in range(80)))
    book.close()
    os.truncate(sqlite_where, int(os.path.getsize(sqlite_where) * share))
    with pytest.raises(BookDamaged) as refused:
        check(Book.open(sqlite_where))
    assert str(refused.value) == f"{sqlite_where} is damaged or no book: restore the latest backup"


def test_a_book_of_a_newer_program_is_left_alone(sqlite_where: str):
    _change(sqlite_where, "update alembic_version set version_num = '0900'")
    before = Path(sqlite_where).read_bytes()
    with pytest.raises(BookTooNew) as refused:
        Book.open(sqlite_where)
    assert str(refused.value) == (
        f"{sqlite_where} was made by a newer Bonebench (form 0900; this one knows up to {FORM}): install the newer one"
    )
    assert Path(sqlite_where).read_bytes() == before


@pytest.mark.parametrize("name", ["what?.db", "50%25.db", "a#b&mode=ro.db", "Знамя 歯.db", "file:x.db"])
def test_a_book_may_have_an_odd_name(tmp_path: Path, name: str):
    _make(tmp_path / name).close()
    assert [p.name for p in tmp_path.iterdir()] == [name]
    book = Book.open(tmp_path / name)
    assert store(book, row()) == ["stored"]
    book.close()


def test_a_new_book_says_its_name_and_kind(tmp_path: Path):
    book = _make(tmp_path / "room.db")
    with book.reading() as tx:
        said = about(tx)
    book.close()
    assert (said.book_id, said.kind, said.made_at, said.fold_version, said.work_revision, said.entries) == (
        "a-book", "room", AT, 1, 0, 0,
    )  # fmt: skip
    assert [p.name for p in tmp_path.iterdir()] == ["room.db"]


@pytest.mark.parametrize("there", ["room.db", "room.db-wal"])
def test_a_book_is_never_made_over_something(tmp_path: Path, there: str):
    (tmp_path / there).write_text("mine")
    with pytest.raises(BookNotWritable) as refused:
        _make(tmp_path / "room.db")
    assert str(refused.value) == f"there is already something at {tmp_path / there}: name another file, or open that one"
    assert [(p.name, p.read_text()) for p in tmp_path.iterdir()] == [(there, "mine")]


def test_a_file_that_comes_in_between_is_not_written_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    where, finish = tmp_path / "room.db", making.keep_log_beside

    def slowly(building: str) -> None:
        where.write_text("mine")
        finish(building)

    monkeypatch.setattr(making, "keep_log_beside", slowly)
    with pytest.raises(BookNotWritable, match="there is already something at"):
        _make(where)
    assert [(p.name, p.read_text()) for p in tmp_path.iterdir()] == [("room.db", "mine")]


def test_a_book_is_made_where_the_disk_knows_no_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def no_links(*_: object) -> None:
        raise PermissionError("this disk has no links")

    monkeypatch.setattr(making.os, "link", no_links)
    book = _make(tmp_path / "room.db")
    assert check(book).faults == ()
    book.close()
    assert [p.name for p in tmp_path.iterdir()] == ["room.db"]


def test_a_book_is_not_made_in_a_folder_that_is_not_there(tmp_path: Path):
    with pytest.raises(BookNotWritable) as refused:
        _make(tmp_path / "shed" / "room.db")
    assert str(refused.value) == f"there is no folder {tmp_path / 'shed'} to put a book in: make it first"


def test_making_a_book_that_fails_midway_leaves_no_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def fails(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(making, "insert", fails)
    with pytest.raises(KeyboardInterrupt):
        _make(tmp_path / "room.db")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.postgres
def test_making_a_book_in_a_database_that_fails_midway_leaves_no_table(empty_database: str, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(making, "insert", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        _make(empty_database)
    monkeypatch.undo()
    with pytest.raises(BookDamaged, match="is not a Bonebench book"):
        Book.open(empty_database)
    book = _make(empty_database)
    assert store(book, row()) == ["stored"]
    book.close()


@pytest.mark.postgres
def test_a_database_that_holds_a_book_takes_no_second_one(postgres_where: str):
    with pytest.raises(BookNotWritable) as refused:
        _make(postgres_where)
    assert str(refused.value) == "this database already holds a book: use another database"


def test_opening_and_writing_a_book_needs_no_alembic(sqlite_where: str):
    program = (
        "import sys; from bonebench.records.book import Book, bump_work; book = Book.open(sys.argv[1])\n"
        "with book.writing() as tx: bump_work(tx)\n"
        "book.close(); print([name for name in sys.modules if name.split('.')[0] == 'alembic'])"
    )
    run = subprocess.run([sys.executable, "-c", program, sqlite_where], check=True, capture_output=True, text=True)
    assert run.stdout.strip() == "[]"
