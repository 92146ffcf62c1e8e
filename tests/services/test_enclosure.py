"""The box by a few numbers and by its file: what a run and a power cut tell, and what is refused."""

from datetime import UTC, datetime

import pytest

from bonebench.door import NoBook
from bonebench.errors import BonebenchError
from bonebench.files.enclosure_toml import enclosure_of, example
from bonebench.services.enclosure.around import Surroundings, told
from bonebench.services.enclosure.cut import cut_power
from bonebench.services.enclosure.described import FewNumbers, box_of_numbers
from bonebench.services.enclosure.run import simulate_box

NOBODY = NoBook(clock=lambda: datetime(2026, 1, 5, tzinfo=UTC))
SIZES = {"length": "1.20 m", "width": "0.65 m", "height": "0.80 m", "wall": "65 mm"}
FEW = FewNumbers(**SIZES, watts="100 W", low_holes="1", high_holes="1", fan="63 m3/h", pavers="40 kg")
COLD = Surroundings(building="5 C", humidity="80 %", days="3d")


def run(box=None, given=COLD, **more):
    return NOBODY.work(lambda known: simulate_box(known, box=box or box_of_numbers(FEW), given=given, **more))


def cut(box=None, **asked):
    return NOBODY.work(lambda known: cut_power(known, box=box or box_of_numbers(FEW), **asked))


def keys(card):
    return {flag.what.key for flag in card.flags}


def test_the_heater_gives_what_walls_and_air_take():
    # By hand: at rest P = (UA + m c_p) (T - T_b) + latent heat of the water given off - the colony's heat.
    card = run(given=Surroundings(building="5 C", humidity="80 %", days="14d", water="0 g", colony="0 W"))
    gap = card.year.t_mean_c - 5.0
    air_kg_h = (
        card.year.air_changes_h * (1.07 * 0.52 * 0.67) * 0.99 * 1.177
    )  # air by volume inside; 0.99 is left by what lies in it
    watts = card.conductance_w_k * gap + air_kg_h / 3600 * 1006 * gap
    # The air's own volume inside and its swings within a cycle: within 6 %.
    assert card.year.heater_kwh == pytest.approx(watts * 24 * 14 / 1000, rel=0.06)
    assert card.balance_error.heat < 1e-9
    assert card.balance_error.water < 1e-9


def test_the_bill_is_a_range_that_holds_the_likely_value_and_money_follows():
    card = run(price="0.20")
    assert card.heater_kwh_low < card.year.heater_kwh < card.heater_kwh_high
    money = next(f.value.values for f in card.facts if f.value.key == "enclosure.money")
    assert float(money["value"]) == pytest.approx(0.20 * (card.year.heater_kwh + card.year.fan_kwh), abs=0.006)


def test_a_figure_that_was_stated_leaves_the_list_of_those_to_sharpen():
    def places(box):
        return {line.key for line in run(box).basis}

    assert "heater.set" in places(box_of_numbers(FEW))
    stated = box_of_numbers(FewNumbers(**SIZES, watts="100 W", low_holes="1", settings="heater.set=26 C; box.conductance=1.4 W/K"))
    assert "heater.set" not in places(stated)
    assert run(stated).conductance_w_k == 1.4


STRONG_FAN = (
    "box.conductance=1.7 W/K; duct.diameter=6 cm; fan.free_flow=11 m3/h; fan.shut_off=30 Pa; duct.length=1 m; duct.height=45 cm; "
    "humidistat.on=50 %"
)


def test_a_weak_heater_with_a_strong_fan_is_told_to_fight():
    # physics.md, LU: with 60 W, 1.7 W/K and a fan of some litres a second in a shed 20 K colder they latch, with 100 W they do not.
    shed = Surroundings(building="7 C", humidity="72 %", days="3d", water="21.6 g", colony="0 W")
    for watts, fights in (("60 W", True), ("100 W", False)):
        few = FewNumbers(**SIZES, watts=watts, low_holes="1", high_holes="1", settings=STRONG_FAN)
        card = run(box_of_numbers(few), shed)
        assert ("enclosure.latch" in keys(card)) is fights
        assert card.latched is fights


def test_a_cold_dry_building_with_many_holes_is_told_to_be_too_dry():
    few = FewNumbers(**SIZES, watts="150 W", low_holes="6", high_holes="6")
    assert "enclosure.dry" in keys(run(box_of_numbers(few), Surroundings(building="0 C", humidity="60 %", days="7d")))


def test_frozen_heads_cool_the_box_and_bring_their_water():
    cold = {"building": "5 C", "humidity": "80 %", "days": "3d", "water": "5 g"}
    quiet, with_heads = run(given=Surroundings(**cold)), run(given=Surroundings(**cold, heads="3", head="2 kg"))
    # By hand: 6 kg at 2.0 kJ/kgK over 16.5 K frozen, 0.72 of it water of which 93 % melts at 334 kJ/kg, 3.5 kJ/kgK over 28 K:
    # 6 * (33 + 224 + 98) kJ = 0.59 kWh; the last head is in for a day only, and heads put off some turns of the fan.
    assert with_heads.year.heater_kwh - quiet.year.heater_kwh == pytest.approx(0.59, rel=0.3)


def test_heads_give_their_water_in_bursts_and_no_more_than_they_hold():
    told_of = told(Surroundings(building="5 C", days="30d", heads="2", head="1 kg", colony="0 W"), 101_325.0)
    water = told_of.around.water_kg_s
    assert water[0] > 5 * water[14 * 24]
    assert water[15 * 24] > 5 * water[14 * 24], "the second head is a burst of its own"
    # 0.55 kg for each kilogram, all but exp(-5) of the first and of the second gone within 15 days each.
    assert float(water.sum()) * 3600 == pytest.approx(2 * 0.55, rel=0.01)
    # physics.md 1.7: a kilogram of water to lose in a week is about 6 g/h on the mean of that week.
    assert 3.6e6 * float(water[: 7 * 24].mean()) / 0.55 == pytest.approx(6, rel=0.12)


def test_a_day_of_hours_comes_again():
    warm_noon = "; ".join(["2 C"] * 12 + ["12 C"] * 12)
    card = run(given=Surroundings(building=warm_noon, humidity="70 %", days="3d"))
    assert max(card.curve.building_c) == pytest.approx(12, abs=0.01)
    assert min(card.curve.building_c[48:]) == pytest.approx(2, abs=0.01)


def test_hot_water_buys_hours_and_the_end_that_loses_more_cools_sooner():
    card = cut(outdoor="-10 C", building="5 C", help_water=("10 L@60 C",))
    for plain, helped in zip(card.hours_to, card.with_water, strict=True):
        assert plain.low <= plain.hours <= (plain.high or 1e9)
        assert helped.hours > plain.hours
    # Energy by hand: 10 L from 60 to 15 degC hold 0.52 kWh, the pavers 40 kg * 880 J/kgK * 11.5 K = 0.11 kWh.
    fifteen = next(n for n, line in enumerate(card.hours_to) if line.to_c == 15)
    assert card.with_water[fifteen].hours > 2 * card.hours_to[fifteen].hours


def test_too_much_hot_water_is_told_to_cook_the_colony():
    assert "enclosure.cut.cooks" in keys(cut(building="15 C", help_water=("40 L@80 C",)))


def test_the_example_file_runs_and_cools():
    box = enclosure_of(example())
    assert run(box).year.hours == 72
    assert cut(box, building="0 C").hours_to[0].hours > 0


@pytest.mark.parametrize("key", ["box.fire", "box.emitter", "box.lamp", "box.power"])
def test_a_heated_box_comes_with_what_can_hurt(key):
    assert key in {caution.key for caution in run().cautions}


def test_bottles_come_with_their_caution():
    assert "box.bottles" in {caution.key for caution in cut(building="0 C", help_water=("5 L@60 C",)).cautions}


REFUSED = [
    (lambda: box_of_numbers(FewNumbers(**{**SIZES, "wall": "65"}, low_holes="1")), "65"),
    (lambda: box_of_numbers(FewNumbers(**{**SIZES, "wall": "40 cm"}, low_holes="1")), "no room between its walls"),
    (lambda: box_of_numbers(FewNumbers(**SIZES, low_holes="many")), "no number of holes"),
    (lambda: box_of_numbers(FewNumbers(**SIZES, low_holes="1", low_height="2 m")), "above the box"),
    (lambda: box_of_numbers(FewNumbers(**SIZES, low_holes="1", fan="63 m3/h", settings="humidistat.off=60 %")), "thresholds cross"),
    (lambda: box_of_numbers(FewNumbers(**SIZES, low_holes="1", fan="63 m3/h", settings="fan.shut_off=-3 Pa")), "fan.shut_off"),
    (lambda: run(given=Surroundings(building=None)), "how warm is the building"),
    (lambda: run(given=Surroundings(building="5 C", days="0d")), "1 to 366 days"),
    (lambda: run(given=Surroundings(building="5 C", heads="1.5")), "frozen heads cannot be"),
    (lambda: run(given=Surroundings(building="5 C; 6 C", days="3d")), "2 values for 72 hours"),
    (lambda: run(step="120 s"), "step"),
    (lambda: run(step="7 s"), "does not fill an hour"),
    (cut, "how cold is it"),
    (lambda: cut(building="5 C", help_water=("10 L",)), "10 L@60 C"),
    (lambda: cut(building="5 C", help_water=("10 L@120 C",)), "bursts bottles"),
]


@pytest.mark.parametrize(("ask", "words"), REFUSED)
def test_what_cannot_be_is_refused_in_words(ask, words):
    with pytest.raises(BonebenchError) as fault:
        ask()
    assert words in fault.value.said.text
