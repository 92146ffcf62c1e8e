"""Two solutions to a third, and topping up, against published examples and the balance of peroxide and water."""

import csv
import json
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import blend, density, dilute, pearson_parts, top_up

TABLE = (Path(__file__).parents[2] / "data" / "peroxide_examples.csv").read_text(encoding="utf-8")
ROWS = list(csv.DictReader(line for line in TABLE.splitlines() if not line.startswith("#")))


def rows(kind):
    """The rows of one kind, blank inputs filled from the line above."""
    found, last = [], None
    for row in ROWS:
        last = row if row["kind"] else {**row, "kind": last["kind"], "inputs_json": last["inputs_json"]} | {"kind": last["kind"]}
        if last["kind"] == kind:
            found.append(last)
    return found


@pytest.mark.parametrize("row", rows("blend"), ids=lambda row: f"{row['case']} {row['output']}")
def test_the_worked_examples_come_out(row):
    made = blend(**json.loads(row["inputs_json"]), temperature_c=20.0)
    assert getattr(made, row["output"]) == pytest.approx(float(row["expected"]), abs=float(row["abs_tol"]))


# Alligation, published (docs/sources.md R189, R190): parts by the strengths' own measure.
@pytest.mark.parametrize(("high", "low", "target", "parts"), [(7, 2, 5, (3, 2)), (100, 35, 95, (12, 1))])
def test_published_alligations_come_out(high, low, target, parts):
    strong, weak = pearson_parts(high, low, target)
    assert strong / weak == pytest.approx(parts[0] / parts[1], rel=1e-12)


def test_260_ml_of_95_percent_takes_20_ml_of_35_percent():
    # R190: 35 % and 100 % to 95 %, 260 mL: 20 + 240 mL.
    strong, weak = pearson_parts(100, 35, 95)
    assert (260 * weak, 260 * strong) == pytest.approx((20, 240))


def test_a_published_wrong_answer_is_not_reproduced():
    # R194 prints 138.46 mL of 95 % for 300 mL of 70 % with water; by the same arithmetic it is 221.05 mL.
    strong, _ = pearson_parts(95, 0, 70)
    assert 300 * strong == pytest.approx(221.05, abs=0.005)
    assert 300 * strong != pytest.approx(138.46, abs=50)


def test_ten_pounds_of_35_percent_hold_3_and_a_half_pounds_of_peroxide():
    # R7, a maker's own example: 10 lb of 35 % = 3.5 lb peroxide + 6.5 lb water.
    pound = 0.45359237
    ten = dilute(0.35, 0.35, 10 * pound / density(0.35, 20) * 1000, 20)
    assert (ten.stock_kg * 0.35 / pound, ten.stock_kg * 0.65 / pound) == pytest.approx((3.5, 6.5), abs=1e-9)


def test_a_blend_with_water_is_the_dilution():
    one, other = blend(0.35, 0.0, 0.03, total_l=10, temperature_c=20), dilute(0.35, 0.03, 10, 20)
    assert (one.a_kg, one.b_kg, one.contraction_l) == pytest.approx((other.stock_kg, other.water_kg, other.contraction_l))


STRENGTH = st.floats(0.001, 0.6)


@given(STRENGTH, STRENGTH, st.floats(0.01, 0.99), st.floats(0.1, 100), st.floats(0, 50))
def test_peroxide_and_water_both_balance_in_every_blend(one, other, share, litres, warm):
    assume(abs(one - other) > 1e-3)
    target = min(one, other) + share * abs(one - other)
    made = blend(one, other, target, total_l=litres, temperature_c=warm)
    assert made.a_kg * made.a_w + made.b_kg * made.b_w == pytest.approx(made.mass_kg * target, rel=1e-9)
    assert made.a_kg + made.b_kg == pytest.approx(made.mass_kg, rel=1e-12)


@given(st.floats(0.001, 0.05), st.floats(0.1, 0.6), st.floats(0.05, 0.95), st.floats(1, 50), st.floats(0, 1))
def test_a_top_up_ends_at_its_strength_within_its_vessel_and_balances(bath, stock, share, litres, room):
    target = bath + share * (stock - bath) * 0.5
    assume(bath < target < stock)
    largest = litres * (1 + room)
    up = top_up(bath_l=litres, bath_w=bath, stock_w=stock, target_w=target, largest_l=largest, temperature_c=20)
    kept = litres * density(bath, 20) / 1000 - up.take_out_kg
    assert kept >= -1e-9
    assert kept * bath + up.stock_kg * stock == pytest.approx((kept + up.stock_kg) * target, rel=1e-9)
    assert up.volume_l <= largest * (1 + 1e-9)
    assert up.volume_l == pytest.approx((kept + up.stock_kg) / density(target, 20) * 1000, rel=1e-9)


def test_a_top_up_by_hand():
    # 10 L at 1.5 % to 3 % from 35 %: 10.035 kg * 0.015 / 0.32 = 0.4704 kg of stock; density of 1.5 % at 20 °C is 1003.5 kg/m3.
    up = top_up(bath_l=10, bath_w=0.015, stock_w=0.35, target_w=0.03, largest_l=20, temperature_c=20)
    assert up.stock_kg == pytest.approx(0.4704, abs=0.0005)
    assert up.take_out_l == 0


def test_a_full_vessel_is_emptied_a_little_first():
    up = top_up(bath_l=10, bath_w=0.015, stock_w=0.35, target_w=0.03, largest_l=10, temperature_c=20)
    assert up.volume_l == pytest.approx(10, rel=1e-9)
    assert 0.3 < up.take_out_l < 0.6


@pytest.mark.parametrize(
    ("change", "kind", "words"),
    [
        ({"target_w": 0.01}, Impossible, "the bath has 1.5 % and 1 % is wanted: stock is not what it needs; thin it with water"),
        ({"target_w": 0.4}, Impossible, "target strength 40 % is not below the stock's 35 %"),
        ({"largest_l": 5.0}, Impossible, "the bath is 10 L, more than the 5 L its vessel may hold"),
        ({"bath_l": 0.0}, OutsideRange, "the bath is 0 mL; it must be above 0"),
        ({"stock_w": 0.9}, OutsideRange, "stock strength is 90 %; it must lie from 0 to 70 %"),
    ],
)
def test_a_top_up_that_cannot_be_is_refused_in_words(change, kind, words):
    asked = {"bath_l": 10.0, "bath_w": 0.015, "stock_w": 0.35, "target_w": 0.03, "largest_l": 20.0, "temperature_c": 20.0} | change
    with pytest.raises(kind, match=words):
        top_up(**asked)


def test_a_blend_that_cannot_be_is_refused_in_words():
    with pytest.raises(Impossible, match="target strength 5 % does not lie between 1 % and 3 %"):
        blend(0.03, 0.01, 0.05, total_l=1, temperature_c=20)
    with pytest.raises(OutsideRange, match="volume is 0 mL"):
        blend(0.35, 0.01, 0.05, total_l=0, temperature_c=20)
