"""How good the dates were: by hand, and the interval against a published one."""

import pytest

from bonebench.science.cleaning import kept, skill


def test_skill_by_hand():
    # By hand: errors +2, -1, +10: mean 3.667, off 4.333; by 14 days: two of three.
    told = skill([(10, 14, 12), (10, 14, 9), (10, 14, 20)])
    assert (told.pieces, told.by_80) == (3, pytest.approx(2 / 3))
    assert told.mean_error_days == pytest.approx(11 / 3)
    assert told.mean_off_days == pytest.approx(13 / 3)


def test_the_interval_by_hand():
    # By hand with z = 1.6449, z^2 = 2.7055: 8 of 10: centre (0.8 + 0.1353) / 1.27055 = 0.7361,
    # half width 1.6449 / 1.27055 * sqrt(0.8 * 0.2 / 10 + 2.7055 / 400) = 0.1953. Four digits carried.
    told = kept(8, 10)
    assert (told.low, told.high) == (pytest.approx(0.5408, abs=3e-4), pytest.approx(0.9314, abs=3e-4))


def test_few_pieces_leave_a_wide_interval_within_nothing_and_all():
    one = kept(1, 1)
    assert 0.0 < one.low < 0.35
    assert one.high == 1.0
    assert kept(0, 5).low == pytest.approx(0.0, abs=1e-12)
