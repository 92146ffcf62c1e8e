"""From pixels to CIELAB: published values, and an independent library."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.science.colour import linear_to_lab, srgb_to_linear

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour

# The primaries, white and black of sRGB in CIELAB under D65: B. Lindbloom's calculator prints two decimals; his matrix has more of
# them than the standard's four, hence 0.06.
PRIMARIES = [
    ((255, 0, 0), (53.24, 80.09, 67.20)), ((0, 255, 0), (87.73, -86.18, 83.18)), ((0, 0, 255), (32.30, 79.19, -107.86)),
    ((255, 255, 255), (100.0, 0.0, 0.0)), ((0, 0, 0), (0.0, 0.0, 0.0)),
]  # fmt: skip  # from memory, and agreeing with colour-science below


@pytest.mark.parametrize(("rgb", "lab"), PRIMARIES)
def test_the_primaries_of_srgb_lie_where_they_are_published(rgb, lab):
    assert linear_to_lab(srgb_to_linear(np.array(rgb) / 255)) == pytest.approx(lab, abs=0.06)


def test_a_grey_of_18_percent_has_lightness_49_5():
    # Hand calculation: 116 * 0.18 ** (1/3) - 16 = 49.496.
    assert linear_to_lab([0.18, 0.18, 0.18]) == pytest.approx((49.496, 0, 0), abs=1e-3)


@pytest.mark.parametrize("code", range(0, 256, 5))
def test_coded_values_become_light_as_in_an_independent_library(code):
    assert srgb_to_linear(code / 255) == pytest.approx(float(colour.models.eotf_sRGB(code / 255)), abs=1e-12)


@given(st.tuples(*[st.floats(0, 1)] * 3))
def test_lab_agrees_with_an_independent_library(rgb):
    # The library uses the same four-decimal matrix and takes D65 from its chromaticity; the two whites differ by 5e-5.
    xyz = colour.RGB_to_XYZ(rgb, "sRGB", apply_cctf_decoding=True, chromatic_adaptation_transform=None)
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    assert linear_to_lab(srgb_to_linear(rgb)) == pytest.approx(tuple(colour.XYZ_to_Lab(xyz, white)), abs=0.02)


def test_equal_channels_have_no_hue_and_more_light_is_lighter():
    greys = linear_to_lab(np.repeat(np.linspace(0, 1.2, 50)[:, None], 3, axis=1))
    assert np.abs(greys[:, 1:]).max() < 1e-9
    assert (np.diff(greys[:, 0]) > 0).all()
