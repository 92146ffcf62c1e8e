"""Parts, tags, lots, places and condition on the command line: keys, and one line for each fault."""

import json

import pytest
from click.testing import CliRunner, Result

from bonebench.cli import build


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Run one command in a folder of its own, with a book and two specimens off a roll in it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    monkeypatch.delenv("BONEBENCH_WHO", raising=False)
    app = build()

    def command(*words: str) -> Result:
        return CliRunner().invoke(app, list(words), catch_exceptions=False)

    assert command("book", "new", "--name", "Test room", "--zone", "America/Chicago").exit_code == 0
    return command


def answer(result: Result) -> dict:
    assert result.exit_code == 0, result.output
    (line,) = result.stdout.strip().splitlines()
    return json.loads(line)


@pytest.fixture
def tags(run) -> list[str]:
    """Two deer with antlers, tagged off a roll."""
    free = answer(run("tag", "issue", "4", "--roll", "Shed", "--json"))["tags"]
    for tag in free[:2]:
        assert run("specimen", "add", "--species", "white-tailed deer", "--parts", "antlers", "--tag", tag).exit_code == 0
    return free


def test_each_answer_has_its_schema_and_keys(run, tags):
    deer, other = tags[:2]
    for words, schema, keys in (
        (["tag", "list"], "tag.list/1", {"rolls"}),
        (["part", "list", deer], "part.list/1", {"tag", "parts"}),
        (["part", "may", "antlers"], "part.may/1", {"part", "ways"}),
        (["part", "move", deer, "antlers", "--to", "rack"], "specimen.log/1", {"entry_id", "state"}),
        (["part", "join", deer, "antlers"], "specimen.log/1", {"entry_id"}),
        (["part", "add", deer, "loose teeth"], "specimen.log/1", {"entry_id"}),
        (["part", "sample", deer, "--for", "DNA", "--of", "muscle", "--in", "freezer"], "specimen.log/1", {"entry_id"}),
        (["part", "send", deer, "sample", "--to", "a laboratory"], "specimen.log/1", {"entry_id"}),
        (["specimen", "condition", deer, "hole", "--as", "came", "--part", "head"], "specimen.log/1", {"entry_id"}),
        (["specimen", "repair", deer, "glued", "--with", "epoxy"], "specimen.log/1", {"entry_id"}),
        (["specimen", "mark", deer, "bag"], "specimen.log/1", {"entry_id"}),
        (["lot", "join", "Pair", deer, other], "lot.show/1", {"members", "name"}),
        (["lot", "list"], "lot.list/1", {"lots"}),
        (["lot", "show", "Pair"], "lot.show/1", {"members"}),
        (["place", "list"], "place.list/1", {"places"}),
        (["place", "count", "freezer", deer], "place.show/1", {"items", "count"}),
        (["place", "show", "freezer"], "place.show/1", {"items", "count"}),
        (["lot", "split", "Pair"], "lot.list/1", {"lots"}),
        (["specimen", "retag", deer, "--to", tags[2]], "specimen.show/1", {"tag", "former_tags", "looks"}),
    ):
        card = answer(run(*words, "--json"))
        assert card["schema"] == schema
        assert keys | {"basis", "flags", "cautions"} <= set(card), words


def test_people_read_plain_lines(run, tags):
    deer, other = tags[:2]
    run("part", "move", deer, "antlers", "--to", "rack")
    run("specimen", "condition", deer, "hole", "--as", "came", "--where", "left cheek", "--note", "small")
    run("specimen", "repair", deer, "glued", "--with", "epoxy")
    shown = run("specimen", "show", deer).stdout
    for line in (
        "antlers in Rack",
        "as it came Hole: shot, bite or tool, left cheek: small",
        "Two-part epoxy, does not come off again",
    ):
        assert line in shown
    counted = run("place", "count", "freezer", deer).stdout
    assert f"missing  {other} white-tailed deer" in counted
    assert "last: moved to Freezer" in counted
    assert "STAYS OUT" in run("part", "may", "antlers").stdout
    assert "2 of 4 used" in run("tag", "list").stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["specimen", "add", "--species", "red fox", "--tag", "K7Q-A"], "'K7Q-A' is not a tag of this room"),
        (["part", "may", "antlers", "--into", "tub"], "antlers stay out of Tub"),
        (["part", "may", "wings"], "nothing is known of 'wings'"),
        (["lot", "join", "Alone", "TAG"], "alone is no lot"),
        (["lot", "split", "Nothing"], "there is no lot 'Nothing'"),
        (["place", "count", "freezer"], "say how many there are"),
        (["place", "count", "freezer", "--found", "-1"], "cannot be; count again"),
        (["place", "show", "attic"], "this room has no place 'attic'"),
        (["tag", "issue", "0"], "0 tags on one roll"),
        (["part", "move", "TAG", "antlers", "--to", "attic"], "this room has no place 'attic'"),
        (["part", "send", "TAG", "antlers", "--to", " "], "say where it went"),
    ],
)  # fmt: skip
def test_a_fault_is_one_line_and_exit_1(run, tags, words, said):
    result = run(*(tags[0] if word == "TAG" else word for word in words))
    assert result.exit_code == 1
    assert said in result.stderr
    assert len(result.stderr.strip().splitlines()) == 1


def test_which_bath_a_part_may_enter_needs_no_book(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    assert "STAYS OUT" in CliRunner().invoke(build(), ["part", "may", "horn"]).stdout
