"""What to leave open: laws of the choice, and the common-practice figures of a cold climate."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bonebench.errors import OutsideRange
from bonebench.files.enclosure_toml import enclosure_of, example
from bonebench.files.weather import read_weather
from bonebench.science.building import Building, through
from bonebench.science.building.building import VENTED
from bonebench.science.enclosure import around_box, simulate
from bonebench.science.enclosure.advice import choose, coldest, every_count, margins, opened, size_grid, smallest, with_fan_points

DATA = Path(__file__).parents[2] / "data"
BOX = enclosure_of(example())


@pytest.fixture(scope="module")
def around():
    """An old shed insulated to about R-15 and held near 7 degC in a real typical year of a cold-winter climate."""
    year = read_weather(str(DATA / "physics_weather_chicago_ohare_tmy3.csv"))
    shed = through(Building((5.0, 4.0, 2.4), 2.64, 2.64, heater_w=4000, set_c=7.0, flame=VENTED), year)
    return around_box(
        8760, t_c=shed.t_c, ratio=shed.ratio, heat_w=2.0, water_kg_s=5 / 3.6e6, pressure_pa=float(year.pressure_pa.mean())
    )


@pytest.fixture(scope="module")
def runs(around):
    return every_count(BOX, around, (0, 1, 2, 4, 6), step_s=20.0)


def test_the_advice_comes_out_close_to_common_practice(runs):
    # Common practice, no source: about 80 F all winter, one open hole is enough in winter, more in summer, set point 47-50 %.
    months = {choice.month: choice for choice in choose(runs, BOX)}
    for month in (12, 1, 2):
        assert months[month].holes == 1
        assert months[month].period.t_mean_c == pytest.approx(26.5, abs=0.5)
        assert 0.42 <= months[month].period.rh_mean <= 0.52
    assert max(months[m].holes for m in (6, 7, 8, 9)) > 1


def test_no_other_count_has_many_fewer_hours_outside_the_band(runs):
    for choice in choose(runs, BOX):
        fresh = [p for p in choice.others.values() if p.co2_max_ppm <= 5000] or list(choice.others.values())
        assert choice.period.hours_outside_band <= min(p.hours_outside_band for p in fresh) + 0.02 * choice.period.hours


def test_more_holes_make_a_drier_winter_that_costs_more(runs):
    january = [runs[n][0] for n in (1, 2, 4, 6)]
    assert [p.rh_mean for p in january] == sorted((p.rh_mean for p in january), reverse=True)
    assert [p.heater_kwh for p in january] == sorted(p.heater_kwh for p in january)


def test_a_closed_box_is_stale(runs):
    # 2 W of colony give 2 * 7.3e-8 kg/s; with nothing open and no duct flow it passes the limit within days.
    assert max(p.co2_max_ppm for p in runs[0]) > 5000
    assert all(choice.holes > 0 for choice in choose(runs, BOX))


def test_in_a_summer_wetter_than_the_box_may_be_it_is_not_achievable_and_says_why(runs):
    july = next(choice for choice in choose(runs, BOX) if choice.month == 7)
    assert not july.achieved
    assert july.because == "wet outside"


def test_a_box_that_is_hard_to_hold_says_the_heater_is_weak(around):
    weak = replace(BOX, heater=replace(BOX.heater, power_w=20.0), humidistat=None)  # no fan to fight with
    january = choose(every_count(weak, around, (1,), step_s=20.0), weak)[0]
    assert january.because == "weak heater"


def test_other_years_hold_the_year_that_was_chosen_for(around, runs):
    chosen = choose(runs, BOX)
    alone = margins(chosen, BOX, [around], step_s=20.0)
    wet = margins(chosen, BOX, [around, replace(around, water_kg_s=3 * around.water_kg_s)], step_s=20.0)
    for (low, high), (same, _) in zip(wet, alone, strict=True):
        assert low <= same <= high


def test_a_set_point_that_may_move_never_makes_a_month_clearly_worse(around, runs):
    chosen = choose(runs, BOX)
    moved = with_fan_points(chosen, BOX, around, (0.45, 0.55, 0.60), step_s=20.0)
    for before, after in zip(chosen, moved, strict=True):
        assert after.holes == before.holes
        assert after.period.hours_outside_band <= before.period.hours_outside_band + 0.02 * before.period.hours
    assert {choice.fan_on_rh for choice in moved} <= {0.45, 0.50, 0.55, 0.60}
    # Over a wet summer a higher point spares the fan and the heater at the same hours, or a lower one brings hours in.
    assert any(choice.fan_on_rh != 0.50 for choice in moved)


def test_holes_are_opened_low_and_high_in_turn_and_never_more_than_there_are():
    assert [[g.count for g in opened(BOX, n).holes] for n in (0, 1, 2, 5, 6)] == [[0, 0], [1, 0], [1, 1], [3, 2], [3, 3]]
    with pytest.raises(OutsideRange, match="this box has 6 holes; 7 cannot be open"):
        opened(BOX, 7)


def test_the_coldest_stretch_is_the_coldest(around):
    cold = coldest(around, 14)
    sums = [around.t_c[k : k + 336].sum() for k in range(0, 8424, 24)]
    assert cold.t_c[:-1].sum() <= min(sums) + 1e-6


def test_the_smallest_that_holds_holds_and_the_next_smaller_does_not(around):
    grid = size_grid(BOX, around, watts=(20, 40, 60, 80, 120), pavers_kg=(0, 40, 80), hold_h=5)
    best = smallest(grid)
    assert best is not None
    assert best.enough
    assert not any(each.enough for each in grid if (each.watts, each.pavers_kg) < (best.watts, best.pavers_kg))
    # By hand: at rest the heater's share is (UA + m c_p) (T - T_b) / P in the coldest fortnight, so halving P doubles it.
    shares = {each.watts: each.heater_share for each in grid if each.pavers_kg == 0}
    assert shares[60] == pytest.approx(2 * shares[120], rel=0.03)


def test_more_mass_holds_longer(around):
    grid = size_grid(BOX, around, watts=(100,), pavers_kg=(0, 40, 160), hold_h=5)
    hours = [each.hold_h for each in grid]
    assert hours == sorted(hours)


def test_a_grid_that_is_stopped_gives_what_it_has(around):
    assert len(size_grid(BOX, around, watts=(60, 80), pavers_kg=(0, 40), hold_h=5, told=lambda done, _all: done < 2)) == 2


def test_fifteen_second_steps_are_near_ten_second_steps(around):
    part = coldest(around, 28)
    fine, coarse = (simulate(BOX, part, step_s=step).year for step in (10.0, 15.0))
    assert coarse.heater_kwh == pytest.approx(fine.heater_kwh, rel=0.01)
    assert coarse.rh_mean == pytest.approx(fine.rh_mean, abs=0.01)
    assert np.isfinite(fine.co2_max_ppm)
