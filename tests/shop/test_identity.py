"""Ids by RFC 9562, tags by ISO 7064 MOD 37-2, tasks by what they are about."""

import random
import uuid
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from bonebench.errors import InputError
from bonebench.shop.identity import NEVER_ISSUED, read_tag, tag_from_number, task_id, uuid7

ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
# A spread over the three-character bodies, and some of four.
NUMBERS = [*range(400), *range(1000, 33000, 577), *range(32768, 33200, 11)]
TAGS = [tag for tag in map(tag_from_number, NUMBERS) if tag is not None]
INSTANTS = st.datetimes(datetime(1970, 1, 1), datetime(2200, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001  hypothesis adds the zone


@given(INSTANTS, st.integers(0, 2**32))
def test_an_id_is_a_uuid_of_version_7_and_the_standard_variant(now, seed):
    made = uuid.UUID(uuid7(now, random.Random(seed)))
    # RFC 9562, 5.7: version 7 in bits 48-51, variant 10 in bits 64-65.
    assert (made.version, made.variant) == (7, uuid.RFC_4122)
    assert str(made) == uuid7(now, random.Random(seed))


@given(INSTANTS)
def test_its_first_48_bits_are_the_unix_time_in_milliseconds(now):
    made = uuid.UUID(uuid7(now, random.Random(1)))
    # RFC 9562, 5.7: whole milliseconds since 1970, counted exactly.
    assert made.int >> 80 == (now - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(milliseconds=1)


def test_the_worked_example_of_the_standard():
    # RFC 9562, appendix A.6: 2022-02-22 14:22:22.00 GMT-05:00 is 017F22E279B0 in milliseconds.
    now = datetime(2022, 2, 22, 14, 22, 22, tzinfo=datetime.strptime("-0500", "%z").tzinfo)
    assert uuid7(now, random.Random(1)).startswith("017f22e2-79b0-7")


@given(INSTANTS, st.integers(1, 10**9))
def test_later_ids_sort_after_earlier_ones_as_text(now, milliseconds):
    dice = random.Random(3)
    assert uuid7(now, dice) < uuid7(now + timedelta(milliseconds=milliseconds), dice)


def test_ids_of_one_moment_differ_by_chance():
    dice = random.Random(3)
    now = datetime(2026, 5, 4, tzinfo=UTC)
    assert len({uuid7(now, dice) for _ in range(2000)}) == 2000


def test_a_time_without_a_zone_makes_no_id():
    with pytest.raises(ValueError, match="now must carry its time zone"):
        uuid7(datetime(2026, 5, 4), random.Random(1))  # noqa: DTZ001  the point of the test


def test_every_tag_has_the_check_character_that_stdnum_works_out():
    assert len(TAGS) > 300
    assert all(mod_37_2.is_valid(tag.replace("-", "")) for tag in TAGS)


def test_no_tag_holds_a_character_that_is_never_issued():
    assert {c for tag in TAGS for c in tag} & NEVER_ISSUED == set()
    assert {*"OILU*"} == NEVER_ISSUED


def test_numbers_whose_check_character_is_never_issued_make_no_tag():
    skipped = [number for number in range(2000) if tag_from_number(number) is None]
    # 5 of the 37 check characters are never issued: about 2000 * 5 / 37 = 270.
    assert 200 < len(skipped) < 340


def test_no_two_numbers_make_the_same_tag():
    tags = [tag for tag in map(tag_from_number, range(5000)) if tag is not None]
    assert len(set(tags)) == len(tags)


@pytest.mark.parametrize("tag", TAGS[::7])
def test_one_wrong_character_is_always_caught(tag):
    plain = tag.replace("-", "")
    wrong = {plain[:i] + c + plain[i + 1 :] for i in range(len(plain)) for c in ALPHABET} - {plain}
    # ISO 7064: a pure system catches every single substitution; all 36 at each of the four or five places are tried.
    assert [text for text in wrong if accepted(text)] == []


@pytest.mark.parametrize("tag", TAGS[::3])
def test_two_swapped_neighbours_are_always_caught(tag):
    plain = tag.replace("-", "")
    swapped = {plain[:i] + plain[i + 1] + plain[i] + plain[i + 2 :] for i in range(len(plain) - 1)} - {plain}
    assert [text for text in swapped if accepted(text)] == []


def accepted(text):
    try:
        read_tag(text)
    except InputError:
        return False
    return True


@given(st.sampled_from(TAGS))
def test_a_tag_is_read_however_it_is_typed(tag):
    plain = tag.replace("-", "")
    for typed in (tag.lower(), plain, f" {plain[0]} {plain[1:]} ", "-".join(plain.lower()), f"{tag}\n"):
        assert read_tag(typed) == tag


@pytest.mark.parametrize("text", ["K7Q-A", "", "-", "K7", "ÄÖÜ-ß", "K7Q-*", "O7Q-K", "K7Q-K-K", "x" * 500])
def test_what_is_no_tag_is_refused_in_words(text):
    with pytest.raises(InputError) as refused:
        read_tag(text)
    assert str(refused.value) == f"'{text}' is not a tag of this room: its check letter does not fit; look at the tag again"


def test_a_task_is_the_same_for_the_same_subject_step_and_visit():
    assert task_id("specimen:a", "trim", 1) == task_id("specimen:a", "trim", 1)
    others = {task_id("specimen:a", "trim", 1), task_id("specimen:b", "trim", 1), task_id("specimen:a", "trim", 2)}
    assert len(others | {task_id("specimen:a", "beetles", 1)}) == 4


def test_a_task_does_not_mix_up_where_one_word_ends_and_the_next_begins():
    assert task_id("specimen:a", "btrim", 1) != task_id("specimen:ab", "trim", 1)


def test_tags_of_neighbouring_numbers_are_far_apart_in_their_check_letter():
    bodies = [(tag[:-2], tag[-1]) for tag in TAGS[:50]]
    assert all(one != other for one, other in pairwise(bodies))
