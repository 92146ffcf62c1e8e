"""Known truth recovered from made data; these intervals cover only errors of the model's own kind."""

import numpy as np
import pytest

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colony.calibrate import fit
from bonebench.science.colony.forecast import forecast, likely_colonies, quantiles
from bonebench.science.colony.model import conditions
from bonebench.science.colony.observed import GRADES, Seen, grade, heads_gone, pupae_in_blocks, scoop, weighed
from tests.science.colony.made import AIR, BOX, GUESS, WHAT, held, made


@pytest.mark.slow
def test_intervals_of_nine_in_ten_hold_the_truth_about_that_often():
    # The issue asks for 80-97 % (200 by command, `python benchmarks/colony_coverage.py`; 60 here,
    # standard error 4 %).
    shares = held(range(60), 120)
    assert all(shares[what] >= 0.80 for what in WHAT), shares
    # All 60 within would be one in 560 for true 90 % intervals, four figures each: the upper end is held over all of them.
    assert np.mean(list(shares.values())) <= 0.97, shares


def test_what_was_seen_narrows_what_is_thought():
    rng = np.random.default_rng(3)
    truth, seen = made(rng)
    before = fit(np.random.default_rng(4), [], BOX, AIR, GUESS, members=150)
    after = fit(np.random.default_rng(4), seen, BOX, AIR, GUESS, members=150)
    assert after.active.high / after.active.low < 0.6 * before.active.high / before.active.low
    assert after.appetite_kg.low <= truth["appetite_kg"] <= after.appetite_kg.high
    assert after.active.standing.checked is False


def test_a_count_of_nothing_says_that_it_may_be_dead():
    dead = fit(np.random.default_rng(1), [scoop(10, 0, 0.05), scoop(38, 0, 0.05)], BOX, AIR, GUESS, members=150)
    alive = fit(np.random.default_rng(1), [scoop(10, 100, 0.05), scoop(38, 150, 0.05)], BOX, AIR, GUESS, members=150)
    assert dead.active.value < 0.2 * alive.active.value
    # Ranges hold no dead colony; that what was seen does not fit them is said by the misfit (1 is usual).
    made_ones = fit(np.random.default_rng(1), made(np.random.default_rng(5))[1], BOX, AIR, GUESS, members=150)
    assert dead.misfit > 4 > made_ones.misfit


def test_more_pupae_than_sites_are_taken_as_they_were_counted():
    crowded = pupae_in_blocks(20, 4000)
    assert crowded.value == 4000
    assert np.isfinite(fit(np.random.default_rng(1), [crowded], BOX, AIR, GUESS, members=60).active.value)


def test_the_same_chance_gives_the_same_answer():
    seen = [scoop(35, 40, 0.02)]
    one, other = (fit(np.random.default_rng(9), seen, BOX, AIR, GUESS, members=60) for _ in range(2))
    assert one.active == other.active


def test_a_draw_leads_to_a_band_that_is_ordered_and_wider_later():
    draws = likely_colonies(np.random.default_rng(2), 3000)
    told = forecast(draws, BOX, conditions(60, 27, 0.55, food_kg_per_day=0.2))
    band = told.band("appetite_kg")
    assert np.all(np.diff(band, axis=0) >= 0)
    assert len(draws.traits) >= 200
    first, last = (band[3, day] / band[0, day] for day in (0, 30))
    assert last > 0.8 * first
    assert len(draws.evenly(np.random.default_rng(1), 50).traits) == 50


def test_quantiles_by_weight_agree_with_plain_ones_of_repeated_values():
    rng = np.random.default_rng(0)
    values, weights = rng.normal(size=300), rng.integers(1, 5, 300)
    plain = np.quantile(np.repeat(values, weights), (0.1, 0.5, 0.9))
    assert quantiles(values, weights / weights.sum(), (0.1, 0.5, 0.9)) == pytest.approx(plain, abs=0.05)


def test_what_was_seen_outside_the_record_or_cannot_be_is_refused():
    with pytest.raises(Impossible, match="something was seen on day 50; the temperatures run over 40 days"):
        fit(np.random.default_rng(0), [scoop(50, 3, 0.1)], BOX, AIR, GUESS)
    with pytest.raises(OutsideRange, match="wings is not held against a colony"):
        fit(np.random.default_rng(0), [Seen(1, "wings", 1, 0.1)], BOX, AIR, GUESS)
    with pytest.raises(OutsideRange, match="the scoop is 0 % of the bedding"):
        scoop(1, 3, 0)
    with pytest.raises(OutsideRange, match="a scoop count: -3"):
        scoop(1, -3, 0.1)
    with pytest.raises(OutsideRange, match="no grade is called lots; they are none, a few"):
        grade(1, "lots")
    with pytest.raises(OutsideRange, match=r"what was eaten of a weighed head in kg: -0\.1"):
        weighed(1, 2, 0.4, 0.5)
    with pytest.raises(OutsideRange, match="from day 3 to day 3 is no time"):
        heads_gone(3, 3, 0.4)
    assert all(figure.low <= grade(0, name).value <= figure.high for name, figure in GRADES.items())
