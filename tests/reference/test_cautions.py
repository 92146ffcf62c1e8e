from string import Formatter

import pytest

from bonebench.errors import FileFault
from bonebench.reference import cautions
from bonebench.reference.cautions import load_cautions, read_cautions
from bonebench.shop.cautions import GIVEN, KEYS, Level
from bonebench.units import Reader, say

GOOD = {
    "hazard": '"It bites."',
    "when": '"Above {limit:temperature}."',
    "do": '"Leave it."',
    "source": '"a leaflet"',
    "standing": '"memory"',
    "level": '"read"',
    "values": "{ limit = 30 }",
}


def table(key: str = "defer", **changes: str | None) -> str:
    """One caution as it stands in the file, with some fields changed (None leaves it out)."""
    fields = {**GOOD, **changes}
    return f'["{key}"]\n' + "\n".join(f"{name} = {value}" for name, value in fields.items() if value is not None)


def only_defer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cautions, "KEYS", frozenset({"defer"}))


def test_a_row_is_read_as_it_stands(monkeypatch):
    only_defer(monkeypatch)
    caution = read_cautions(table())["defer"].filled()
    assert (caution.when.text, caution.when.key, caution.level) == ("Above 30 °C.", "caution.defer.when", Level.READ)


def test_the_shipped_rows_are_the_ones_the_rules_need():
    rows = load_cautions()
    assert rows.keys() == KEYS
    assert load_cautions() is rows


def test_a_reader_in_the_us_gets_fahrenheit():
    caution = load_cautions()["dry.heat"].filled()
    assert "no heat above 95 °F" in say(caution.do, Reader("us"))  # 35 * 9 / 5 + 32


def test_every_value_a_rule_gives_is_spoken():
    for key, names in GIVEN.items():
        row = load_cautions()[key]
        spoken = {hole for text in (row.hazard, row.when, row.do) for _, hole, _, _ in Formatter().parse(text)}
        assert names <= spoken, key


def test_every_row_says_where_it_comes_from_and_is_short_enough_to_be_read_in_gloves():
    for row in load_cautions().values():
        assert row.source
        assert len(row.do) <= 200, row.key


FAULTS = [
    (table(level=None), "defer.level", "is missing; every caution has one"),
    (table(source=None), "defer.source", "is missing; every caution has one"),
    (table(hazard='" "'), "defer.hazard", "must be words between quotes, and not empty"),
    (table(do="3"), "defer.do", "must be words between quotes, and not empty"),
    (
        table(standing='"sure"'),
        "defer.standing",
        "'sure' is not known; use one of published, derived, practice, memory, estimate",
    ),
    (table(level='"loud"'), "defer.level", "'loud' is not known; use one of read, strong, stop"),
    (table(colour='"red"'), "defer.colour", "is not a field of a caution; take it out or spell it right"),
    (table(values='{ limit = "hot" }'), "defer.values", "must be numbers by name, like { limit = 30 }"),
    (table(values="30"), "defer.values", "must be numbers by name, like { limit = 30 }"),
    (table(when='"Above {top:temperature}."'), "defer.when", "the hole 'top' is filled by nothing; put it in values"),
    (table(when='"Above {limit:heat}."'), "defer.when", "'heat' is no kind of quantity; use one of temperature, warming, "),
    (table(when='"Above {limit."'), "defer.when", "has a brace without its partner; write holes like {limit:temperature}"),
    ("defer = 3", "defer", 'must be a table of its own, like ["defer"]'),
    (table("other"), "defer", "is missing; a rule needs this caution"),
]


@pytest.mark.parametrize(("text", "path", "words"), FAULTS)
def test_a_malformed_row_is_refused_with_its_place_in_the_file(monkeypatch, text, path, words):
    only_defer(monkeypatch)
    with pytest.raises(FileFault) as refused:
        read_cautions(text)
    assert str(refused.value).startswith(f"cautions.toml, {path}: {words}")
    assert refused.value.path == path


def test_a_file_that_is_no_toml_is_refused_with_the_line():
    with pytest.raises(FileFault, match=r"cautions.toml cannot be read: .*line 1"):
        read_cautions("defer = = 1")
