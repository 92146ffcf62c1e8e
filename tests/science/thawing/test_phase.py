import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.science.thawing import dimensionality, front_share, pham_freezing_s, plank_s

# Sphere of 7 cm, 1000 kg/m3, 250 kJ/kg, 38.75 K, k 1.2, film 50: a much used textbook example prints 0.72 h (from memory).
BALL = {"radius_m": 0.035, "conductivity_w_m_k": 1.2, "dimensions": 3.0}


def test_plank_gives_the_textbook_example_of_a_ball():
    # One half in the last printed digit.
    assert plank_s(1000 * 250e3, 38.75, film_w_m2_k=50, **BALL) / 3600 == pytest.approx(0.72, abs=0.005)


def test_plank_gives_the_published_ball_in_plastic():
    # The same ball in 3 mm of plastic, k 0.2: a published exercise prints 3732.06 s (physics reference, PL2), rounded.
    assert plank_s(1000 * 250e3, 38.75, film_w_m2_k=1 / (1 / 50 + 0.003 / 0.2), **BALL) == pytest.approx(3732.06, rel=1e-4)


def test_plank_gives_the_published_cylinder_and_twice_as_much_for_a_slab():
    # A published exercise prints 22 596.04 s with the factors of a cylinder (PL3); with those of a slab it is 45 192.09 s (PL4).
    same = {"radius_m": 0.025, "film_w_m2_k": 5.0, "conductivity_w_m_k": 1.1}
    assert plank_s(970 * 249080, 28.25, dimensions=2, **same) == pytest.approx(22596.04, rel=1e-5)
    assert plank_s(970 * 249080, 28.25, dimensions=1, **same) == pytest.approx(45192.09, rel=1e-5)


def test_plank_gives_the_ball_of_potato_and_the_thawing_ball():
    # Physics reference, PL5 (data published, a slip of the page mended) and PL6 (by hand): 704.846 s and 30 854.45 s.
    potato = plank_s(950 * 0.88 * 333.2e3, 38, radius_m=0.01, film_w_m2_k=40, conductivity_w_m_k=1.3, dimensions=3)
    thaw = plank_s(1050 * 0.72 * 333.6e3 * 0.9, 28.2, radius_m=0.06, film_w_m2_k=8, conductivity_w_m_k=0.45, dimensions=3)
    assert potato == pytest.approx(704.84615, rel=1e-6)
    assert thaw == pytest.approx(30854.451, rel=1e-6)


def test_pham_gives_the_number_another_program_prints():
    # Slab of 0.10 m, film 20 and 0.01 m2K/W of wrapping, 5 to -18 in -35 degC, k 1.4, 3.349 and 1.800 kJ/kgK, 247 kJ/kg: a public
    # freezing calculator (Pham as in the ASHRAE handbook) is tested against 11.48 h worked by hand, to a hundredth.
    seconds = pham_freezing_s(
        chill_j_m3_k=1050 * 3349, latent_j_m3=1000 * 247e3, frozen_j_m3_k=1000 * 1800, start_c=5, core_c=-18, air_c=-35,
        radius_m=0.05, film_w_m2_k=1 / (1 / 20 + 0.01), conductivity_w_m_k=1.4, dimensions=1,
    )  # fmt: skip
    assert seconds / 3600 == pytest.approx(11.48, abs=0.01)


@given(st.floats(0.01, 20))
def test_a_ball_has_three_directions_a_roll_two_and_a_slab_one(biot):
    # Exact limits of the geometry.
    assert dimensionality(biot, 1, 1) == pytest.approx(3)
    assert dimensionality(biot, 1, 1e9) == pytest.approx(2)
    assert dimensionality(biot, 1e9, 1e9) == pytest.approx(1)


def test_for_thin_air_the_shape_is_surface_over_volume():
    # With a film that passes hardly anything only surface times radius over volume counts: spheroid twice as long as wide,
    # surface by the handbook formula. The remembered formula is an approximation for shapes between, hence 5 %.
    e = math.sqrt(1 - 0.25)
    surface = 2 * math.pi * (1 + 2 / e * math.asin(e))
    volume = 4 / 3 * math.pi * 2
    assert dimensionality(1e-6, 1, 2) == pytest.approx(surface / volume, rel=0.05)


@given(st.floats(0.05, 10), st.floats(1, 40), st.floats(0, 1))
def test_the_front_has_gone_further_the_warmer_the_surface(biot, air, part):
    share = front_share(part * air * 0.99, air, biot)
    assert 0 <= share <= 1 + 1e-9
    assert front_share(0, air, biot) == pytest.approx(0, abs=1e-12)
    assert front_share(air, air, biot) == 1
    assert front_share(part * air * 0.5, air, biot) <= share + 1e-12


@given(st.floats(1, 50), st.floats(0.01, 0.3), st.floats(2, 30), st.floats(0.2, 2))
def test_twice_the_difference_is_half_the_time_and_half_the_film_never_speeds_up(difference, radius, film, k):
    same = {"radius_m": radius, "conductivity_w_m_k": k, "dimensions": 3.0}
    once = plank_s(2e8, difference, film_w_m2_k=film, **same)
    assert plank_s(2e8, 2 * difference, film_w_m2_k=film, **same) == pytest.approx(once / 2)
    assert once < plank_s(2e8, difference, film_w_m2_k=film / 2, **same) <= 2 * once
