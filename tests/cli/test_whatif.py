"""What would be otherwise, and the front of the route, by command."""

import json

from .test_commands import answer, app, run  # noqa: F401


def test_changes_of_a_file_stand_beside_the_room_as_it_is(run, tmp_path):  # noqa: F811
    tag = answer(run("specimen", "add", "--species", "raccoon", "--json"))["tag"]
    (tmp_path / "w.toml").write_text(run("what-if", "example").stdout, encoding="utf-8")
    text = run("plan", "--what-if", "w.toml", "--moves", "2").stdout
    assert text.splitlines()[0].split() == [
        "late",
        "late",
        "days",
        "no",
        "time",
        "last",
        "through",
        "mean",
        "days",
        "cost",
        "from",
        "now",
        "on",
    ]
    assert "\nno whitening: no whitening where it has not begun\n" in text
    assert f"  {tag}, raccoon: " in text
    card = answer(run("plan", "--what-if", "w.toml", "--moves", "2", "--json"))
    assert card["schema"] == "plan.what-if/1"
    assert [side["name"] for side in card["sides"]][:2] == ["as it is", "one more pot"]
    assert {"basis", "flags", "cautions"} <= set(card)


def test_a_fault_in_the_file_is_one_line_with_its_path(run, tmp_path):  # noqa: F811
    (tmp_path / "w.toml").write_text('[[change]]\nname = "x"\nmore = { pott = 1 }\n', encoding="utf-8")
    refused = run("plan", "--what-if", "w.toml", "--json")
    assert refused.exit_code == 1
    assert json.loads(refused.stdout)["error"]["path"] == "change[0].more.pott"
    assert refused.stderr.startswith("w.toml, change[0].more.pott: no kind of place is called 'pott'")
    missing = run("plan", "--what-if", "none.toml")
    assert (missing.exit_code, missing.stderr) == (1, "there is no file at none.toml: `what-if example` writes one\n")


def test_the_front_of_the_route_is_told_with_what_can_hurt_first(run):  # noqa: F811
    text = run("outdoors", "--warmest", "3 C").output
    assert "Outdoors is no freezer today: 3 °C is forecast, and it must stay below -5 °C" in text
    thaw = run("thaw", "--species", "raccoon", "--shelf", "6 C").output
    assert thaw.index("DANGER: Rabies") < thaw.index("A head of raccoon is soft enough to trim after")
    refused = run("outdoors", "--warmest", "cold")
    assert (refused.exit_code, refused.stderr) == (
        1, "'cold' is no forecast; write each day's warmest like -7, -9, -4 C\n",
    )  # fmt: skip


def test_prices_are_said_listed_and_stand_in_the_what_if(run, tmp_path):  # noqa: F811
    refused = run("room", "price", "kwh", "0.32")
    assert (refused.exit_code, refused.stderr) == (1, "say the currency first, by its three letters, such as EUR or USD\n")
    card = answer(run("room", "price", "hour", "15", "--currency", "EUR", "--json"))
    assert (card["schema"], card["currency"]) == ("prices/1", "EUR")
    assert "hour         an hour of our own hands     15.00 EUR since " in run("room", "prices").output
    run("specimen", "add", "--species", "raccoon")
    (tmp_path / "w.toml").write_text(run("what-if", "example").stdout, encoding="utf-8")
    text = run("plan", "--what-if", "w.toml", "--moves", "2").stdout
    assert "it costs 45.00 EUR more" in text
    assert " h at 15.00 EUR, " in text
