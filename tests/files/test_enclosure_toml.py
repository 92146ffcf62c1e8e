"""`enclosure.toml`: the example reads back, and what cannot be is refused with its place."""

import pytest

from bonebench.errors import FileFault
from bonebench.files.enclosure_toml import enclosure_of, example, read_enclosure
from bonebench.science.enclosure import Heater, around_box, simulate, to_sharpen

SMALL = """
[box]
length = "47 in"
width = "26 in"
height = "31 in"
[[box.walls]]
thickness = "2.5 in"
conductivity = "0.024 W/mK"
[[holes]]
count = 4
diameter = "1 in"
height = "4 in"
[heater]
power = "100 W"
"""


def test_the_example_reads_back_and_runs(tmp_path):
    (tmp_path / "enclosure.toml").write_text(example(), encoding="utf-8")
    box = read_enclosure(tmp_path / "enclosure.toml")
    assert box.outside_m == (1.2, 0.65, 0.8)
    assert box.heater == Heater(100.0, set_c=26.5)
    assert to_sharpen(box)[0].key == "box.film"  # the one figure a file cannot give
    run = simulate(box, around_box(24, t_c=5.0, rh=0.8))
    assert 25 < run.year.t_mean_c < 28


def test_a_few_lines_are_enough_and_the_rest_is_listed_to_sharpen():
    box = enclosure_of(SMALL)
    assert box.outside_m[0] == pytest.approx(47 * 0.0254)
    open_places = {line.key for line in to_sharpen(box)}
    assert {"heater.hysteresis", "bedding.dry_mass", "holes.discharge"} <= open_places
    assert "box.walls.thickness" not in open_places


def test_settings_replace_what_the_file_says():
    box = enclosure_of(SMALL, ["heater.power=80 W", "holes.0.count=2", "bedding.dry_mass=0 kg"])
    assert box.heater is not None
    assert (box.heater.power_w, box.holes[0].count, box.bedding.dry_kg) == (80.0, 2, 0.0)


FAULTS = [
    ('thickness = "2.5 in"', 'thickness = "2.5"', "box.walls[0].thickness", "write it like \"65 mm\""),
    ('thickness = "2.5 in"', "thickness = 65", "box.walls[0].thickness", "65 has no unit"),
    ('height = "4 in"', 'height = "40 in"', "holes[0].height", "lies above the box, which is 660 mm high inside"),
    ('power = "100 W"', 'power = "100 W"\nwatts = 3', "heater.watts", "unknown key; known here: power, radiant_share"),
    ('power = "100 W"', 'power = "9 kW"', "heater.power", "9 kW is out of range; in SI it lies from 0 to 5000"),
    ('power = "100 W"', 'power = "100 W"\nhysteresis = "0 K"', "heater.hysteresis", "turn off at or below where it turns on"),
    ('[heater]', '[humidistat]\non = "47 %"\noff = "50 %"\n[heater]', "humidistat.off", "thresholds cross: it turns on at 47 %"),
    ('[heater]', '[duct]\ndiameter = "10 cm"\nlength = "2 m"\nheight = "1 in"\n'
     '[fan]\nfree_flow = "63 m3/h"\nshut_off = "-3 Pa"\n[heater]',
     "fan.shut_off", "-3 Pa is out of range; in SI it lies from 0"),
    ('[heater]', "[cellar]\n[heater]", "cellar", "unknown table"),
    ('width = "26 in"', "", "box.width", "missing; write it like width = \"0.65 m\""),
    ("count = 4", "count = 0", "holes", "nothing is open: beetles need air"),
    ("count = 4", "count = 2.5", "holes[0].count", "2.5 holes cannot be"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "path", "words"), FAULTS)
def test_what_cannot_be_is_refused_with_its_place(old, new, path, words):
    with pytest.raises(FileFault) as fault:
        enclosure_of(SMALL.replace(old, new))
    assert fault.value.path == path
    assert words in str(fault.value)
    assert str(fault.value).startswith(f"enclosure.toml, {path}: ")


@pytest.mark.parametrize("setting", ["heater.power", "holes.7.count=2", "box=3", "holes.x.count=2"])
def test_a_setting_without_a_place_is_refused(setting):
    with pytest.raises(FileFault, match="no such place in enclosure"):
        enclosure_of(SMALL, [setting])


def test_a_file_that_is_not_there_or_is_no_toml_is_said(tmp_path):
    with pytest.raises(FileFault, match="`enclosure example` writes one"):
        read_enclosure(tmp_path / "none.toml")
    with pytest.raises(FileFault, match="cannot be read"):
        enclosure_of("[box\n")
