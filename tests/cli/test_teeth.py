"""Teeth on the command line: the chart, single teeth, the jar; refused in one line with what it could be."""

from .test_commands import answer, app, run  # noqa: F401  fixtures


def taken_in(run, species="red fox"):  # noqa: F811
    return answer(run("specimen", "add", "--species", species, "--json"))["tag"]


def test_the_chart_has_the_promised_keys(run):  # noqa: F811
    card = answer(run("specimen", "teeth", taken_in(run), "--json"))
    keys = {"formula", "expected", "in_place", "loose", "reseated", "missing", "teeth", "schema", "basis", "flags", "cautions"}
    assert keys <= set(card)
    # A red fox has 42 teeth, R30 and R31 of species.csv.
    assert (card["schema"], card["expected"], len(card["teeth"])) == ("specimen.teeth/1", 42, 42)


def test_several_teeth_are_told_at_once_and_shown_by_quarter(run):  # noqa: F811
    tag = taken_in(run)
    told = run("specimen", "tooth", tag, "ULP4", "lower right canine", "--state", "in the jar", "--rest", "in place")
    assert told.exit_code == 0
    assert "40 in place, 2 in the jar" in told.output
    assert "ULP4/208 [in the jar]" in told.output
    assert "upper jaw, animal's left:" in told.output
    assert "2 counted" not in told.output


def test_the_jar_is_counted_and_said_to_agree_or_not(run):  # noqa: F811
    tag = taken_in(run)
    assert "jar and chart disagree: 3 counted in the jar, 0 by the chart" in run("specimen", "jar", tag, "--count", "3").output
    assert answer(run("specimen", "jar", tag, "--out", "1", "--json"))["chart"]["jar"] == 2
    assert answer(run("specimen", "jar", tag, "--in", "2", "--json"))["chart"]["jar"] == 4


def test_half_a_name_is_refused_in_one_line(run):  # noqa: F811
    result = run("specimen", "tooth", taken_in(run), "P4", "--state", "loose")
    assert result.exit_code == 1
    assert result.stderr == "'P4' does not say which tooth it is; it could be URP4, ULP4, LRP4, LLP4\n"


def test_a_tooth_without_a_state_and_a_jar_without_a_number_are_wrong_usage(run):  # noqa: F811
    tag = taken_in(run)
    for words in (["tooth", tag, "ULP4"], ["tooth", tag], ["jar", tag], ["jar", tag, "--in", "1", "--out", "1"]):
        assert run("specimen", *words).exit_code == 2


def test_an_animal_without_teeth_says_so(run):  # noqa: F811
    assert "mallard has no teeth" in run("specimen", "teeth", taken_in(run, "mallard")).output
