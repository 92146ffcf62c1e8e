"""Weather files: what each format comes to, and what is wrong in one, with its place."""

import shutil
from pathlib import Path

import numpy as np
import pvlib
import pytest

from bonebench.errors import FileFault, Impossible
from bonebench.files.weather import read_months, read_weather
from bonebench.science.weather import Place

DATA = Path(__file__).parents[1] / "data"
CHICAGO = DATA / "physics_weather_chicago_ohare_tmy3.csv"
SHIPPED = Path(pvlib.__file__).parent / "data"  # NREL TMY3 files that the library ships (BSD-3; US government data)


def test_plain_hours_come_in_whole():
    year = read_weather(str(CHICAGO), place=Place("Chicago", 41.98, -87.92, 201, -6))
    assert (year.hours, year.first_hour, year.notes) == (8760, 0, ())
    # The file's first rows; means as the reference has them (physics.md section 4: mean 10.0, min -22.8, max 35.0).
    assert year.temperature_c[:3] == pytest.approx([-12.2, -11.7, -11.1])
    assert (year.temperature_c.mean(), year.temperature_c.min(), year.temperature_c.max()) == pytest.approx(
        (10.0, -22.8, 35.0), abs=0.05
    )


def test_a_tmy3_file_comes_in_through_pvlib_with_its_station():
    year = read_weather(str(SHIPPED / "703165TY.csv"))
    # physics.md section 4: Sand Point, mean 4.4, min -10.6, max 19.4.
    assert (year.temperature_c.mean(), year.temperature_c.min(), year.temperature_c.max()) == pytest.approx(
        (4.4, -10.6, 19.4), abs=0.06
    )
    assert (year.hours, year.place.utc_offset_hours) == (8760, -9.0)
    assert year.place.latitude == pytest.approx(55.3, abs=0.1)
    assert 90_000 < year.pressure_pa.mean() < 103_000


def test_the_same_year_in_two_formats_agrees():
    plain = read_weather(str(DATA / "physics_weather_sandpoint_ak_tmy3.csv"))
    tmy3 = read_weather(str(SHIPPED / "703165TY.csv"))
    assert plain.temperature_c == pytest.approx(tmy3.temperature_c, abs=1e-9)
    assert plain.dew_point_c == pytest.approx(tmy3.dew_point_c, abs=1e-9)
    # The TMY3 file writes whole millibar.
    assert np.abs(plain.pressure_pa - tmy3.pressure_pa).max() <= 100


def epw(path: Path, *, gap: int = 0) -> Path:
    """Write a small EPW of our own: the format's eight header lines, then 8760 rows of 35 fields."""
    head = [
        "LOCATION,Made Up,ST,USA,test,000000,41.98,-87.92,-6.0,201.0", "DESIGN CONDITIONS,0", "TYPICAL/EXTREME PERIODS,0",
        "GROUND TEMPERATURES,0", "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,", "COMMENTS 2,",
        "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
    ]  # fmt: skip
    rows, number = [], 0
    for month, days in enumerate((31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31), 1):
        for day in range(1, days + 1):
            for hour in range(1, 25):
                air = "99.9" if 100 <= number < 100 + gap else f"{10 + hour / 10:.1f}"
                rows.append(
                    f"2001,{month},{day},{hour},0,?9?9?9?9E0,{air},5.0,60,99000,0,0,300,120,80,60,9999,9999,9999,9999,180,3.0,5,5,"
                    "9999,99999,9,999999999,0,0.1,0,88,0.2,0.0,0.0"
                )
                number += 1
    path.write_text("\n".join([*head, *rows]) + "\n")
    return path


def test_an_epw_comes_in_through_pvlib_and_a_short_gap_is_filled_and_said(tmp_path):
    year = read_weather(str(epw(tmp_path / "made.epw", gap=4)))
    assert (year.hours, year.place.name, year.place.elevation_m) == (8760, "Made Up", 201.0)
    assert year.temperature_c[0] == pytest.approx(10.1)
    assert "4 missing hours of temperature were filled" in year.notes[0].text


def test_a_long_gap_in_an_epw_is_refused_with_its_dates(tmp_path):
    with pytest.raises(Impossible, match="temperature is missing for 9 hours from 5 Jan 04:00 to 5 Jan 13:00"):
        read_weather(str(epw(tmp_path / "made.epw", gap=9)))


def test_a_file_that_is_cut_off_or_is_none_is_said(tmp_path):
    half = tmp_path / "half.epw"
    half.write_text("LOCATION,Made Up\n")
    with pytest.raises(FileFault, match=r"half\.epw cannot be read as EPW"):
        read_weather(str(half))
    with pytest.raises(FileFault, match=r"there is no weather file at .*nowhere\.csv"):
        read_weather(str(tmp_path / "nowhere.csv"))


MONTHS = "month,mean_c,swing_k,dew_point_c\n" + "\n".join(f"{n},{5 + n},8,{n}" for n in range(1, 13)) + "\n"


def test_twelve_months_make_a_year(tmp_path):
    path = tmp_path / "months.csv"
    path.write_text("# what a person knows\n" + MONTHS)
    year = read_weather(f"normals:{path}", rng=np.random.default_rng(1))
    january = year.temperature_c[year.month == 1].mean()
    assert january == pytest.approx(6.0, abs=1e-6)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("3,8,8,3", "3,warm,8,3"), "months.csv, line 4, mean_c: 'warm' is not a number"),
        (("3,8,8,3", "3,,8,3"), "months.csv, line 4: mean_c is empty; a month needs it"),
        (("3,8,8,3\n", ""), "months.csv needs twelve rows, month 1 to 12 in order"),
        (("swing_k", "swing_f"), "months.csv: column 'swing_k' is missing"),
    ],
)
def test_what_is_wrong_in_a_table_of_months_is_said_with_its_line(tmp_path, change, words):
    path = tmp_path / "months.csv"
    assert change[0] in MONTHS
    path.write_text(MONTHS.replace(*change))
    with pytest.raises(FileFault, match=words):
        read_months(path)


def test_a_column_nobody_knows_is_said(tmp_path):
    path = tmp_path / "months.csv"
    path.write_text("\n".join(line + (",rain" if n == 0 else ",1") for n, line in enumerate(MONTHS.splitlines())))
    with pytest.raises(FileFault, match="column 'rain' is not known"):
        read_months(path)


def test_hours_that_do_not_rise_or_are_none_are_said(tmp_path):
    path = tmp_path / "hours.csv"
    shutil.copy(CHICAGO, path)
    lines = path.read_text().splitlines()
    for change, words in (
        ([*lines[:6], lines[4], *lines[6:]], "do not rise one after the other"),
        ([*lines[:5], lines[5].replace("1,1,4", "1,1,25", 1), *lines[6:]], "line 6: month 1, day 1, hour 25 is no hour of a year"),
        (lines[:2], "has no rows under its names"),
        ([lines[0], lines[1].replace("T_C", "T_F", 1), *lines[2:]], "has no column 'T_C'"),
    ):
        path.write_text("\n".join(change) + "\n")
        with pytest.raises(FileFault, match=words):
            read_weather(str(path))
