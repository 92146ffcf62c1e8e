"""The room: what sits where, and settings that are read or refused in words. One stored setting is tried on both databases."""

from datetime import date

import pytest

from bonebench.errors import InputError, NotAQuantity, OutsideRange, UnknownName
from bonebench.records.book import about
from bonebench.services.rooms.do import person_named, starter_places
from bonebench.services.rooms.settings import read_hours, read_pairs
from bonebench.shop.steps import PlaceKind

from .hands import flags, moved, take_in


def place(card, key):
    return next(one for one in card.places if one.key == key)


def in_use(card, step):
    return next(method.key for method in card.methods if method.step == step and method.in_use)


def test_a_new_room_has_one_place_of_each_kind_in_the_order_of_the_work(door):
    card = door.room()
    assert [one.kind for one in card.places] == list(PlaceKind)
    assert (card.name, card.zone, card.units, card.people, card.teach) == ("Test room", "America/Chicago", "metric", (), None)
    assert len(starter_places()) == len(PlaceKind)


def test_what_sits_in_a_place_says_since_when_and_what_is_next(door, clock):
    tag = take_in(door, promised="2026-05-05").tag
    clock.advance(days=2)
    (sits,) = place(door.room(), "freezer").sits
    assert (sits.tag, sits.species.common, sits.parts, sits.days) == (tag, "red fox", ("skull", "mandible"), 2.0)
    assert (sits.next.text, sits.late) == ("next: thaw to trim", True)
    assert sits.planned is not None


def test_what_was_told_with_a_future_date_has_sat_no_days_yet(desk):
    tag = take_in(desk).tag
    moved(desk, tag, "pot", at="2026-06-01T08:00")
    assert [sits.days for sits in place(desk.room(), "pot").sits] == [0.0]


def test_parts_that_are_apart_are_shown_apart(desk):
    tag = take_in(desk, "white-tailed deer", parts="antlers").tag
    desk.log(tag, "moved", ["place=shelf"], parts=["antlers"])
    card = desk.room()
    assert [sits.parts for sits in place(card, "freezer").sits] == [("skull", "mandible")]
    assert [sits.parts for sits in place(card, "shelf").sits] == [("antlers",)]


def test_what_is_in_no_place_or_an_unknown_one_is_nowhere(desk):
    desk.set_place(key="freezer", kind="freezer", open=False)
    lost, attic = take_in(desk).tag, take_in(desk).tag
    moved(desk, attic, "attic")
    assert {sits.tag for sits in desk.room().nowhere} == {lost, attic}


@pytest.mark.parametrize(("holds", "full", "over"), [(None, None, False), (3, False, False), (2, True, False), (1, True, True)])
def test_a_place_says_when_it_is_full_and_when_it_holds_too_much(desk, holds, full, over):
    desk.set_place(key="freezer", kind="freezer", holds=holds)
    for _ in range(2):
        take_in(desk)
    freezer = place(desk.room(), "freezer")
    assert (freezer.holds, freezer.full, freezer.over) == (2, full, over)


def test_what_is_held_and_what_left_are_told_apart(desk):
    held, gone = take_in(desk).tag, take_in(desk).tag
    desk.log(held, "held", ["reason=papers"])
    desk.log(gone, "gone", ["why=lost"])
    assert [sits.next.text for sits in place(desk.room(), "freezer").sits] == ["on hold: papers"]


def test_a_place_is_set_up_with_the_units_people_write(door):
    door.set_place(key="Big Pot", kind="POT", name="Big pot", holds=2, volume="8 gal", mass="20 lb", temperature="113 F")
    pot = place(door.room(), "big-pot")
    # Exact by definition: a US gallon is 3.785411784 L, a pound 0.45359237 kg.
    assert (pot.name, pot.count, pot.volume_l) == ("Big pot", 2, pytest.approx(8 * 3.785411784))
    assert pot.mass_kg == pytest.approx(20 * 0.45359237)
    assert door.room().places[-1].key == "big-pot"


def test_what_is_not_said_of_a_place_stays_as_it_was(desk):
    desk.set_place(key="pot", kind="pot", name="Big pot", holds=2, volume="30 L", open=False)
    desk.set_place(key="pot", kind="pot", holds=3)
    pot = place(desk.room(), "pot")
    assert (pot.name, pot.count, pot.volume_l, pot.open) == ("Big pot", 3, 30, False)
    desk.set_place(key="pot", kind="pot", open=True)
    assert place(desk.room(), "pot").open


def test_a_box_that_becomes_something_else_eats_no_more(desk):
    desk.set_place(key="beetle-box", kind="beetle box", eats="200 g")
    assert place(desk.room(), "beetle-box").appetite_kg_per_day == pytest.approx(0.2)
    desk.set_place(key="beetle-box", kind="shelf")
    assert place(desk.room(), "beetle-box").appetite_kg_per_day is None


def test_people_have_hours_and_training_and_a_name_that_finds_them(door):
    door.set_person("Wren Halloway", ["mon 09:00-12:00", "Monday 13:00-15:00", "fri 08:00-10:00"], "teeth, beetles")
    (worker,) = door.room().people
    assert worker.hours == {"mon": (("09:00", "12:00"), ("13:00", "15:00")), "fri": (("08:00", "10:00"),)}
    assert (worker.name, worker.trained) == ("Wren Halloway", ("teeth", "beetles"))
    with door.book.reading() as tx:
        assert person_named(tx, " wren ") == person_named(tx, "WREN HALLOWAY") == worker.person
    door.set_person("wren halloway", [], "all", working=False)
    assert door.room().people == ()


def test_two_of_one_first_name_are_not_guessed_at(desk):
    for name in ("Ida Fennimore", "Ida Roake"):
        desk.set_person(name, [], "all")
    with desk.book.reading() as tx, pytest.raises(UnknownName) as refused:
        person_named(tx, "Ida")
    assert str(refused.value) == (
        "'Ida' is nobody this book knows by that name alone; known are: Ida Fennimore, Ida Roake"
    )  # fmt: skip


def test_the_zone_moves_the_day_of_the_room(desk, clock):
    clock.advance(hours=14)  # 04:00 UTC of 5 May: still the 4th in Chicago, the 5th in Warsaw (IANA)
    assert desk.today().date == date(2026, 5, 4)
    desk.describe_room(" Other room ", "Europe/Warsaw", "us")
    assert (desk.today().date, desk.room().name, desk.reader().system) == (date(2026, 5, 5), "Other room", "us")


ROUTES = [
    (["no-whitening"], {"whiten", "rinse", "dry again"}), (["no-degreasing"], {"degrease", "dry"}),
    (["straight-to-the-box"], {"freeze again"}),
    (["killed-in-the-hot-pot", "hot-pot"], {"kill what is left"}), (["killed-in-the-hot-pot", "warm-pot"], set()),
]  # fmt: skip


@pytest.mark.parametrize(("methods", "out"), ROUTES)
def test_the_methods_a_room_chooses_change_the_route_of_what_is_in_it(desk, methods, out):
    tag = take_in(desk).tag
    before = {leg.step for leg in desk.specimen(tag).route}
    for method in methods:
        desk.choose_method(method)
    assert before - {leg.step for leg in desk.specimen(tag).route} == out
    assert methods[-1] in {in_use(desk.room(), "degrease"), in_use(desk.room(), "whiten"), in_use(desk.room(), "freeze again")}


def test_heat_that_cannot_kill_is_flagged_on_every_piece_it_concerns(desk):
    added = take_in(desk)
    desk.choose_method("killed-in-the-hot-pot")
    desk.choose_method("warm-pot")
    assert "flag.kill" in flags(desk.specimen(added.tag))
    desk.choose_method("hot-pot")
    assert "flag.kill" not in flags(desk.specimen(added.tag))


def test_a_method_brings_its_own_days_into_the_plan(desk):
    tag = take_in(desk).tag
    desk.choose_method("warm-pot")
    warm = desk.specimen(tag).ready.planned
    desk.choose_method("hot-pot")
    assert desk.specimen(tag).ready.planned < warm


REFUSED = [
    (lambda door: door.describe_room("Room", "Moon/Tycho", "us"), InputError,
     "'Moon/Tycho' is no time zone; write its IANA name, such as America/Chicago"),
    (lambda door: door.describe_room("Room", "UTC", "cubits"), InputError, "'cubits' is no set of units; it is metric or us"),
    (lambda door: door.set_place(key="!!", kind="pot"), InputError,
     "'!!' cannot name a place; give it a short name, such as big-pot"),
    (lambda door: door.set_place(key="x", kind="sink"), UnknownName,
     "'sink' is no kind of place; there are: freezer, thaw shelf, trim bench, beetle box, pot, rack, glue bench, tub"),
    (lambda door: door.set_place(key="pot", kind="pot", eats="200 g"), InputError, "only a beetle box eats; pot is a pot"),
    (lambda door: door.set_place(key="pot", kind="pot", holds=-1), InputError, "count of Pot is -1; it cannot be below 0"),
    (lambda door: door.set_place(key="pot", kind="pot", volume="-3 L"), OutsideRange, "volume is -3 L; it cannot be that small"),
    (lambda door: door.set_place(key="pot", kind="pot", mass="heavy"), NotAQuantity,
     "'heavy' is not a mass; write it like 350 g or 3 lb"),
    (lambda door: door.set_person("Ida", ["noonish"], "all"), InputError,
     "hours 'noonish' cannot be read; write them like mon 09:00-12:00"),
    (lambda door: door.set_person("Ida", ["mon 12:00-09:00"], "all"), InputError,
     "hours 'mon' cannot be read; write them like mon 09:00-12:00"),
    (lambda door: door.set_person("Ida", [], "juggling"), InputError,
     "'juggling' is no kind of work; there are: raw heads, beetles, hot baths, peroxide, teeth"),
    (lambda door: door.set_person("  ", [], "all"), InputError, "a person needs a name"),
    (lambda door: door.choose_method("moonlight"), UnknownName, "'moonlight' is no method; there are: "),
    (lambda door: door.close_on(["2026-12-25", "Christmas"]), NotAQuantity, "'Christmas' is not a day; write it like 2026-05-09"),
]  # fmt: skip


def test_a_setting_that_cannot_be_is_refused_in_words_and_nothing_is_stored(desk):
    with desk.book.reading() as tx:
        before = about(tx).entries
    for act, kind, words in REFUSED:
        with pytest.raises(kind) as refused:
            act(desk)
        assert str(refused.value).startswith(words)
    with desk.book.reading() as tx:
        assert about(tx).entries == before
    assert dict(desk.surface().people) == {}


def test_closed_days_add_up(desk):
    desk.close_on(["2026-12-25"])
    desk.close_on(["2026-07-04", "2026-12-25"])
    assert desk.room().closed == (date(2026, 7, 4), date(2026, 12, 25))


def test_the_room_card_ends_by_deferring_and_shows_the_standing_of_every_method(desk):
    card = desk.room()
    assert card.cautions[-1].key == "defer"
    assert all(method.standing and method.source for method in card.methods)


def test_hours_are_read_one_stretch_a_line():
    assert read_hours(["mon 09:00 - 12:00", "MON 13:00-14:00"]) == {"mon": [("09:00", "12:00"), ("13:00", "14:00")]}


def test_pairs_are_read_as_numbers_truth_or_text():
    assert read_pairs(["a=1", "b=1.5", "c=yes", "d=No", "e=none", "f= two words ", "g=x=y"]) == {
        "a": 1, "b": 1.5, "c": True, "d": False, "e": None, "f": "two words", "g": "x=y"
    }  # fmt: skip
    with pytest.raises(InputError) as refused:
        read_pairs(["mass"])
    assert str(refused.value) == "'mass' says nothing; write it like name=value"
