"""Photos by command: added, listed, measured, taken out; what is none leaves exit 1 and one line."""

import json
from pathlib import Path

import pytest

from tests.cli.test_commands import answer, app, run  # noqa: F401  fixtures
from tests.services.test_photo_colour import BOXES, photo
from tests.services.test_photos import sent


@pytest.fixture
def tag(run):  # noqa: F811
    return answer(run("specimen", "add", "--species", "raccoon", "--json"))["tag"]


def write(name: str, data: bytes) -> str:
    Path(name).write_bytes(data)
    return name


def test_photos_are_added_listed_and_taken_out(run, tag):  # noqa: F811
    card = answer(run("photo", "add", tag, write("a.jpg", sent(1)), write("b.jpg", sent(2)), "--step", "trim", "--json"))
    assert (card["schema"], len(card["kept"]), card["step"]) == ("photo.add/1", 2, "trim")
    assert len(answer(run("photo", "list", tag, "--json"))["photos"]) == 2
    listed = run("photo", "list", tag).stdout
    assert card["kept"][0]["sha256"][:10] in listed
    assert "2 photos in bonebench-files" in listed
    out = run("photo", "take-out", tag, card["kept"][0]["sha256"][:6], "--erase")
    assert "and its file deleted" in out.stdout
    assert len(list(Path("bonebench-files").glob("*.jpg"))) == 1
    assert answer(run("book", "check", "--json"))["whole"]


def test_what_is_no_photo_is_said_in_one_line_and_the_others_are_kept(run, tag):  # noqa: F811
    mixed = run("photo", "add", tag, write("a.jpg", sent(1)), write("b.heic", b"\0\0\0\x18ftypheic"))
    assert mixed.exit_code == 1
    assert "1 kept" in mixed.stdout
    assert "not kept: b.heic is a HEIC picture, which this program cannot open: set the phone's camera" in mixed.stdout
    alone = run("photo", "add", tag, write("c.txt", b"Dear colleague"))
    assert (alone.exit_code, alone.stderr) == (1, "c.txt is not a picture this program knows: send a JPEG or PNG\n")
    missing = run("photo", "add", tag, "nowhere.jpg", "--json")
    assert (missing.exit_code, missing.stderr) == (1, "nowhere.jpg cannot be read: No such file or directory\n")
    assert json.loads(missing.stdout)["error"]["key"] == "photo.file"


def test_a_backup_takes_photos_along_and_a_restore_puts_them_back(run, tag):  # noqa: F811
    answer(run("photo", "add", tag, write("a.jpg", sent(1)), "--json"))
    assert run("book", "backup", "copy.db").exit_code == 0
    (lying,) = Path("bonebench-files").glob("*.jpg")
    lying.unlink()
    broken = run("book", "check")
    assert (broken.exit_code, f"{lying.name} is missing from bonebench-files" in broken.stdout) == (1, True)
    assert run("book", "restore", "copy.db", "--over").exit_code == 0
    assert lying.is_file()


def test_a_colour_is_measured_kept_and_compared(run, tag):  # noqa: F811
    boxes = ["--card", BOXES["card"], "--bone", BOXES["bone"], "--against", "80%", "--setting", "bench lamp"]
    assert "no colour of" in run("photo", "progress", tag).stdout
    for grey in (0.4, 0.6):
        added = answer(run("photo", "add", tag, write("a.png", photo(grey)), "--json"))
        card = answer(run("photo", "colour", tag, added["kept"][0]["entry"], *boxes, "--keep", "--json"))
    # Two photos a moment apart are one look, and a repeat of it.
    assert card["lightness"] == pytest.approx(81.7, abs=0.5)
    course = answer(run("photo", "progress", tag, "--json"))["courses"][0]
    assert (course["looks"], course["repeats"], course["setting"]) == (1, 0, "bench lamp")
    shown = run("photo", "colour", tag, added["kept"][0]["sha256"][:8], *boxes)
    assert "an estimate, to compare with photos of the same phone in the same light" in shown.stdout
    refused = run("photo", "colour", tag, "nope", *boxes)
    assert (refused.exit_code, refused.stderr) == (1, f"{tag} has no photo 'nope'; `photo list {tag}` shows them\n")
