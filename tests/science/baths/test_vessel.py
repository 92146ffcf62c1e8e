"""Vessels and the skulls in them: geometry by hand and by brute force, Archimedes, and what does not fit."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Standing
from bonebench.science.baths import (
    Skull,
    Vessel,
    bone_of_head_kg,
    cover,
    displaced_l,
    floating_air_l,
    lies_flat,
    vessel_by_brim,
)

TUB = Vessel(0.6, 0.4, 0.4)
DEER = Skull(0.75, 0.26, 0.11, "the deer")
WIDE = Skull(0.75, 0.26, 0.11, "the deer", width_m=0.11)


def test_a_deer_in_a_tub_by_hand():
    # Level 0.11 + 0.03 = 0.14 m; 0.6 x 0.4 x 0.14 = 33.6 L, less 0.75 kg / 1.8 kg/L = 0.417 L of bone.
    found = cover(TUB, [DEER])
    assert found.level_m == pytest.approx(0.14)
    assert found.bath_l.value == pytest.approx(33.6 - 0.4167, abs=0.001)
    assert found.mark_m == pytest.approx(0.32)  # four fifths of the depth: common practice, no source
    assert found.headspace_l == pytest.approx(96 - 33.6)


def test_a_round_bucket_by_hand():
    bucket = Vessel(0.3, 0.3, 0.35, round=True)
    assert bucket.brim_l == pytest.approx(math.pi * 0.0225 * 350, rel=1e-9)
    assert bucket.longest_m == 0.3
    assert Vessel(0.3, 0.4, 0.3).longest_m == pytest.approx(0.5)


def test_a_tub_that_tapers_goes_by_what_it_was_measured_to_hold():
    # 80 L to a brim of 0.4 m: a mean of 0.2 m2, so 0.14 m of bath are 28 L.
    found = cover(Vessel(0.6, 0.4, 0.4, measured_l=80), [DEER])
    assert found.bath_l.value + found.displaced_l.value == pytest.approx(28.0)
    for litres in (20, 120):
        with pytest.raises(Impossible, match="by its sizes it is 96 L: measure one of them again"):
            Vessel(0.6, 0.4, 0.4, measured_l=litres)


def test_a_vessel_known_by_its_litres_alone_is_a_guess_and_says_so():
    vessel = vessel_by_brim(64)
    assert (vessel.length_m, vessel.depth_m, vessel.brim_l) == pytest.approx((0.4, 0.4, 64))
    found = cover(vessel, [DEER])
    assert "vessel.flag.guessed" in [flag.key for flag in found.flags]
    assert found.bath_l.standing is Standing.ESTIMATE
    with pytest.raises(OutsideRange, match="the vessel holds 0 mL"):
        vessel_by_brim(0)


@given(st.floats(0, 3), st.floats(0.1, 3))
def test_more_bone_takes_more_room(bone, more):
    one, other = displaced_l(bone), displaced_l(bone + more)
    assert one.low <= one.value <= one.high
    assert other.value > one.value


@given(st.floats(0.01, 8), st.floats(0.99, 1.15))
def test_a_skull_with_just_so_much_air_hangs_in_the_bath(bone, bath):
    """Archimedes: at the border, bone and air push aside exactly the bone's own weight of bath."""
    assert (displaced_l(bone).value + floating_air_l(bone, bath).value) * bath == pytest.approx(bone, rel=1e-9)
    assert floating_air_l(bone, bath).value > floating_air_l(bone, bath + 0.05).value


def test_air_that_floats_a_deer_by_hand():
    # 0.75 kg / 1.01 kg/L = 0.743 L, less 0.417 L of bone.
    assert floating_air_l(0.75).value == pytest.approx(0.326, abs=0.001)
    with pytest.raises(OutsideRange, match="the bath is 2 kg/L"):
        floating_air_l(0.75, 2.0)


# Dry skull and fresh head, both from memory: middle of the usual range and body mass times share of the head. # from memory
HEADS = [("deer", 3.5, 0.75), ("moose", 17.0, 7.0), ("coyote", 0.98, 0.26), ("raccoon", 0.6, 0.105), ("muskrat", 0.095, 0.015)]


@pytest.mark.parametrize(("name", "head_kg", "bone_kg"), HEADS, ids=[row[0] for row in HEADS])
def test_bone_of_a_head_holds_what_is_remembered_of_skulls(name, head_kg, bone_kg):
    bone = bone_of_head_kg(head_kg)
    assert bone.low <= bone_kg <= bone.high
    assert bone.standing is Standing.ESTIMATE


def test_no_head_has_no_bone_and_less_than_none_is_refused():
    assert bone_of_head_kg(0).high == 0
    with pytest.raises(OutsideRange, match="the head is -1 kg; it must be 0 or more"):
        bone_of_head_kg(-1)


def brute(a, b, p, q, steps=2000):
    """Whether some turn of p by q lies within a by b."""
    turns = (math.pi / 2 * n / steps for n in range(steps + 1))
    return any(p * math.cos(t) + q * math.sin(t) <= a and p * math.sin(t) + q * math.cos(t) <= b for t in turns)


@given(*(st.floats(0.05, 0.9) for _ in range(4)))
def test_lying_flat_is_what_trying_every_turn_finds(a, b, p, q):
    skull, vessel = Skull(1, p, 0.1, width_m=q), Vessel(a, b, 0.4)
    inner = 0.98  # what FITS_WITHIN leaves
    # A hair off the border either way, where two thousand turns are too few to tell.
    if lies_flat(vessel, skull):
        assert brute(a * inner * 1.001, b * inner * 1.001, p, q)
    else:
        assert not brute(a * inner * 0.999, b * inner * 0.999, p, q)


def test_a_skull_lies_in_a_bucket_when_its_corner_to_corner_is_no_more_than_across():
    bucket = Vessel(0.3, 0.3, 0.35, round=True)
    # 0.26 x 0.12: corner to corner 0.286 m, against 0.98 x 0.3 = 0.294; with 0.14 it is 0.295.
    assert lies_flat(bucket, Skull(0.7, 0.26, 0.1, width_m=0.12))
    assert not lies_flat(bucket, Skull(0.7, 0.26, 0.1, width_m=0.14))


def test_two_skulls_need_no_higher_level_and_less_bath_than_one_alone():
    one, two = cover(TUB, [DEER]), cover(TUB, [DEER, DEER])
    assert two.level_m == one.level_m
    assert two.bath_l.value < one.bath_l.value
    assert two.most_l < one.most_l
    assert two.headspace_l == one.headspace_l


@given(st.floats(0.3, 1), st.floats(0.25, 1), st.floats(0.2, 1), st.integers(1, 3))
def test_bath_and_bone_and_headspace_fill_the_vessel(length, width, depth, count):
    vessel = Vessel(length, width, depth)
    found = cover(vessel, [DEER] * count)
    assert found.bath_l.value + found.displaced_l.value + found.headspace_l == pytest.approx(vessel.brim_l)
    assert found.level_m <= found.mark_m + 1e-12


def flags(vessel, skulls):
    return [flag.key for flag in cover(vessel, skulls).flags]


def test_what_is_not_known_or_to_be_minded_is_said():
    assert flags(TUB, [WIDE]) == ["vessel.flag.floats"]
    assert flags(TUB, [DEER, DEER]) == ["vessel.flag.side", "vessel.flag.floats"]
    # Eight of 0.26 x 0.11 m want 0.229 of 0.24 m2.
    assert flags(TUB, [WIDE] * 8) == ["vessel.flag.tight", "vessel.flag.floats"]
    words = cover(TUB, [DEER]).flags[-1].text
    assert words.startswith("the deer floats while more than about 0.326 L of air is held in its hollows")
    assert words.endswith("glass or plastic, never metal")


@pytest.mark.parametrize(
    ("skulls", "words"),
    [
        ([Skull(3.5, 0.8, 0.2, "the elk")], "the elk is 800 mm long; the vessel takes 721 mm at most: take a longer one"),
        (
            [Skull(3.5, 0.6, 0.2, "the elk", 0.2)],
            "the elk is 600 mm long and 200 mm wide; it does not lie flat in a vessel of 600 mm",
        ),
        (
            [Skull(1.5, 0.3, 0.3, "the bear")],
            "the bear stands 300 mm high and wants 30 mm above it; the bath may stand 320 mm high",
        ),
        ([], "nothing is to be covered"),
        ([Skull(90.0, 0.2, 0.1)], "put fewer in at once"),
        ([WIDE] * 9, "side by side they want 0.257 m² and the vessel has 0.24 m²: put fewer in at once"),
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
    with pytest.raises(OutsideRange, match="the hare is 0 mm one way"):
        Skull(0.1, 0.09, 0.05, "the hare", width_m=0.0)
