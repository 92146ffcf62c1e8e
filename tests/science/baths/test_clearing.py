"""Looks and checks: known truth recovered from made pieces and rooms with honest intervals, and laws of what is seen."""

import math
import random

import pytest

from bonebench.errors import OutsideRange
from bonebench.science.baths.clearing import EYE, LOOKS_FROM, OFF, SHARED, SPOT, Filling, Piece, Spot, follow, learn
from bonebench.science.baths.degreasing import CLEAN_SHARE, DAYS, Room, days_needed, table_spread
from bonebench.science.baths.fillings import bath, days_to_clean, fat_left


def made_piece(rng, z, grease, fillings, spot_after=(), off=None):
    """A made piece of known ease: its water as an eye with its own levels sees it, and checks after some fillings."""
    off = rng.gauss(0, OFF.value) if off is None else off
    quickness = math.exp(z * table_spread(grease))
    one, days = bath(grease, quickness), [bath(grease).every_days * rng.uniform(0.6, 1.4) for _ in range(fillings)]
    left = fat_left(grease, days, quickness)
    taken = [before - after for before, after in zip([1.0, *left], left, strict=False)]
    looks = [sum(math.log(t / one.holds) + rng.gauss(0, EYE.value) > math.log(edge) + off for edge in LOOKS_FROM) for t in taken]
    spots = tuple(
        Spot(math.fsum(days[: n + 1]), passed=math.log(left[n]) + rng.gauss(0, SPOT.value) <= math.log(CLEAN_SHARE))
        for n in spot_after
    )
    return Piece(grease, tuple(Filling(d, look) for d, look in zip(days, looks, strict=True)), spots)


@pytest.mark.parametrize(("grease", "fillings", "spot_after"), [(3, 2, ()), (3, 5, (4,)), (5, 9, (6, 8)), (2, 3, (1, 2))])
def test_the_interval_of_a_pieces_rate_and_days_holds_the_truth_as_often_as_it_says(grease, fillings, spot_after):
    """Known truth: 80 % intervals over 400 made pieces; the bounds are two sampling errors (2 points each) round 80 %."""
    rate_held = days_held = 0
    for seed in range(400):
        rng = random.Random(seed)
        z = rng.gauss(0, 1)
        piece = made_piece(rng, z, grease, fillings, spot_after)
        quickness = math.exp(z * table_spread(grease))
        found = follow(piece, 45.0, every_days=bath(grease).every_days)
        rate_held += found.rate_per_day.low <= bath(grease, quickness).leaves_per_day <= found.rate_per_day.high
        before = fat_left(grease, [f.days_at_45 for f in piece.fillings[:-1]], quickness)
        truth, _ = days_to_clean(
            grease, bath(grease).every_days, quickness=quickness, left=before[-1], into_days=piece.fillings[-1].days_at_45
        )
        days_held += found.days_left.low - 1e-9 <= truth <= found.days_left.high + 1e-9
    assert 0.74 < rate_held / 400 < 0.86
    # Pieces that are clean already have 0 days to go on both sides, which an interval from 0 holds too.
    assert days_held >= rate_held


@pytest.mark.parametrize("off", [-math.log(2), math.log(2)])
def test_an_eye_that_calls_water_cloudy_at_half_or_twice_the_fat_does_not_break_the_interval(off):
    """One eye that is always off by the factor of two that is allowed for: 80 % within two sampling errors (2.3 points)."""
    held = 0
    for seed in range(300):
        rng = random.Random(seed)
        z = rng.gauss(0, 1)
        found = follow(made_piece(rng, z, 3, 5, (4,), off), 45.0).rate_per_day
        held += found.low <= bath(3, math.exp(z * table_spread(3))).leaves_per_day <= found.high
    assert 0.74 < held / 300 < 0.88


def test_more_that_was_seen_narrows_it_on_average():
    widths = []
    for fillings, spots in ((1, ()), (4, ()), (6, (3, 4, 5))):
        wide = 0.0
        for seed in range(150):
            rng = random.Random(seed)
            found = follow(made_piece(rng, rng.gauss(0, 1), 4, fillings, spots), 45.0).rate_per_day
            wide += math.log(found.high / found.low)
        widths.append(wide / 150)
    assert widths[0] > widths[1] > widths[2]


def test_nothing_seen_is_the_class_table():
    found = follow(Piece(3, (Filling(0.0),)), 45.0)
    assert found.days_left.value == pytest.approx(18.0, rel=1e-3)  # bench 2.1
    assert found.rate_per_day.value == pytest.approx(bath(3).leaves_per_day, rel=1e-6)
    assert found.fat_left.value == 1
    assert found.clean_chance == 0


def test_what_is_seen_points_the_right_way():
    fillings = tuple(Filling(3.6, None) for _ in range(4))
    start = follow(Piece(3, fillings), 45.0)
    passed, failed = (follow(Piece(3, fillings, (Spot(14.4, passed=p),)), 45.0) for p in (True, False))
    clear, greasy = (follow(Piece(3, (*fillings[:3], Filling(3.6, look))), 45.0) for look in (0, 3))
    assert passed.days_left.value < start.days_left.value < failed.days_left.value
    assert clear.days_left.value < start.days_left.value < greasy.days_left.value
    assert passed.clean_chance > start.clean_chance > failed.clean_chance


def test_a_warmer_pot_has_fewer_days_to_go_and_seldom_changes_more():
    piece = Piece(4, (Filling(4.0, 3), Filling(4.0, 3)))
    assert follow(piece, 50.0).days_left.value < follow(piece, 45.0).days_left.value < follow(piece, 40.0).days_left.value
    assert follow(piece, 45.0, every_days=10).days_left.value > follow(piece, 45.0, every_days=3).days_left.value


def made_room(seed, pieces):
    """A made room whose pieces share a shift, and the ease of the next one."""
    rng = random.Random(seed)
    shift = rng.gauss(0, math.sqrt(SHARED))
    off = rng.gauss(0, OFF.value)
    eases = [shift + rng.gauss(0, math.sqrt(1 - SHARED)) for _ in range(pieces + 1)]
    seen = []
    for z in eases[:-1]:
        fillings = rng.randint(3, 6)
        seen.append(made_piece(rng, z, rng.choice((2, 3, 4)), fillings, (fillings - 1,), off))
    return seen, eases[-1]


@pytest.mark.parametrize("pieces", [1, 4, 15])
def test_the_next_pieces_ease_lies_in_the_rooms_interval_as_often_as_it_says(pieces):
    """Known truth: 80 % intervals over 400 made rooms, two sampling errors of 2 points either side."""
    held = 0
    for seed in range(400):
        seen, truth = made_room(seed, pieces)
        room = learn(seen)
        held += abs(truth - room.middle) <= 1.2816 * room.spread
    assert 0.74 < held / 400 < 0.86


def test_a_room_without_pieces_is_the_table_and_a_piece_looked_at_often_is_still_one():
    none = learn([])
    assert (none.middle, none.spread) == pytest.approx((0.0, 1.0), abs=1e-3)
    slow = Piece(3, tuple(Filling(3.6, 3) for _ in range(8)), (Spot(28.8, passed=False),))
    one, many = learn([slow]), learn([slow] * 6)
    assert many.middle < one.middle < 0
    assert math.sqrt(1 - SHARED) < many.spread < one.spread < 1.0
    assert days_needed(3, 45, many).value > days_needed(3, 45, one).value > DAYS[3].value


def test_what_the_room_learned_moves_a_new_piece():
    fresh = Piece(3, (Filling(0.0),))
    assert follow(fresh, 45, learned=Room(1.0, 0.8, 9)).days_left.value < follow(fresh, 45).days_left.value


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (lambda: Piece(3, (Filling(2.0, 9),)), "water looks 0 clear, 1 hazy"),
        (lambda: Piece(3, (Filling(-2.0),)), "stands 0 days or more"),
        (lambda: Piece(3, (Filling(2.0),), (Spot(9.0, passed=True),)), "a check after 9 days does not fit a piece that was 2 days"),
        (lambda: follow(Piece(3, (Filling(2.0),)), 10), "at 10 °C fat does not leave"),
    ],
)
def test_what_cannot_be_is_refused_in_words(act, words):
    with pytest.raises(OutsideRange, match=words):
        act()
