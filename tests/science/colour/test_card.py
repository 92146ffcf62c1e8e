"""A region against a card: known colours come back whatever the light; what cannot be measured is refused in words."""

import warnings

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.science.colour import Box, delta_e_2000, linear_to_lab, measure

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

CARD, BONE = Box(0.05, 0.05, 0.3, 0.4), Box(0.6, 0.5, 0.3, 0.4)
CHART = colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"]
# Those that an sRGB picture can hold whole, and that are dull enough for bone: the greys and the skins.
PATCHES = (
    "dark skin",
    "light skin",
    "neutral 8 (.23 D)",
    "neutral 6.5 (.44 D)",
    "neutral 5 (.70 D)",
    "neutral 3.5 (1.05 D)",
    "foliage",
)


def exact(linear):
    """Code light as an 8-bit picture does (IEC 61966-2-1), not yet rounded."""
    linear = np.clip(linear, 0, 1)
    return 255 * np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055)


def coded(linear):
    """Code light as an 8-bit picture does."""
    return np.round(exact(linear)).astype(np.uint8)


def shot(card, bone, light=(1.0, 1.0, 1.0), size=(200, 300), noise=0.0):
    """A picture of a card and bone of known reflectance (three channels each) in some light, with so many codes of noise."""
    picture = np.full((*size, 3), 0.2)
    for box, reflectance in ((CARD, card), (BONE, bone)):
        rows = slice(round(box.top * size[0]), round((box.top + box.height) * size[0]))
        picture[rows, round(box.left * size[1]) : round((box.left + box.width) * size[1])] = reflectance
    codes = coded(picture * np.array(light)).astype(float) if not noise else exact(picture * np.array(light))
    return np.clip(np.round(codes + np.random.default_rng(8437).normal(0, noise, codes.shape)), 0, 255).astype(np.uint8)


def published(name):
    """The published chart colour adapted to D65 by the independent library, as light of sRGB."""
    xyz = colour.xyY_to_XYZ(CHART.data[name])
    d65 = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    adapted = colour.adaptation.chromatic_adaptation_VonKries(
        xyz, colour.xy_to_XYZ(CHART.illuminant), colour.xy_to_XYZ(d65), transform="Bradford"
    )
    return colour.XYZ_to_RGB(adapted, "sRGB", chromatic_adaptation_transform=None), colour.XYZ_to_Lab(adapted, d65)


@pytest.mark.parametrize("name", PATCHES)
@pytest.mark.parametrize("light", [(1.0, 1.0, 1.0), (0.95, 0.8, 0.6), (0.5, 0.55, 0.7)])
def test_a_published_chart_colour_comes_back_in_lamp_light_and_in_shade(name, light):
    # X-Rite's chart of 2014 (values shipped with colour-science). A code of noise, as every camera has, takes the rounding to
    # codes out of the mean; what is left is that the colour of a mean is not the mean of colours, 0.1, and the two whites, 0.02.
    linear, lab = published(name)
    found = measure(shot([0.8] * 3, linear, light, noise=1.0), CARD, BONE, 0.8)
    assert float(delta_e_2000(found.lab, lab)) < 0.2


@settings(max_examples=100, deadline=None)
@given(st.floats(0.3, 0.85), st.floats(0.55, 1.0), st.tuples(*[st.floats(0.7, 1.0)] * 3))
def test_bone_comes_back_whatever_the_exposure_and_hue_of_the_light(grey, exposure, hue):
    bone = np.array([grey, 0.95 * grey, 0.85 * grey])
    # A code of noise, as every camera has: without it the rounding of flat colours to whole codes alone is worth up to 1.2.
    found = measure(shot([0.9] * 3, bone, exposure * np.array(hue), noise=1.0), CARD, BONE, 0.9)
    assert float(delta_e_2000(found.lab, linear_to_lab(bone))) < 0.3
    assert found.uneven < 0.01


def test_what_is_known_of_the_card_scales_the_light():
    # Half the reflectance is half the light: Y 0.4 and 0.2 are L* 69.5 and 51.8 by the formula (116 * Y ** (1/3) - 16).
    picture = shot([0.8] * 3, [0.4] * 3)
    assert measure(picture, CARD, BONE, 0.8).lab[0] == pytest.approx(69.47, abs=0.3)
    assert measure(picture, CARD, BONE, 0.4).lab[0] == pytest.approx(51.84, abs=0.3)


def test_the_spread_over_the_region_is_that_of_its_lightness():
    picture = shot([0.8] * 3, [0.4] * 3)
    bone = picture[100:180, 180:270]
    bone[::2] = coded(np.array([0.5] * 3))
    found = measure(picture, CARD, BONE, 0.8)
    # Half at L* 69.5, half at 76.1 (Y 0.5): the spread is half their distance, 3.3.
    assert found.spread[0] == pytest.approx((76.07 - 69.47) / 2, abs=0.2)
    assert found.pixels == 80 * 90


def test_light_that_falls_off_over_the_card_is_found():
    picture = shot([0.8] * 3, [0.4] * 3).astype(float)
    fall = np.linspace(0.8, 1.0, picture.shape[1])
    linear = np.array([0.8] * 3)[None, None] * fall[None, :, None] * np.ones((picture.shape[0], 1, 1))
    found = measure(np.where(np.arange(300)[None, :, None] < 120, coded(linear), picture.astype(np.uint8)), CARD, BONE, 0.8)
    # Over a card from 5 % to 35 % of the width the light rises by 0.2 * 0.3 = 0.06 of about 0.84; its halves' means lie half of
    # that apart: 0.03 / 0.84 = 3.6 %. The rounding of codes is left 0.5 %.
    assert found.uneven == pytest.approx(0.036, abs=0.005)


def test_what_is_not_all_card_scatters():
    picture = shot([0.8] * 3, [0.4] * 3)
    assert measure(picture, CARD, BONE, 0.8).speckle < 1e-9
    picture[10:90:2, 15:105] = 60
    assert measure(picture, CARD, BONE, 0.8).speckle > 0.08


def refused(kind, picture, card=CARD, bone=BONE, reflectance=0.8):
    with pytest.raises(kind) as refusal:
        measure(picture, card, bone, reflectance)
    return str(refusal.value)


def test_what_is_too_bright_or_too_dark_is_refused_with_what_to_do():
    assert refused(OutsideRange, shot([0.8] * 3, [1.0] * 3)) == (
        "100 % of the bone is too bright to measure: take it again with a darker exposure"
    )
    assert refused(OutsideRange, shot([1.0] * 3, [0.4] * 3)) == (
        "100 % of the card is too bright to measure: take it again with a darker exposure"
    )
    # Code 45 of 255 is light 0.0262: a card of 0.02.
    assert refused(OutsideRange, shot([0.026] * 3, [0.4] * 3)) == (
        "the card is too dark to measure by (code 45 of 255, 60 is needed): take it with more light"
    )


def test_boxes_that_cannot_be_are_refused():
    picture = shot([0.8] * 3, [0.4] * 3)
    assert refused(Impossible, picture, bone=Box(0.3, 0.3, 0.1, 0.2)) == (
        "the two boxes overlap: one is for the card alone, one for the bone alone"
    )
    for box in (Box(0.9, 0.5, 0.2, 0.1), Box(-0.1, 0, 0.2, 0.2), Box(0.6, 0.6, 0, 0.2), Box(0.6, float("nan"), 0.1, 0.1)):
        assert refused(OutsideRange, picture, bone=box) == "the box of the bone does not lie inside the picture"
    assert refused(OutsideRange, picture, bone=Box(0.6, 0.6, 0.02, 0.02)) == (
        "the box of the bone has 24 pixels; at least 400 are needed: mark more, or go nearer"
    )
    assert refused(OutsideRange, picture, reflectance=1.2) == "the card reflects 120 %; a card of 2 % to 100 % can be used"
