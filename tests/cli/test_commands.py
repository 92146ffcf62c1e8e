"""The command line as people and programs hold on to it: keys, exit codes, one line for each fault."""

import json
import os
import socket
import subprocess
import sys

import pytest
from click.testing import CliRunner, Result

from bonebench import serving
from bonebench.cli import build


@pytest.fixture(scope="module")
def app():
    """The whole command line, as `bonebench` runs it."""
    whole = build()
    serving.register(whole)
    return whole


@pytest.fixture
def run(app, tmp_path, monkeypatch):
    """Run one command in a folder of its own, with a book in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    monkeypatch.delenv("BONEBENCH_WHO", raising=False)

    def command(*words: str) -> Result:
        return CliRunner().invoke(app, list(words), catch_exceptions=False)

    assert command("book", "new", "--name", "Test room", "--zone", "America/Chicago").exit_code == 0
    return command


def answer(result: Result) -> dict:
    """The one JSON document a command printed."""
    assert result.exit_code == 0, result.output
    (line,) = result.stdout.strip().splitlines()
    return json.loads(line)


COMMON = {"schema", "basis", "flags", "cautions"}
# The keys that ../INTERFACE.md promises; more may be there.
PROMISED = [
    (["today"], "today/1", {"date", "alerts", "tasks"}),
    (["specimen", "add", "--species", "raccoon", "--owner", "Ada"], "specimen.add/1", {"tag", "route"}),
    (["specimen", "list"], "specimen.list/1", {"rows"}),
    (["promise", "--species", "raccoon"], "promise/1", {"p50", "p80", "p95", "limited_by"}),
    (["promises"], "promise.kept/1", {"pieces", "kept"}),
    (["plan", "--moves", "3"], "plan/1", {"status", "tasks"}),
    (["plan"], "plan/1", {"status", "objective", "bound", "tasks", "late", "unplaced"}),
    (["season", "--months", "3"], "season/1", {"months", "freezer", "holiday"}),
    (["outdoors", "--warmest", "-7, -9, -4 C"], "front.outdoors/1", {"last_day", "bring_in", "warmest_c"}),
    (["thaw", "--species", "raccoon", "--shelf", "6 C"], "front.thaw/1", {"thaw", "look_by", "freeze"}),
    (["room"], "room/1", {"places", "methods", "people"}),
    (["species", "list"], "species.list/1", {"rows"}),
    (["species", "show", "raccoon"], "species.show/1", {"values", "scientific"}),
    (["catch-up"], "catch-up/1", {"places", "left"}),
    (["book", "check"], "book.check/1", {"whole", "counts", "entries"}),
    (["bath", "mix", "--stock", "35%", "--target", "3%", "--volume", "10 L"], "bath.mix/1",
     {"strength", "stock_kg", "stock_l", "water_kg", "water_l", "density_kg_m3", "naive_strength", "oxygen_l", "heat_rise_k"}),
    (["bath", "convert", "--from", "10 vol", "--to", "w/v"], "bath.convert/1", {"value", "unit"}),
]  # fmt: skip


@pytest.mark.parametrize(("words", "schema", "keys"), PROMISED)
def test_every_command_answers_with_one_document_of_the_promised_keys(run, words, schema, keys):
    card = answer(run(*words, "--json"))
    assert card["schema"] == schema
    assert keys | COMMON <= set(card)


def test_a_task_and_a_specimen_carry_what_programs_hold_on_to(run):
    tag = answer(run("specimen", "add", "--species", "raccoon", "--json"))["tag"]
    task = next(t for t in answer(run("today", "--json"))["tasks"] if t["specimen"] == tag)
    assert {"id", "place", "specimen", "about", "action", "why", "due_from", "due_by", "minutes", "cautions"} <= set(task)
    assert set(task["why"]) >= {"text", "key", "values"}
    shown = answer(run("specimen", "show", tag, "--json"))
    assert {"state", "entries", "parts", "teeth", "ready"} <= set(shown)
    assert {"p50", "p80", "p95"} <= set(shown["ready"])
    logged = answer(run("specimen", "log", tag, "done", "--set", "step=trim", "--json"))
    assert (logged["stored"], bool(logged["entry_id"])) == ("stored", True)


def test_the_same_id_again_is_stored_once_and_other_content_is_a_clash(run):
    tag = answer(run("specimen", "add", "--species", "raccoon", "--json"))["tag"]
    words = ["specimen", "log", tag, "weighed", "--id", "11111111-1111-7111-8111-111111111111", "--json"]
    assert [answer(run(*words, "--set", "mass_kg=0.4"))["stored"] for _ in range(2)] == ["stored", "already stored"]
    assert answer(run(*words, "--set", "mass_kg=0.5"))["stored"] == "clash"
    assert any("came twice with different content" in alert["what"]["text"] for alert in answer(run("today", "--json"))["alerts"])


def test_what_happened_is_taken_back_by_undo(run):
    tag = answer(run("specimen", "add", "--species", "raccoon", "--json"))["tag"]
    before = answer(run("specimen", "show", tag, "--json"))["state"]["step"]
    run("specimen", "log", tag, "moved", "--set", "place=thaw-shelf", "--set", "step=thaw to trim")
    assert answer(run("specimen", "show", tag, "--json"))["state"]["step"] == "thaw to trim"
    assert run("specimen", "undo", tag).exit_code == 0
    assert answer(run("specimen", "show", tag, "--json"))["state"]["step"] == before


FAULTS = [
    (["specimen", "add", "--species", "racoon"], "no species 'racoon' is known; did you mean raccoon?"),
    (["specimen", "show", "0Z9-S"], "no specimen carries tag 0Z9-S in this book"),
    (["specimen", "show", "K7Q"], "'K7Q' is not a tag of this room: its check letter does not fit; look at the tag again"),
    (["bath", "mix", "--stock", "3%", "--target", "6%", "--volume", "1 L"],
     "target strength 6 % is above the stock's 3 %: a bath cannot be diluted upward"),
    (["bath", "mix", "--stock", "35%", "--target", "3%", "--volume", "ten buckets"],
     "'ten buckets' is not a volume; write it like 10 L or 2 gal"),
    (["room", "method", "boil"], "'boil' is no method; there are:"),
    (["room", "place", "attic", "--kind", "loft"], "'loft' is no kind of place; there are:"),
    (["room", "person", "Ada", "--hours", "noonish"], "hours 'noonish' cannot be read; write them like mon 09:00-12:00"),
    (["book", "new"], "there is already something at bonebench.db: name another file, or open that one"),
    (["today", "--on", "soon"], "'soon' is not a day; write it like 2026-05-09"),
]  # fmt: skip


@pytest.mark.parametrize(("words", "said"), FAULTS)
def test_a_fault_is_one_line_on_standard_error_and_exit_one(run, words, said):
    plain = run(*words)
    assert plain.exit_code == 1
    assert plain.stderr.startswith(said)
    assert len(plain.stderr.strip().splitlines()) == 1
    document = json.loads(run(*words, "--json").stdout.strip())
    assert document["error"]["text"].startswith(said)
    assert {"key", "text", "path"} <= set(document["error"])


def test_a_missing_book_says_where_it_looked_and_what_to_do(app, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    found = CliRunner().invoke(app, ["today"])
    assert (found.exit_code, list(tmp_path.iterdir())) == (1, [])
    assert found.stderr == (
        f"there is no book at {tmp_path / 'bonebench.db'}: name one with --book, or make one with `bonebench book new`\n"
    )


def test_wrong_usage_is_exit_two(run):
    assert run("today", "--minutes", "soon").exit_code == 2
    assert run("nonsense").exit_code == 2


def test_species_can_be_read_without_a_book(app, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    assert "Procyon lotor" in CliRunner().invoke(app, ["species", "show", "raccoon"]).stdout
    assert list(tmp_path.iterdir()) == []


def test_a_port_in_use_is_one_line_and_exit_one(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = subprocess.run(
            [sys.executable, "-m", "bonebench", "serve", "--port", str(port)],
            cwd=tmp_path, capture_output=True, text=True, check=False, timeout=60,
        )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.startswith(f"127.0.0.1:{port} cannot be used (Address already in use): stop what uses it, or name another")
    assert len(done.stderr.strip().splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_looking_at_today_loads_neither_migrations_nor_the_web(tmp_path):
    script = (
        "import sys; from click.testing import CliRunner; from bonebench.cli import build; app = build();"
        "run = lambda *w: CliRunner().invoke(app, list(w), catch_exceptions=False);"
        "assert run('today').exit_code == 0;"
        "print([m for m in ('alembic', 'fastapi', 'uvicorn', 'jinja2', 'pydantic') if m in sys.modules])"
    )
    env = {**os.environ, "BONEBENCH_BOOK": str(tmp_path / "b.db")}
    subprocess.run([sys.executable, "-m", "bonebench", "book", "new"], env=env, check=True, capture_output=True)
    done = subprocess.run([sys.executable, "-c", script], env=env, check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def test_cautions_stand_before_the_recipe_in_the_terminal(run):
    text = run("bath", "mix", "--stock", "35%", "--target", "3%", "--volume", "10 L").stdout
    assert 0 <= text.index("DANGER") < text.index("1. ")
    assert "Defer to local codes" in text


def test_help_names_every_command(app):
    listed = CliRunner().invoke(app, ["--help"]).stdout
    for command in ("bath", "book", "catch-up", "room", "serve", "species", "specimen", "today"):
        assert f"  {command} " in listed
