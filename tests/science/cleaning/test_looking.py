import random

import pytest

from bonebench.errors import OutsideRange
from bonebench.science.cleaning import LOOKS, by_look, by_weight, clean_by, days_in_box, skill
from bonebench.science.cleaning.looking import Reading, share_left
from bonebench.science.cleaning.surface import FLUX


def test_without_a_reading_the_date_is_that_of_the_first_guess_and_its_range_is_that_of_the_flux():
    told = clean_by(0, 0.4, 0.1, [])
    assert told.days_50 == pytest.approx(days_in_box(0.4, 0.1), rel=0.02)
    assert told.pace.low == pytest.approx(FLUX.low / FLUX.value, rel=0.03)
    assert told.pace.high == pytest.approx(FLUX.high / FLUX.value, rel=0.03)
    assert told.days_80 > told.days_50


def test_the_share_left_runs_out_on_the_day_that_the_eating_says():
    # Two ways to the same law: the course over days and the sum of days.
    for most in (0.05, 0.02, 1.0):
        whole = days_in_box(0.4, 0.1, most)
        assert share_left(whole, 0.25, most / 0.4) == pytest.approx(0, abs=1e-9)
        assert share_left(0.9 * whole, 0.25, most / 0.4) > 0


def test_two_weighings_of_a_made_piece_find_its_pace_again():
    # Made: 60 % of the guess. After 2 and 4 days 30 % and 60 % of 0.25 a day are gone.
    readings = [by_weight(2, 0.4, 0.12), by_weight(4, 0.4, 0.24)]
    told = clean_by(4, 0.4, 0.1, readings)
    assert told.pace.value == pytest.approx(0.6, rel=0.03)
    assert told.pace.high / told.pace.low < 1.3
    assert told.left_share.value == pytest.approx(0.4, abs=0.02)
    assert told.days_50 == pytest.approx(days_in_box(0.4, 0.06) - 4, rel=0.05)


def test_a_slow_look_puts_the_date_off_and_a_bare_one_brings_it_near():
    guess = clean_by(3, 0.4, 0.1, [])
    assert clean_by(3, 0.4, 0.1, [by_look(3, "hardly touched")]).days_50 > guess.days_50
    assert clean_by(3, 0.4, 0.1, [by_look(3, "bare")]).days_50 < 0.5 * guess.days_50
    assert list(LOOKS.values()) == sorted(LOOKS.values(), reverse=True)


def test_the_dates_at_50_and_80_hold_that_often_on_made_pieces():
    # Known truth: pace drawn from the very range, eyes off by the very spread. 400 pieces: three standard errors are 0.075, 0.06.
    rng, up, down, pieces = random.Random(7), 0.4462, 0.6679, []
    for _ in range(400):
        z = rng.gauss(0, 1)
        rate = 0.1 * 2.718281828 ** (z * (up if z > 0 else down))
        left = share_left(2, rate / 0.4)
        told = clean_by(2, 0.4, 0.1, [Reading(2, left + rng.gauss(0, 0.13), 0.13)])
        actual = days_in_box(0.4, rate) - 2
        if actual > 0 and told.days_50 > 0:
            pieces.append((told.days_50, told.days_80, actual))
    how = skill(pieces)
    assert how.by_50 == pytest.approx(0.5, abs=0.08)
    assert how.by_80 == pytest.approx(0.8, abs=0.07)


def test_skill_by_hand():
    how = skill([(10, 14, 12), (10, 14, 9), (10, 14, 20)])
    assert (how.pieces, how.ratio) == (3, 1.2)
    assert (how.by_50, how.by_80) == (pytest.approx(1 / 3), pytest.approx(2 / 3))
    assert skill([(10, 14, 12), (10, 14, 8)]).ratio == pytest.approx(1.0)
    assert skill([]) is None


def test_what_cannot_be_is_refused():
    with pytest.raises(OutsideRange, match="no look is called fine; they are hardly touched"):
        by_look(1, "fine")
    with pytest.raises(OutsideRange, match="the tissue must be above 0"):
        by_weight(1, 0, 0.1)
    with pytest.raises(OutsideRange, match="the eating rate is 0; it must be above 0"):
        clean_by(1, 0.4, 0, [])
