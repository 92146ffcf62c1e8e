"""CIEDE2000 against its published test pairs, and the plain distance."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.science.colour import delta_e_76, delta_e_2000

# Sharma, Wu and Dalal (2005), table 1: 34 pairs made to find wrong readings of the formula. Four decimals, hence 6e-5.
PAIRS = [
    {name: float(value) for name, value in row.items()}
    for row in csv.DictReader((Path(__file__).parents[2] / "data/sharma2005_ciede2000.csv").read_text("utf-8").splitlines())
]
LAB = st.tuples(st.floats(0, 100), st.floats(-60, 60), st.floats(-60, 60))


def test_all_of_the_published_pairs_are_there():
    assert len(PAIRS) == 34


@pytest.mark.parametrize("pair", PAIRS)
def test_a_published_pair_comes_out_either_way_round(pair):
    one, other = [pair[k] for k in ("l1", "a1", "b1")], [pair[k] for k in ("l2", "a2", "b2")]
    assert delta_e_2000(one, other) == pytest.approx(pair["delta_e"], abs=6e-5)
    assert delta_e_2000(other, one) == pytest.approx(pair["delta_e"], abs=6e-5)


@given(LAB, LAB)
def test_a_difference_is_none_of_itself_and_the_same_either_way(one, other):
    assert delta_e_2000(one, one) == 0
    assert delta_e_2000(one, other) == pytest.approx(float(delta_e_2000(other, one)), abs=1e-9)
    assert delta_e_2000(one, other) >= 0


def test_the_plain_distance_is_pythagoras():
    # 3, 4 and 12: 13.
    assert delta_e_76([50, 0, 0], [53, 4, 12]) == pytest.approx(13)


def test_many_pairs_at_once_give_the_same():
    one = np.array([[p["l1"], p["a1"], p["b1"]] for p in PAIRS])
    other = np.array([[p["l2"], p["a2"], p["b2"]] for p in PAIRS])
    assert delta_e_2000(one, other) == pytest.approx([p["delta_e"] for p in PAIRS], abs=6e-5)
