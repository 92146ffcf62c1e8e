"""The plan by command: lines for people, and the calendar file."""

import pytest

from bonebench.cli.plan import read_horizon
from bonebench.errors import NotAQuantity

from .test_commands import app, run  # noqa: F401


@pytest.mark.parametrize(("text", "days"), [("90d", 90), ("6 weeks", 42), ("28", 28), ("1 day", 1), ("2W", 14)])
def test_a_horizon_is_read_as_people_write_it(text, days):
    assert read_horizon(text) == days


def test_a_horizon_that_is_no_number_of_days_is_refused_in_words():
    with pytest.raises(NotAQuantity, match=r"'soon' is no number of days; write it like 90d or 6 weeks"):
        read_horizon("soon")


def test_the_weeks_ahead_are_told_day_by_day(run):  # noqa: F811
    run("specimen", "add", "--species", "raccoon", "--promised", "2020-01-01")
    text = run("plan", "--horizon", "90d").output
    assert "LATE " in text
    assert "raccoon, was promised for 1 Jan 2020" in text
    assert "ready by the plan: " in text
    assert text.index("LATE") < text.index("thaw to trim") < text.index("ready by the plan")


def test_the_calendar_file_is_never_written_over_unasked(run, tmp_path):  # noqa: F811
    run("specimen", "add", "--species", "raccoon")
    assert run("export", "calendar", "weeks.ics").output.startswith("weeks.ics: ")
    again = run("export", "calendar", "weeks.ics")
    assert (again.exit_code, again.stderr) == (1, "weeks.ics is there already; choose another name, or say --replace\n")
    assert run("export", "calendar", "weeks.ics", "--replace").exit_code == 0
    assert (tmp_path / "weeks.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")
