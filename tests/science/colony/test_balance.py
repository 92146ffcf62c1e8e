"""Laws: what is eaten goes somewhere, what is not there cannot grow, and the limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats
from scipy.integrate import solve_ivp

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colony import equations, layout, run
from bonebench.science.colony.demography import doubling_days, generation_days, growth_rate, schedule_of, stable_colony
from bonebench.science.colony.model import Housing, colony_of, conditions, course_of, hourly_load, kernel_house, sites_in
from bonebench.science.colony.traits import draw_traits, usual_traits

BOX = Housing(0.12, 1500)


def body(state, traits):
    return run.live_dry_kg(state, equations.masses_of(traits))


@settings(max_examples=40, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    temperature=st.floats(-10, 48),
    swing=st.floats(0, 8),
    food=st.floats(0, 0.4),
    sites=st.floats(0, 3000),
    taken=st.floats(0, 0.5),
)
def test_tissue_eaten_is_growth_and_breath_and_frass_and_the_bodies_add_up(seed, temperature, swing, food, sites, taken):
    rng = np.random.default_rng(seed)
    traits, days = draw_traits(rng, 1)[0], 40
    start = colony_of(eggs=500, larvae=2000, large_larvae=500, prepupae_and_pupae=300, adults=400)
    air = temperature + swing * np.sin(np.arange(days * 24) / 24 * 2 * np.pi)
    thin = np.zeros(days)
    thin[10] = taken
    course = course_of(traits, start, Housing(0.12, sites), conditions(days, air, 0.5, food_kg_per_day=food, taken_by_day=thin))
    sums = course.rows.sum(axis=0)
    scale = sums[equations.EATEN] + body(start, traits)
    # Rounding: a thousand steps of sums over a hundred boxes.
    assert sums[equations.EATEN] == pytest.approx(
        sums[equations.GROWTH] + sums[equations.RESPIRED] + sums[equations.FRASS], abs=1e-12 * scale
    )
    gone = sums[equations.DEAD] + sums[equations.VICTIMS] + sums[equations.TAKEN]
    assert body(course.end, traits) - body(start, traits) == pytest.approx(sums[equations.GROWTH] - gone, abs=1e-12 * scale)
    put_in = 0.26 * food * days
    assert course.end[layout.FOOD] == pytest.approx(put_in + sums[equations.VICTIMS] - sums[equations.EATEN], abs=1e-12 * scale)
    assert np.all(course.end >= 0)
    assert np.all(course.rows[:, equations.FRASS] >= 0)


def test_heat_of_a_fed_colony_by_hand():
    # 8 kJ for each g dry and 2.5 mW for each g of live larva at 28 C (reference 6.2): one hour of 1000 large larvae.
    start, traits = colony_of(large_larvae=1000), usual_traits()
    heat, water = hourly_load(traits, start, BOX, conditions(1, 28, 0.75))
    masses = equations.masses_of(traits)
    rows, _ = run.run(traits, start, kernel_house(BOX, True), conditions(1, 28, 0.75).hours, 1, 1)
    live_g = 1000 * start[: layout.ANIMALS] @ masses
    by_hand_j = 8000 * 1000 * rows[0, equations.EATEN] + 2.5e-3 * live_g * 3600
    assert heat[0] * 3600 == pytest.approx(by_hand_j, rel=1e-9)
    # 0.75 g of vapour for each g of fresh tissue (reference 6.2), plus what resting burns.
    fresh_kg = rows[0, equations.EATEN] / 0.26
    resting_kg = 0.45 * 2.5e-3 * live_g * 3600 / 23e6
    assert water[0] * 3600 == pytest.approx(0.75 * fresh_kg + resting_kg, rel=0.01)


def test_a_thousand_late_larvae_eat_what_the_reference_says():
    # Reference 5.2 (computed there): 68 % of 0.13 g in the last third of 33.6 days is 7.9 mg a day on average, 11 at the end of it.
    air = conditions(1, 28, 0.75)
    late = course_of(usual_traits(strain=1.0), colony_of(large_larvae=1000), BOX, air)
    assert 0.26e3 * late.day_values("appetite_kg")[0] == pytest.approx(7.9, abs=0.8)
    last = np.zeros(layout.STATE)
    last[layout.WAITING - 1] = 1000
    hour, _ = run.run(usual_traits(strain=1.0), last, kernel_house(BOX, True), air.hours, 1, 1)
    assert 24e3 * hour[0, equations.COULD_EAT] == pytest.approx(11, abs=1.0)
    # 2 to 3 g for 1000 adults.
    adults = course_of(usual_traits(), colony_of(adults=1000), BOX, air)
    assert 0.26e3 * adults.day_values("appetite_kg")[0] == pytest.approx(2.5, abs=0.5)


@pytest.mark.parametrize("temperature", [22, 28, 32])
def test_the_simulated_growth_rate_is_that_of_euler_and_lotka_worked_out_from_gamma_distributions(temperature):
    traits = usual_traits(pupae_eaten=0, crowding=0)
    schedule = schedule_of(traits, temperature, 0.6)

    def lives_through(stage, rate):
        # Independent of the chains: the gamma distribution of scipy, deaths at a constant rate, by numerical integration.
        time = stats.gamma(stage.boxes, scale=1 / stage.rate)
        inside = integrate.quad(lambda x: time.pdf(x) * math.exp(-(rate + stage.deaths) * x), 0, time.ppf(1 - 1e-12))
        return stage.passes * inside[0]

    def daughters(rate):
        life = schedule.laying_rate

        def births(x):
            box = stats.poisson.pmf(np.arange(layout.LAYING_BOXES), life * x)
            return float(box @ schedule.daughters_per_day) * math.exp(-rate * x)

        through = math.prod(lives_through(stage, rate) for stage in schedule.stages)
        return through * integrate.quad(births, 0, 40 / life, limit=200)[0]

    growth = growth_rate(schedule)
    assert daughters(growth) == pytest.approx(1, rel=1e-6)
    course = course_of(traits, stable_colony(schedule, 100), Housing(1e6, 1e12), conditions(90, temperature, 0.6))
    active = course.day_values("active")
    # The issue asks for 2 %; steps of an hour give about half a percent.
    assert np.log(active[-1] / active[-31]) / 30 == pytest.approx(growth, rel=0.02)
    assert doubling_days(schedule) == pytest.approx(math.log(2) / growth)
    # The mean age of mothers is minus the slope of the daughters against the rate, by the same independent integrals.
    slope = (daughters(growth + 1e-4) - daughters(growth - 1e-4)) / 2e-4
    assert generation_days(schedule) == pytest.approx(-slope, rel=1e-3)


def test_the_stepping_agrees_with_an_independent_solver_of_the_same_equations():
    traits, start = usual_traits(), colony_of(eggs=300, larvae=1000, large_larvae=300, adults=200)
    start[layout.FOOD] = 0.05
    house, masses = kernel_house(BOX, False), equations.masses_of(traits)
    now = equations.hour_of(traits, 27.0, 0.55, 1.0, np.inf)

    def slope(_t, y):
        dy, flows = np.empty(layout.STATE), np.empty(equations.FLOWS)
        equations.change(y, dy, flows, traits, masses, house, now, 0.0)
        return dy

    exact = solve_ivp(slope, (0, 40), start, method="LSODA", rtol=1e-8, atol=1e-9).y[:, -1]
    given_air = conditions(40, 27, 0.55, food_kg_per_day=np.zeros(40))
    course = course_of(traits, start, BOX, given_air, steps_per_hour=4)
    # First-order steps of a quarter of an hour.
    assert course.end[: layout.ANIMALS] == pytest.approx(exact[: layout.ANIMALS], rel=0.02, abs=0.3)


def test_without_food_the_box_runs_down_and_adults_starve_in_weeks():
    # Reference 11.9 (estimate): at 20 C fasted adults 3-6 weeks, large larvae 6-10 weeks. Half of them gone within that span.
    food = np.zeros(120)
    adults = course_of(usual_traits(), colony_of(adults=100), BOX, conditions(120, 20, 0.6, food_kg_per_day=food)).day_values(
        "adults"
    )
    assert 21 <= np.argmax(adults < 50) <= 42
    larvae = course_of(usual_traits(), colony_of(large_larvae=100), BOX, conditions(120, 20, 0.6, food_kg_per_day=food))
    assert 35 <= np.argmax(larvae.day_values("larvae") < 50) <= 75
    assert larvae.day_values("live_kg")[-1] < 0.2 * larvae.day_values("live_kg")[0]


def test_growth_slows_before_they_starve():
    def at(food):
        return course_of(usual_traits(), colony_of(larvae=2000), BOX, conditions(20, 28, 0.6, food_kg_per_day=food))

    full, short = at(1.0), at(0.008)
    assert short.day_values("large_larvae")[-1] < 0.7 * full.day_values("large_larvae")[-1]
    assert short.end[layout.LARVAE_LACK] < 0.05 * body(short.end, usual_traits())


def test_a_closed_box_runs_down():
    food = np.zeros(700)
    food[0] = 0.5
    course = course_of(usual_traits(), colony_of(adults=100), BOX, conditions(700, 27, 0.55, food_kg_per_day=food))
    active = course.day_values("active")
    assert active.max() > 300
    assert active[-1] < 1
    assert course.day_values("food_left_kg")[-1] < 0.01


def test_without_sites_larvae_wait_and_then_few_become_adults():
    start, air = colony_of(large_larvae=1000), conditions(60, 28, 0.55)
    course = course_of(usual_traits(), start, Housing(0.12, 0), air)
    assert course.day_values("waiting_larvae").max() > 100
    assert course.day_values("pupae_in_sites").max() == 0
    assert (
        course.rows[:, equations.EMERGED].sum() < 0.6 * course_of(usual_traits(), start, BOX, air).rows[:, equations.EMERGED].sum()
    )


def after_a_day(temperature):
    return course_of(usual_traits(), colony_of(larvae=1000, adults=100), BOX, conditions(1, temperature, 0.5))


def test_a_cool_day_stops_them_and_kills_few():
    course = after_a_day(10.0)
    assert course.day_values("active")[0] > 0.9 * 1100
    assert course.day_values("appetite_kg")[0] == 0
    assert course.rows[0, equations.PUPATED] == 0


def test_a_day_in_the_freezer_kills_unprotected_beetles_and_a_hot_day_most():
    # Gilberg & Brokerhof 1991: -20 C, 1-2 h, unprotected Stegobium all dead; 45 C for a day: heavy mortality (estimate).
    assert after_a_day(-20.0).day_values("active")[0] < 1
    assert after_a_day(45.0).day_values("larvae")[0] < 0.3 * 1000


def test_an_oven_at_60_degrees_kills_all_within_half_an_hour():
    # Dugbe market study (J. Stored Prod. Res.): 60 C, 30 min, all larvae and adults dead. The program never says so of a specimen.
    deaths = equations.deaths_by_cold_or_heat(60.0)
    assert math.exp(-deaths / 48) < 1e-6


def test_water_and_cover_set_how_many_eggs_are_laid():
    def laid(cover, moist):
        air = conditions(5, 28, 0.55, moist=moist)
        return course_of(usual_traits(), colony_of(adults=100), Housing(0.12, 1500, cover=cover), air).rows[:, equations.LAID].sum()

    assert laid(0, 1) / laid(1, 1) == pytest.approx(0.1, rel=1e-6)  # Fontenot et al. 2015: 3.4 young against 28-42
    assert laid(1, 0) / laid(1, 1) == pytest.approx(0.5, rel=1e-6)  # estimate of the reference


def test_boxes_of_the_chains_give_the_published_spread():
    # 13 % of the time from egg to adult, from Li et al. 2021 (8 to 17 %).
    shares = np.array([0.07, 0.67, 0.10, 0.16])
    boxes = np.array([layout.EGG_BOXES, layout.LARVA_BOXES, layout.PREPUPA_BOXES, layout.PUPA_BOXES])
    assert math.sqrt((shares**2 / boxes).sum()) == pytest.approx(0.13, abs=0.005)
    assert layout.instar_weights().sum(axis=0) == pytest.approx(np.ones(layout.LARVA_BOXES))
    assert layout.instar_weights().sum(axis=1) / layout.LARVA_BOXES == pytest.approx(layout.INSTAR_SHARES)


def test_the_compiled_masses_are_the_plain_ones():
    assert equations.masses_of(usual_traits()) == pytest.approx(layout.body_masses(usual_traits()[1]))


def test_a_gap_in_the_temperatures_is_refused_with_its_hour():
    air = np.full(48, 27.0)
    air[30:33] = np.nan
    with pytest.raises(Impossible, match="temperature has no value for hour 31 \\(3 hours in all\\): fill the gap"):
        conditions(2, air, 0.5)
    with pytest.raises(Impossible, match="a series has 20 hours; 48 are needed"):
        conditions(2, air[:20], 0.5)


def test_a_negative_ration_is_refused():
    with pytest.raises(OutsideRange, match=r"the ration is -0.1 in day 2; a ration is 0 kg a day or more"):
        conditions(2, 27, 0.5, food_kg_per_day=[0.1, -0.1])


def test_too_cold_for_a_generation_is_said():
    with pytest.raises(Impossible, match=r"at 10 °C nothing grows: it takes more than 14.5 °C"):
        schedule_of(usual_traits(), 10, 0.5)


def test_a_negative_count_an_unknown_trait_and_an_impossible_housing_are_refused():
    with pytest.raises(OutsideRange, match="large larvae: -1; a count is 0 or more"):
        colony_of(large_larvae=-1)
    with pytest.raises(OutsideRange, match="no trait is called wings"):
        usual_traits(wings=2)
    with pytest.raises(OutsideRange, match="hatch is -1"):
        usual_traits(hatch=-1)
    for wrong in ({"floor_m2": 0, "sites": 1}, {"floor_m2": 1, "sites": -1}, {"floor_m2": 1, "sites": 1, "cover": 2}):
        with pytest.raises(OutsideRange):
            Housing(**wrong)
    assert sites_in(0.002) == 300
