import numpy as np
import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colony.advice import MOST_THINNED, Why, feed, queue, second_colony, thin, warnings, water
from bonebench.science.colony.feeding import Air, going_away, least_ration, loss_by, ramp_up
from bonebench.science.colony.forecast import forecast, likely_colonies
from bonebench.science.colony.model import Housing, conditions

BOX = Housing(0.12, 1500)


@pytest.fixture(scope="module")
def draws():
    return likely_colonies(np.random.default_rng(11), 4000, count=60)


@pytest.fixture(scope="module")
def fed(draws):
    return forecast(draws, BOX, conditions(30, 27, 0.55))


def test_a_hungry_colony_is_fed_what_it_can_eat_and_one_with_food_left_is_not(draws):
    short = feed(forecast(draws, BOX, conditions(3, 27, 0.55, food_kg_per_day=0.001)), 1)
    assert (short.do, short.why) == ("feed", Why.HUNGRY)
    assert short.numbers["short_by"].value > 0
    full = feed(forecast(draws, BOX, conditions(3, 27, 0.55, food_kg_per_day=2.0)), 1)
    assert (full.do, full.why) == ("hold back", Why.FOOD_LEFT)
    assert not full.numbers["could_eat"].standing.checked


def test_thinning_is_never_more_than_a_quarter_and_never_before_a_count(fed):
    assert thin(fed, 0.0, counted_days_ago=None).do == "count"
    assert thin(fed, 0.0, counted_days_ago=15).why is Why.NOT_COUNTED
    most = thin(fed, 0.0, counted_days_ago=2)
    assert most.do == "thin"
    assert most.numbers["share_at_most"].high == MOST_THINNED == 0.25
    assert thin(fed, 10.0, counted_days_ago=2).do == "keep all"


def test_a_ration_is_a_range_that_keeps_what_it_says(draws):
    air = Air(60, 19.0, 0.5)
    ration = least_ration(draws, BOX, air)
    assert 0 < ration.kg_per_day.low < ration.kg_per_day.value < ration.kg_per_day.high
    # The law: at the upper end nine draws in ten and more keep half of their mass, at a third of the lower end hardly any.
    for kg, share in ((ration.kg_per_day.high, 0.85), (ration.kg_per_day.low / 3, None)):
        told = forecast(draws, BOX, air.fed(kg, 0.26)).paths("live_kg")
        kept = np.mean(told[:, -1] >= 0.5 * told[:, 0])
        assert kept >= share if share else kept <= 0.2


def test_more_to_keep_needs_no_less_food(draws):
    air = Air(40, 20.0, 0.5)
    assert least_ration(draws, BOX, air, keep=0.8).kg_per_day.value >= least_ration(draws, BOX, air, keep=0.4).kg_per_day.value
    with pytest.raises(OutsideRange, match="to keep 0 % of a colony"):
        least_ration(draws, BOX, air, keep=0)


def test_no_food_keeps_a_colony_in_a_freezer(draws):
    with pytest.raises(Impossible, match="no food keeps 50 % of the colony through 5 days of this air: keep it warmer"):
        least_ration(draws, BOX, Air(5, -20.0, 0.5))


def test_feeding_up_begins_earlier_for_more_and_in_cooler_air(draws):
    warm = Air(150, 28.0, 0.55)
    some, more = (ramp_up(draws, BOX, warm, season_day=120, target_kg_per_day=kg) for kg in (0.08, 0.2))
    assert some.begin_day > more.begin_day
    assert more.food_kg.value > some.food_kg.value
    cool = ramp_up(draws, BOX, Air(150, 22.0, 0.55), season_day=120, target_kg_per_day=0.2)
    assert cool.begin_day is None or cool.begin_day < more.begin_day
    never = ramp_up(draws, BOX, Air(30, 16.0, 0.5), season_day=30, target_kg_per_day=5.0)
    assert (never.begin_day, never.chance) == (None, 0.0)
    with pytest.raises(OutsideRange, match="a target of 0 g a day"):
        ramp_up(draws, BOX, warm, season_day=1, target_kg_per_day=0)


def test_a_queue_is_eaten_when_the_appetites_add_up_to_it(fed):
    days, share = queue(fed, 1.0)
    assert share > 0.5
    middle = np.median(np.cumsum(fed.paths("appetite_kg"), axis=1), axis=0)
    assert days.value == pytest.approx(np.argmax(middle >= 1.0) + 1, abs=1)
    assert queue(fed, 1e4) == (None, 0.0)
    with pytest.raises(OutsideRange, match="a queue of -1 g"):
        queue(fed, -0.001)


def test_going_away_loads_little_fresh_and_the_rest_dried_and_few_go_hungry(draws):
    away = going_away(draws, BOX, Air(10, 26.0, 0.5))
    eats = forecast(draws, BOX, conditions(2, 26, 0.5)).paths("appetite_kg").sum(axis=1)
    # By its definition the fresh load is finished within two days by all but one in twenty.
    assert np.mean(eats >= away.fresh_kg.value) >= 0.93
    assert away.dried_kg.value > 0
    assert away.neighbour
    assert away.hungry <= 0.1
    assert not going_away(draws, BOX, Air(3, 26.0, 0.5)).neighbour


def test_a_dead_heater_in_frost_costs_most_of_the_larvae_and_a_cool_day_little(draws):
    air = np.full(20 * 24, 27.0)
    frost, cool = air.copy(), air.copy()
    frost[48:96] = -8.0
    cool[48:72] = 12.0
    usual = Air(20, air, 0.5)
    lost = loss_by(draws, BOX, Air(20, frost, 0.5), usual)
    assert lost.larvae.low > 0.5
    assert lost.adults.value > 0.3
    assert loss_by(draws, BOX, Air(20, cool, 0.5), usual).larvae.value < 0.2
    with pytest.raises(Impossible, match="19 days are held against 20"):
        loss_by(draws, BOX, Air(19, air, 0.5), usual)


def test_a_second_colony_for_the_work_or_for_insurance(fed):
    assert second_colony(fed, 100.0, has_spare=True).why is Why.CROWDED
    assert second_colony(fed, 0.0, has_spare=False).why is Why.INSURANCE
    assert second_colony(fed, 0.0, has_spare=True) is None


def test_water_is_asked_for_only_when_nothing_wet_lies_there():
    assert water(0.5, dried_food=False) is None
    assert water(2.0, dried_food=False).do == "water"
    assert water(0.5, dried_food=True).do == "water"
    assert water(None, dried_food=False).do == "water"


def test_warnings_of_air_species_and_pests():
    air, damp = np.full(72, 27.0), np.full(72, 0.5)
    assert [a.why for a in warnings(air, damp, has_water=True)] == [Why.NEAR_FLIGHT]
    damp[:30] = 0.72
    assert Why.DAMP in {a.why for a in warnings(air, damp, has_water=True)}
    damp[:50] = 0.8
    air[3] = 39.0
    whys = [a.why for a in warnings(air, damp, has_water=True, species="Dermestes lardarius", pests=["mites"])]
    assert whys[:4] == [Why.PEST, Why.OTHER_SPECIES, Why.HOT, Why.WET]
    dry = np.full(72, 0.3)
    assert Why.DRY in {a.why for a in warnings(np.full(72, 24.0), dry, has_water=False)}
    assert warnings(np.full(72, 24.0), dry, has_water=True) == ()
    assert warnings(np.full(72, np.nan), np.full(72, np.nan), has_water=False) == ()


def test_a_ration_until_then_decides_when_feeding_up_begins_and_it_is_the_latest_day_in_time(draws):
    air, wanted = Air(60, 28.0, 0.55), {"season_day": 50, "target_kg_per_day": 0.12}
    poor, rich = (ramp_up(draws, BOX, air, held_kg_per_day=kg, **wanted) for kg in (0.005, 0.02))
    assert poor.begin_day < rich.begin_day
    assert poor.start.value < rich.start.value

    def in_time(begin):
        """By hand, without the search: held to that day, fed from it on, there by the season."""
        start = forecast(draws, BOX, conditions(begin, 28.0, 0.55, food_kg_per_day=0.02)).ends if begin else draws
        told = forecast(start, BOX, conditions(51 - begin, 28.0, 0.55))
        return float((told.paths("appetite_kg") >= 0.12).any(axis=1).mean())

    assert in_time(rich.begin_day) >= 0.8 > in_time(rich.begin_day + 1)


def test_held_at_all_they_eat_is_fed_up_already(draws):
    air, wanted = Air(60, 28.0, 0.55), {"season_day": 50, "target_kg_per_day": 0.08}
    # Nothing is gained by the day it is called feeding-up: any day to the season will do.
    assert ramp_up(draws, BOX, air, held_kg_per_day=10.0, **wanted).begin_day >= 48


def test_part_of_an_air_is_its_hours():
    hours = np.arange(72.0) / 10 + 20
    part = Air(3, hours, 0.5).part(1, 2)
    assert (part.days, part.temperature_c[0], part.temperature_c[-1], part.humidity) == (2, 22.4, 27.1, 0.5)
