"""Changes of form: tables and migrations agree, go down and up again, and lose no row of a book with children."""

import shutil
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import inspect
from sqlalchemy.exc import IntegrityError

from bonebench.errors import BookDamaged
from bonebench.records import book as book_module
from bonebench.records import files, making, people, states
from bonebench.records.book import FORM, KNOWN_FORMS, Book
from bonebench.records.engines import engine_for
from bonebench.records.files import FileRow
from bonebench.records.making import SCRIPTS, migrate, take_back
from bonebench.records.states import PartRow, StayRow
from bonebench.records.tables import metadata
from bonebench.records.written import WrittenRow, put_written

from .rows import AT, everything, row, store, void

FILE = FileRow("ab" * 32, "image/jpeg", 12, 4, 3, "cd" * 32, AT)
NEXT = f"{int(FORM) + 1:04d}"
NEXT_FORM = f'''
"""A made-up next form: every table that others point to is changed."""
import sqlalchemy as sa
from alembic import op

revision = "{NEXT}"
down_revision = "{FORM}"
branch_labels = None
depends_on = None


def upgrade():
    for table in ("entry", "specimen_now", "person"):
        with op.batch_alter_table(table) as changed:
            changed.add_column(sa.Column("colour", sa.String(20)))
            changed.alter_column("id", type_=sa.String(80), existing_type=sa.String(64), existing_nullable=False)
    MORE


def downgrade():
    for table in ("entry", "specimen_now", "person"):
        with op.batch_alter_table(table) as changed:
            changed.drop_column("colour")
'''


def _scripts(tmp_path: Path, more: str = "pass") -> Path:
    scripts = Path(shutil.copytree(SCRIPTS, tmp_path / "scripts", ignore=shutil.ignore_patterns("__pycache__")))
    (scripts / "versions" / f"{NEXT}_next_form.py").write_text(NEXT_FORM.replace("MORE", more))
    return scripts


def _with_children(where: str) -> dict[str, object]:
    """Fill every table that others belong to, with what belongs to it; return all of it."""
    book = Book.open(where)
    store(book, row("e1", subjects=("specimen:fox/skull", "room")), void("v1", "e1"), row("e1", values={"note": "another"}))
    with book.writing() as tx:
        people.add(tx, "p1", "Somebody")
        people.add_note(tx, "n1", "p1", "a note")
        states.put_specimen(
            tx, id="fox", tag="K7Q-K", owner="p1", finished=False, state={"a": 1}, parts=(PartRow("skull", "pot", AT),)
        )
        put_written(tx, "fox", [WrittenRow("e2", "spring tray", "n1")])
        states.put_stays(tx, "fox", [StayRow("degrease", 1, None, "vulpes-vulpes", None, 3.5)])
    found = dict(everything(book))
    book.close()
    for table in metadata.sorted_tables:
        if table.foreign_keys:
            assert found[table.name], f"{table.name} has no child rows to lose"
    return found


def _everything(where: str) -> dict[str, object]:
    book = Book(where, "room")
    found = dict(everything(book))
    book.close()
    return found


def test_tables_and_migrations_agree(where: str):
    engine = engine_for(where, writes=True)
    with engine.begin() as connection:
        found = compare_metadata(MigrationContext.configure(connection, opts={"compare_type": True}), metadata)
    engine.dispose()
    assert found == []


def test_the_form_that_opening_looks_for_is_the_newest_migration(where: str):
    forms = sorted(path.name.split("_")[0] for path in (SCRIPTS / "versions").glob("*.py"))
    assert (forms[-1], tuple(forms)) == (FORM, KNOWN_FORMS)
    assert book_module.form_and_kind(where) == (FORM, "room")


def _tables(where: str) -> set[str]:
    engine = engine_for(where, writes=False)
    with engine.begin() as connection:
        found = set(inspect(connection).get_table_names())
    engine.dispose()
    return found


def test_a_book_goes_down_to_nothing_and_up_again(where: str):
    take_back(where, "base")
    assert _tables(where) == {"alembic_version"}
    migrate(where)
    assert _tables(where) == {"alembic_version", *metadata.tables}


def test_a_change_of_a_parent_table_loses_no_child_row(where: str, tmp_path: Path):
    scripts = _scripts(tmp_path)
    before = _with_children(where)
    migrate(where, NEXT, scripts=scripts)
    assert _everything(where) == before
    take_back(where, FORM, scripts=scripts)
    assert _everything(where) == before


def test_a_book_without_files_gets_the_list_of_them_and_loses_nothing(where: str):
    before = _with_children(where)
    take_back(where, "0002")
    assert "file" not in _tables(where)
    book = Book.open(where)
    with book.writing() as tx:
        files.add(tx, FILE)
    book.close()
    after = _everything(where)
    # What is written of specimens comes back when the log is folded again, which the book asks for.
    changed = {"file", "book", "written_now"}
    assert {n: r for n, r in after.items() if n not in changed} == {n: r for n, r in before.items() if n not in changed}
    assert (len(after["file"]), after["written_now"]) == (1, [])


def test_a_book_without_a_table_of_words_asks_for_its_log_to_be_folded_again(where: str):
    before = _with_children(where)
    take_back(where, "0004")
    assert "written_now" not in _tables(where)
    book = Book.open(where)
    with book.reading() as tx:
        assert book_module.about(tx).fold_version == 0
    book.close()
    kept = {n: r for n, r in before.items() if n not in ("book", "written_now")}
    assert {n: r for n, r in _everything(where).items() if n in kept} == kept


def test_with_foreign_keys_on_the_same_change_fails(sqlite_where: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    # The change drops and refills the parent; with keys on, dropping it deletes its rows first (SQLite, "ALTER TABLE", section 7).
    scripts = _scripts(tmp_path)
    before = _with_children(sqlite_where)
    monkeypatch.setattr(making, "PRAGMAS", ("foreign_keys=on", "synchronous=full"))
    with pytest.raises(IntegrityError, match="FOREIGN KEY constraint failed"):
        migrate(sqlite_where, NEXT, scripts=scripts)
    assert _everything(sqlite_where) == before


def test_a_change_that_would_leave_orphans_is_undone_whole(sqlite_where: str, tmp_path: Path):
    scripts = _scripts(tmp_path, "op.execute('delete from person')")
    before = _with_children(sqlite_where)
    with pytest.raises(BookDamaged) as refused:
        migrate(sqlite_where, NEXT, scripts=scripts)
    assert str(refused.value) == "bringing the book to a new form would lose 1 rows; nothing was changed"
    assert _everything(sqlite_where) == before
    assert book_module.form_and_kind(sqlite_where)[0] == FORM


@pytest.fixture
def a_newer_program(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that knows the made-up next form."""
    monkeypatch.setattr(book_module, "FORM", NEXT)
    monkeypatch.setattr(book_module, "KNOWN_FORMS", (*KNOWN_FORMS, NEXT))
    scripts = _scripts(tmp_path)
    monkeypatch.setattr(making, "migrate", lambda where, form: migrate(where, form, scripts=scripts))


@pytest.mark.usefixtures("a_newer_program")
def test_an_older_book_is_brought_up_on_opening_after_a_copy_was_made(sqlite_where: str):
    before, copy = _before_the_change(sqlite_where), Path(f"{sqlite_where}.before-{NEXT}")
    Book.open(sqlite_where).close()
    assert [_form(sqlite_where), _form(str(copy))] == [NEXT, FORM]
    assert (_everything(sqlite_where), _everything(str(copy))) == (before, before)
    kept = copy.read_bytes()
    Book.open(sqlite_where).close()
    assert copy.read_bytes() == kept


@pytest.mark.postgres
@pytest.mark.usefixtures("a_newer_program")
def test_an_older_database_is_brought_up_on_opening(postgres_where: str):
    before = _before_the_change(postgres_where)
    Book.open(postgres_where).close()
    assert (_form(postgres_where), _everything(postgres_where)) == (NEXT, before)


def _before_the_change(where: str) -> dict[str, object]:
    with pytest.MonkeyPatch.context() as older:
        older.setattr(book_module, "FORM", FORM)
        return _with_children(where)


def _form(where: str) -> str:
    return book_module.form_and_kind(where)[0]
