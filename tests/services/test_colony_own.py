"""Questions that begin from today's colony by its log: as it was counted, in its own air, fed as it was written down."""

from dataclasses import replace

import pytest

from bonebench.door import Look
from bonebench.errors import Impossible, UnknownName
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.book import colonies
from bonebench.services.colony.food import away, least, ramp_up
from bonebench.services.colony.own import ask as ask_own
from bonebench.services.colony.sparing import thin
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import PlaceSet
from bonebench.shop.steps import PlaceKind


def ask(desk, act, asked=None, *, box=None, first_day=None, **more):
    question = asked or Asked()
    return desk.read(
        lambda tx, now: ask_own(tx, now, question, lambda known, own: act(known, own, **more), box=box, first_day=first_day)
    )


def keys(card):
    return {flag.what.key for flag in card.flags}


def test_no_number_typed_begins_from_what_was_counted(desk):
    desk.note_colony(Look(counted="200", part="5%", temperature="28 C", humidity="60%"))
    card = ask(desk, ahead, days="5d")
    today = desk.read(colonies).boxes[0].numbers.appetite_kg_per_day
    # The same colonies in the same air: the day's appetite is that of the Colony page.
    assert card.days[0].appetite_g.value == pytest.approx(1000 * today.value, rel=1e-4)
    (flag,) = [flag for flag in card.flags if flag.what.key == "colony.own"]
    assert flag.what.text.startswith("this begins from today's Beetle box by its log: ")
    assert flag.what.text.endswith("counted on 4 May 2026")


def test_a_typed_number_wins_over_the_log(desk):
    desk.note_colony(Look(counted="200", part="5%"))
    typed = Asked(size="300")
    card = ask(desk, ahead, typed, days="5d")
    assert "colony.own" not in keys(card)
    assert card == desk.work(lambda known: ahead(known, typed, days="5d"))


def test_a_box_of_which_nobody_knows_is_asked_for_a_count(desk, clock):
    with pytest.raises(Impossible, match="Beetle box does not tell how many there are: nobody has counted here yet"):
        ask(desk, least)
    desk.note_colony(Look(counted="0", part="5%"))
    with pytest.raises(Impossible, match="nothing alive was counted in Beetle box on 4 May 2026: count again first"):
        ask(desk, least)
    desk.note_colony(Look(counted="40", part="5%"))
    clock.advance(days=60)
    with pytest.raises(Impossible, match="the last count is of 4 May 2026"):
        ask(desk, least)


def test_with_two_boxes_the_log_of_one_is_named(desk):
    desk.write(lambda tx, pen: rooms.set_up(tx, pen, [PlaceSet("second", "Second box", PlaceKind.ENCLOSURE)]))
    desk.note_colony(Look(place="second", grade="hundreds"))
    assert "Second box" in ask(desk, least, days="20d").flags[-2].what.text, "the only one that was counted"
    desk.note_colony(Look(place="beetle-box", grade="hundreds"))
    with pytest.raises(UnknownName, match="which box"):
        ask(desk, least)
    assert "colony.own" in keys(ask(desk, least, box="Second box", days="20d"))


def test_feeding_up_takes_the_ration_of_the_log_to_the_day_it_begins(desk, clock):
    desk.note_colony(Look(counted="100", part="5%", fed="60 g"))
    clock.advance(days=6)
    desk.note_colony(Look(fed="60 g"))
    clock.advance(days=6)
    desk.note_colony(Look(counted="100", part="5%", fed="60 g"))
    card = ask(desk, ramp_up, season="90d", target="100 g")
    # By hand: three times 60 g in 13 days.
    assert card.held_kg_per_day == pytest.approx(0.180 / 13, rel=1e-6)
    assert card.begin_day is not None
    assert card.start.low < card.start.high
    dried = ask(desk, ramp_up, Asked(dried="yes"), season="90d", target="100 g")
    # The same dry matter is 0.26 / 0.80 of the mass as dried meat.
    assert dried.held_kg_per_day == pytest.approx(0.180 / 13 * 0.26 / 0.80, rel=1e-6)


def test_the_last_reading_is_not_warned_of_for_days_nobody_has_seen(desk):
    desk.note_colony(Look(counted="100", part="5%", temperature="28 C", humidity="74%"))
    assert not [key for key in keys(ask(desk, ahead, days="40d")) if key.startswith("colony.warn")]
    assert "colony.warn.lid_and_screens" in keys(ask(desk, ahead, Asked(temperature="28 C"), days="40d"))


def test_its_own_air_is_used_unless_another_is_typed(desk):
    desk.note_colony(Look(counted="100", part="5%", temperature="22 C"))
    own, warm = ask(desk, ahead, days="40d"), ask(desk, ahead, Asked(temperature="29 C"), days="40d")
    assert own.days[-1].appetite_g.value < warm.days[-1].appetite_g.value


def test_a_house_that_is_typed_is_used(desk):
    desk.note_colony(Look(counted="100", part="5%", sites="20 L"))
    few = ask(desk, ahead, Asked(sites="10"), days="60d")
    assert few.days[-1].pupae.value < ask(desk, ahead, days="60d").days[-1].pupae.value


def test_another_first_day_than_today_wants_a_number(desk):
    desk.note_colony(Look(counted="100", part="5%"))
    with pytest.raises(Impossible, match="Beetle box is known as it is today; leave the first day empty"):
        ask(desk, away, first_day="2026-06-01", days="7d")
    assert "colony.own" in keys(ask(desk, away, first_day="2026-05-04", days="7d"))


def test_thinning_still_wants_a_count_even_where_the_log_has_one(desk):
    desk.note_colony(Look(grade="the bedding moves"))
    assert ask(desk, thin, needed="0 g").do == "count"
    assert ask(desk, thin, needed="0 g", counted="1d").share_at_most <= 0.25


def test_a_colony_by_its_log_is_the_same_whoever_asks(desk):
    desk.note_colony(Look(counted="100", part="5%"))
    assert ask(desk, least, days="20d") == ask(desk, least, replace(Asked(), size=""), days="20d")
