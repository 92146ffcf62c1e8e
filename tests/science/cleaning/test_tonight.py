import pytest
from hypothesis import given
from hypothesis import strategies as st

from bonebench.errors import OutsideRange
from bonebench.science.cleaning import BoxNow, Head, InBox, Limit, expected_rot, heads_tonight, thaw_load_w

DEER = Head(tissue_kg=0.4, rate_kg_per_day=0.12, area_m2=0.1, floor_m2=0.05, temperature_c=-18)


def box(appetite=10.0, floor=10.0, heat=1e4, **more):
    return BoxNow(28, appetite, floor, heat, **more)


def test_a_frozen_head_takes_this_much_of_the_heater_by_hand():
    # 7.7 W/m2K on 0.1 m2, from 28 C to the -1 C at which it thaws: 7.7 * 0.1 * 29 = 22.3 W.
    assert thaw_load_w(DEER, 28) == pytest.approx(22.33, abs=0.01)
    assert thaw_load_w(Head(0.4, 0.1, 0.1, 0.05, temperature_c=28), 28) == 0


def test_each_limit_is_named_when_it_is_the_least():
    six = [DEER] * 6
    assert (heads_tonight(box(floor=0.12), six).count, heads_tonight(box(floor=0.12), six).limit) == (2, Limit.FLOOR)
    assert (heads_tonight(box(heat=70), six).count, heads_tonight(box(heat=70), six).limit) == (3, Limit.HEATER)
    hungry = heads_tonight(box(appetite=0.15), six)
    assert hungry.limit is Limit.APPETITE
    assert 0 < hungry.count < 6
    assert heads_tonight(box(), [DEER]).limit is Limit.NONE_WAITING


def test_rot_of_one_piece_by_hand():
    # Hardly eaten: 1 kg at 0.01 g a day. Wet falls with 3 days and is counted for 15: 72 (1 - exp(-5)) = 71.5 h; over 48 h: 1.49.
    assert expected_rot([InBox(1.0, 0.00001)], [0.0], 1.0, 28)[0] == pytest.approx(1.49, abs=0.001)
    # Eaten in line within a day but for the tail: about half a day wet and left, 12 h / 48 h, a little less for drying.
    assert expected_rot([InBox(0.1, 0.1)], [0.0], 1.0, 28)[0] == pytest.approx(0.25, abs=0.03)
    assert expected_rot([InBox(0.1, 0.1, left_kg=0.0)], [0.3], 1.0, 28) == (0.3,)


@given(st.floats(0.02, 2), st.floats(0.02, 2))
def test_a_hungrier_colony_never_lets_fewer_in(one, other):
    low, high = sorted((one, other))
    queue = [DEER] * 5
    assert heads_tonight(box(appetite=low), queue).count <= heads_tonight(box(appetite=high), queue).count


def test_those_inside_eat_first_and_a_colony_that_eats_nothing_gets_nothing():
    full = box(appetite=0.15, inside=(InBox(0.4, 0.12),) * 3)
    assert heads_tonight(full, [DEER] * 3).count < heads_tonight(box(appetite=0.15), [DEER] * 3).count
    assert heads_tonight(box(appetite=0.0), [DEER]).count == 0
    assert heads_tonight(full, [DEER]).worst_used > 1


def test_negative_room_is_refused():
    with pytest.raises(OutsideRange, match="free floor is -1"):
        heads_tonight(box(floor=-1), [DEER])
