"""How long a bath serves and what each skull takes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.decay import rate_per_day
from bonebench.science.baths.life import advice, cost_each_minor, cost_minor, life, oxygen_still_l, way_out

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


def believed(value, low, high):
    return Figure(value, low, high, "w/w", Standing.ESTIMATE, "made")


def test_each_skull_costs_more_where_the_bath_fades_fast():
    # 1.556 kg at 4.50 is 700; 9.24 skulls: 76 each. Ends by hand: 0.3 a day gives 4.62 skulls, 152; 0.05 gives 27.7, 25.
    assert cost_each_minor(life(**TUB), 450) == (25, 76, 152)


@pytest.mark.parametrize(
    ("strength", "tested", "top_ups", "kind"),
    [
        (believed(0.025, 0.02, 0.028), False, 0, "go on"),
        (believed(0.02, 0.012, 0.026), False, 0, "test first"),
        (believed(0.01, 0.005, 0.014), False, 0, "test first"),  # age alone never tops up
        (believed(0.016, 0.014, 0.018), True, 0, "test first"),
        (believed(0.014, 0.0135, 0.0145), True, 0, "top up"),
        (believed(0.014, 0.0135, 0.0145), True, 3, "mix anew"),
    ],
)
def test_advice_follows_the_floor_and_the_test(strength, tested, top_ups, kind):
    told = advice(strength, tested=tested, look_by_days=2.0, top_ups=top_ups)
    assert told.kind == kind
    assert told.look_by_days == (2.0 if kind == "go on" else 0.0)


@given(st.floats(0.0001, 0.3), st.floats(0.1, 1), st.floats(1, 3), st.booleans(), st.integers(0, 5))
def test_no_advice_gives_the_all_clear(value, below, above, tested, top_ups):
    strength = believed(value, value * below, min(value * above, 0.7))
    words = [advice(strength, tested=tested, look_by_days=1.0, top_ups=top_ups).said.text]
    words += [step.text for step in way_out(strength, 10, rate_per_day("bone", 20)).steps]
    for forbidden in ("safe", "spent", "harmless", "pour it away", "may be poured"):
        assert not any(forbidden in text for text in words)
    assert any("ask the local water authority" in text for text in words)


def test_a_bath_on_its_way_out_by_hand():
    # 10 kg of 1 % hold 35 L (10.6/3 * 10); to a trace of 0.05 % is ln 20 = 3.00 over 0.15 a day: 20 days.
    out = way_out(believed(0.01, 0.01, 0.01), 10, rate_per_day("bone", 20))
    assert out.oxygen_l.value == pytest.approx(35.4, abs=0.3)
    assert out.open_days.value == pytest.approx(math.log(20) / 0.15)
    assert (out.open_days.low, out.open_days.high) == pytest.approx((math.log(20) / 0.3, math.log(20) / 0.05))
    assert not out.never_to_a_drain


def test_what_may_be_above_eight_percent_goes_down_no_drain():
    # Bench 1.7: no drain for > 8 %; the high end counts.
    out = way_out(believed(0.07, 0.05, 0.09), 10, rate_per_day("bone", 20))
    assert out.never_to_a_drain
    assert "goes down no drain" in out.steps[1].text
    # Bench 1.4: 84 K for 12 %, so 63 K for 9 %.
    assert out.heat_rise_k == pytest.approx(63, abs=0.5)
