"""What every command shares: which book, who, one line for a fault, keys with their units; and a few real processes."""

import json
import os
import re
import subprocess
import sys

import pytest
from click.testing import CliRunner

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
    """Run one command in a folder of its own, without a book."""
    monkeypatch.chdir(tmp_path)
    for name in ("BONEBENCH_BOOK", "BONEBENCH_WHO"):
        monkeypatch.delenv(name, raising=False)
    return lambda *words: CliRunner().invoke(app, list(words), catch_exceptions=False)


@pytest.fixture
def booked(run):
    """The same, with a new book there."""
    assert run("book", "new", "--zone", "America/Chicago").exit_code == 0
    return run


def document(result):
    (line,) = result.stdout.strip().splitlines()
    return json.loads(line)


def test_the_book_is_the_named_one_then_that_of_the_environment_then_the_default(run, tmp_path, monkeypatch):
    for name, words in (("named.db", ["--book", "named.db"]), ("bonebench.db", [])):
        assert run("book", "new", *words).exit_code == 0
        assert (tmp_path / name).exists()
    monkeypatch.setenv("BONEBENCH_BOOK", str(tmp_path / "there.db"))
    assert run("book", "new").exit_code == 0
    assert document(run("book", "check", "--json"))["where"] == str(tmp_path / "there.db")
    assert document(run("book", "check", "--book", "named.db", "--json"))["where"] == "named.db"


def test_a_book_that_is_named_and_missing_is_not_replaced_by_what_is_shipped(run, monkeypatch, tmp_path):
    monkeypatch.setenv("BONEBENCH_BOOK", str(tmp_path / "gone.db"))
    missing = run("species", "list")
    assert (missing.exit_code, missing.stderr.startswith(f"there is no book at {tmp_path / 'gone.db'}: name one")) == (1, True)


def test_somebody_nobody_knows_is_refused_and_nothing_is_stored(booked):
    refused = booked("specimen", "add", "--species", "raccoon", "--who", "Nobody", "--json")
    assert refused.exit_code == 1
    assert document(refused)["error"] == {
        "key": "person.unknown", "path": None,
        "text": "'Nobody' is nobody this book knows by that name alone; known are: nobody yet",
    }  # fmt: skip
    assert document(booked("specimen", "list", "--json"))["rows"] == []


def test_who_did_it_stands_in_the_log(booked, monkeypatch):
    booked("room", "person", "Wren Halloway", "--hours", "mon 09:00-12:00")
    tag = document(booked("specimen", "add", "--species", "raccoon", "--who", "wren", "--json"))["tag"]
    monkeypatch.setenv("BONEBENCH_WHO", "Wren Halloway")
    booked("specimen", "log", tag, "weighed", "--set", "mass_kg=1")
    assert {entry["who"] for entry in document(booked("specimen", "show", tag, "--json"))["entries"]} == {"Wren Halloway"}


def test_a_fault_stays_one_line_whatever_was_typed(run):
    refused = run("bath", "mix", "--stock", "35\nper\ncent", "--target", "3%", "--volume", "10 L")
    assert refused.exit_code == 1
    assert refused.stderr == "'35 per cent' is not a strength; write it like 35 %, 9.1 % w/v, 10 vol or 0.9 mol/L\n"


def test_a_fault_in_json_carries_the_schema_of_the_answer_and_where_it_lies(booked):
    error = document(booked("species", "set", "red fox", "--set", "body_mass_kg=-1", "--json"))
    assert (error["schema"], error["error"]["key"], error["error"]["path"]) == ("species.show/1", "species.range", "body_mass_kg")


def test_a_time_may_be_said_as_the_help_says(booked):
    tag = document(booked("specimen", "add", "--species", "raccoon", "--json"))["tag"]
    for about in ("2d ago", "yesterday", "this-morning", "2026-05-04"):
        logged = booked("specimen", "log", tag, "looked", "--set", "step=beetles", "--about", about, "--json")
        assert document(logged)["stored"] == "stored"
    both = booked("specimen", "log", tag, "looked", "--set", "step=beetles", "--about", "2d", "--at", "2026-05-04T08:00")
    assert both.stderr == "a time is either exact or about; give one of the two, not both\n"


def test_undo_names_its_own_specimens_entries_only(booked):
    one, other = (document(booked("specimen", "add", "--species", "raccoon", "--json")) for _ in range(2))
    refused = booked("specimen", "undo", one["tag"], "--id", other["entry_id"])
    assert refused.stderr == f"entry {other['entry_id']} is not about {one['tag']}; `specimen show` lists its own\n"
    assert booked("specimen", "undo", other["tag"], "--id", other["entry_id"]).exit_code == 0


def test_a_place_out_of_use_stays_so_until_it_is_put_in_use(booked):
    def is_open(*words):
        card = document(booked("room", "place", "pot", "--kind", "pot", *words, "--json"))
        return next(place["open"] for place in card["places"] if place["key"] == "pot")

    assert [is_open("--out-of-use"), is_open("--holds", "3"), is_open("--in-use")] == [False, False, True]


def test_quantities_are_shown_in_the_rooms_units_to_people_and_in_si_to_programs(run):
    run("book", "new", "--units", "us")
    tag = document(run("specimen", "add", "--species", "raccoon", "--head-mass", "1 lb", "--json"))["tag"]
    shown = document(run("specimen", "show", tag, "--json"))
    # The international pound, by definition.
    assert shown["head_mass_kg"] == pytest.approx(0.45359237)
    assert re.search(r"^tissue +\S+ oz ", run("specimen", "show", tag).stdout, re.MULTILINE)


# What INTERFACE.md says a number's key may end in; bare ones are counts, fractions 0..1, or said so in their card.
UNITS = ("_kg", "_g", "_l", "_m3", "_c", "_k", "_w", "_kwh", "_pa", "_ppm", "_hours", "_days", "_per_day", "_kg_m3", "_percent")
BARE = {
    "stock", "strength", "naive_strength", "strength_volumes", "value", "minutes", "days", "low", "high", "days_p10", "days_p50",
    "days_p90", "visit", "total", "late_days", "problems", "left_out", "finished_left_out", "count", "holds", "pieces",
}  # fmt: skip


def numbers(plain):
    """Every key that holds a number, wherever it stands; the values of a sentence are its own."""
    if isinstance(plain, dict):
        for key, value in plain.items():
            if isinstance(value, int | float) and not isinstance(value, bool):
                yield key
            elif key not in ("values", "counts"):
                yield from numbers(value)
    elif isinstance(plain, list):
        for one in plain:
            yield from numbers(one)


def test_every_number_says_its_unit_in_its_key(booked):
    tag = document(booked("specimen", "add", "--species", "raccoon", "--head-mass", "900 g", "--json"))["tag"]
    mix = ["bath", "mix", "--stock", "35%", "--target", "3%", "--volume", "10 L"]
    for words in (["today"], ["specimen", "show", tag], ["specimen", "list"], ["room"], mix):
        found = set(numbers(document(booked(*words, "--json"))))
        assert {key for key in found if not key.endswith(UNITS)} <= BARE, words


def test_times_are_utc_with_z_and_days_are_local_dates(booked):
    tag = document(booked("specimen", "add", "--species", "raccoon", "--promised", "2030-06-01", "--json"))["tag"]
    card = document(booked("specimen", "show", tag, "--json"))
    assert card["promised"] == "2030-06-01"
    for time in (card["received"], card["entries"][0]["latest"], card["entries"][0]["recorded"]):
        assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z", time)


def bonebench(*words, cwd, **env):
    """Run the real program in a process of its own."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith("BONEBENCH_")}
    return subprocess.run(
        [sys.executable, "-m", "bonebench", *words],
        cwd=cwd,
        env={**clean, **env},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


def test_the_real_program_makes_a_book_and_answers_with_one_document_and_nothing_else(tmp_path):
    book = str(tmp_path / "a book.db")
    made = bonebench("book", "new", "--json", cwd=tmp_path, BONEBENCH_BOOK=book)
    assert (made.returncode, made.stderr, document(made)["where"]) == (0, "", book)
    assert document(bonebench("today", "--json", cwd=tmp_path, BONEBENCH_BOOK=book))["schema"] == "today/1"


def test_the_real_program_says_a_fault_in_one_line_and_exits_with_one_or_two(tmp_path):
    missing = bonebench("today", "--json", cwd=tmp_path)
    assert (missing.returncode, document(missing)["error"]["key"]) == (1, "book.missing")
    assert missing.stderr == document(missing)["error"]["text"] + "\n"
    wrong = bonebench("today", "--fortnight", cwd=tmp_path)
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert list(tmp_path.iterdir()) == []
