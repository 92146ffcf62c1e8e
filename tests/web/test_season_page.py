"""The page of the season ahead, and the same as JSON and by command."""

from bonebench.said import number
from tests.cli.test_commands import app, run  # noqa: F401


def test_the_season_stands_in_words_and_drawings(pages):
    html = pages.get("/season").text
    assert 0 < html.index("The freezer") < html.index("Month by month") < html.index("The last day for a holiday")
    assert "April 2027" in html
    assert html.count('role="img"') >= 3
    assert "Hands asked for, % of the hours there are" in html
    assert "against the hours of those trained for it" in html


def test_the_hours_of_each_kind_of_work_stand_in_a_table_and_in_the_json(pages):
    month = pages.get("/api/v1/season?months=2").json()["months"][0]
    by_work = {tuple(one["work"]): one for one in month["hands"]}
    # The student is there, too, but trained for beetles and teeth only.
    assert by_work["raw heads",]["there_hours"] < by_work["teeth",]["there_hours"]
    assert month["tightest_hands"]["share"] >= max(one["share"] for one in month["hands"])
    html = pages.get("/season").text
    table = html[html.index('<table class="hours">') :]
    assert table.index(">tightest<") < table.index(">all together<") < table.index(">raw heads<") < table.index(">peroxide<")
    assert f"of {by_work['teeth',]['there_hours']:g} h<" in table


def test_a_holiday_that_cannot_be_is_said_above_the_months(pages):
    answer = pages.get("/season?holiday=soon&species=raccoon")
    assert answer.status_code == 422
    assert "&#39;soon&#39; is not a day" in answer.text
    assert "Month by month" in answer.text


def test_the_last_day_stands_at_the_top_and_in_the_json(pages):
    card = pages.get("/api/v1/season?months=2&holiday=2026-12-20&species=raccoon").json()
    assert (card["schema"], len(card["months"])) == ("season/1", 2)
    assert card["holiday"]["last_day"] < "2026-12-20"
    html = pages.get("/season?holiday=2026-12-20&species=raccoon").text
    assert "ake in a raccoon until" in html
    assert pages.get("/api/v1/season?months=0").status_code == 422


def test_the_command_tells_month_by_month(run):  # noqa: F811
    run("specimen", "add", "--species", "raccoon")
    text = run("season", "--months", "2").output
    assert "1 in the room" in text
    assert "nobody, by what the book has of the last year" in text
    refused = run("season", "--holiday", "2099-01-01")
    assert (refused.exit_code, "say whose skull" in refused.stderr) == (1, True)


def test_months_in_a_row_without_anybody_are_one_line(pages):
    html = pages.get("/season").text
    # The demo took pieces in from February to May only.
    assert "June 2026 to January 2027" in html
    assert "July 2026" not in html.split("The numbers")[0]


def test_the_drawings_are_in_the_units_of_their_reader(pages, open_door):
    # The demo's people read pounds; the numbers under the drawing are those of the kilograms, by the international pound.
    kilograms = pages.get("/api/v1/season").json()["months"][0]["tissue_kg"]
    pounds = pages.get("/season").text
    assert "Tissue that comes in, lb a month" in pounds
    assert f">{number(kilograms / 0.45359237)}<" in pounds
    open_door.describe_room("Room", "America/Chicago", "metric")
    metric = pages.get("/season").text
    assert "Tissue that comes in, kg a month" in metric
    assert f">{number(kilograms)}<" in metric
