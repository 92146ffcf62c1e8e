"""The colony on the command line: every question answered as text and JSON, each fault in one line, nothing heavy at start."""

import json
import subprocess
import sys

import pytest
from click.testing import CliRunner

from bonebench.cli import build
from tests.papers.rendering import words_of

ABOUT = ("--size", "3000")
QUESTIONS = {
    "numbers": (*ABOUT, "--scoop-count", "40", "--scoop-part", "2%"),
    "forecast": (*ABOUT, "--days", "20d", "--waiting", "2 raccoon"),
    "ramp-up": (*ABOUT, "--season", "90d", "--target", "100 g"),
    "least": (*ABOUT, "--days", "20d"),
    "away": (*ABOUT, "--days", "5d"),
    "thin": (*ABOUT, "--needed", "5 g", "--counted", "2d"),
    "second": (*ABOUT, "--needed", "100 g", "--days", "30d"),
    "harm": (*ABOUT, "--fell-to", "5 C", "--lasted", "20h"),
    "tonight": (*ABOUT, "--waiting", "2 raccoon"),
    "rot": ("--hours", "20h", "--smell", "1"),
    "clean-by": ("--species", "raccoon", "--inside", "3d", "--look", "half gone"),
}


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Run one command in an empty folder, without a book."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    return lambda *line: CliRunner().invoke(build(), ["colony", *line])


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_question_is_answered_as_json_with_its_schema_and_cautions(run, name):
    answer = run(name, *QUESTIONS[name], "--json")
    assert answer.exit_code == 0, answer.output
    card = json.loads(answer.output)
    assert card["schema"] == f"colony.{name}/1"
    assert card["basis"]
    assert card["cautions"][-1]["key"] == "defer"


@pytest.mark.parametrize("name", QUESTIONS)
def test_every_question_is_answered_in_words(run, name):
    answer = run(name, *QUESTIONS[name])
    assert answer.exit_code == 0, answer.output
    assert "Mask (N95 or P100) and gloves" in answer.output


def test_a_forecast_keeps_its_promised_keys(run):
    days = json.loads(run("forecast", *ABOUT, "--days", "3d", "--json").output)["days"]
    promised = {"date", "eggs", "larvae", "pupae", "adults", "appetite_g", "eaten_g", "heat_w", "water_g"}
    assert set(days[0]) >= promised
    assert set(days[0]["appetite_g"]) == {"low", "plan", "value", "high"}
    assert len(days) == 3


def test_the_seed_is_said_back_and_moves_the_draws(run):
    one, other = (json.loads(run("away", *ABOUT, "--seed", seed, "--json").output) for seed in ("1", "2"))
    assert (one["seed"], other["seed"]) == (1, 2)
    assert one["dried_kg"] != other["dried_kg"]


def test_a_day_to_be_hungry_by_gives_the_day_to_begin(run):
    from datetime import date, timedelta

    from bonebench.cli.face import now

    until = (now().date() + timedelta(days=100)).isoformat()
    card = json.loads(run("feed", *ABOUT, "--until", until, "--target", "100 g", "--json").output)
    assert card["schema"] == "colony.ramp-up/1"
    assert date.fromisoformat(card["begin_date"]) < date.fromisoformat(until)
    past = run("feed", *ABOUT, "--until", "2001-01-01", "--target", "100 g")
    assert past.exit_code == 1
    assert "the time to the season of 0 days" in past.output


def test_an_empty_scoop_is_answered_and_flagged(run):
    answer = run("numbers", "--scoop-count", "0", "--scoop-part", "5%")
    assert answer.exit_code == 0
    assert "nothing alive was counted" in answer.output


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (("forecast", *ABOUT, "--ration=-5 g"), "the ration is -5 g; it is 0 g a day or more: write 0 g where there is none"),
        (
            ("forecast", *ABOUT, "--days", "1d", "--temperature", "27 C;" * 5 + "?;" + "27 C;" * 18),
            "temperature has no value for hour 6",
        ),
        (("numbers",), "nobody said how many there are"),
        (("rot", "--hours", "3h", "--smell", "9"), "a smell of 9; it is 0 none, 1 faint, 2 strong or 3 foul"),
    ],
)
def test_a_fault_is_one_line_and_exit_one(run, line, words):
    answer = run(*line)
    assert answer.exit_code == 1
    assert words in answer.output
    assert len(answer.output.strip().splitlines()) == 1


def test_the_commands_are_listed_without_loading_the_model():
    code = (
        "import sys; from bonebench.cli import build; build(); print([m for m in ('numba', 'scipy', 'numpy') if m in sys.modules])"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"


@pytest.fixture
def book(tmp_path, monkeypatch):
    """A book with one beetle box, and a command that works on it."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)
    runner = CliRunner()
    assert runner.invoke(build(), ["book", "new", "--name", "Shed", "--zone", "America/Chicago"]).exit_code == 0
    runner.invoke(build(), ["room", "place", "dairy-box", "--kind", "beetle box"])
    return lambda *line: runner.invoke(build(), ["colony", *line])


def test_a_count_is_written_down_and_answered_from_the_log(book):
    counted = book("count", "--counted", "200", "--part", "5%", "--json", "dairy-box")
    assert counted.exit_code == 0, counted.output
    shown = json.loads(book("fit", "--json").output)
    assert json.loads(book("show", "--json").output)["boxes"] == shown["boxes"]
    assert shown["schema"] == "colony/1"
    assert any(box["numbers"] for box in shown["boxes"])


def test_a_count_of_none_is_stored_and_said(book):
    answer = book("count", "dairy-box", "--counted", "0", "--part", "5%")
    assert answer.exit_code == 0, answer.output
    assert "nothing alive was counted in" in answer.output
    assert "0 alive in 5 % of the bedding" in answer.output


def test_tonight_without_heads_named_asks_the_room_s_own_log(book):
    book("count", "dairy-box", "--grade", "the bedding moves")
    answer = book("tonight")
    assert answer.exit_code == 0, answer.output
    assert "tonight: no head waits for the beetles" in answer.output


@pytest.fixture
def log_file(tmp_path):
    """Three days of a box by the hour, in degF."""
    rows = [f"2026-01-{5 + n // 24:02d} {n % 24:02d}:00,80.6,55" for n in range(72)]
    file = tmp_path / "box.csv"
    file.write_text("\n".join(["Time,Temp (F),RH (%)", *rows]))
    return str(file)


def test_a_log_of_the_box_drives_a_forecast_and_is_told(run, log_file):
    answer = run("forecast", *ABOUT, "--days", "5d", "--log", log_file, "--zone", "America/Chicago")
    assert answer.exit_code == 0, answer.output
    assert "'Temp (F)' in °F, 'RH (%)' in %" in answer.output
    assert "the log drives 3 days of 5 days" in answer.output
    card = json.loads(run("forecast", *ABOUT, "--days", "5d", "--log", log_file, "--json").output)
    assert card["read_hours"] == 72
    assert card["days"][0]["date"] == "2026-01-05"


def test_a_log_with_a_gap_is_refused_in_one_line_with_its_dates(run, tmp_path, log_file):
    lines = (tmp_path / "box.csv").read_text().splitlines()
    (tmp_path / "gap.csv").write_text("\n".join(lines[:20] + lines[30:]))
    answer = run("harm", *ABOUT, "--log", str(tmp_path / "gap.csv"))
    assert answer.exit_code == 1
    assert answer.stderr.startswith("gap.csv has no temperature from 2026-01-05 19:00 to 2026-01-06 05:00 (10 h); up to six hours")
    assert len(answer.stderr.splitlines()) == 1


def test_the_neighbours_sheet_is_written_to_a_file(run, tmp_path):
    answer = run("away", "--size", "3000", "--days", "10d", "--first-day", "2026-05-04", "--pdf", str(tmp_path / "sheet.pdf"))
    assert answer.exit_code == 0, answer.output
    assert "Never:" in answer.output
    text = words_of((tmp_path / "sheet.pdf").read_bytes())
    assert "from 4 May" in text
    missing = run("away", "--size", "3000", "--pdf", str(tmp_path / "nowhere" / "sheet.pdf"))
    assert missing.exit_code == 1
    assert "cannot be written" in missing.output


def test_the_example_of_a_colony_is_forecast_and_the_command_goes_before_the_file(run, tmp_path):
    (tmp_path / "colony.toml").write_text(run("example").output)
    card = json.loads(run("forecast", "colony.toml", "--days", "5d", "--first-day", "2026-05-04", "--json").output)
    assert card["schema"] == "colony.forecast/1"
    assert [day["date"] for day in card["days"]] == [f"2026-05-0{day}" for day in range(4, 9)]
    assert card["ration_kg_per_day"] == pytest.approx(0.08)
    more = json.loads(run("forecast", "colony.toml", "--days", "5d", "--feed", "20 g", "--size", "30", "--json").output)
    assert more["ration_kg_per_day"] == pytest.approx(0.02)
    assert more["days"][0]["larvae"]["value"] < card["days"][0]["larvae"]["value"]


def test_a_file_may_name_a_log_or_a_box_beside_it(run, tmp_path, log_file):
    box = CliRunner().invoke(build(), ["enclosure", "example"]).output
    (tmp_path / "enclosure.toml").write_text(box)
    (tmp_path / "logged.toml").write_text('[colony]\nsize = 3000\n[air]\nlog = "box.csv"\n[ahead]\ndays = "5 d"')
    named = '[box]\nfile = "enclosure.toml"\nbuilding = "5 C"'
    (tmp_path / "boxed.toml").write_text(f'[colony]\nsize = 3000\n{named}\n[ahead]\ndays = "5 d"')
    assert json.loads(run("forecast", "logged.toml", "--json").output)["read_hours"] == 72
    boxed = json.loads(run("forecast", "boxed.toml", "--json").output)
    assert any(fact["value"]["key"] == "season.air" for fact in boxed["facts"])
    assert len(boxed["days"]) == 5


def test_a_warmth_said_beside_a_file_goes_before_its_log_and_its_box(run, tmp_path, log_file):
    (tmp_path / "logged.toml").write_text('[colony]\nsize = 3000\n[air]\nlog = "box.csv"\n[ahead]\ndays = "5 d"')
    cold = json.loads(run("forecast", "logged.toml", "--temperature", "10 C", "--json").output)
    assert cold["read_hours"] is None


def test_a_fault_of_the_file_is_told_in_one_line_with_its_place(run, tmp_path):
    (tmp_path / "colony.toml").write_text('[colony]\nsize = 3000\n[house]\nfloor = "0.5"')
    answer = run("forecast", "colony.toml", "--json")
    assert answer.exit_code == 1
    assert json.loads(answer.stdout)["error"]["path"] == "house.floor"


def test_box_and_colony_are_led_together_month_by_month(run, tmp_path):
    (tmp_path / "enclosure.toml").write_text(CliRunner().invoke(build(), ["enclosure", "example"]).output)
    line = ("with-box", "enclosure.toml", *ABOUT, "--building", "5 C", "--from", "01-21", "--to", "02-03", "--feed", "80 g")
    card = json.loads(run(*line, "--json").output)
    assert card["schema"] == "colony.with-box/1"
    assert [(month["month"], month["days"]) for month in card["months"]] == [(1, 11), (2, 3)]
    assert {"passes", "changed_k", "changed_rh", "heat_given_kwh", "heat_received_kwh"} <= set(card["coupling"])
    words = run(*line).output
    assert "What the colony does to it" in words
    assert "month  air, coldest to hottest" in words
    assert "Mask (N95 or P100) and gloves" in words


def test_questions_begin_from_the_log_where_no_size_is_given(book):
    assert book("count", "dairy-box", "--counted", "200", "--part", "5%", "--hunger", "hungry").exit_code == 0
    asked = json.loads(book("ramp-up", "--season", "90d", "--target", "100 g", "--held", "20 g", "--json").output)
    assert asked["held_kg_per_day"] == 0.02
    assert "colony.own" in [flag["what"]["key"] for flag in asked["flags"]]
    assert "by its log" in book("least", "--days", "20d").output
    wrong = book("least", "--days", "20d", "--box", "attic")
    assert wrong.exit_code == 1
    assert "which box?" in wrong.output


def test_without_a_book_a_size_is_asked_for(run):
    assert "nobody said how many there are" in run("least", "--days", "20d").output
