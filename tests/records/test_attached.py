"""Files beside the book: whole or not there, found missing or altered, and carried along with every copy of the book."""

import os
from pathlib import Path

import pytest

from bonebench.errors import BookNotWritable
from bonebench.records import attached, files
from bonebench.records.attached import Named, folder_of, hash_of
from bonebench.records.backup import backup, check, restore
from bonebench.records.book import Book
from bonebench.records.files import FileRow
from bonebench.records.moving import move_book

from .rows import AT

DATA = b"\xff\xd8\xff a photo, as far as the folder knows"
NAMED = Named(hash_of(DATA), "image/jpeg", len(DATA))
ROW = FileRow(NAMED.sha256, NAMED.media_type, NAMED.size_bytes, 4, 3, hash_of(b"as sent"), AT)


def filled(where: str) -> Book:
    """A book with one photo in its folder and on its list."""
    book = Book.open(where)
    attached.put(book.files, NAMED, DATA)
    with book.writing() as tx:
        files.add(tx, ROW)
    return book


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


@pytest.mark.parametrize(
    ("where", "folder"), [("room/bone.db", "room/bone-files"), ("bone", "bone-files"), ("a.db.fresh", "a.db.fresh-files")]
)
def test_the_folder_stands_beside_the_book(where: str, folder: str):
    assert folder_of(where) == Path(folder)


def test_the_folder_of_a_book_on_a_server_is_named_or_in_the_working_folder(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("BONEBENCH_FILES", raising=False)
    assert folder_of("postgresql://bone@here:5432/room") == Path("room-files")
    monkeypatch.setenv("BONEBENCH_FILES", "/srv/photos")
    assert folder_of("postgresql+psycopg://bone@here/room") == Path("/srv/photos")
    assert folder_of("room.db") == Path("room-files")


def test_a_file_is_stored_once_under_its_hash_and_nothing_half_made_is_left(tmp_path: Path):
    for _ in range(2):
        attached.put(tmp_path / "f", NAMED, DATA, b"small")
    # The hash of the bytes by the tool of the system would be the same: SHA-256 of FIPS 180-4.
    assert names(tmp_path / "f") == [f"{NAMED.sha256}.jpg"] * 2
    assert (tmp_path / "f" / "small" / NAMED.name).read_bytes() == b"small"


def test_a_file_that_was_altered_is_put_right_when_it_comes_again(tmp_path: Path):
    attached.put(tmp_path / "f", NAMED, DATA)
    (tmp_path / "f" / NAMED.name).write_bytes(b"x" * len(DATA))
    attached.put(tmp_path / "f", NAMED, DATA)
    assert attached.is_whole(tmp_path / "f" / NAMED.name, NAMED)


def test_what_fails_while_it_is_written_leaves_no_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(BookNotWritable, match="is full: make room; nothing of this was stored"):
        attached.put(tmp_path / "f", NAMED, DATA)
    assert names(tmp_path / "f") == []


@pytest.mark.parametrize("name", ["", "../x", "a" * 63, "A" * 64, "a" * 64 + "\n", "g" * 64, "a" * 65])
def test_what_is_no_hash_never_becomes_a_path(name: str):
    assert not attached.is_hash(name)


def test_a_check_names_what_is_missing_altered_or_should_be_gone(where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("BONEBENCH_FILES", str(tmp_path / "f"))
    book = filled(where)
    path = book.files / NAMED.name
    assert check(book).faults == ()
    path.write_bytes(b"y" * len(DATA))
    assert check(book).faults == (f"{NAMED.name} in {book.files} was altered or is damaged: copy it back from a backup",)
    path.unlink()
    assert check(book).faults == (f"{NAMED.name} is missing from {book.files}: copy it back from a backup",)
    with book.writing() as tx:
        files.set_erased(tx, NAMED.sha256, AT)
    assert check(book).faults == ()
    path.write_bytes(DATA)
    assert check(book).faults == (f"{NAMED.name} was erased and still lies in {book.files}: delete it",)
    book.close()


def test_a_copy_takes_the_files_along_and_can_be_put_back_whole(sqlite_where: str, tmp_path: Path):
    book = filled(sqlite_where)
    (tmp_path / "stick").mkdir()
    assert backup(book, tmp_path / "stick" / "bone.db") == ()
    book.close()
    assert names(tmp_path / "stick" / "bone-files") == [NAMED.name]
    (tmp_path / "new").mkdir()
    restore(tmp_path / "stick" / "bone.db", tmp_path / "new" / "room.db")
    back = Book.open(tmp_path / "new" / "room.db")
    assert (check(back).faults, names(back.files)) == ((), [NAMED.name])
    back.close()


def test_putting_a_copy_back_heals_a_damaged_file(sqlite_where: str, tmp_path: Path):
    book = filled(sqlite_where)
    backup(book, tmp_path / "copy.db")
    (book.files / NAMED.name).write_bytes(b"spoilt")
    book.close()
    restore(tmp_path / "copy.db", Path(sqlite_where), over=True)
    back = Book.open(sqlite_where)
    assert check(back).faults == ()
    back.close()


def test_a_copy_says_which_files_it_could_not_take(sqlite_where: str, tmp_path: Path):
    book = filled(sqlite_where)
    (book.files / NAMED.name).write_bytes(b"spoilt")
    assert backup(book, tmp_path / "copy.db") == (NAMED.name,)
    assert not (tmp_path / "copy-files" / NAMED.name).exists()
    book.close()


def test_what_was_erased_goes_into_no_copy(sqlite_where: str, tmp_path: Path):
    book = filled(sqlite_where)
    with book.writing() as tx:
        files.set_erased(tx, NAMED.sha256, AT)
    assert backup(book, tmp_path / "copy.db") == ()
    book.close()
    assert not (tmp_path / "copy-files").exists()


@pytest.mark.postgres
def test_a_book_that_moves_to_a_server_and_back_takes_its_files_along(
    sqlite_where: str, empty_database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("BONEBENCH_FILES", str(tmp_path / "server"))
    book = filled(sqlite_where)
    move_book(book, empty_database, now=AT, book_id="m1", fold_version=1)
    on_server = Book.open(empty_database)
    assert (check(on_server).faults, names(tmp_path / "server")) == ((), [NAMED.name])
    move_book(on_server, str(tmp_path / "home.db"), now=AT, book_id="m2", fold_version=1)
    home = Book.open(tmp_path / "home.db")
    assert (check(home).faults, names(home.files)) == ((), [NAMED.name])
    for one in (book, on_server, home):
        one.close()


def test_a_file_that_was_erased_and_comes_again_is_there_again(where: str):
    book = Book.open(where)
    with book.writing() as tx:
        files.add(tx, ROW)
        files.set_erased(tx, ROW.sha256, AT)
        assert (files.listed(tx), files.sent_before(tx, ROW.sent_sha256 or "")) == ([], None)
        files.add(tx, ROW)
        assert files.listed(tx) == [NAMED]
        assert files.sent_before(tx, ROW.sent_sha256 or "") == ROW
    book.close()
