"""Whitening: the ways of the trade at their own strength, laws round them, and what is refused."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.baths.whitening import STRENGTH_POWER, Way, damage_at, days_while_it_fades, has_stopped, whitening

# bench 1.8 and the issue: 3 % for 6-48 h, 24 h usual; beaver 3-4 days at about 15 %. Common practice, no source.
MILD = Way(0.03, Figure(1.0, 0.25, 2.0, "days", Standing.PRACTICE, "common practice, no source"), 2.0)
STRONG = Way(0.15, Figure(3.5, 3.0, 4.0, "days", Standing.PRACTICE, "common practice, no source"), 6.0)


@pytest.mark.parametrize("way", [MILD, STRONG])
def test_at_its_own_strength_and_twenty_degrees_a_way_takes_its_own_days(way):
    found = whitening(way, way.strength_w, 20.0)
    assert (found.days.value, found.days.low, found.days.high) == pytest.approx((way.days.value, way.days.low, way.days.high))
    assert found.days.standing is Standing.PRACTICE


def test_at_three_percent_one_looks_every_twelve_hours_and_stops_at_two_days():
    found = whitening(MILD, 0.03, 20.0)
    assert (found.look_every_days, found.stop_after_days, found.acknowledge) == (0.5, 2.0, False)


def test_at_fifteen_percent_one_looks_oftener_and_says_yes_first():
    found = whitening(STRONG, 0.15, 20.0)
    assert found.look_every_days == pytest.approx(0.5 * math.sqrt(0.2))
    assert found.acknowledge
    assert found.stop_after_days == 6.0


@given(st.floats(0.016, 0.055), st.floats(8, 25), st.floats(1.01, 1.08))
def test_stronger_or_warmer_is_never_longer_and_never_looked_at_less(strength, warm, more):
    here, strong, hot = (whitening(MILD, s, t) for s, t in ((strength, warm), (strength * more, warm), (strength, warm + 2)))
    assert strong.days.value < here.days.value
    assert hot.days.value < here.days.value
    assert strong.look_every_days <= here.look_every_days
    assert hot.look_every_days <= here.look_every_days
    assert here.days.low <= here.days.value <= here.days.high


def test_away_from_its_own_strength_it_is_an_estimate():
    assert whitening(MILD, 0.04, 20.0).days.standing is Standing.ESTIMATE


@pytest.mark.parametrize(
    ("act", "kind", "words"),
    [
        (lambda: whitening(MILD, 0.15, 20), Impossible, "15 % is too far from this way's 3 % for its days to say anything"),
        (lambda: whitening(MILD, 0.0, 20), Impossible, "a bath of 0 % whitens nothing"),
        (lambda: whitening(MILD, 0.03, 40), OutsideRange, "above 30 °C everything comes out"),
        (lambda: days_while_it_fades(-1, 0.1), OutsideRange, "days and loss are 0 or more"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, kind, words):
    with pytest.raises(kind, match=words):
        act()


@given(st.floats(0.1, 5), st.floats(0.001, 0.2))
def test_a_bath_that_fades_takes_just_so_much_longer(days, rate):
    """By scipy's own integral: peroxide-time by strength to the power is the same as at the first strength."""
    longer = days_while_it_fades(days, rate)
    if math.isfinite(longer):
        whole = quad(lambda t: math.exp(-STRENGTH_POWER.value * rate * t), 0, longer)[0]
        assert whole == pytest.approx(days, rel=1e-6)
    else:
        assert 1 / (STRENGTH_POWER.value * rate) <= days


def test_a_bath_that_keeps_its_strength_takes_its_days():
    assert days_while_it_fades(1.5, 0) == 1.5
    assert days_while_it_fades(5, 1.0) == math.inf


def test_what_is_known_of_damage_grows_with_strength_and_names_its_source():
    mild, strong = damage_at(0.03), damage_at(0.15)
    assert len(strong) > len(mild) >= 3
    assert all(row.source for row in strong)
    assert "nobody has measured" in strong[0].what


def test_it_has_stopped_when_two_looks_in_a_row_saw_no_change():
    assert has_stopped([70, 78, 82, 82.3, 82.1])
    assert not has_stopped([70, 78, 82, 82.3])
    assert not has_stopped([82, 82])
