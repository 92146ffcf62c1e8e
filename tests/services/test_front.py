"""The front of the route: a forecast as people type it, and the thaw shelf by mass and warmth."""

from datetime import date

import pytest

from bonebench.errors import Impossible, NotAQuantity, OutsideRange, UnknownName
from bonebench.figures import Standing
from bonebench.services.front.outdoors import outdoors, read_forecast
from bonebench.services.front.shelf import thaw

MONDAY = date(2026, 1, 12)


def forecast(door, text):
    return door.work(lambda known: outdoors(known, today=MONDAY, warmest=text))


def shelf(door, **asked):
    return door.work(lambda known: thaw(known, **asked))


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("-7, -9, -4 C", (-7, -9, -4)),
        ("-7 C -9 C", (-7, -9)),
        ("\u22127.5; \u22123 °C", (-7.5, -3)),
        ("14 F, 5 F", (-10, -15)),  # 14 degF is -10 degC and 5 degF is -15 degC, exactly
        ("14 5 f", (-10, -15)),
    ],
)
def test_a_forecast_is_read_as_people_type_it(text, celsius):
    assert read_forecast(text) == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "fault", "words"),
    [
        ("-7, -9", NotAQuantity, "'-7, -9' has no unit; write C or F behind the last"),
        ("-7,9 C", NotAQuantity, "'-7,9 C' can be read two ways"),
        ("cold", NotAQuantity, "'cold' is no forecast; write each day's warmest like -7, -9, -4 C"),
        ("-7 C, then warmer", NotAQuantity, "is no forecast"),
        ("-300 C", OutsideRange, "cannot be that small"),
        ("99 C", OutsideRange, "99 °C is no weather"),
        (" ".join(["-7"] * 17) + " C", OutsideRange, "17 days are typed; a forecast is for 16 at most"),
        ("", Impossible, "a forecast without a day says nothing"),
    ],
)
def test_a_forecast_that_cannot_be_is_refused_in_words(desk, text, fault, words):
    with pytest.raises(fault, match=words):
        forecast(desk, text)


def test_heads_come_in_on_the_first_day_that_is_not_cold_all_through(desk):
    card = forecast(desk, "-7, -9, -6, -5, -12 C")
    assert (card.last_day, card.bring_in) == (date(2026, 1, 14), date(2026, 1, 15))
    assert card.title.text.startswith("Bring them in on Thursday 15 Jan 2026")
    assert any("no animal opens" in step.text for step in card.steps)
    assert {line.standing for line in card.basis} == {Standing.PRACTICE}
    assert "freezer.raw" in {caution.key for caution in card.cautions}


def test_a_warm_day_sends_them_to_the_freezer_and_frost_never_counts_as_the_frozen_hold(desk):
    card = forecast(desk, "3 C")
    assert (card.last_day, card.bring_in) == (None, MONDAY)
    assert [step.key for step in card.steps] == ["outdoors.freezer"]
    assert "do not count as its frozen hold" in card.flags[0].next.text


def test_a_heavier_head_takes_longer_and_a_warmer_shelf_less(desk):
    light, heavy = shelf(desk, head_mass="0.5 kg", shelf="6 C"), shelf(desk, head_mass="5 kg", shelf="6 C")
    assert heavy.thaw.value > light.thaw.value
    assert heavy.freeze.value > light.freeze.value
    assert shelf(desk, head_mass="5 kg", shelf="12 C").thaw.value < heavy.thaw.value
    assert heavy.thaw.low < heavy.thaw.value < heavy.thaw.high
    assert not heavy.thaw.standing.checked
    assert "not checked in your room" in heavy.flags[-1].what.text


def test_the_animal_brings_its_own_dangers_and_an_unknown_one_counts_as_the_worst(desk):
    known = {caution.key for caution in shelf(desk, species="raccoon", shelf="6 C").cautions}
    assert {"raw.hygiene", "raw.thaw", "raw.knife", "raw.rabies", "raw.roundworm"} <= known
    assert "raw.unknown" in {caution.key for caution in shelf(desk, head_mass="1 kg", shelf="6 C").cautions}


def test_the_shelf_is_as_warm_as_the_room_has_it_unless_it_is_said(desk):
    place = next(p for p in desk.room().places if p.kind == "thaw shelf")
    desk.set_place(key=place.key, kind="thaw shelf", temperature="8 C")
    assert shelf(desk, head_mass="1 kg").shelf_c == 8
    assert shelf(desk, head_mass="1 kg", shelf="5 C").shelf_c == 5
    assert shelf(desk, head_mass="1 kg").freezer_c == -20


@pytest.mark.parametrize(
    ("asked", "fault", "words"),
    [
        ({"shelf": "6 C"}, Impossible, "which head\\? Write its mass"),
        ({"head_mass": "1 kg"}, Impossible, "nobody said how warm the thaw shelf is"),
        ({"head_mass": "0 kg", "shelf": "6 C"}, OutsideRange, "must be above 0: weigh it again"),
        ({"head_mass": "1 kg", "shelf": "-3 C"}, OutsideRange, "a head does not thaw in frost"),
        ({"head_mass": "1 kg", "shelf": "6 C", "freezer": "5 C"}, OutsideRange, "if it is not frozen"),
        ({"species": "griffin", "shelf": "6 C"}, UnknownName, "griffin"),
    ],
)
def test_what_cannot_thaw_is_refused_in_words(desk, asked, fault, words):
    with pytest.raises(fault, match=words):
        shelf(desk, **asked)
