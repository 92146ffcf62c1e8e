"""The file of a colony: its example reads back, files lie beside it, and every fault is told with its place."""

from pathlib import Path

import pytest

from bonebench.errors import FileFault
from bonebench.files.colony_toml import BOX, TOP, colony_of, example, read_colony


def said(text):
    with pytest.raises(FileFault) as fault:
        colony_of(text)
    return fault.value.said.text


def test_the_example_reads_back_and_names_every_place():
    file = colony_of(example())
    assert file.about["size"] == "40 in 2 %"
    assert (file.ration, file.waiting, file.days) == ("80 g", "4 raccoon, 1 coyote", "90 d")
    assert [(look.days_ago, look.counted, look.part) for look in file.looks] == [(10, 35.0, 0.02)]
    for table, keys in TOP.items():
        assert f"[{table}]" in example()
        assert all(f"{key} = " in example() for key in keys), table


def test_what_is_left_out_is_left_to_the_questions():
    file = colony_of("[colony]\nsize = 3000")
    assert file.about == {"size": "3000"}
    assert file.looks == ()
    assert (file.ration, file.days, file.first_day, file.log, file.box, file.seed) == (None,) * 6


def test_yes_and_no_become_the_words_of_the_questions():
    file = colony_of('[colony]\nsize = "thousands"\n[house]\ncover = false\n[food]\nwater = false\ndried = true')
    assert {name: file.about[name] for name in ("bare", "dry", "dried")} == {"bare": "yes", "dry": "yes", "dried": "yes"}


def test_files_lie_beside_the_file_that_names_them(tmp_path):
    whole = tmp_path / "colony.toml"
    whole.write_text('[colony]\nsize = 3000\n[air]\nlog = "box.csv"\nlog_unit = "F"\nzone = "America/Chicago"')
    log = read_colony(whole).log
    assert (log.path, log.unit, log.zone) == (tmp_path / "box.csv", "F", "America/Chicago")
    whole.write_text('[colony]\nsize = 3000\n[box]\nfile = "box.toml"\nweather = "normals:months.csv"\nwater = "2 g"')
    box = read_colony(whole).box
    assert box.path == tmp_path / "box.toml"
    assert box.around == {"weather": f"normals:{tmp_path / 'months.csv'}", "water": "2 g"}


def test_a_file_that_is_not_there_says_which_command_writes_one(tmp_path):
    with pytest.raises(FileFault, match="`colony example` writes one"):
        read_colony(Path(tmp_path / "none.toml"))


SIZE = "[colony]\nsize = 3000\n"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[colony", "colony.toml cannot be read"),
        ("[beetles]", "colony.toml, beetles: unknown table; known are colony, looks, house"),
        ("[colony]\ncount = 3", "colony.toml, colony.count: unknown key; known here: size, beetles, pests, seed"),
        ("[house]\nfloor = '0.5 m2'", 'colony.toml, colony.size: missing; write it like size = "40 in 2 %"'),
        ("[colony]\nsize = 'plenty'", "colony.toml, colony.size: 'plenty' is no size"),
        ("[colony]\nsize = 0", "colony.toml, colony.size: 0 is out of range; it lies from 1 to 10 million"),
        ("[colony]\nsize = 3000\nseed = 1.5", "colony.toml, colony.seed: '1.5' is to be a whole number"),
        (SIZE + "[house]\nfloor = 0.5", "colony.toml, house.floor: 0.5 has no unit; write it like \"0.5 m2\""),
        (SIZE + "[house]\nfloor = '500 m2'", "colony.toml, house.floor: 500 m2 is out of range; in SI it lies from 0.005 to 200"),
        (SIZE + "[house]\nsites = 3000\nblocks = '20 L'", "colony.toml, house.blocks: sites and blocks say the same"),
        (SIZE + "[house]\ncover = 'fur'", "colony.toml, house.cover: 'fur' is to be true or false"),
        (SIZE + "[food]\nration = '80'", "colony.toml, food.ration: '80' cannot be read; write it like \"80 g\""),
        (SIZE + "[air]\ntemperature = '99 C'", "colony.toml, air.temperature: 99 C is out of range"),
        (SIZE + "[air]\ntemperature = '27 C'\nlog = 'a.csv'", "colony.toml, air.log: the warmth comes from the log"),
        (SIZE + "[air]\nlog_unit = 'F'", "colony.toml, air.log: log_unit and zone belong to a log"),
        (SIZE + "[air]\nlog = 'a.csv'\nlog_unit = 'K'", "colony.toml, air.log_unit: 'K' is not known"),
        (SIZE + "[air]\nlog = 'a.csv'\nzone = 'Prairie'", "colony.toml, air.zone: 'Prairie' is no time zone"),
        (SIZE + "[box]\nbuilding = '5 C'", "colony.toml, box.file: missing"),
        (SIZE + "[box]\nfile = 'a.toml'", "colony.toml, box.weather: write the weather, or how warm the building is"),
        (SIZE + "[air]\nlog = 'a.csv'\n[box]\nfile = 'a.toml'\nbuilding = '5 C'", "colony.toml, box: the air comes from the box"),
        (SIZE + "[air]\nhumidity = '50 %'\n[box]\nfile = 'a.toml'\nbuilding = '5 C'", "colony.toml, box: the air comes "
        "from the box"),
        (SIZE + "[ahead]\ndays = '2000 d'", "colony.toml, ahead.days: 2000 d is out of range; in SI it lies from 1 to 400"),
        (SIZE + "[ahead]\nfirst_day = 'soon'", "colony.toml, ahead.first_day: 'soon' is no day; write it like 2026-05-04"),
        ("[[looks]]\ncounted = 3\npart = '2 %'", "colony.toml, looks[0].days_ago: missing"),
        ("[[looks]]\ndays_ago = '3 d'", "colony.toml, looks[0]: a look tells something"),
        ("[[looks]]\ndays_ago = '3 d'\ncounted = 3", "colony.toml, looks[0]: a scoop is two things: counted, and part"),
        ("[[looks]]\ndays_ago = '3 d'\ngrade = 'plenty'", "colony.toml, looks[0].grade: 'plenty' is not known"),
    ],
)  # fmt: skip
def test_every_fault_is_told_with_its_place(text, words):
    assert words in said(text)


def test_every_quantity_reads_its_own_example():
    for keys in TOP.values():
        for quantity in keys.values():
            if quantity is not None:
                assert quantity.low <= quantity.read(quantity.example) <= quantity.high
    assert "weather" in BOX
