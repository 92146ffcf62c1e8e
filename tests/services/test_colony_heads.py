"""Questions about single pieces with the beetles: rot clock, heads for tonight, the day one is clean."""

import math
from datetime import date

import pytest

from bonebench.errors import BonebenchError
from bonebench.services.colony.asked import Asked
from bonebench.services.colony.heads import read_heads, tissue_of
from bonebench.services.colony.pieces import clean_by, rot, tonight

from .asks import NOBODY, ask, keys


def test_a_piece_wet_and_whole_uses_its_budget_by_the_hours():
    # By hand: the budget is 48 h at 28 °C; 24 h whole and wet are half of it.
    assert ask(rot, hours="24h", temperature="28 C").used == pytest.approx(0.5, rel=1e-9)
    # Square-root model by hand: ((10 + 6) / (28 + 6))^2 = 0.2215 as fast.
    assert ask(rot, hours="24h", temperature="10 C").used == pytest.approx(0.5 * (16 / 34) ** 2, rel=1e-6)


def test_a_foul_piece_is_taken_out_whatever_the_hours_say():
    card = ask(rot, hours="1h", smell="3")
    assert card.advice == "take out, cut muscle away, refreeze"


def test_more_heads_never_go_in_than_wait_and_the_least_limit_binds():
    card = ask(tonight, Asked(size="the bedding moves"), waiting="3 raccoon", free_floor="0.02 m2", spare_heat="500 W")
    assert card.count == min(one.count for one in card.by) <= card.waiting == 3
    assert card.limit == "floor"


def test_a_weak_heater_lets_in_none():
    card = ask(tonight, Asked(size="the bedding moves"), waiting="2 raccoon", spare_heat="1 W")
    assert (card.count, card.limit) == (0, "heater")


def test_what_lies_inside_leaves_no_more_room_than_before():
    free = ask(tonight, Asked(size="the bedding moves"), waiting="6 raccoon")
    busy = ask(tonight, Asked(size="the bedding moves"), waiting="6 raccoon", inside="6 raccoon")
    assert busy.count <= free.count


def test_a_look_that_finds_it_bare_brings_the_day_forward():
    unseen = ask(clean_by, species="raccoon", inside="3d")
    bare = ask(clean_by, species="raccoon", inside="3d", look="bare")
    assert bare.days_80 < unseen.days_80
    assert "colony.clean.unseen" in keys(unseen)
    assert "colony.clean.unseen" not in keys(bare)


def test_a_piece_comes_out_one_more_day_after_it_is_clean():
    card = ask(clean_by, species="raccoon", inside="3d", look="half gone", first_day="2026-05-04")
    assert card.days_50 <= card.days_80
    assert (card.out_by - card.date_80).days == 1
    assert card.date_80 == date(2026, 5, 4).fromordinal(date(2026, 5, 4).toordinal() + math.ceil(card.days_80))


def test_a_small_head_gets_one_more_look_instead_of_a_day():
    card = ask(clean_by, species="white-footed mouse", inside="1d", first_day="2026-05-04")
    assert card.out_by == card.date_80
    assert any("half a day" in step.text for step in card.steps)


def test_tissue_of_a_list_of_heads_adds_up():
    known = NOBODY.work(lambda k: k)
    one, two = read_heads(known, "raccoon")[0], read_heads(known, "2 coyote")[0]
    assert tissue_of(known, "raccoon, 2 coyote").value == pytest.approx(one.tissue_kg.value + 2 * two.tissue_kg.value)
    assert tissue_of(known, "1.5 kg").value == 1.5


@pytest.mark.parametrize(
    ("act", "asked", "words"),
    [
        (rot, {"hours": "5h", "smell": "7"}, "0 none, 1 faint"),
        (rot, {"hours": "5h", "smell": "1.5"}, "0 none, 1 faint"),
        (clean_by, {"species": "raccoon", "inside": "2d", "look": "nice"}, "no look is called nice"),
        (clean_by, {"species": "raccoon", "inside": "2d", "appetite": "0 g"}, "never clean"),
        (clean_by, {"species": "raccoon", "inside": "2d", "tissue": "0 g"}, "above 0"),
    ],
)
def test_a_piece_that_cannot_be_is_refused_in_words(act, asked, words):
    with pytest.raises(BonebenchError) as caught:
        ask(act, **asked)
    assert words in caught.value.said.text
