"""Baths as things in the book: made, tested, topped up, changed, thrown away; and what Today asks of them."""

from datetime import timedelta

import pytest

from bonebench.door import Door, Happened, NewBath
from bonebench.errors import InputError, NotAQuantity, UnknownName
from bonebench.services.cards import as_json
from bonebench.shop.cautions import DEFER
from tests.conftest import Clock

from .hands import flags, moved, press, take_in


def tub(door: Door, **more: str):
    said = {"place": "tub", "stock": "35%", "strength": "3%", "volume": "10 L", **more}
    return door.make_bath(NewBath(**said))  # type: ignore[arg-type]


def pot(door: Door, **more: str):
    return door.make_bath(NewBath(place="pot", dose="1 %", volume="20 L", temperature="45 C", **more))  # type: ignore[arg-type]


def happened(door: Door, bath: str, what: str, **values: str):
    return door.note_bath(Happened(bath=bath, what=what, values=values))[1]


def test_a_bath_that_was_made_stands_in_its_place_with_its_birth_and_its_cautions(desk: Door):
    card = tub(desk)
    assert (card.name, card.place, card.recipe, card.live, card.made_w) == ("Tub no. 1", "tub", "peroxide", True, 0.03)
    assert card.cautions[-1].key == DEFER
    assert {"peroxide.eyes", "peroxide.vent"} <= {c.key for c in card.cautions}
    assert desk.baths().rows[0].id == card.id


def test_what_went_in_of_the_stock_is_worked_out_for_the_book(desk: Door):
    # bench 1.2: 10 L of 3 % from 35 % at 20 °C takes 0.8647 kg.
    tub(desk)
    (state,) = _baths(desk)
    assert state.stock_kg == pytest.approx(0.8647, abs=0.0005)


def _baths(door: Door):
    from bonebench.services.baths.keep import all_baths

    with door.book.reading() as tx:
        return all_baths(tx)


def test_a_fresh_bath_is_told_as_a_range_that_asks_for_a_test(desk: Door):
    card = tub(desk)
    assert card.strength is not None
    assert card.strength.low_w < 0.03 < card.strength.high_w
    assert card.strength.tests == 0
    assert "test first" in card.strength.rests_on.text
    assert "not checked in your room" in card.strength.rests_on.text


def test_a_bath_grows_weaker_with_age_and_a_test_says_how_much(desk: Door, clock: Clock):
    tub(desk)
    clock.now += timedelta(days=10)
    before = desk.bath("tub").strength
    assert before is not None
    assert before.strength_w < 0.03
    after = happened(desk, "tub", "tested", how="permanganate", strength="2.8%").strength
    assert after is not None
    assert after.strength_w == pytest.approx(0.028, rel=0.03)  # titration is off by 2-3 %, bench 1.5
    assert after.high_w - after.low_w < before.high_w - before.low_w
    assert (after.tests, after.standing) == (1, "measured in this room")


def test_bone_in_the_tub_wears_it_out_faster(desk: Door, clock: Clock):
    tub(desk)
    clock.now += timedelta(days=6)
    empty = desk.bath("tub").strength
    clock.now -= timedelta(days=6)
    tag = take_in(desk).tag
    moved(desk, tag, "tub", "step=whiten")
    clock.now += timedelta(days=6)
    card = desk.bath("tub")
    assert empty is not None
    assert card.strength is not None
    assert card.strength.strength_w < empty.strength_w
    assert [c.tag for c in card.contents] == [tag]


def test_a_move_that_was_taken_back_did_not_load_the_bath(desk: Door, clock: Clock):
    tub(desk)
    tag = take_in(desk).tag
    entry = moved(desk, tag, "tub", "step=whiten").entry_id
    desk.undo(entry)
    clock.now += timedelta(days=6)
    assert desk.bath("tub").strength.to_floor_days > 15  # 3 % to 1.5 % at 0.03 a day is 23 days; with bone it would be under 5


def test_topping_up_never_overfills_the_vessel(desk: Door, clock: Clock):
    tub(desk, vessel_volume="10 L")
    clock.now += timedelta(days=20)
    up = desk.bath("tub").top_up
    assert up is not None
    assert up.take_out_l > 0
    assert up.stock_l <= up.take_out_l + 0.02


def test_a_bath_without_amounts_works_with_taps_alone(desk: Door):
    card = desk.make_bath(NewBath(place="tub"))
    assert card.strength is None
    assert "test it before anything goes in" in card.advice[0].text
    assert desk.bath("tub").top_up is None


def test_a_test_is_enough_where_nobody_wrote_how_it_was_mixed(desk: Door):
    desk.make_bath(NewBath(place="tub"))
    card = happened(desk, "tub", "tested", how="strip", low="1%", high="3%")
    assert card.strength is not None
    assert 0.01 <= card.strength.low_w < card.strength.high_w <= 0.035


@pytest.mark.parametrize(
    ("made", "flag"),
    [({"strength": "40%"}, "flag.bath.above_stock"), ({"stock_opened": "2030-01-01"}, "flag.bath.before_stock")],
)
def test_an_odd_birth_is_stored_and_flagged_never_refused(desk: Door, made, flag):
    assert flag in flags(tub(desk, **made))


def test_a_test_above_the_stock_is_stored_and_says_what_to_check(desk: Door):
    tub(desk)
    card = happened(desk, "tub", "tested", how="permanganate", strength="40%")
    assert "flag.bath.stronger_than_stock" in flags(card)
    assert card.entries[0].kind == "bath-tested"


@pytest.mark.parametrize(
    ("call", "kind", "words"),
    [
        (lambda d: d.make_bath(NewBath(place="attic")), UnknownName, "'attic' is no place of this room"),
        (lambda d: d.make_bath(NewBath(place="tub", recipe="lava")), UnknownName, "'lava' is no kind of bath here"),
        (lambda d: d.make_bath(NewBath(place="tub", volume="ten")), NotAQuantity, "'ten' is not a volume"),
        (lambda d: d.make_bath(NewBath(place="pot", dose="5 mL")), NotAQuantity, "'5 mL' is not a dose of detergent"),
        (lambda d: d.bath("tub"), UnknownName, "there is no bath 'tub' in this book"),
        (lambda d: happened(d, "pot", "boiled"), UnknownName, "'boiled' is nothing that happens to a bath"),
        (lambda d: happened(d, "pot", "looked", teeth="2"), InputError, "'teeth' is nothing to say when a bath was looked"),
        (lambda d: happened(d, "pot", "changed", teeth="two"), NotAQuantity, "'two' is not a number of teeth"),
        (lambda d: happened(d, "pot", "changed", sieved="perhaps"), NotAQuantity, "'perhaps' is neither yes nor no"),
        (lambda d: happened(d, "pot", "looked", clarity="pink"), UnknownName, "'pink' is no way for water to look"),
    ],
)
def test_what_cannot_be_read_is_said_in_clear_words(desk: Door, call, kind, words):
    pot(desk)
    with pytest.raises(kind) as refused:
        call(desk)
    assert words in str(refused.value)


def test_teeth_found_at_a_change_of_water_stand_in_the_log_of_the_skull_they_belong_to(desk: Door):
    pot(desk)
    tag = take_in(desk).tag
    moved(desk, tag, "pot", "step=degrease")
    card = happened(desk, "pot", "changed", sieved="yes", teeth="2", whose=tag)
    assert f"2 teeth found, of {tag}" in card.entries[0].what.text
    assert any("2 teeth found" in e.what.text for e in desk.specimen(tag).entries)
    assert flags(card) == []


def test_cloudy_water_is_changed_today_and_clear_water_by_the_calendar(desk: Door, clock: Clock):
    pot(desk)
    moved(desk, take_in(desk).tag, "pot", "step=degrease")
    today = desk.bath("pot").change_due
    assert today is not None
    assert (today - clock.now.date()).days in (6, 7)  # 2-7 days: common practice, no source
    assert happened(desk, "pot", "looked", clarity="cloudy").change_due <= clock.now.date()


def test_today_asks_for_the_change_and_one_tap_answers_it(desk: Door, clock: Clock):
    pot(desk)
    moved(desk, take_in(desk).tag, "pot", "step=degrease")
    happened(desk, "pot", "looked", clarity="fat on top")
    (task,) = [t for t in desk.today().tasks if "Change the water" in t.action.text]
    assert task.cautions[-1].key == DEFER
    clock.now += timedelta(minutes=20)
    press(desk, task.answers[0])
    assert not [t for t in desk.today().tasks if "Change the water" in t.action.text]
    assert desk.bath("pot").changes == 1


def test_today_asks_for_a_test_when_it_is_due_and_a_glance_at_a_strip_answers_it(desk: Door, clock: Clock):
    tub(desk)
    assert not [t for t in desk.today().tasks if t.action.text.startswith("Test Tub")]
    clock.now += timedelta(days=21)
    (task,) = [t for t in desk.today().tasks if t.action.text.startswith("Test Tub")]
    assert [a.label.text for a in task.answers] == ["Strip: about as mixed", "Strip: about half", "Strip: little or none"]
    press(desk, task.answers[0])
    card = desk.bath("tub")
    assert card.strength is not None
    assert card.strength.tests == 1


def test_a_bath_thrown_away_is_kept_and_out_of_the_way(desk: Door):
    tub(desk)
    gone = happened(desk, "tub", "discarded", how="stood open until a strip showed none")
    assert (gone.live, gone.answers) == (False, ())
    card = desk.baths()
    assert (card.rows, card.discarded_left_out) == ((), 1)
    assert [row.live for row in desk.baths(everything=True).rows] == [False]
    assert tub(desk).name == "Tub no. 2"


def test_the_room_says_which_bath_stands_where(desk: Door):
    name = tub(desk).name
    assert [b.name for p in desk.room().places if p.key == "tub" for b in p.baths] == [name]


def test_a_room_that_writes_no_bath_down_is_asked_nothing_about_them(desk: Door):
    moved(desk, take_in(desk).tag, "pot", "step=degrease")
    assert not [t for t in desk.today().tasks if "water of" in t.action.text]
    assert desk.baths().teach is not None


def test_the_rooms_own_tests_move_what_is_said_of_its_next_bath(desk: Door, clock: Clock):
    shipped = tub(desk).strength
    for _ in range(4):
        clock.now += timedelta(days=4)
        happened(desk, "tub", "tested", how="permanganate", strength="1.9%")  # far faster than the shipped 0.03 a day
        happened(desk, "tub", "discarded", how="stood open")
        tub(desk)
    now = desk.bath("tub").strength
    assert shipped is not None
    assert now is not None
    assert now.half_life_days < shipped.half_life_days


def test_a_rebuild_comes_to_the_same_baths(desk: Door):
    tub(desk)
    happened(desk, "tub", "looked", temperature="19 C")
    before = as_json(desk.bath("tub"))
    desk.rebuild()
    assert as_json(desk.bath("tub")) == before
