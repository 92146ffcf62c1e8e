import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import Impossible, OutsideRange
from bonebench.figures import Figure, Standing
from bonebench.science.cleaning import (
    TAIL_SHARE,
    TAIL_SLOWNESS,
    InBox,
    course,
    days_in_box,
    days_range,
    days_together,
    share_appetite,
)

masses = st.floats(0.001, 5)
rates = st.floats(0.005, 1)
pieces = st.lists(st.builds(InBox, tissue_kg=masses, rate_kg_per_day=rates), min_size=1, max_size=5)
appetites = st.floats(0.01, 3)


def test_one_piece_by_hand():
    # 88 % of 600 g at 100 g a day is 5.28 days; 72 g at a third of it is 2.16 days.
    assert days_in_box(0.6, 0.1) == pytest.approx(5.28 + 2.16)


def test_a_hungry_colony_is_held_up_by_the_surface_and_a_small_one_by_its_appetite():
    # At 50 g a day: 528 g take 10.56 days; the tail could give 33 g a day and does: 2.16 days.
    assert days_in_box(0.6, 0.1, 0.05) == pytest.approx(10.56 + 2.16)
    # At 20 g a day the appetite holds up the tail too: 600 / 20.
    assert days_in_box(0.6, 0.1, 0.02) == pytest.approx(30)


def test_the_tail_is_what_the_trade_says():
    # Common practice, no source (bench 5.4): nearly in line to 85-90 %, then a long tail.
    assert 0.85 <= 1 - TAIL_SHARE <= 0.90
    assert TAIL_SLOWNESS > 1


def test_two_pieces_share_in_order_of_entry_by_hand():
    # Appetite 100 g a day; each of 100 g could give 80. A: 88 g at 80 is 1.1 days, then 12 g at 26.67 is 0.45, clean at 1.55.
    # B: 20 a day for 1.1 days (22 g), 73.33 a day for 0.45 (33 g), then 33 g to its tail at 80 (0.4125) and 0.45: 2.4125.
    assert days_together([InBox(0.1, 0.08)] * 2, 0.1) == pytest.approx((1.55, 2.4125))


def test_the_appetite_may_change_from_day_to_day():
    # A wide piece of 1 kg: 100 g on the first day, 200 g on the second, then 400 g a day. To the tail: 880 - 300 = 580 g,
    # 1.45 days; the tail could give 333 g a day: 0.36 days.
    assert days_together([InBox(1.0, 1.0)], [0.1, 0.2, 0.4]) == pytest.approx((2 + 1.45 + 0.36,))


def test_a_day_on_which_nothing_is_eaten_is_waited_out():
    assert days_together([InBox(0.1, 0.1)], [0, 0, 1]) == pytest.approx((2 + 0.88 + 0.36,))


def test_a_piece_that_is_half_eaten_takes_the_rest():
    # 72 g left of 600 g is the tail alone: 72 / 33.3. Nothing left takes no time.
    assert days_together([InBox(0.6, 0.1, left_kg=0.072)], 1) == pytest.approx((2.16,))
    assert days_together([InBox(0.6, 0.1, left_kg=0), InBox(0, 0)], 1) == (0, 0)


def test_no_pieces_take_no_time():
    assert days_together([], 0.1) == ()


def test_appetite_goes_to_the_first_in():
    assert share_appetite(1.0, [0.4, 0.5, 0.3]) == pytest.approx((0.4, 0.5, 0.1))


@given(st.floats(0, 10), st.lists(st.floats(0, 5), max_size=6))
def test_shares_are_the_smaller_of_appetite_and_demand(appetite, demands):
    shares = share_appetite(appetite, demands)
    assert sum(shares) == pytest.approx(min(appetite, sum(demands)))
    assert all(0 <= share <= demand for share, demand in zip(shares, demands, strict=True))


@given(masses, rates, appetites)
def test_one_piece_together_is_one_piece_alone(tissue, rate, appetite):
    assert days_together([InBox(tissue, rate)], appetite) == pytest.approx((days_in_box(tissue, rate, appetite),))


@given(pieces, appetites)
def test_never_more_is_eaten_than_the_appetite_and_never_more_than_was_there(box, appetite):
    eaten = [0.0] * len(box)
    for stretch in course(box, appetite):
        assert sum(stretch.rates_kg_per_day) <= appetite * (1 + 1e-9)
        for place, rate in enumerate(stretch.rates_kg_per_day):
            assert rate <= box[place].rate_kg_per_day
            eaten[place] += rate * (stretch.end_day - stretch.begin_day)
    assert eaten == pytest.approx([piece.tissue_kg for piece in box])


@given(pieces, appetites, st.lists(appetites, min_size=1, max_size=4))
def test_more_appetite_never_makes_any_piece_take_longer(box, appetite, days):
    for less, more in ((appetite, appetite * 1.5), (days, [day * 1.5 for day in days])):
        for slow, quick in zip(days_together(box, less), days_together(box, more), strict=True):
            assert quick <= slow * (1 + 1e-9)


@given(pieces, masses, rates, appetites)
def test_a_piece_that_comes_last_delays_nobody_before_it(box, tissue, rate, appetite):
    with_it = days_together([*box, InBox(tissue, rate)], appetite)
    assert with_it[:-1] == pytest.approx(days_together(box, appetite))
    assert with_it[-1] >= days_in_box(tissue, rate, appetite) * (1 - 1e-9)


@given(pieces)
def test_with_plenty_of_beetles_nobody_waits(box):
    alone = [days_in_box(piece.tissue_kg, piece.rate_kg_per_day) for piece in box]
    assert days_together(box, 100) == pytest.approx(alone)


def room(value: float, low: float, high: float, unit: str) -> Figure:
    return Figure(value, low, high, unit, Standing.ROOM, "weighed")


def test_the_range_runs_from_a_small_head_eaten_fast_to_a_big_one_eaten_slowly():
    days = days_range(room(0.6, 0.3, 1.2, "kg"), room(0.1, 0.06, 0.15, "m2"), flux=room(1.0, 0.5, 2.0, "kg/(m2 day)"))
    # By hand 1.24 T / (A f): 0.6 / 0.1 -> 7.44; 0.3 / (0.06 * 2) -> 3.1; 1.2 / (0.15 * 0.5) -> 19.84
    assert (days.value, days.low, days.high) == pytest.approx((7.44, 3.1, 19.84))


def test_a_head_known_exactly_with_a_surface_that_is_not_still_has_a_range():
    days = days_range(room(0.6, 0.6, 0.6, "kg"), room(0.1, 0.06, 0.15, "m2"), flux=room(1, 1, 1, "kg/(m2 day)"))
    # By hand 1.24 * 0.6 / 0.15 = 4.96 and / 0.06 = 12.4: the small surface takes longest.
    assert (days.low, days.high) == pytest.approx((4.96, 12.4))


def test_a_range_is_never_better_known_than_what_went_into_it():
    head, area = room(0.6, 0.6, 0.6, "kg"), room(0.1, 0.1, 0.1, "m2")
    assert days_range(head, area).standing is Standing.ESTIMATE  # the shipped flux is one
    assert days_range(head, area, flux=room(1, 1, 1, "kg/(m2 day)")).standing is Standing.PRACTICE  # the tail


def test_the_range_knows_the_appetite():
    days = days_range(room(0.6, 0.6, 0.6, "kg"), room(0.1, 0.1, 0.1, "m2"), appetite_kg_per_day=0.02)
    # 20 g a day holds up everything but the slowest tail: 600 / 20; at 40 / 3 g a day the tail's 72 g take 5.4: 26.4 + 5.4.
    assert (days.value, days.low, days.high) == pytest.approx((30, 30, 31.8))


def test_nothing_to_eat_takes_no_time():
    assert days_in_box(0, 0.1) == 0


@pytest.mark.parametrize(
    "starve",
    [
        lambda: days_in_box(0.6, 0),
        lambda: days_in_box(0.6, 0.1, 0),
        lambda: days_together([InBox(0.6, 0.1)], 0),
        lambda: days_together([InBox(0.6, 0.0)], 1),
        lambda: days_together([InBox(0.6, 0.1)], [0.1, 0]),
        lambda: days_together([InBox(0.6, 0.1)], []),
    ],
)
def test_tissue_that_nothing_eats_is_refused(starve):
    with pytest.raises(Impossible) as refused:
        starve()
    assert str(refused.value) == (
        "tissue is left but nothing eats it: give the colony's appetite and a surface to eat from, both above 0"
    )


REFUSED = [
    (lambda: share_appetite(-1, [1]), "the colony's appetite is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: share_appetite(1, [-1]), "what a piece can give is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: days_in_box(-1, 1), "tissue on a piece is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: days_in_box(1, -1), "what a piece can give a day is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: days_together([InBox(-1, 1)], 1), "tissue on a piece is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: days_together([InBox(1, -1)], 1), "what a piece can give a day is -1 kg; it must be 0 or more: check what was typed"),
    (lambda: days_together([InBox(1, 1, -1)], 1), "what is left on a piece is -1 kg; it must be 0 or more: check what was typed"),
]


@pytest.mark.parametrize(("reckon", "words"), REFUSED)
def test_less_than_nothing_is_refused(reckon, words):
    with pytest.raises(OutsideRange) as refused:
        reckon()
    assert str(refused.value) == words
