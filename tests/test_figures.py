"""A number with how well it is known."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.figures import Figure, Standing, basis, weakest

STANDINGS = list(Standing)


def figure(value=2.0, low=1.0, high=4.0, standing=Standing.PUBLISHED, source="a handbook"):
    return Figure(value, low, high, "kg", standing, source)


def test_a_figure_outside_its_own_range_is_a_bug_and_says_so():
    with pytest.raises(ValueError, match=r"figure 5.0 kg lies outside its own range 1.0..4.0"):
        figure(value=5.0)


def test_not_a_number_is_no_figure():
    with pytest.raises(ValueError, match="outside its own range"):
        figure(value=float("nan"))


@given(st.lists(st.sampled_from(STANDINGS), min_size=1))
def test_a_result_is_as_weak_as_the_weakest_that_went_in(standings):
    found = weakest(standings)
    assert found in standings
    assert all(found.rank >= standing.rank for standing in standings)


def test_only_what_was_read_worked_out_or_measured_here_may_be_leaned_on():
    assert [s for s in Standing if s.checked] == [Standing.ROOM, Standing.PUBLISHED, Standing.DERIVED]


@given(
    *[st.tuples(st.floats(0, 10), st.floats(0, 10), st.floats(0, 10)).map(sorted)] * 2,
    st.sampled_from(STANDINGS),
    st.sampled_from(STANDINGS),
)
def test_a_product_holds_every_product_of_what_the_ranges_hold(a, b, standing_a, standing_b):
    one, other = (figure(v[1], v[0], v[2], standing) for v, standing in ((a, standing_a), (b, standing_b)))
    both = one.times(other, "kg2")
    assert all(both.low <= x * y <= both.high for x in a for y in b)
    assert (both.standing, both.unit) == (weakest((standing_a, standing_b)), "kg2")


def test_a_product_names_both_sources_once():
    assert figure().times(figure(source="a paper"), "kg2").source == "a handbook; a paper"
    assert figure().times(figure(), "kg2").source == "a handbook"


def test_scaling_changes_the_unit_and_nothing_of_the_standing():
    grams = figure().scaled(1000, "g")
    assert (grams.value, grams.low, grams.high, grams.unit) == (2000, 1000, 4000, "g")
    assert (grams.standing, grams.source) == (Standing.PUBLISHED, "a handbook")


def test_a_basis_shows_range_standing_and_source():
    line = basis("head mass", figure())
    assert (line.key, line.low, line.high, line.unit) == ("head mass", 1.0, 4.0, "kg")
    assert (line.standing, line.source) == (Standing.PUBLISHED, "a handbook")
