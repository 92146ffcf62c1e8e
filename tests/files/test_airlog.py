"""Logs of air as loggers and people write them: what is found, what is filled, and every fault in words."""

from contextlib import suppress
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import FileFault, NotAQuantity
from bonebench.files.airlog import air_log_of, log_text, read_air_log
from bonebench.files.logtimes import read_times, stated_zone, zone_named

CHICAGO, ADELAIDE = ZoneInfo("America/Chicago"), ZoneInfo("Australia/Adelaide")


def wall(*parts):
    """A time as a clock on the wall shows it, which has no zone."""
    return datetime(*parts)  # noqa: DTZ001  the zone is what the reader adds


START = wall(2026, 1, 5)


def log(rows=48, head="time,temperature_c,humidity_percent", row="{at:%Y-%m-%d %H:%M},{t},{rh}", step_min=60, begin=START, skip=()):
    """A log of invented hours: 26 degC and a tenth more each hour of the day, 50 % and one more."""
    lines = [head]
    for n in range(rows):
        at = begin + timedelta(minutes=n * step_min)
        if n not in skip:
            lines.append(
                row.format(at=at, t=round(26 + at.hour / 10, 1), f=round(1.8 * (26 + at.hour / 10) + 32, 2), rh=50 + at.hour)
            )
    return "\n".join(lines)


def said(text, zone=CHICAGO, **more):
    with pytest.raises((FileFault, NotAQuantity)) as fault:
        air_log_of(text, zone, **more)
    return fault.value.said.text


# The same two days, in the ways that people's files have them: head, row.
WAYS = [
    ("time,temperature_c,humidity_percent", "{at:%Y-%m-%d %H:%M},{t},{rh}"),
    ("Logger 3, attic box\n\nDate Time;Temp (°C);RH (%)", "{at:%d.%m.%Y %H:%M:%S};{t};{rh}"),
    ('"#","Date/Time","Temperature (°F)","Humidity (%RH)","Dew Point (°F)"', '1,"{at:%m/%d/%Y %I:%M:%S %p}","{f}","{rh}","55"'),
    ("Date\tTime\tt_c\trh", "{at:%Y/%m/%d}\t{at:%H:%M}\t{t}\t{rh}"),
    ("timestamp|temp|hum", "{at:%Y-%m-%dT%H:%M:%S}-06:00|{t} C|{rh} %"),
    ("Time (UTC-06:00),Celsius(°C),Humidity(%rh)", "{at:%d/%m/%y %H:%M},{t},{rh}"),
]


@pytest.mark.parametrize(("head", "row"), WAYS)
def test_every_way_of_writing_the_same_hours_gives_the_same_hours(head, row):
    # By hand: midnight in Chicago in January is 06:00 UTC; 26.0 degC and 50 % at 0 h, 28.3 degC and 73 % at 23 h.
    found = air_log_of(log(row=row, head=head, begin=wall(2026, 1, 13)), CHICAGO)
    assert found.begin == datetime(2026, 1, 13, 6, tzinfo=UTC)
    assert found.temperature_c == pytest.approx(np.tile(26 + np.arange(24) / 10, 2), abs=0.006)  # degF are rounded to a hundredth
    assert found.humidity == pytest.approx(np.tile(0.50 + np.arange(24) / 100, 2))
    assert not found.faults
    assert not found.notes


def test_a_decimal_comma_is_read_where_the_columns_are_apart_by_something_else():
    text = log(head="time;temperature_c", row="{at:%Y-%m-%d %H:%M};{t}").replace(".", ",")
    assert air_log_of(text, CHICAGO).temperature_c[3] == pytest.approx(26.3)


def test_readings_within_an_hour_are_averaged_and_the_newest_may_stand_first():
    head, *rows = log(rows=4 * 48, step_min=15, row="{at:%Y-%m-%d %H:%M},{at:%M},50").splitlines()
    # By hand: minutes 0, 15, 30 and 45 have the mean 22.5.
    for lines in (rows, rows[::-1]):
        assert air_log_of("\n".join([head, *lines]), CHICAGO).temperature_c == pytest.approx(np.full(48, 22.5))


def test_a_share_of_one_is_told_from_percent_by_its_values():
    shares = air_log_of(log(head="time,temperature_c,rh", row="{at:%Y-%m-%d %H:%M},{t},0.{rh}"), CHICAGO)
    assert shares.humidity[0] == pytest.approx(0.50)


def test_six_hours_without_a_reading_are_filled_in_a_straight_line_and_told():
    found = air_log_of(log(skip=range(10, 16)), CHICAGO)
    # By hand: from 26.9 degC at 9 h to 27.6 degC at 16 h, a tenth an hour.
    assert found.temperature_c[9:17] == pytest.approx(26.9 + np.arange(8) / 10)
    assert "6 h without temperature were filled" in found.notes[0].text
    assert "2026-01-05 10:00" in found.notes[0].text


def test_seven_hours_without_a_reading_are_refused_with_their_dates():
    assert said(log(skip=range(10, 17))) == (
        "the log has no temperature from 2026-01-05 10:00 to 2026-01-05 17:00 (7 h); up to six hours are filled, more is not: "
        "begin the log after the gap, or write in what you know"
    )


def test_a_dead_damp_sensor_is_a_gap_of_its_own_and_one_that_never_spoke_too():
    dead = log().splitlines()
    dead[11:30] = [line.rpartition(",")[0] + "," for line in dead[11:30]]
    assert "no humidity from 2026-01-05 10:00" in said("\n".join(dead))


def test_without_a_column_of_humidity_there_is_none():
    found = air_log_of(log(head="time,temperature_c", row="{at:%Y-%m-%d %H:%M},{t}"), CHICAGO)
    assert found.humidity is None
    assert "no humidity" in found.found[0].text


def test_rows_that_cannot_be_read_are_told_with_their_line_and_the_others_used():
    rows = log().splitlines()
    rows[2], rows[3], rows[4] = "yesterday,26,50", "2026-01-05 02:00,warm,50", "2026-01-05 03:00,185,50"
    found = air_log_of("\n".join(rows), CHICAGO)
    assert [one.text for one in found.faults] == [
        "line 3: 'yesterday' is no time; the row was left out",
        "line 4, temperature_c: 'warm' is not a number; leave the cell empty if the sensor gave none",
        "line 5, temperature_c: 185 cannot be (°C); the value was left out",
    ]
    assert found.hours == 48


@pytest.mark.parametrize("empty", ["", "-", "n/a", "NaN", "---"])
def test_what_loggers_write_for_nothing_is_no_fault(empty):
    rows = log().splitlines()
    rows[5] = f"2026-01-05 04:00,{empty},50"
    found = air_log_of("\n".join(rows), CHICAGO)
    assert not found.faults
    assert found.temperature_c[4] == pytest.approx(26.4)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no line of the log names a time and a temperature"),
        (log(head="2026-01-04 23:00,26,50"), "write one on top, such as time,temperature_c,humidity_percent"),
        ("time,temperature_c", "has no rows under its names"),
        (log(head="time,temp,rh"), "the column 'temp' of the log does not say whether it is °C or °F"),
        (log(row="never,{t},{rh}"), "line 2: 'never' is no time; write it like 2026-05-04 13:00"),
        (log(row="{at:%Y-%m-%d %H:%M},-,{rh}"), "no row of the log has both a time and a temperature"),
        (log(rows=5), "runs from 2026-01-05 06:00 to 2026-01-05 10:00 UTC, 5 h; it takes a day or more"),
        (log() + "\n2062-01-01 00:00,26,50", "at most four years: look at its dates"),
    ],
)  # fmt: skip
def test_what_is_no_log_is_refused_in_words(text, words):
    assert words in said(text)


def test_of_two_temperatures_the_first_is_used_and_the_other_told():
    found = air_log_of(log(head="time,box temp (C),room temp (C),dew temp (C)", row="{at:%Y-%m-%d %H:%M},{t},5,4"), CHICAGO)
    assert found.temperature_c[0] == pytest.approx(26.0)
    assert [one.text for one in found.notes] == ["also there, and not used: room temp (C)"]


def test_a_unit_that_its_names_leave_out_may_be_said():
    head, row = "time,temp,rh", "{at:%Y-%m-%d %H:%M},{f},{rh}"
    assert air_log_of(log(head=head, row=row), CHICAGO, "F").temperature_c[0] == pytest.approx(26.0)


def test_day_and_month_are_told_apart_by_how_the_days_follow_each_other():
    # 4, 5 and 6 May: read the other way round these are the fifth of April, May and June, a month apart.
    for row, form in (("{at:%m/%d/%Y %H:%M},{t},{rh}", "month-day-year"), ("{at:%d/%m/%Y %H:%M},{t},{rh}", "day-month-year")):
        found = air_log_of(log(rows=72, row=row, begin=wall(2026, 5, 4)), CHICAGO)
        assert found.begin == datetime(2026, 5, 4, 5, tzinfo=UTC)
        assert form in found.found[0].text


def test_where_nobody_can_tell_day_from_month_it_is_refused():
    text = log(rows=24, row="{at:%m/%d/%Y %H:%M},{t},{rh}", begin=wall(2026, 5, 4))
    assert "nobody can tell day from month (05/04/2026 00:00)" in said(text)


def test_the_hour_that_comes_twice_is_told_apart_by_its_order():
    # Chicago set its clocks back on 1 November 2026 at 02:00: wall hours 0, 1, 1, 2 are four hours.
    walls = [f"2026-11-01 0{hour}:30" for hour in (0, 1, 1, 2)]
    times = read_times(walls, CHICAGO)
    assert [at.hour for at in times.at] == [5, 6, 7, 8]
    assert times.twice == 2
    assert [at.hour for at in read_times(walls[::-1], CHICAGO).at] == [8, 7, 6, 5]


def test_the_hour_that_never_comes_is_told():
    # Chicago set its clocks forward on 8 March 2026 at 02:00.
    assert read_times(["2026-03-08 01:30", "2026-03-08 02:30", "2026-03-08 03:30"], CHICAGO).never == 1


@given(st.datetimes(min_value=wall(2024, 1, 1), max_value=wall(2027, 1, 1)), st.sampled_from([CHICAGO, ADELAIDE]))
def test_a_time_with_its_zone_is_the_same_instant_wherever_it_is_read(at, zone):
    at = at.replace(microsecond=0, tzinfo=UTC)
    assert read_times([at.isoformat()], zone).at == (at,)
    assert read_times([str(int(at.timestamp()))], zone).at == (at,)


@pytest.mark.parametrize(
    ("head", "hours"), [("Time (UTC)", 0), ("Date Time, GMT-05:00", -5), ("time UTC+9:30", 9.5), ("time", None)]
)
def test_a_column_may_state_its_zone(head, hours):
    zone = stated_zone(head)
    assert (zone is None) is (hours is None)
    assert zone is None or zone.utcoffset(None) == timedelta(hours=hours)


@pytest.mark.parametrize(
    "text", ["0001-01-01 00:00+05:00", "9999-12-31 23:59", "1969-07-20 20:17", "2026-02-30 10:00", "2026-05-04 25:00"]
)
def test_what_no_logger_ever_wrote_is_no_time(text):
    assert read_times([text], CHICAGO).at == (None,)


def test_a_zone_nobody_knows_is_refused():
    with pytest.raises(NotAQuantity, match="'Prairie' is no time zone"):
        zone_named("Prairie")


def test_a_file_may_be_written_as_a_spreadsheet_program_does(tmp_path):
    text = log(head="time,temp (°C),rh")
    for way in ("utf-8-sig", "utf-16", "cp1252"):
        file = tmp_path / f"{way}.csv"
        file.write_bytes(text.encode(way))
        assert read_air_log(file, CHICAGO).hours == 48


def test_a_file_that_is_not_there_or_too_big_is_said(tmp_path):
    with pytest.raises(FileFault, match="there is no log at"):
        read_air_log(tmp_path / "none.csv", CHICAGO)
    with pytest.raises(FileFault, match="above 30 MB"):
        log_text(b"x" * 30_000_001)


@given(st.text(max_size=400))
def test_whatever_text_is_brought_it_is_a_log_or_a_fault_in_words(text):
    with suppress(FileFault):
        assert air_log_of("time,temperature_c\n" + text, CHICAGO).hours >= 24
