"""The shipped rounds against what was read, and what the loader refuses."""

from importlib.resources import files

import pytest

from bonebench.errors import FileFault
from bonebench.figures import Standing
from bonebench.reference.cautions import load_cautions
from bonebench.reference.rounds import load_rounds, read_rounds
from bonebench.shop.rounds import FEATURES, ROOM_PLACE, round_cautions
from bonebench.shop.steps import PlaceKind

ROUNDS = load_rounds()
TEXT = (files("bonebench.reference") / "rounds.toml").read_text(encoding="utf-8")


def test_the_room_is_looked_after_as_a_whole():
    assert load_rounds() is ROUNDS
    assert set(ROUNDS) >= {
        "water", "bedding", "blocks", "blocks-new", "tape-ring", "screens", "flame", "co-alarm", "smoke-alarm", "heater",
        "vent-tape-spring", "vent-tape-autumn", "pot-look", "tub-look", "freezer", "pests", "dead", "strays", "first-aid",
        "spare-look",
    }  # fmt: skip
    assert {one.about for one in ROUNDS.values()} == {
        None, PlaceKind.ENCLOSURE, PlaceKind.POT, PlaceKind.TUB, PlaceKind.FREEZER,
    }  # fmt: skip


def test_every_feature_of_a_room_has_a_round_that_asks_for_it():
    assert {one.needs for one in ROUNDS.values()} - {None} == set(FEATURES)


# CO alarm: four makers' manuals, weekly. Smoke alarm: a county in England and the NFPA's tips, at least monthly. Eyewash: WAC
# 296-800-15035, weekly. Whole days, no tolerance: never later than that, a month being 31 days.
@pytest.mark.parametrize(("key", "latest"), [("co-alarm", 7), ("smoke-alarm", 31), ("eyewash", 7)])
def test_alarms_and_eyewash_are_tested_as_often_as_their_rules_say(key, latest):
    one = ROUNDS[key]
    assert one.days is not None
    assert one.days[1] <= latest
    assert one.standing is Standing.PUBLISHED


def test_the_freezer_and_the_pot_are_held_to_the_figures_of_their_methods():
    # NPS Conserve O Gram (R145): -20 °C. R102: maceration water at most 50 °C; bench reference: hard cap 60 °C.
    assert ROUNDS["freezer"].values["cold"] == -20
    assert (ROUNDS["pot-look"].values["low"], ROUNDS["pot-look"].values["high"], ROUNDS["pot-look"].values["top"]) == (40, 50, 60)


def test_the_tape_changes_with_the_seasons_of_its_half_of_the_world():
    spring, autumn = ROUNDS["vent-tape-spring"].turn, ROUNDS["vent-tape-autumn"].turn
    assert spring is not None
    assert autumn is not None
    assert (spring["north"], spring["south"]) == (autumn["south"], autumn["north"]) == ((4, 15), (10, 15))


def test_every_sentence_can_be_filled_and_is_short_enough_for_gloves():
    for key, one in ROUNDS.items():
        texts = [one.say(part, getattr(one, part), "the box").text for part in ("do", "look", "why")]
        taps = [wrong.tap for wrong in one.wrongs]
        nexts = [one.say("next", wrong.next, "the box").text for wrong in one.wrongs]
        assert len(texts[0]) <= 100, key
        assert all(len(text) <= 170 for text in (*texts, *nexts)), key
        assert all(len(tap) <= 32 for tap in taps), key
        assert 1 <= len(taps) <= 4, key


def test_every_round_but_the_fence_has_cautions_and_all_of_them_defer():
    for key, one in ROUNDS.items():
        found = round_cautions(one, load_cautions())
        assert found[-1].key == "defer"
        assert len(found) > 1 or key == "fence"


@pytest.mark.parametrize(
    ("key", "wrong", "words"),
    [
        ("flame", "smell", "touch no switch and no phone in here; everybody out"),
        ("flame", "yellow", "shut it off, door open"),
        ("co-alarm", "went", "everybody out into fresh air"),
        ("co-alarm", "silent", "flame off until a working CO alarm hangs here"),
        ("tub-look", "hot", "take nothing out by hand"),
        ("heater", "cord", "pull the plug"),
        ("pot-look", "sticks", "plug out and leave it out"),
        ("smoke-alarm", "silent", "no lamp or pot left alone"),
    ],
)
def test_a_danger_says_first_what_to_do_with_ones_own_skin(key, wrong, words):
    found = ROUNDS[key].wrong(wrong)
    assert found is not None
    assert found.danger
    assert words in found.next


def test_what_a_round_does_not_know_is_no_answer_of_it():
    assert ROUNDS["water"].wrong("fire") is None
    assert ROOM_PLACE == "room"


ROW = """[water]
name = "Water"
about = "beetle box"
days = [1, 2]
minutes = 1
do = "Water {place}"
look = "dry?"
why = "they drink"
source = "us"
standing = "practice"
"""
WRONG = '[water.wrong]\nmould = { tap = "Mould", next = "out of {place}" }\n'


def test_a_row_is_read_as_it_stands():
    one = read_rounds(ROW + WRONG)["water"]
    assert (one.days, one.turn, one.first_days, one.work, one.needs, one.in_use, one.cautions) == (
        (1, 2), None, 0, "", None, False, (),
    )  # fmt: skip
    assert [(w.key, w.tap, w.next, w.danger) for w in one.wrongs] == [("mould", "Mould", "out of {place}", False)]


def test_a_round_may_have_nothing_but_done():
    assert read_rounds(ROW)["water"].wrongs == ()


def changed(old: str, new: str) -> str:
    assert old in ROW + WRONG
    return (ROW + WRONG).replace(old, new, 1)


DAYS = "days = [1, 2]"
FAULTS = [
    (changed('name = "Water"\n', ""), "water.name: is missing"),
    (changed(DAYS, f'{DAYS}\ncolour = "red"'), "water.colour: is no field here; it has name, about, minutes, do,"),
    (changed('"Water"', '" "'), "water.name: must be words between quotes, and not empty"),
    (changed('"Water"', "3"), "water.name: must be words between quotes, and not empty"),
    (changed('"beetle box"', '"cellar"'), "water.about: 'cellar' is not known; use one of room, freezer,"),
    (changed(DAYS, "days = 2"), "water.days: give two whole numbers of days: the earliest and the latest, like [5, 7]"),
    (changed(DAYS, "days = [1, 2.5]"), "water.days: give two whole numbers of days"),
    (changed(DAYS, "days = [3, 2]"), "water.days: the days 3, 2 do not rise from 1 on"),
    (changed(DAYS, "days = [0, 2]"), "water.days: the days 0, 2 do not rise from 1 on"),
    (changed(f"{DAYS}\n", ""), "water.days: a round comes round by days or by a turn of the year: give one of the two"),
    (
        changed(DAYS, f'{DAYS}\nturn = {{ north = "04-15", south = "10-15" }}'),
        "water.days: a round comes round by days or by a turn of the year: give one of the two",
    ),
    (changed(DAYS, "turn = 3"), "water.turn: must be a table of its own"),
    (changed(DAYS, 'turn = { north = "04-15" }'), "water.turn.south: is missing"),
    (
        changed(DAYS, 'turn = { north = "02-29", south = "10-15" }'),
        "water.turn.north: '02-29' is no day of every year; write it like 04-15",
    ),
    (changed(DAYS, f"{DAYS}\nfirst_days = -1"), "water.first_days: '-1' is not a whole number of 0 or more"),
    (changed(DAYS, f"{DAYS}\nfirst_days = true"), "water.first_days: 'True' is not a whole number of 0 or more"),
    (changed("minutes = 1", "minutes = 0"), "water.minutes: '0' is not a number above zero"),
    (changed("minutes = 1", "minutes = true"), "water.minutes: 'True' is not a number above zero"),
    (changed(DAYS, f'{DAYS}\nwork = "juggling"'), "water.work: 'juggling' is not known; use one of raw heads,"),
    (changed(DAYS, f'{DAYS}\nneeds = "pool"'), "water.needs: 'pool' is not known; use one of gas heater,"),
    (changed(DAYS, f"{DAYS}\nin_use = 1"), "water.in_use: '1' is neither true nor false"),
    (changed(DAYS, f'{DAYS}\ncautions = "box.dust"'), 'water.cautions: must be a list of words, like ["one", "two"]'),
    (changed(DAYS, f'{DAYS}\ncautions = ["dust"]'), "water.cautions: 'dust' is not known; use some of "),
    # A caution that speaks of a mix's own figures would be shown with a hole in it.
    (changed(DAYS, f'{DAYS}\ncautions = ["mix.oxygen"]'), "water.cautions: 'mix.oxygen' is not known; use some of "),
    (changed('"practice"', '"sure"'), "water.standing: 'sure' is not known; use one of room, published,"),
    (changed("Water {place}", "Water {plaice}"), "water.do: the hole 'plaice' is filled by nothing; put it in values"),
    (changed("Water {place}", "Water {place"), "water.do: has a brace without its partner; write holes like {place}"),
    (changed("Water {place}", "Water {place:heat}"), "water.do: 'heat' is no kind of quantity; use one of temperature,"),
    (changed(DAYS, f'{DAYS}\nvalues = {{ low = "x" }}'), "water.values: must be numbers by name, like { limit = 30 }"),
    (changed(', next = "out of {place}"', ""), "water.wrong.mould.next: is missing"),
    (changed('next = "out', 'danger = "very", next = "out'), "water.wrong.mould.danger: 'very' is neither true nor false"),
    (changed('mould = { tap = "Mould", next = "out of {place}" }', "mould = 3"), "water.wrong.mould: must be a table of its own"),
    ("water = 3", "water: must be a table of its own, headed [water]"),
]


@pytest.mark.parametrize(("text", "words"), FAULTS)
def test_a_bad_row_is_named_with_its_field(text, words):
    with pytest.raises(FileFault) as fault:
        read_rounds(text)
    assert str(fault.value).startswith(f"rounds.toml, {words}")
    assert fault.value.path == words.partition(":")[0]


def test_a_file_that_is_no_toml_says_where_it_breaks():
    with pytest.raises(FileFault, match=r"^rounds.toml cannot be read: .*line 2"):
        read_rounds("[a]\nstep = = 3")
