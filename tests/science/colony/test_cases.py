"""The cases of the reference, from the file: a row added is a test."""

import csv
import json
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from bonebench.science.colony import equations, layout
from bonebench.science.colony.curve import humidity_pace
from bonebench.science.colony.demography import growth_rate, schedule_of
from bonebench.science.colony.model import Housing, colony_of, conditions, course_of
from bonebench.science.colony.traits import usual_traits

DATA = Path(__file__).parents[2] / "data"
STAGES = {"egg": 0, "larva": 1, "prepupa": 2, "pupa": 3}


def days_of(temperature_c, humidity=0.75, strain=1.0, stages=range(4)):
    """Return the mean time through stages: boxes over the rate out of each."""
    schedule = schedule_of(usual_traits(strain=strain), temperature_c, humidity)
    return sum(schedule.stages[k].boxes / schedule.stages[k].rate for k in stages)


def stage_days(stage, temperature_c, strain):
    return days_of(temperature_c, strain=strain, stages=[STAGES[stage]])


def development_ratio(temperature_c, other_c, humidity):
    return days_of(temperature_c, humidity) / days_of(other_c, humidity)


def humidity_ratio(humidity, moist):
    return humidity_pace(humidity, moist) / humidity_pace(0.75, moist)


def larval_food_g(larvae, temperature_c):
    start = np.zeros(layout.STATE)
    start[layout.LARVA] = larvae
    # Until the first of them are adults: by then hardly a larva is left, and nobody else eats.
    course = course_of(usual_traits(), start, Housing(1.0, 1e6), conditions(45, temperature_c, 0.75))
    eaten = 1000 * course.rows[:, equations.EATEN]
    first_adult = int(np.argmax(course.rows[:, equations.EMERGED].cumsum() > 0.01 * larvae))
    return float(eaten[:first_adult].sum())


def gain_per_protein(temperature_c, protein):
    start = colony_of(larvae=100)
    course = course_of(usual_traits(), start, Housing(1.0, 1e6), conditions(6, temperature_c, 0.62))
    rows = course.rows
    gained = (rows[:, equations.GROWTH].sum()) / layout.BODY_DRY
    return float(gained / (rows[:, equations.EATEN].sum() * protein))


def closed_box_loss_g(larvae, food_g, days, temperature_c, humidity):
    start = np.zeros(layout.STATE)
    start[layout.LARVA] = larvae
    food = np.r_[food_g / 1000, np.zeros(days - 1)]
    given = conditions(days, temperature_c, humidity, food_kg_per_day=food, moist=0, food_dry_share=0.8)
    course = course_of(usual_traits(), start, Housing(0.1, 0, cover=0.3, food_dry_share=0.8), given)
    return food_g - 1000 * float(course.day_values("food_left_kg")[-1])


def sites_ratio(large_larvae, floor_m2):
    start, given = colony_of(large_larvae=large_larvae), conditions(60, 28, 0.55)
    adults = [
        course_of(usual_traits(), start, Housing(floor_m2, sites), given).rows[:, equations.EMERGED].sum() for sites in (1e5, 0)
    ]
    return float(adults[0] / adults[1])


def growth(temperature_c, humidity, **traits):
    return growth_rate(schedule_of(usual_traits(**traits), temperature_c, humidity))


ASK: dict[str, Callable[..., float]] = {
    "development_days": days_of,
    "development_ratio": development_ratio,
    "humidity_ratio": humidity_ratio,
    "larval_food_g": larval_food_g,
    "gain_per_protein": gain_per_protein,
    "closed_box_loss_g": closed_box_loss_g,
    "stage_days": stage_days,
    "sites_ratio": sites_ratio,
    "growth_rate": growth,
}


def cases():
    with (DATA / "biology_cases.csv").open(encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.mark.parametrize("case", cases(), ids=lambda case: case["case"])
def test_the_model_agrees_with_the_cases_of_the_reference(case):
    answer = ASK[case["kind"]](**json.loads(case["inputs_json"]))
    assert float(case["low"]) <= answer <= float(case["high"]), f"{case['description']}: {answer} {case['unit']}"


def durations(species, stage):
    with (DATA / "biology_stage_durations.csv").open(encoding="utf-8") as file:
        return [row for row in csv.DictReader(file) if row["species"] == species and row["stage"] == stage and row["sd_days"]]


@pytest.mark.parametrize("row", durations("Dermestes maculatus", "egg_to_adult"), ids=lambda row: row["temp_C"])
def test_a_simulated_cohort_becomes_adult_within_one_sd_of_the_published_mean_and_about_as_spread(row):
    # Li et al. 2021 set the curve and the number of boxes: consistency, no proof.
    start = np.zeros(layout.STATE)
    start[layout.EGG] = 1000
    traits = usual_traits(strain=1.0, hatch=1.0, pupae_eaten=0, crowding=0)
    course = course_of(traits, start, Housing(100.0, 1e6), conditions(300, float(row["temp_C"]), 0.75, moist=1.0))
    emerged = course.rows[:, equations.EMERGED]
    day = np.arange(300) + 0.5
    # Whoever emerges before day 200 is of the first generation, or the second is far behind.
    first = day < 1.6 * float(row["mean_days"])
    mean = np.average(day[first], weights=emerged[first])
    spread = np.sqrt(np.average((day[first] - mean) ** 2, weights=emerged[first]))
    assert mean == pytest.approx(float(row["mean_days"]), abs=float(row["sd_days"]))
    # Published spread is 8 to 17 % of the mean; the chains give one for all temperatures.
    assert 0.08 <= spread / mean <= 0.17


def test_the_engine_saturates_as_a_classic_series_of_flour_beetles_did():
    """PROXY: another beetle (*Tribolium confusum*, Chapman 1928, textbook data set) with traits of its own.

    2 founders became 1184 at most and stayed about 1050. Traits were set by eye to this series (fast growth, eggs eaten), so that
    only the shape is tested: quick growth, then a level, held by eating eggs and pupae while there is always food. The level must
    come within a factor of 2, as must the count at 41 and 63 days.
    """
    days, seen = [41, 63, 97, 117, 135, 154], np.array([256, 768, 1120, 896, 1184, 1024])
    proxy = {"strain": 1.75, "eggs_per_day": 6, "pre_laying_days": 5, "adult_days": 180, "crowding": 0, "small_eaten": 0}
    traits = usual_traits(**proxy, eggs_eaten=0.006, pupae_eaten=0.01)
    start = np.zeros(layout.STATE)
    start[layout.LAYING] = 2
    course = course_of(traits, start, Housing(0.03, 0), conditions(400, 29, 0.75))
    total = sum(course.day_values(name) for name in ("eggs", "active", "pupae"))
    assert np.all(np.abs(np.log(total[days] / seen)) < np.log(2))
    assert total[250:].max() < 1.5 * total[250:].min()
    # With nobody eaten it would have gone on: ten times as many at least.
    free = course_of(usual_traits(**proxy, pupae_eaten=0), start, Housing(0.03, 1e9), conditions(154, 29, 0.75))
    assert free.day_values("active")[-1] > 10 * total[154]
