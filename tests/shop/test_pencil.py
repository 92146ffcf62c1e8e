"""What is written on a pencil sheet is read as it is meant, and nothing that cannot be read is lost."""

from datetime import date, time

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from bonebench.errors import InputError
from bonebench.shop.pencil import MOST_TYPED, Clock, at_odds, read_marks, read_sheet_number, row_entry_id, sheet_number

AT = Clock(None, time(14, 30))
# What people write, and the rows, letters and times it means.
WRITTEN = [
    ("3 b, 5 a, 7 c at 14:30", [(3, "b", AT), (5, "a", AT), (7, "c", AT)]),
    ("3b 5a 7c", [(3, "b", None), (5, "a", None), (7, "c", None)]),
    ("Row 3: B; row 12 - a", [(3, "b", None), (12, "a", None)]),
    ("3 d4, 5 d 10, 6 a", [(3, "d4", None), (5, "d10", None), (6, "a", None)]),
    ("3 d 4 a", [(3, "d", None), (4, "a", None)]),
    ("3 a d2", [(3, "a", None), (3, "d2", None)]),
    ("3 b at 9:10, 5 a at 2:30 pm", [(3, "b", Clock(None, time(9, 10))), (5, "a", AT)]),
    ("3 b\n5 a at 14.30", [(3, "b", None), (5, "a", AT)]),
    ("14:30: 3 b and 5 a", [(3, "b", AT), (5, "a", AT)]),
    ("3 b at 1430, 5 a 0905", [(3, "b", AT), (5, "a", Clock(None, time(9, 5)))]),
    ("3 b at 9", [(3, "b", Clock(None, time(9), hour_only=True))]),
    ("3 b 2026-11-25 14:30", [(3, "b", Clock(date(2026, 11, 25), time(14, 30)))]),
    ("3 b on 2026-11-25", [(3, "b", Clock(date(2026, 11, 25)))]),
    ("3 b at 12:05 am", [(3, "b", Clock(None, time(0, 5)))]),
    ("3 b, 3 b at 14:30", [(3, "b", AT)]),
    ("", []),
]


@pytest.mark.parametrize(("text", "meant"), WRITTEN)
def test_rows_are_read_as_people_write_them(text, meant):
    written, unread = read_marks(text)
    assert [(one.row, one.code, one.when) for one in written] == meant
    assert unread == []


UNREAD = [
    ("hello, 3 b", ["hello"], [(3, "b")]),
    ("3 b hello 4 a", ["hello"], [(3, "b"), (4, "a")]),
    ("3 b at 25:99\n4 a", ["3 b at 25:99"], [(4, "a")]),
    ("3, 4 a", ["3"], [(4, "a")]),
    ("3 ab", ["3 ab"], []),
    ("3 b 2026-13-40, 4 a", ["3 b 2026-13-40,"], [(4, "a")]),
    ("at 25:00", ["at 25:00"], []),
]


@pytest.mark.parametrize(("text", "lost", "kept"), UNREAD)
def test_what_cannot_be_read_stands_in_its_own_words_and_the_rest_is_kept(text, lost, kept):
    written, unread = read_marks(text)
    assert [one.text for one in unread] == lost
    assert [(one.row, one.code) for one in written] == kept
    assert all(one.why.text for one in unread)


ROWS = st.lists(st.tuples(st.integers(1, 200), st.sampled_from("abcdefg")), max_size=12, unique=True)


@given(ROWS, st.none() | st.times().map(lambda at: at.replace(second=0, microsecond=0)), st.sampled_from([", ", " ", "; "]))
def test_any_rows_come_back_as_they_were_written(rows, at, between):
    text = between.join(f"{row} {letter}" for row, letter in rows) + (f" at {at:%H:%M}" if at is not None and rows else "")
    written, unread = read_marks(text)
    assert [(one.row, one.code) for one in written] == rows
    assert unread == []
    if at is not None and rows:
        assert written[-1].when == Clock(None, at)


@given(st.text(max_size=60))
def test_whatever_is_typed_every_letter_is_read_or_stands_among_what_was_not(text):
    """A law: each letter and digit is in a row that was read, in words that were not, or in a word between rows."""
    written, unread = read_marks(text)
    there = " ".join([one.text for one in written] + [one.text for one in unread]).casefold()
    for word in text.split():
        if len(word) > 4 and word.isalpha() and word.isascii() and word.casefold() not in there:
            pytest.fail(f"{word!r} of {text!r} is gone")


def test_done_and_not_yet_cannot_both_be_but_a_problem_goes_with_either():
    assert list(at_odds(read_marks("3 a b, 4 a d2, 5 b")[0])) == [3]


def test_a_number_says_its_day_and_is_told_from_every_other_by_one_wrong_or_two_swapped_characters():
    number = sheet_number(date(2026, 11, 26), 0)
    assert number is not None
    assert number.startswith("1126A")
    assert mod_37_2.is_valid(number.replace("-", "")), "ISO 7064 MOD 37-2, by an independent library"
    for at in range(4):
        swapped = number[:at] + number[at + 1] + number[at] + number[at + 2 :]
        if swapped != number:
            with pytest.raises(InputError, match="is not the number of a sheet"):
                read_sheet_number(swapped)


@given(st.dates(), st.integers(0, 59))
def test_every_number_is_read_back_however_it_is_typed(day, nth):
    number = sheet_number(day, nth)
    if number is not None:
        assert read_sheet_number(f" sheet {number.lower().replace('-', ' ')}") == number


def test_no_two_sheets_of_a_day_share_a_number():
    numbers = [sheet_number(date(2026, 5, 4), nth) for nth in range(60)]
    issued = [number for number in numbers if number is not None]
    assert len(set(issued)) == len(issued) > 50


def test_a_row_has_one_id_and_another_once_it_was_taken_back():
    ids = {row_entry_id("s", row, code, again) for row in (1, 11) for code in ("a", "1a", "d1") for again in (0, 1)}
    assert len(ids) == 12
    assert row_entry_id("s", 1, "a") == row_entry_id("s", 1, "a", 0)
    assert row_entry_id("s", 1, "a")[14] == "8", "a version 8 UUID, RFC 9562 section 5.8"


def test_more_than_a_sheet_is_refused():
    with pytest.raises(InputError, match="4001 characters are more than a sheet holds"):
        read_marks("a" * (MOST_TYPED + 1))
