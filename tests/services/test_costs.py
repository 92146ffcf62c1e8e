"""What things cost: prices said and taken back, and what a plan comes to in money."""

from datetime import time
from decimal import Decimal

import pytest

from bonebench.door import PricesTyped
from bonebench.errors import BonebenchError
from bonebench.figures import Standing
from bonebench.files.whatif_toml import Helper, Otherwise
from bonebench.science.baths.heat import Pot, steady
from bonebench.services.costs.power import pot_kwh
from bonebench.services.costs.prices import prices
from bonebench.shop.entries import ROOM
from bonebench.shop.prices import PricesSet

from .hands import flags, take_in
from .test_what_if import POT, ask, crowd


def say(door, currency="EUR", since=None, **paid):
    door.set_prices(PricesTyped(currency=currency, since=since, prices={key.replace("_", "-"): text for key, text in paid.items()}))


def shown(door):
    return {one.key: one.price for one in door.read(prices).prices}


def lines(side):
    return {line.key: line for line in side.cost.lines}


def test_prices_stay_until_they_are_said_anew_and_none_takes_one_back(desk):
    assert flags(desk.read(prices)) == ["prices.nothing"]
    say(desk, kwh="0.1532", hour="20")
    say(desk, None, hour="none", since="2026-01-01")
    say(desk, None, hour="0")
    card = desk.read(prices)
    assert (card.currency, shown(desk)["kwh"], shown(desk)["hour"], card.flags) == ("EUR", "0.1532", "0", ())
    say(desk, None, hour="none")
    assert shown(desk)["hour"] is None


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (PricesTyped(prices={"kwh": "0.3"}), "say the currency first"),
        (PricesTyped(currency="EUT", prices={"kwh": "0.3"}), "'EUT' is no currency"),
        (PricesTyped(currency="EUR", prices={"kwhh": "0.3"}), "'kwhh' is nothing that has a price here"),
        (PricesTyped(currency="EUR"), "no price was given"),
        (PricesTyped(currency="EUR", prices={"kwh": "dear"}), "'dear' is no price"),
        (PricesTyped(currency="EUR", since="1850-01-01", prices={"kwh": "1"}), "more than ten years"),
    ],
)
def test_what_cannot_be_a_price_is_refused_in_words(desk, typed, words):
    with pytest.raises(BonebenchError, match=words):
        desk.set_prices(typed)
    assert desk.read(prices).currency is None


def test_a_price_that_came_from_elsewhere_and_cannot_be_read_is_kept_and_flagged(desk):
    what = {"currency": "EUR", "since": "2026-01-01", "prices": {"kwh": "dear", "hour": "20"}}
    desk.tap(kind=PricesSet.KIND, subjects=[ROOM], values=what)
    desk.tap(kind=PricesSet.KIND, subjects=[ROOM], values={**what, "currency": "EUT"})
    assert (shown(desk)["kwh"], shown(desk)["hour"]) == (None, "20")
    assert {"flag.price", "flag.currency"} <= set(flags(desk.room()))


def test_hands_cost_the_minutes_of_the_plan_at_the_price_of_an_hour(desk):
    crowd(desk, 2)
    say(desk, hour="12")
    as_it_is = ask(desk, POT).sides[0]
    hands = lines(as_it_is)["hour"]
    planned = desk.plan(365).tasks
    assert planned, "there must be something to do"
    # By hand: hours times 12, in cents.
    assert hands.cost_minor == round(hands.amount * 1200)
    assert as_it_is.cost.total_minor == hands.cost_minor
    assert hands.words.text == f"our own hands: {hands.amount:g} h at 12.00 EUR, {hands.cost_minor / 100:.2f} EUR"


def test_a_change_is_laid_beside_the_room_as_it_is_in_money(desk):
    crowd(desk, 2)
    say(desk, whiten="2.50", hour="0")
    bought = Otherwise(name="one more pot", more={"pot": 1}, buys="45")
    card = ask(desk, bought, Otherwise(name="plain", without=("whitening",)))
    pot, plain = card.sides[1].cost, card.sides[2].cost
    assert pot.compared.text == "it costs 45.00 EUR more"
    # Two skulls whitened at 2.50.
    assert (lines(card.sides[0])["whiten"].amount, lines(card.sides[0])["whiten"].cost_minor) == (2, 500)
    assert plain.compared.text == "it costs 5.00 EUR less"


def test_a_helper_is_paid_for_the_hours_there_and_their_work_is_not_counted_twice(desk):
    crowd(desk, 3)
    say(desk, helper_hour="10", hour="10")
    saturdays = Otherwise(name="a helper", helper=Helper((5,), time(9), time(13)))
    before, after = (lines(side) for side in ask(desk, saturdays).sides)
    assert "helper-hour" not in before
    assert after["helper-hour"].amount % 4 == pytest.approx(0)  # whole Saturdays of four hours
    assert after["helper-hour"].cost_minor == round(1000 * after["helper-hour"].amount)
    assert after["hour"].amount <= before["hour"].amount


def test_what_is_used_and_has_no_price_is_named_and_not_taken_for_nothing(desk):
    crowd(desk, 2)
    bare = ask(desk, POT)
    assert (bare.sides[0].cost.total_minor, bare.sides[0].cost.words.text) == (None, "no prices set")
    assert bare.sides[1].cost.compared.key == "cost.same_hands"
    say(desk, hour="10")
    card = ask(desk, POT)
    assert "materials for whitening" in card.sides[0].cost.without
    assert "our own hands" not in card.sides[0].cost.without
    assert "what_if.no_price" in flags(card)


def test_a_sum_without_a_currency_is_shown_and_counted_nowhere(desk):
    take_in(desk)
    cost = ask(desk, Otherwise(name="pot", more={"pot": 1}, buys="45.00")).sides[1].cost
    assert (cost.total_minor, "having it at all" in cost.without) == (None, True)
    assert ask(desk, Otherwise(name="pot", more={"pot": 1}, buys="45 USD")).sides[1].cost.total_minor == 4500


def test_a_helper_without_a_price_is_not_told_as_costing_nothing(desk):
    crowd(desk, 3)
    say(desk, hour="0")
    helper = Otherwise(name="a helper", helper=Helper((5,), time(9), time(13)))
    words = ask(desk, helper).sides[1].cost.compared.text
    assert words == "it costs the same, without the helper: no price is known"
    say(desk, helper_hour="10")
    card = ask(desk, helper)
    assert "without" not in card.sides[1].cost.compared.text
    assert "what_if.cost_rests" not in flags(card)  # an hour of 0 rests on nothing
    say(desk, hour="10")
    assert "what_if.cost_rests" in flags(ask(desk, helper))


def test_one_more_box_costs_its_days(desk):
    take_in(desk)
    say(desk, box_day="1.00")
    side = ask(desk, Otherwise(name="box", more={"beetle box": 1})).sides[1]
    box = lines(side)["box-day"]
    assert box.cost_minor == round(100 * box.amount) > 0
    assert "box-day" not in lines(ask(desk, POT).sides[1])


def test_a_pot_by_its_size_is_a_range_and_a_price_for_its_day_wins(desk):
    crowd(desk, 2)
    key = next(place.key for place in desk.room().places if place.kind == "pot")
    desk.set_place(key=key, kind="pot", volume="20 L")
    say(desk, kwh="0.30")
    as_it_is = ask(desk, POT).sides[0]
    power = lines(as_it_is)["kwh"]
    assert power.amount_low < power.amount < power.amount_high
    assert as_it_is.cost.total_low_minor < as_it_is.cost.total_high_minor
    assert next(one for one in ask(desk, POT).basis if one.key == "power for the pots").standing is Standing.ESTIMATE
    say(desk, pot_day="0.50")
    by_day = lines(ask(desk, POT).sides[0])
    assert "kwh" not in by_day
    assert by_day["pot-day"].cost_minor == round(50 * by_day["pot-day"].amount)


def test_the_power_of_a_pot_holds_that_of_the_bench_for_the_same_pot_and_grows_with_days():
    # 20 L as wide as high: 29.42 cm across, 0.0680 m2 of open water, wall and floor five times that (by hand).
    wide = (4 * 0.020 / 3.14159265) ** (1 / 3)
    assert wide == pytest.approx(0.2942, abs=1e-4)
    held = steady(Pot(volume_l=20, open_m2=0.0680, wall_m2=0.3400, room_c=20.0), 45.0)
    found = pot_kwh(20.0, 45.0, 10.0, 2)
    assert found.value == pytest.approx(10 * held.kwh_per_day.value + 2 * held.warm_up_kwh, rel=2e-3)
    assert found.low < found.value < found.high
    assert pot_kwh(20.0, 45.0, 11.0, 2).value > found.value


def test_a_pot_whose_size_or_warmth_nobody_knows_has_no_power_and_a_cold_one_takes_none():
    assert pot_kwh(None, 45.0, 1.0, 1) is None
    assert pot_kwh(20.0, None, 1.0, 1) is None
    assert pot_kwh(5000.0, 45.0, 1.0, 1) is None  # a vat: the what-if goes on without its power
    assert pot_kwh(20.0, 20.0, 1.0, 1).value == 0


def test_the_price_of_the_day_counts_and_not_a_later_one(desk):
    crowd(desk, 2)
    say(desk, whiten="1")
    say(desk, whiten="9", since=f"{desk.now().year + 1}-12-01")
    assert lines(ask(desk, POT).sides[0])["whiten"].cost_minor == 200
    assert Decimal(next(one for one in desk.read(prices).prices if one.key == "whiten").next_price) == 9
