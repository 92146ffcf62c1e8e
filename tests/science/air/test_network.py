"""Air through a box: worked cases, laws, scipy's root finder and the library `fluids` on the same openings."""

import csv
import json
import math
from pathlib import Path

import numpy as np
import pytest
from fluids import dP_orifice
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.air.network import air_change, exchange, flows, path_flow, solve_pressure
from bonebench.science.air.paths import Duct, Holes, check_paths, path_numbers

INCH = 0.0254
TABLE = (Path(__file__).parents[2] / "data" / "physics_cases.csv").read_text(encoding="utf-8")


def cases(start):
    """Rows of the worked cases whose name begins so; blank inputs are those of the line above."""
    found, inputs = [], ""
    for row in csv.DictReader(line for line in TABLE.splitlines() if not line.startswith("#")):
        inputs = row["inputs_json"] or inputs
        if row["case"].startswith(start):
            found.append({**row, "inputs_json": inputs})
    return found


def rho(t):
    return 353 / (t + 273.15)  # what the worked cases use


@pytest.mark.parametrize("row", [r for r in cases("ST_") if r["output"] == "mass_flow"], ids=lambda r: r["case"])
def test_buoyancy_through_two_groups_of_holes(row):
    at = json.loads(row["inputs_json"])
    groups = [
        Holes(at["N_low"], at["d_m"], 0.0, at["Cd"], 0.0, 1.0), Holes(at["N_high"], at["d_m"], at["H_m"], at["Cd"], 0.0, 1.0)
    ]  # fmt: skip
    paths = path_numbers(groups, None)
    pressure = solve_pressure(paths, rho(at["Ti"]), rho(at["To"]), False, 0.0)
    out = path_flow(paths[1], pressure, rho(at["Ti"]), rho(at["To"]), False)
    assert out == pytest.approx(float(row["expected"]), rel=1e-4, abs=1e-12)


def test_the_one_opening_formula_of_ashrae():
    # Q = Cd A sqrt(2 g dH (Ti - To)/Ti): the pressure at dH above the neutral level drives one opening.
    (row,) = cases("ST_ASHRAE")
    at = json.loads(row["inputs_json"])
    rho_in, rho_out = 353 / at["Ti_K"], 353 / at["To_K"]
    drive = (rho_out - rho_in) * 9.81 * at["dH"]
    hole = path_numbers([Holes(1, math.sqrt(4 * at["A"] / math.pi), 0.0, at["Cd"], 0.0, 1.0)], None)
    flow = path_flow(hole[0], drive, rho_in, rho_out, False) / rho_in
    # ASHRAE's form divides by Ti where densities give To; over 20 K that is 3.5 % in the square root.
    assert flow == pytest.approx(float(row["expected"]), rel=0.037)


def test_a_hole_agrees_with_fluids():
    # fluids gives the pressure an orifice takes; a hole in a wide wall is one with a tiny diameter ratio.
    hole = path_numbers([Holes(1, INCH, 0.0, 0.61, 0.0, 1.0)], None)
    flow = path_flow(hole[0], 2.0, 1.18, 1.18, False)
    assert flow == pytest.approx(0.61 * math.pi * INCH**2 / 4 * math.sqrt(2 * 1.18 * 2.0), rel=1e-12)
    drop = dP_orifice(D=1.0, Do=INCH, P1=101325 + 2.0, P2=101325, C=0.61)
    assert drop == pytest.approx(2.0, rel=0.01)


HOLES = st.builds(
    Holes, st.integers(1, 6), st.floats(0.01, 0.05), st.floats(0, 0.6), st.floats(0.4, 0.8), st.floats(0, 10), st.floats(0.5, 1)
)
DUCTS = st.builds(
    Duct, st.floats(0.05, 0.15), st.floats(0, 4), st.floats(0, 0.6), st.floats(0, 4), st.floats(0, 2), st.booleans(),
    st.floats(0.005, 0.06), st.floats(5, 90),
)  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(st.lists(HOLES, min_size=1, max_size=4), st.none() | DUCTS, st.floats(-20, 35), st.booleans(), st.floats(-30, 30))
def test_the_pressure_is_where_scipys_root_finder_has_it(holes, duct, outside, fan_on, guess):
    paths = path_numbers(holes, duct)
    rho_in, rho_out = rho(26.5), rho(outside)

    def net(pressure):
        return sum(path_flow(row, pressure, rho_in, rho_out, fan_on) for row in paths)

    found = solve_pressure(paths, rho_in, rho_out, fan_on, guess)
    assert found == pytest.approx(brentq(net, -500, 500, xtol=1e-12, maxiter=500), abs=2e-6)


@settings(max_examples=60, deadline=None)
@given(st.lists(HOLES, min_size=1, max_size=4), st.none() | DUCTS, st.floats(-20, 35), st.booleans(), st.floats(-1e6, 1e6))
def test_a_guess_however_far_off_leaves_no_air_unaccounted_for(holes, duct, outside, fan_on, guess):
    paths = path_numbers(holes, duct)
    pressure = solve_pressure(paths, rho(26.5), rho(outside), fan_on, guess)
    each = np.array([path_flow(row, pressure, rho(26.5), rho(outside), fan_on) for row in paths])
    # The search ends at a millionth of what moves, or at 1e-12 kg/s.
    assert abs(each.sum()) <= 1e-6 * np.abs(each).sum() + 1e-12


@settings(max_examples=60, deadline=None)
@given(st.lists(HOLES, min_size=1, max_size=4), st.none() | DUCTS, st.floats(-20, 35), st.booleans())
def test_what_comes_in_goes_out_and_the_order_of_paths_does_not_matter(holes, duct, outside, fan_on):
    paths = path_numbers(holes, duct)
    each = flows(paths, inside_c=26.5, outside_c=outside, fan_on=fan_on)
    through = np.abs(each).sum()
    assert abs(each.sum()) <= 1e-6 * through + 1e-9
    there = air_change(paths, rho(26.5), rho(outside), fan_on, 0.0)
    back = air_change(paths[::-1].copy(), rho(26.5), rho(outside), fan_on, 3.0)
    assert there[0] == pytest.approx(back[0], rel=1e-6, abs=1e-12)


@given(st.integers(1, 6), st.integers(1, 6), st.floats(-20, 24))
@settings(max_examples=40, deadline=None)
def test_more_holes_never_breathe_less(low, high, outside):
    def change(a, b):
        return air_change(path_numbers([Holes(a, INCH, 0.05), Holes(b, INCH, 0.5)], None), rho(26.5), rho(outside), False, 0.0)[0]

    assert change(low + 1, high) >= change(low, high) - 1e-12
    assert change(low, high + 1) >= change(low, high) - 1e-12


def test_nothing_moves_where_nothing_differs():
    paths = path_numbers([Holes(2, INCH, 0.05), Holes(2, INCH, 0.5)], Duct(0.1, 1.5, 0.5, rise_m=1.0, flap=False))
    assert air_change(paths, rho(20), rho(20), False, 1.0)[0] == pytest.approx(0, abs=1e-10)


def test_one_hole_alone_breathes_by_counter_flow():
    # physics.md 1.4: Q = Cd/3 A sqrt(g D dT/T), about 0.013 L/s for a bare inch at 20 K.
    one = path_numbers([Holes(1, INCH, 0.3, 0.61, 0.0, 1.0)], None)
    through, _, _ = air_change(one, rho(26.5), rho(6.5), False, 0.0)
    by_hand = 0.61 / 3 * math.pi * INCH**2 / 4 * math.sqrt(9.81 * INCH * 20 / 289.65)
    assert by_hand * 1000 == pytest.approx(0.0135, abs=0.001)
    assert through / rho(16.5) == pytest.approx(by_hand, rel=0.01)
    assert exchange(one, 5.0, rho(26.5), rho(6.5)) == 0


def test_a_fan_works_between_its_two_published_ends():
    free, shut = 92.3 / 3600, 16.48  # quiet 120 mm, 1,300 rpm (physics_fans.csv)
    duct = Duct(0.12, 0.1, 0.5, fan_free_m3_s=free, fan_shut_pa=shut)
    wide = path_numbers([Holes(200, 0.05, 0.5, 0.61, 0.0, 1.0)], duct)
    shut_in = path_numbers([Holes(1, 0.002, 0.5, 0.61, 0.0, 1.0)], duct)
    # Against nothing but its own duct it gives nearly its free flow; through a pinhole hardly any, at nearly its shut-off pressure.
    assert 0.55 * free < air_change(wide, 1.18, 1.18, True, 0.0)[0] / 1.18 < free
    assert solve_pressure(shut_in, 1.18, 1.18, True, 0.0) == pytest.approx(-shut, rel=0.02)


@pytest.mark.parametrize(("holes", "litres"), [(2, 2.6), (4, 4.7), (6, 6.4), (8, 7.6)])
def test_a_fan_against_screened_holes_finds_the_operating_point_of_the_reference(holes, litres):
    # physics.md 1.5: quiet 120 mm, K 3.75 on the hole's velocity, 2 m of corrugated 4-inch duct, linear curve.
    duct = Duct(0.1016, 2.0, 0.5, fan_free_m3_s=92.3 / 3600, fan_shut_pa=16.48)
    group = Holes(holes, INCH, 0.5, 1 / math.sqrt(3.75), 0.0, 1.0)
    through, _, _ = air_change(path_numbers([group], duct), 1.18, 1.18, True, 0.0)
    assert 1000 * through / 1.18 == pytest.approx(litres, rel=0.05)


def test_a_flap_stops_the_chimney():
    # physics.md 0.4: without one, a rise of 1.5 m against a cold shed draws air all winter.
    holes = [Holes(6, INCH, 0.1)]
    cold = rho(-5)
    open_duct, closed = (path_numbers(holes, Duct(0.1, 2.0, 0.5, rise_m=1.5, flap=flap)) for flap in (False, True))
    drawn = air_change(open_duct, rho(26), cold, False, 0.0)[0]
    assert drawn > 0.0015
    # Outward the flap opens; a falling duct would draw inward, and there it shuts.
    falling = path_numbers(holes, Duct(0.1, 2.0, 0.5, rise_m=-1.5, flap=True))
    still = air_change(falling, rho(26), cold, False, 0.0)[0]
    assert still < 0.2 * drawn
    assert closed.shape == open_duct.shape


@pytest.mark.parametrize(
    ("holes", "duct", "kind", "words"),
    [
        ([Holes(1, INCH, 0.9)], None, OutsideRange, "a hole at 900 mm lies outside the box, which is 600 mm high inside"),
        ([Holes(-1, INCH, 0.1)], None, OutsideRange, "-1 holes of 25.4 mm cannot be"),
        ([Holes(1, INCH, 0.1, 1.5)], None, OutsideRange, "a hole's discharge lies above 0 to 1"),
        ([], None, Impossible, "nothing is open: beetles need air"),
        ([], Duct(0.1, 1, 0.1, fan_free_m3_s=0.02, fan_shut_pa=-5), OutsideRange, "a fan with 72 m³/h free and -5 Pa at no flow"),
        ([], Duct(0.1, -1, 0.1), OutsideRange, "a duct of 100 mm and -1e"),
    ],
)
def test_paths_that_cannot_be_are_refused_in_words(holes, duct, kind, words):
    with pytest.raises(kind) as refused:
        check_paths(holes, duct, 0.6)
    assert words[:20] in str(refused.value)
