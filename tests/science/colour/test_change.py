"""A series of looks told from its noise: noise alone is seldom called a change, a true change is found, and slowly ones too."""

import numpy as np
import pytest

from bonebench.errors import Impossible
from bonebench.science.colour import ASSUMED_REPEAT, delta_e_76, progress, repeats
from bonebench.science.colour.change import LIMIT_IN_REPEATS, _chi_interval

BONE = np.array([80.0, 1.0, 12.0])


def test_noise_alone_passes_the_limit_once_in_twenty():
    # 20,000 pairs of equal normal errors; 5 % has a standard error of 0.15 %. By the plain distance, where the axes are equal.
    rng = np.random.default_rng(8437)
    one, other = rng.normal(0, 1, (2, 20_000, 3))
    apart = delta_e_76(one, other)
    limit = LIMIT_IN_REPEATS * float(np.sqrt((apart**2).mean()))
    assert float((apart > limit).mean()) == pytest.approx(0.05, abs=0.006)


def test_the_interval_of_a_root_mean_square_is_that_of_chi_squared():
    # Chi-squared table, 9 degrees of freedom: 3.325 (5 %) and 16.919 (95 %); 30: 18.493 and 43.773. The cube is within 1 %.
    for freedom, low, high in ((9, 3.325, 16.919), (30, 18.493, 43.773)):
        assert _chi_interval(freedom) == pytest.approx(((freedom / high) ** 0.5, (freedom / low) ** 0.5), rel=0.01)


def test_the_rooms_own_noise_is_found_from_repeats():
    # Three axes with sigma s: two photos differ by s * sqrt(6) root mean square; near grey CIEDE2000 shrinks L by its weight.
    rng = np.random.default_rng(1)
    groups = [np.array([50.0, 0, 0]) + np.column_stack([rng.normal(0, 0.5, 4), np.zeros(4), np.zeros(4)]) for _ in range(400)]
    found = repeats(groups)
    # At L* 50 the weight of lightness is 1: only one axis moves, 0.5 * sqrt(2) = 0.707. 1,200 repeats: 2 % is the error.
    assert found.likely == pytest.approx(0.5 * 2**0.5, rel=0.06)
    assert found.count == 1200
    assert found.low < found.likely < found.high


def test_too_few_repeats_leave_the_assumed_noise():
    assert repeats([]) == repeats([[BONE]]) == repeats([[BONE, BONE], [BONE]])
    assert (repeats([]).low, repeats([]).likely, repeats([]).high) == ASSUMED_REPEAT


def whitening(days, half_life=1.0, rise=10.0):
    """Bone that grows lighter towards an end, as whitening does."""
    return np.array([[80 + rise * (1 - 0.5 ** (day / half_life)), 1, 12] for day in days])


def test_bone_that_whitens_is_said_to_change_and_then_to_stand():
    days = np.arange(0, 6, 0.5)
    early, late = progress(days[:4], whitening(days[:4]), 0.5), progress(days, whitening(days), 0.5)
    assert (early.still_looks, early.still_days) == (1, 0.0)
    assert early.lighter == pytest.approx(10 * (1 - 0.5**1.5))
    # After three half-lives 1.25 in L* is left to come, which is 0.8 by CIEDE2000 up there (weight 1.5): the limit.
    assert late.still_looks >= 5
    assert late.last < late.limit < late.whole


def test_a_slow_change_that_no_two_neighbours_show_is_still_found():
    days = np.arange(10.0)
    slow = np.array([[70 + 0.8 * day, 1, 12] for day in days])
    found = progress(days, slow, 1.0)
    assert found.last < found.limit
    assert found.still_looks < len(days)


def test_more_noise_never_makes_the_still_looks_fewer():
    days = np.arange(0, 6, 0.5)
    counts = [progress(days, whitening(days), noise).still_looks for noise in (0.1, 0.3, 1.0, 3.0, 10.0)]
    assert counts == sorted(counts)
    assert counts[-1] == len(days)


@pytest.mark.parametrize(("days", "lab"), [([0.0], [BONE]), ([1.0, 0.0], [BONE, BONE]), ([], np.zeros((0, 3)))])
def test_one_look_or_looks_out_of_order_tell_no_change(days, lab):
    with pytest.raises(Impossible) as refused:
        progress(days, lab, 1.0)
    assert str(refused.value) == "a change needs two looks at least, in the order of their times"
