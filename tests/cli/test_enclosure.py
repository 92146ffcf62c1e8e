"""The box on the command line: its file written, run and left without power, with one line for each fault."""

import json

import pytest
from click.testing import CliRunner

from bonebench.cli import build

YEAR_KEYS = {
    "t_mean_c", "t_min_c", "t_max_c", "rh_mean", "rh_p95", "hours_outside_band", "hours_cannot_dry", "heater_kwh", "fan_hours",
    "fan_starts", "latch_hours", "co2_max_ppm",
}  # fmt: skip
MONTHS = "month,mean_c,swing_k,dew_point_c\n" + "\n".join(
    f"{m},{10 - 12 * abs(m - 7) / 6 + 6:.1f},9,{2 - abs(m - 7)}" for m in range(1, 13)
)


@pytest.fixture
def run(tmp_path, monkeypatch):
    """Run one command in a folder that holds the example and twelve invented months, without a book."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("BONEBENCH_BOOK", raising=False)

    def command(*line):
        return CliRunner().invoke(build(), ["enclosure", *line])

    (tmp_path / "enclosure.toml").write_text(command("example").output, encoding="utf-8")
    (tmp_path / "months.csv").write_text(MONTHS, encoding="utf-8")
    return command


def test_the_example_that_was_written_runs(run):
    answer = run("simulate", "enclosure.toml", "--building", "5C", "--days", "2d", "--price", "0.15")
    assert answer.exit_code == 0, answer.output
    assert "The heater runs" in answer.output
    assert "DANGER" in answer.output
    assert "balances close" in answer.output


def test_a_run_as_json_keeps_its_promised_keys(run):
    card = json.loads(run("simulate", "enclosure.toml", "--building", "5C", "--days", "1d", "--json").output)
    assert card["schema"] == "enclosure.simulate/1"
    assert set(card["year"]) >= YEAR_KEYS
    assert set(card["balance_error"]) == {"heat", "water"}


def test_weather_in_months_gives_each_month_and_a_stretch_of_days(run):
    line = ("simulate", "enclosure.toml", "--weather", "normals:months.csv", "--held", "4C", "--json")
    months = json.loads(run(*line, "--from", "01-20", "--to", "02-10").output)["months"]
    assert [(month["month"], month["hours"]) for month in months] == [(1, 12 * 24), (2, 10 * 24)]


def test_a_power_cut_gives_hours_to_each_mark(run):
    card = json.loads(run("blackout", "enclosure.toml", "--outdoor", "-10C", "--help-water", "10L@60C", "--json").output)
    assert [mark["to_c"] for mark in card["hours_to"]] == [20, 15, 10, 5]
    assert all(helped["hours"] > plain["hours"] for plain, helped in zip(card["hours_to"], card["with_water"], strict=True))


def test_advice_names_the_holes_of_each_month_with_why_and_what_the_tank_does(run):
    line = ("advise", "enclosure.toml", "--weather", "normals:months.csv", "--price", "0.15")
    card = json.loads(run(*line, "--json").output)
    assert [month["month"] for month in card["months"]] == list(range(1, 13))
    assert all(month["why"]["text"] for month in card["months"])
    assert all(month["hours_outside_low"] <= month["hours_outside_band"] <= month["hours_outside_high"] for month in card["months"])
    assert card["propane_kg"] > 0
    assert card["months"][0]["tank_days"] > 0
    assert "DANGER" in run(*line).output


def test_advice_without_a_building_takes_it_as_outdoors_and_says_so(run, tmp_path):
    text = (tmp_path / "enclosure.toml").read_text(encoding="utf-8")
    head, _, rest = text.partition("[building]")
    (tmp_path / "alone.toml").write_text(head + rest[rest.index("[site]") :], encoding="utf-8")
    card = json.loads(run("advise", "alone.toml", "--weather", "normals:months.csv", "--held", "5C", "--json").output)
    assert card["months"][0]["building_c"] is None
    assert "enclosure.outdoors" in {flag["what"]["key"] for flag in card["flags"]}


def test_size_gives_its_grid_and_the_smallest_that_is_enough(run):
    card = json.loads(run("size", "enclosure.toml", "--weather", "normals:months.csv", "--hold", "3", "--json").output)
    assert len(card["grid"]) == 50
    assert card["smallest"]["enough"]
    assert not card["stopped"]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (("simulate", "nothing.toml", "--building", "5C"), "enclosure example"),
        (("simulate", "enclosure.toml"), "how warm is the building"),
        (("simulate", "enclosure.toml", "--building", "5C", "--step", "90s"), "step"),
        (("simulate", "enclosure.toml", "--building", "5C", "--set", "holes.0.height=2 m"), "holes[0].height"),
        (("simulate", "enclosure.toml", "--building", "5C", "--set", "box.walls.0.thickness=20"), "box.walls[0].thickness"),
        (("simulate", "enclosure.toml", "--building", "5C", "--set", "humidistat.off=60 %"), "thresholds cross"),
        (("simulate", "enclosure.toml", "--building", "5C", "--set", "fan.shut_off=-3 Pa"), "fan.shut_off"),
        (("simulate", "enclosure.toml", "--weather", "normals:months.csv", "--from", "13-40"), "no day"),
        (("blackout", "enclosure.toml"), "how cold is it"),
        (("size", "enclosure.toml", "--weather", "normals:months.csv", "--hold", "-3"), "0 to 48"),
        (("advise", "enclosure.toml", "--weather", "nowhere.epw"), "no weather file"),
        (("advise", "enclosure.toml", "--weather", "normals:months.csv", "--set", "building.walls=15"), "building.walls"),
        (("advise", "enclosure.toml", "--weather", "normals:months.csv", "--set", "building.fuel=peat"), "building.fuel"),
        (("advise", "enclosure.toml", "--weather", "normals:months.csv", "--set", "building.tank=-5 kg"), "building.tank"),
        (
            ("advise", "enclosure.toml", "--weather", "normals:months.csv", "--set", "building.hysteresis=0 K"),
            "gap between on and off",
        ),
    ],
)
def test_a_fault_is_one_line_with_its_place_and_exit_1(run, line, said):
    answer = run(*line)
    assert answer.exit_code == 1
    assert said in answer.output
    assert len(answer.output.strip().splitlines()) == 1
