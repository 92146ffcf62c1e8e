"""The season ahead, on a real book."""

from datetime import date, timedelta

import pytest

from bonebench.errors import Impossible, NotAQuantity, OutsideRange, UnknownName
from bonebench.services.promise.do import for_quote
from bonebench.services.year.do import AskedSeason, season

from .hands import flags, take_in

TODAY = date(2026, 5, 4)


def look(door, **asked):
    return season(AskedSeason(**asked), door.read(for_quote))


def set_kind(door, kind, **more):
    place = next(p for p in door.room().places if p.kind == kind)
    door.set_place(key=place.key, kind=kind, **more)


def test_an_empty_room_expects_nobody_and_says_what_it_does_not_know(desk):
    card = look(desk, months=3)
    assert [month.first for month in card.months] == [date(2026, 5, 1), date(2026, 6, 1), date(2026, 7, 1)]
    assert {month.words.text for month in card.months} == {"nobody, by what the book has of the last year"}
    assert (card.arrivals_a_year, card.months[0].appetite_kg) == (None, None)
    assert {"season.nobody", "season.no_appetite", "season.hands"} <= set(flags(card))


def test_the_first_month_counts_what_is_in_the_room_against_a_small_pot(desk):
    set_kind(desk, "pot", holds=1)
    for _ in range(6):
        take_in(desk)
    month = look(desk).months[0]
    pot = next(one for one in month.kinds if one.kind == "pot")
    # From 4 May to the end of May are 28 days, in a pot that takes one.
    assert pot.there_days == 28
    assert pot.share == pytest.approx(pot.wanted_days / 28)
    assert month.words.text.startswith("6 in the room")
    assert month.pieces == 6


def test_what_came_in_the_last_year_is_expected_again(desk):
    for n in range(12):
        take_in(desk, arrived=(TODAY - timedelta(days=10 + n)).isoformat())
    card = look(desk)
    assert card.arrivals_a_year == 12
    april = next(month for month in card.months if month.first == date(2027, 4, 1))
    # 12 pieces came between 13 and 24 April; a month of 30 days is reckoned as 30 of 30.44.
    assert april.pieces == pytest.approx(12 * 30 / 30.44)
    assert "season.as_last" in flags(card)


def test_the_beetles_appetite_is_laid_against_the_tissue(desk):
    set_kind(desk, "beetle box", eats="10 g")
    for _ in range(5):
        take_in(desk)
    month = look(desk).months[0]
    # 10 g a day for 28 days.
    assert month.appetite_kg == pytest.approx(0.28)
    assert (month.tightest, month.share) == ("appetite", pytest.approx(month.tissue_kg / 0.28))
    assert "of the beetles' appetite: the rest waits for the months after" in month.words.text


def test_a_freezer_that_is_too_small_is_full_on_a_day(desk):
    set_kind(desk, "freezer", holds=2)
    for _ in range(5):
        take_in(desk)
    freezer = look(desk).freezer
    assert (freezer.measure, freezer.holds, freezer.full_on) == ("pieces", 2, TODAY)
    assert freezer.words.text.startswith("the freezer is full on 4 May 2026: it takes 2 pieces")
    set_kind(desk, "freezer", holds=20)
    assert look(desk).freezer.full_on is None


def test_the_last_day_for_a_holiday_holds_four_times_in_five_and_comes_later_for_a_later_holiday(desk):
    early = look(desk, holiday="2026-10-01", species="red fox").holiday
    late = look(desk, holiday="2026-11-01", species="red fox").holiday
    assert TODAY < early.last_day < late.last_day < date(2026, 11, 1)
    assert early.p80 <= early.through_by
    assert early.words.text.startswith("take in a red fox until ")
    soon = look(desk, holiday="2026-05-08", species="red fox").holiday
    assert soon.last_day is None
    assert soon.words.text.startswith("it is too late: fewer than four in five of a red fox taken in today")


@pytest.mark.parametrize(
    ("asked", "fault", "words"),
    [
        ({"months": 0}, OutsideRange, "0 months were asked for; the season shows 1 to 24"),
        ({"holiday": "2026-12-20"}, Impossible, "say whose skull should be through by then"),
        ({"holiday": "soon", "species": "red fox"}, NotAQuantity, "'soon' is not a day"),
        ({"holiday": "2026-05-01", "species": "red fox"}, Impossible, "1 May 2026 is not ahead"),
        ({"holiday": "2028-01-01", "species": "red fox"}, OutsideRange, "more than a year ahead"),
        ({"holiday": "2026-12-20", "species": "griffin"}, UnknownName, "griffin"),
    ],
)
def test_what_cannot_be_looked_at_is_refused_in_words(desk, asked, fault, words):
    with pytest.raises(fault, match=words):
        look(desk, **asked)


def test_the_weeks_of_the_freezer_show_its_fullest_day(desk):
    for _ in range(4):
        take_in(desk)
    freezer = look(desk).freezer
    assert max(week.level for week in freezer.weeks) == freezer.most
    assert freezer.weeks[0].day == TODAY


def test_hands_are_left_out_and_said_where_nobody_said_who_works_when(desk):
    take_in(desk)
    card = look(desk, months=1)
    assert (card.months[0].hands, card.months[0].tightest_hands, card.months[0].hands_words) == ((), None, None)
    assert "season.hands" in flags(card)


def test_one_pair_of_hands_is_the_tightest_and_counted_once_for_all_the_work(desk):
    desk.set_person("Wren", ["wed 09:00-10:00"], "all")
    for _ in range(6):
        take_in(desk)
    card = look(desk, months=1)
    month, by_work = card.months[0], {one.work: one for one in card.months[0].hands}
    # From Monday 4 May to 31 May are four Wednesdays of an hour.
    assert {one.there_hours for one in month.hands} == {4}
    together = month.hands[-1]
    assert together.wanted_hours == pytest.approx(sum(one.wanted_hours for work, one in by_work.items() if len(work) == 1))
    assert (month.tightest, month.share) == ("hands", pytest.approx(together.wanted_hours / 4))
    assert month.words.text.startswith("6 in the room ask for ")
    assert month.words.text.endswith(" % of the hours there are for all the work: the rest waits for the months after")
    assert "season.hands_counted" in flags(card)


def test_work_that_nobody_is_trained_for_is_named(desk):
    desk.set_person("Wren", ["wed 09:00-17:00"], "raw heads, beetles, hot baths, peroxide")
    take_in(desk)
    month = look(desk, months=1).months[0]
    teeth = next(one for one in month.hands if one.work == ("teeth",))
    assert (teeth.there_hours, teeth.share, teeth.wanted_hours > 0) == (0, None, True)
    assert (month.tightest, month.share, month.tightest_hands) == ("hands", None, teeth)
    assert "1 in the room; nobody trained for teeth is there: " in month.words.text
    assert month.words.text.endswith(" of it find no hands")
