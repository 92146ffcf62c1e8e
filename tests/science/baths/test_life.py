"""How long a bath serves and what each skull takes."""

import math

import pytest

from bonebench.errors import OutsideRange
from bonebench.science.baths.life import cost_minor, life, oxygen_still_l

TUB = {"strength_w": 0.03, "stock_kg": 1.556, "temperature_c": 20.0, "at_once": 2, "days_each": 1.0}


def test_a_tub_by_hand():
    # ln(3 / 1.5) / 0.15 = 4.62 days with bone at 20 °C; two skulls a day are 9.2; 1.556 kg over them is 0.168 kg each.
    found = life(**TUB)
    assert found.days.value == pytest.approx(math.log(2) / 0.15)
    assert found.skulls.value == pytest.approx(2 * math.log(2) / 0.15)
    assert found.stock_kg_each.value == pytest.approx(1.556 / found.skulls.value)
    assert found.stock_kg_each.low <= found.stock_kg_each.value <= found.stock_kg_each.high


def test_a_bath_that_fades_within_one_stay_still_serves_one_load():
    found = life(**{**TUB, "days_each": 30.0})
    assert found.skulls.value == 2


def test_money_is_whole_coins():
    assert cost_minor(0.168, 450) == 76  # 0.168 kg at 4.50 is 75.6
    assert cost_minor(0, 450) == 0


def test_what_a_bath_on_its_way_out_still_gives_off():
    # bench 1.4: 1 kg of 3 % releases about 10.6 L.
    assert oxygen_still_l(0.03, 1.0) == pytest.approx(10.6, abs=0.1)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda: life(**{**TUB, "stock_kg": 0}), "must be above 0"),
        (lambda: life(**{**TUB, "strength_w": 0.9}), "strength is 90 %"),
        (lambda: cost_minor(-1, 450), "stock and price are 0 or more"),
    ],
)
def test_what_cannot_be_is_refused(act, words):
    with pytest.raises(OutsideRange, match=words):
        act()
