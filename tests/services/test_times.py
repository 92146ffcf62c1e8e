"""When something happened, as people say it. The room is five hours behind UTC in May (IANA, America/Chicago)."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import NotAQuantity, OutsideRange
from bonebench.services.log.times import read_about, read_at, when_of, whole_day
from bonebench.shop.entries import When

CHICAGO = ZoneInfo("America/Chicago")
NOW = datetime(2026, 5, 4, 14, 0, tzinfo=UTC)  # nine in the morning there


def about(text, now=NOW):
    return read_about(text, now, CHICAGO)


def test_unless_said_it_happened_now():
    assert when_of(at=None, about=None, now=NOW, zone=CHICAGO) == When(NOW, NOW)
    assert when_of(at="", about="", now=NOW, zone=CHICAGO) == When(NOW, NOW)


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("2026-05-04T08:30", datetime(2026, 5, 4, 13, 30, tzinfo=UTC)),
        ("2026-05-04T08:30+02:00", datetime(2026, 5, 4, 6, 30, tzinfo=UTC)),
        ("2026-05-04T08:30Z", datetime(2026, 5, 4, 8, 30, tzinfo=UTC)),
        ("2026-01-04 08:30", datetime(2026, 1, 4, 14, 30, tzinfo=UTC)),
    ],
)
def test_a_time_without_a_zone_is_wall_time_of_the_room(text, at):
    assert read_at(text, CHICAGO) == at
    assert when_of(at=text, about=None, now=NOW, zone=CHICAGO) == When(at, at)


def test_a_time_in_the_future_is_read_like_any_other():
    assert read_at("2031-05-04T08:30Z", CHICAGO).year == 2031


def test_this_morning_is_from_six_to_noon_and_never_later_than_now():
    assert about("this-morning") == When(datetime(2026, 5, 4, 11, tzinfo=UTC), NOW)
    assert about("this-morning", NOW + timedelta(hours=8)).latest == datetime(2026, 5, 4, 17, tzinfo=UTC)
    early = datetime(2026, 5, 4, 9, tzinfo=UTC)
    assert about("this-morning", early) == When(early, early)


def test_yesterday_is_the_whole_local_day_before():
    assert about("yesterday") == When(datetime(2026, 5, 3, 5, tzinfo=UTC), datetime(2026, 5, 4, 4, 59, 59, tzinfo=UTC))


def test_a_day_alone_is_the_whole_day_and_todays_ends_now():
    assert about("2026-05-02") == When(datetime(2026, 5, 2, 5, tzinfo=UTC), datetime(2026, 5, 3, 4, 59, 59, tzinfo=UTC))
    assert about("2026-05-04") == When(datetime(2026, 5, 4, 5, tzinfo=UTC), NOW)
    assert about("2026-05-09").earliest == datetime(2026, 5, 9, 5, tzinfo=UTC)


def test_the_day_the_clock_changes_has_23_hours():
    # IANA: Chicago goes to summer time on 8 March 2026.
    day = whole_day(date(2026, 3, 8), CHICAGO)
    assert day.latest.astimezone(UTC) - day.earliest.astimezone(UTC) == timedelta(hours=23) - timedelta(seconds=1)


@pytest.mark.parametrize("text", ["2d", "2 days", "about-2-days", "2d ago", " 48 h ago "])
def test_so_long_ago_reaches_a_quarter_either_side(text):
    assert about(text) == When(NOW - timedelta(days=2.5), NOW - timedelta(days=1.5))


@given(st.floats(0, 3000))
def test_about_never_reaches_past_now_and_never_turns_round(days):
    when = about(f"{days:.4f} d")
    assert when.earliest <= when.latest <= NOW


WORDS = [
    (lambda: when_of(at="2026-05-04", about="2d", now=NOW, zone=CHICAGO),
     "a time is either exact or about; give one of the two, not both"),
    (lambda: read_at("noonish", CHICAGO), "'noonish' is not a time; write it like 2026-05-04T14:30"),
    (lambda: read_at("0001-01-01T00:00", CHICAGO), "'0001-01-01T00:00' is too far away to be a time; look at its year"),
    (lambda: read_at("9999-12-31T23:59", CHICAGO), "'9999-12-31T23:59' is too far away to be a time; look at its year"),
    (lambda: about("2026-13-02"), "'2026-13-02' is not a day; write it like 2026-05-04"),
    (lambda: about("9999-12-31"), "'9999-12-31' is not a day; write it like 2026-05-04"),
    (lambda: about("0001-01-01"), "'0001-01-01' is too far away to be a time; look at its year"),
    (lambda: about("long ago"), "'long' is not a length of time; write it like 2d or 8h"),
    (lambda: about("-2 d"), "length of time is -2 d; it cannot be that small"),
    (lambda: about("about-999999999-days"),
     "'about-999999999-days' is too long ago to be remembered; write the day like 2026-05-04"),
    (lambda: about("99999999 weeks"), "'99999999 weeks' is too long ago to be remembered; write the day like 2026-05-04"),
]  # fmt: skip


@pytest.mark.parametrize(("read", "words"), WORDS)
def test_what_is_no_time_is_refused_in_words(read, words):
    with pytest.raises((NotAQuantity, OutsideRange)) as refused:
        read()
    assert str(refused.value) == words
