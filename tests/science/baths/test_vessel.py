"""Covering skulls: geometry by hand, laws, and what does not fit."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.baths import Skull, Vessel, cover, displaced_l
from bonebench.science.baths.vessel import closed_lid_bar

TUB = Vessel(0.6, 0.4, 0.4)
DEER = Skull(0.75, 0.26, 0.11, "the deer")


def test_a_deer_in_a_tub_by_hand():
    # Level 0.11 + 0.03 = 0.14 m; 0.6 x 0.4 x 0.14 = 33.6 L, less 0.75 kg / 1.8 kg/L = 0.417 L of bone.
    found = cover(TUB, [DEER])
    assert found.level_m == pytest.approx(0.14)
    assert found.bath_l.value == pytest.approx(33.6 - 0.4167, abs=0.001)
    assert found.mark_m == pytest.approx(0.32)  # four fifths of the depth: common practice, no source


def test_a_round_bucket_by_hand():
    bucket = Vessel(0.3, 0.3, 0.35, round=True)
    assert bucket.brim_l == pytest.approx(math.pi * 0.0225 * 350, rel=1e-9)
    assert bucket.longest_m == 0.3
    assert Vessel(0.3, 0.4, 0.3).longest_m == pytest.approx(0.5)


@given(st.floats(0, 3), st.floats(0.1, 3))
def test_more_bone_takes_more_room_and_less_bath(bone, more):
    one, other = displaced_l(bone), displaced_l(bone + more)
    assert one.low <= one.value <= one.high
    assert other.value > one.value


def test_two_skulls_need_no_higher_level_and_less_bath_than_one_alone():
    one, two = cover(TUB, [DEER]), cover(TUB, [DEER, DEER])
    assert two.level_m == one.level_m
    assert two.bath_l.value < one.bath_l.value
    assert two.most_l < one.most_l


@pytest.mark.parametrize(
    ("skulls", "words"),
    [
        ([Skull(3.5, 0.8, 0.2, "the elk")], "the elk is 800 mm long; the vessel takes 721 mm at most: take a longer one"),
        (
            [Skull(1.5, 0.3, 0.3, "the bear")],
            "the bear stands 300 mm high and wants 30 mm above it; the bath may stand 320 mm high",
        ),
        ([], "nothing is to be covered"),
        ([Skull(90.0, 0.2, 0.1)], "put fewer in at once"),
    ],
)
def test_what_does_not_fit_is_refused_in_words(skulls, words):
    with pytest.raises(Impossible, match=words):
        cover(TUB, skulls)


def test_sizes_that_cannot_be_are_refused():
    with pytest.raises(OutsideRange, match="the vessel's depth is 0 mm"):
        Vessel(0.3, 0.3, 0)
    with pytest.raises(OutsideRange, match="bone is -100 g"):
        displaced_l(-0.1)


def test_a_tight_lid_bursts_by_boyles_law():
    # A litre of gas more in a litre of space is one atmosphere more: 1.01325 bar.
    assert closed_lid_bar(1.0, 1.0, 1.0) == pytest.approx(1.01325)
    assert closed_lid_bar(2.0, 4.0, 3.0) == pytest.approx(1.51988, abs=1e-5)
    with pytest.raises(OutsideRange, match="free space above 0"):
        closed_lid_bar(1.0, 0.0, 1.0)
