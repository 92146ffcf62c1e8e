"""Papers on the command line: a file that is never written over by accident, and what was printed as JSON."""

import json

import pytest

from tests.cli.test_commands import answer, app, run  # noqa: F401  the fixtures of the commands


@pytest.fixture
def tag(run) -> str:  # noqa: F811
    """One specimen in the book."""
    return str(answer(run("specimen", "add", "--species", "raccoon", "--owner", "Łucja Ångström", "--json"))["tag"])


def test_labels_of_what_came_in_today_and_where_the_sheet_goes_on(run, tag, tmp_path):  # noqa: F811
    card = answer(run("print", "labels", "--today", "--stock", "a4-3x7-63.5x38.1", "--start", "21", "--out", "l.pdf", "--json"))
    assert {"basis", "flags", "cautions"} <= set(card)
    assert (card["schema"], card["pages"], card["labels"], card["starts_at"], card["next_start"]) == ("print/1", 1, 1, 21, 1)
    assert (card["tags"], card["file"], card["demo"]) == ([tag], "l.pdf", False)
    assert (tmp_path / "l.pdf").read_bytes().startswith(b"%PDF")


def test_a_file_is_written_over_only_when_told_to(run, tag, tmp_path):  # noqa: F811
    (tmp_path / "l.pdf").write_text("mine")
    refused = run("print", "labels", tag, "--out", "l.pdf")
    assert (refused.exit_code, (tmp_path / "l.pdf").read_text()) == (1, "mine")
    assert refused.stderr.strip() == "l.pdf is there already; choose another name, or say --replace"
    assert run("print", "labels", tag, "--out", "l.pdf", "--replace").exit_code == 0
    assert (tmp_path / "l.pdf").read_bytes().startswith(b"%PDF")
    missing = run("print", "labels", tag, "--out", "nowhere/l.pdf", "--json")
    assert (missing.exit_code, json.loads(missing.stdout)["error"]["key"]) == (1, "print.unwritable")


def test_a_pdf_goes_to_standard_output_and_its_words_beside_it(run, tag):  # noqa: F811
    result = run("print", "care-card", tag, "--out", "-")
    assert result.stdout_bytes.startswith(b"%PDF")
    assert "care-card: 1 page" in result.stderr
    assert run("print", "care-card", tag, "--out", "-", "--json").exit_code == 2
    assert run("print", "care-card", tag, "--out", "").exit_code == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["labels"], "no specimen is chosen"),
        (["labels", "XXX-X"], "is not a tag of this room"),
        (["labels", "--waiting", "--stock", "a5"], "there is no label stock called a5"),
        (["labels", "--kind", "blank", "--count", "3001"], "3001 tags on one roll"),
        (["labels", "0ZC-M", "--kind", "place"], "0ZC-M are tags of specimens"),
        (["labels", "XXX", "--right", "wide"], "'wide' is not a length"),
        (["care-card", "XXX"], "is not a tag of this room"),
        (["worksheet", "--paper", "a5"], "there is no paper called a5"),
    ],
)
def test_what_cannot_be_printed_is_one_line_and_no_file(run, tag, tmp_path, words, said):  # noqa: F811
    result = run("print", *words, "--out", "x.pdf")
    assert result.exit_code == 1
    assert said in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1
    assert not (tmp_path / "x.pdf").exists()


def test_a_pencil_sheet_is_printed_and_typed_back(run, tag, tmp_path):  # noqa: F811
    card = answer(run("print", "pencil-sheet", "--out", "p.pdf", "--json"))
    sheet = answer(run("typed-back", card["sheet"], "--json"))
    row = next(one["row"] for one in sheet["rows"] if tag in one["about"])
    typed = answer(run("typed-back", card["sheet"], f"{row} a, 99 b", "--json"))
    assert [one["stored"] for one in typed["rows"]] == ["stored"]
    assert typed["unread"][0]["text"] == "99 b"
    text = run("typed-back", card["sheet"], f"{row} a,", "99 b").stdout
    assert "already stored" in text
    assert "not stored: 99 b: this sheet has no row 99" in text
    assert f"{row:3} " in run("typed-back", card["sheet"]).stdout


def test_stocks_are_listed(run):  # noqa: F811
    rows = answer(run("print", "stocks", "--json"))["rows"]
    assert any(row["key"] == "a4-3x7-63.5x38.1" and row["labels"] == 21 for row in rows)
    assert "letter-3x10" in run("print", "stocks").stdout


@pytest.mark.parametrize("what", ["worksheet", "intake-form"])
def test_papers_of_the_day_and_the_door(run, tag, tmp_path, what):  # noqa: F811
    assert answer(run("print", what, "--out", "w.pdf", "--json"))["pages"] >= 1
    assert run("print", "labels", "--kind", "place", "--out", "places.pdf").exit_code == 0
