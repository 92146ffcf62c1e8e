"""How a room does a step: spans and the class a piece falls into. The shipped rows are tested in tests/reference."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.figures import Standing
from bonebench.reference.methods import load_methods
from bonebench.shop.methods import SIZE_LIMITS_KG, Method, Size, Span, size_of
from bonebench.shop.room import Room
from bonebench.shop.routes import method_for
from bonebench.shop.steps import Step


@pytest.mark.parametrize(
    ("days", "words"),
    [((2, 1, 3), "a span must rise from zero: 2, 1, 3 days"), ((-1, 0, 1), "a span must rise from zero: -1, 0, 1 days"),
     ((0, 3, 2), "a span must rise from zero: 0, 3, 2 days")],
)  # fmt: skip
def test_a_span_that_does_not_rise_is_refused_in_words(days, words):
    with pytest.raises(ValueError, match="rise") as refused:
        Span(*days)
    assert str(refused.value) == words


def test_not_a_number_is_no_span():
    with pytest.raises(ValueError, match="must rise"):
        Span(1.0, float("nan"), 3.0)


@given(st.floats(0.001, 100), st.floats(0.001, 100))
def test_a_heavier_head_is_never_in_a_smaller_class(one, other):
    order = list(Size)
    assert order.index(size_of(min(one, other))) <= order.index(size_of(max(one, other)))


# common practice, no source: the four sizes of head by mass as they come in.
@pytest.mark.parametrize(("kg", "size"), [(0.02, Size.TINY), (0.4, Size.SMALL), (3.2, Size.MIDDLE), (9.0, Size.BIG)])
def test_a_mouse_a_fox_a_deer_and_a_bear_fall_into_the_four_sizes(kg, size):
    assert size_of(kg) is size
    assert len(SIZE_LIMITS_KG) + 1 == len(Size)


def method(classed_by, days):
    return Method(
        "m",
        Step.DEGREASE,
        "a way",
        None,
        classed_by,
        days,
        {"all": 5.0},
        "",
        Standing.PRACTICE,
        "common practice, no source",
        "",
        "",
    )


@pytest.mark.parametrize(("classed_by", "key"), [("grease", "3"), ("size", "small"), ("all", "all")])
def test_a_method_looks_its_days_up_by_the_class_it_says(classed_by, key):
    span = Span(1, 2, 3)
    way = method(classed_by, {key: span})
    assert way.class_of(grease=3, size=Size.SMALL) == key
    assert way.span(grease=3, size=Size.SMALL) is span


MUSEUM = "museum"


def shipped():
    return load_methods().values()


def test_a_museum_locks_heat_whitening_and_solvents():
    fitting = {one.key for one in shipped() if one.fits(MUSEUM)}
    assert not fitting & {"warm-pot", "hot-pot", "acetone-soak", "ammonia-soak", "ethanol-swab", "three-percent", "whitening-paste"}
    assert {"no-degreasing", "no-whitening", "beetle-box", "maceration"} <= fitting
    assert all(one.fits(None) for one in shipped())


@pytest.mark.parametrize("profile", [None, MUSEUM])
def test_another_way_is_never_the_one_a_room_gets_without_choosing(profile):
    methods = load_methods()
    for step in Step:
        assert not method_for(step, Room(profile=profile), methods).alternative, step


def test_an_alternative_says_its_harm_and_no_usual_way_is_marked_as_one():
    other = {one.key for one in shipped() if one.alternative}
    assert other == {"maceration", "acetone-soak", "ammonia-soak", "ethanol-swab", "whitening-paste"}
    assert all(len(one.harm) > 80 for one in shipped() if one.alternative)
