"""The colony's questions, each one card: laws, hand calculations, and what is refused in words."""

import itertools
import math
from dataclasses import fields, replace
from datetime import date

import pytest

from bonebench.errors import BonebenchError, Impossible, NotAQuantity, OutsideRange
from bonebench.science.colony.demography import doubling_days, schedule_of
from bonebench.science.colony.traits import usual_traits
from bonebench.services.cards import as_json
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import SEED, Asked
from bonebench.services.colony.cards import Band
from bonebench.services.colony.food import away, least, ramp_up
from bonebench.services.colony.harm import harm
from bonebench.services.colony.heads import read_heads
from bonebench.services.colony.numbers import numbers
from bonebench.services.colony.pieces import clean_by, tonight
from bonebench.services.colony.sparing import second, thin
from bonebench.services.known import known_in
from bonebench.shop.room import Room

from .asks import GAP, NOBODY, SOME, ask, keys


def bands(card: object) -> list[Band]:
    return [value for one in fields(card) if isinstance(value := getattr(card, one.name), Band)]


# ---- numbers


def test_a_band_runs_upward_and_the_plan_lies_below_the_middle():
    card = ask(numbers, SOME)
    found = [*bands(card), *bands(card.stages)]
    assert len(found) == 10
    assert all(0 <= band.low <= band.plan <= band.value <= band.high for band in found)


def test_the_same_question_gets_the_same_answer_and_another_seed_another():
    assert as_json(ask(numbers, SOME)) == as_json(ask(numbers, SOME))
    assert ask(numbers, SOME).seed == SEED
    other = Asked(size="3000", floor="0.5 m2", sites="20 L", seed=SEED + 1)
    assert ask(numbers, other).appetite_kg_per_day != ask(numbers, SOME).appetite_kg_per_day


def test_a_scoop_of_two_hundred_in_a_twentieth_is_about_four_thousand():
    # By hand: 200 / 0.05 = 4000 larvae and adults; the scoop is uneven by 0.35 (log), nine in ten within exp(1.645 * 0.35) = 1.8.
    card = ask(numbers, Asked(), scoop_count="200", scoop_part="5%")
    alive = card.stages.larvae.value + card.stages.adults.value
    # The prior pulls it a little toward its own 1500, and medians of parts do not add up exactly.
    assert alive == pytest.approx(4000, rel=0.35)


def test_a_count_overrules_an_older_idea_of_the_size():
    card = ask(numbers, Asked(size="thousands"), scoop_count="20", scoop_part="10%")
    # By hand: 20 / 0.1 = 200, where "thousands" said 1000 to 9000.
    assert card.stages.larvae.high < 1000


def test_more_beetles_eat_more():
    eaten = [ask(numbers, Asked(size=size)).appetite_kg_per_day.value for size in ("300", "3000", "30000")]
    # Nothing limits today's appetite, so ten times the beetles eat ten times as much; crowding slows them a little.
    assert eaten[1] / eaten[0] == pytest.approx(10, rel=0.1)
    assert eaten[0] < eaten[1] < eaten[2]


def test_a_weighed_head_moves_the_appetite_to_what_was_eaten():
    card = ask(numbers, Asked(), before="500 g", after="300 g", dried_off="20 g", apart="2d")
    # By hand: (500 - 300 - 20) / 2 = 90 g a day, and today a little more, since they grow: at most doubled in nine days.
    assert card.appetite_kg_per_day.low < 0.100
    assert card.appetite_kg_per_day.high > 0.090
    assert card.appetite_kg_per_day.value == pytest.approx(0.097, rel=0.15)
    assert "colony.only_food" in keys(card)


def test_hours_between_weighings_count_as_part_of_a_day():
    half = ask(numbers, Asked(), before="150 g", after="100 g", apart="12h")
    whole = ask(numbers, Asked(), before="200 g", after="100 g", apart="1d")
    assert half.appetite_kg_per_day == whole.appetite_kg_per_day


def test_a_count_of_none_is_taken_flagged_and_outweighs_all_else():
    # Three expected would show some 19 times in 20: 3 / 0.05 = 60 alive at the most, nine in ten of them certain.
    card = ask(numbers, Asked(size="thousands"), scoop_count="0", scoop_part="5%", pupae="900")
    assert "colony.zero" in keys(card)
    assert card.stages.larvae.value < 60
    assert card.title.key == "colony.numbers.zero"
    assert not any("Put in about" in step.text for step in card.steps)


@pytest.mark.parametrize("size", ["none", "0 in 5%"])
def test_nothing_moving_is_flagged_however_it_is_written(size):
    assert "colony.zero" in keys(ask(numbers, Asked(size=size)))


def test_more_pupae_than_sites_are_taken_and_flagged():
    # Two litres of blocks hold 2 * 150 = 300.
    card = ask(numbers, Asked(size="thousands", sites="2 L"), pupae="900")
    assert "colony.sites_over" in keys(card)
    assert card.stages.pupae.high > 300


def test_the_doubling_time_lies_about_that_of_the_usual_traits():
    card = ask(numbers, Asked(size="3000", temperature="28 C", humidity="55%"))
    usual = doubling_days(schedule_of(usual_traits(), 28.0, 0.55))
    assert card.doubling_days_low < usual < card.doubling_days_high


def test_in_the_cold_nothing_doubles_and_the_card_says_so():
    card = ask(numbers, Asked(size="3000", temperature="10 C"))
    assert card.doubling_days is None
    assert any(fact.value.key == "colony.doubling.none" for fact in card.facts)


def test_warnings_come_from_what_was_said_and_not_from_what_was_taken_for_granted():
    assert keys(ask(numbers, SOME)) == {"colony.unchecked"}
    hot = ask(numbers, Asked(size="3000", temperature="33 C", humidity="72%", beetles="Dermestes frischii", pests="mites; wasps"))
    assert keys(hot) >= {
        "colony.warn.watch_the_heat", "colony.warn.watch_the_damp", "colony.warn.lid_and_screens",
        "colony.kind.near", "flag.colony.pest",
    }  # fmt: skip
    wet = ask(ahead, Asked(size="3000", humidity="80%"), days="3d")
    assert "colony.warn.dry_the_box" in keys(wet)


def test_water_is_asked_for_only_where_nothing_wet_went_in_lately():
    # A day: common practice, no source.
    assert "colony.water" in keys(ask(numbers, SOME, frozen_in="3d"))
    assert "colony.water" not in keys(ask(numbers, SOME, frozen_in="12h"))
    assert "colony.water" not in keys(ask(numbers, SOME))


def test_a_box_that_cooks_today_is_answered_and_warned_of():
    card = ask(numbers, Asked(size="3000", temperature="45 C"))
    assert "colony.warn.cool_the_box" in keys(card)


# ---- ahead


def test_a_queue_is_eaten_sooner_by_more_beetles():
    few, many = (ask(ahead, Asked(size=size), days="60d", waiting="2 kg") for size in ("1000", "5000"))
    assert many.queue_days < few.queue_days
    assert many.queue_chance >= few.queue_chance


def test_the_queue_is_done_when_the_appetite_adds_up_to_it():
    card = ask(ahead, SOME, days="60d", waiting="2 kg")
    total, day = 0.0, 0
    while total < 2000:
        total += card.days[day].appetite_g.value
        day += 1
    # The sum of the middle line against the middle of the sums: they differ by the spread, a day or two in three weeks.
    assert card.queue_days == pytest.approx(day, abs=3)


def test_a_queue_too_large_is_said_not_to_fit():
    card = ask(ahead, Asked(size="100"), days="20d", waiting="50 kg")
    assert card.queue_days is None
    assert "colony.queue.late" in keys(card)


def test_no_more_is_eaten_than_was_put_in():
    card = ask(ahead, SOME, days="40d", ration="20 g a day")
    assert sum(day.eaten_g.low for day in card.days) <= 40 * 20 + 1e-6
    assert all(day.eaten_g.value <= day.appetite_g.value + 1e-9 for day in card.days)


def test_no_food_at_all_is_a_plan_somebody_may_ask_for_and_they_dwindle():
    card = ask(ahead, SOME, days="60d", ration="0 g")
    # What little they still eat is their own pupae and young: the model counts it as food.
    assert sum(day.eaten_g.value for day in card.days) < 0.02 * sum(day.appetite_g.value for day in card.days)
    assert card.days[-1].larvae.value < 0.5 * card.days[0].larvae.value


def test_days_carry_dates_from_the_first_day_on():
    card = ask(ahead, SOME, days="3d", first_day="2026-02-27")
    assert [day.date for day in card.days] == [date(2026, 2, 27), date(2026, 2, 28), date(2026, 3, 1)]


def test_growth_past_what_any_box_is_known_to_eat_is_flagged():
    assert "colony.beyond" in keys(ask(ahead, SOME, days="120d"))
    assert "colony.beyond" not in keys(ask(ahead, SOME, days="5d"))


def test_a_day_of_hours_comes_again_and_a_whole_series_is_taken_as_it_is():
    day = "; ".join(["26 C"] * 24)
    assert (
        as_json(ask(ahead, Asked(size="3000", temperature=day), days="4d"))["days"]
        == (as_json(ask(ahead, Asked(size="3000", temperature="26 C"), days="4d"))["days"])
    )


# ---- food


def test_feeding_up_begins_so_that_four_in_five_are_there():
    card = ask(ramp_up, SOME, season="120d", target="200 g", first_day="2026-06-01")
    assert card.days_low <= card.days <= card.days_high
    # Begin leaves the time that four in five need, which lies between the middle and the slow end.
    assert card.days <= 120 - card.begin_day <= math.ceil(card.days_high)
    assert card.begin_date == date(2026, 6, 1).fromordinal(date(2026, 6, 1).toordinal() + card.begin_day)


def test_a_higher_target_is_begun_earlier_and_takes_more_food():
    low, high = (ask(ramp_up, SOME, season="120d", target=target) for target in ("100 g", "400 g"))
    assert high.begin_day < low.begin_day
    assert high.food_kg > low.food_kg


def test_a_season_that_is_upon_us_is_said_to_be_late():
    assert "colony.up.late" in keys(ask(ramp_up, SOME, season="2d", target="400 g"))


def test_the_least_ration_keeps_them_and_half_of_it_keeps_fewer():
    card = ask(least, SOME, days="60d")
    assert 0 < card.kg_per_day_low <= card.kg_per_day <= card.kg_per_day_high
    assert card.kg_per_day_high < ask(numbers, SOME).appetite_kg_per_day.high
    more = ask(least, SOME, days="60d", keep="90%")
    assert more.kg_per_day > card.kg_per_day


def test_going_away_longer_takes_more_and_fresh_food_stays_what_they_finish():
    short, long = (ask(away, SOME, days=days) for days in ("3d", "14d"))
    assert long.dried_kg > short.dried_kg
    assert long.fresh_kg == pytest.approx(short.fresh_kg, rel=0.01)
    assert (short.neighbour, long.neighbour) == (False, True)
    assert any("hands go in" in line.text for line in long.sheet.daily)
    assert all(line.text.startswith("never ") for line in long.sheet.never)


def test_a_quiet_time_that_begins_later_finds_more_of_them_and_takes_more():
    now, later = (ask(least, SOME, days="40d", begins=begins) for begins in (None, "40d"))
    assert later.kg_per_day > now.kg_per_day


def test_what_they_get_until_then_is_said_and_moves_the_day():
    unheld, poor = (ask(ramp_up, SOME, season="90d", target="100 g", held=held) for held in (None, "3 g"))
    assert "colony.up.unheld" in keys(unheld)
    assert "colony.up.held" in keys(poor)
    assert poor.begin_day < unheld.begin_day
    assert poor.start.low <= poor.start.value <= poor.start.high
    assert poor.season_kg_per_day.value > poor.first_kg_per_day.value


# ---- what comes out beside the numbers


def test_a_generation_lasts_longer_than_the_growing_up_of_one_and_longer_in_the_cool():
    warm, cool = (ask(numbers, Asked(size="3000", temperature=at)).generation_days for at in ("28 C", "22 C"))
    # Reference: 50 days from egg to adult at 28 degC at the slowest, 90 at 22; mothers lay for weeks after.
    assert 35 < warm.low < warm.value < warm.high
    assert cool.value > 1.4 * warm.value
    assert ask(numbers, Asked(size="3000", temperature="10 C")).generation_days is None


def test_frass_is_less_than_what_was_eaten_dry_and_not_nothing():
    card = ask(numbers, SOME)
    # Reference 6.2 (estimate): 9 to 11 kJ of 23 in a gram dry go into frass and uric acid, so about 0.4 of it; wide either way.
    assert 0.15 < card.frass_kg_per_day.value / (0.26 * card.appetite_kg_per_day.value) < 0.6


def test_food_in_all_adds_up_and_hunger_is_what_was_missing():
    card = ask(ahead, SOME, days="30d", ration="20 g")
    last = card.days[-1]
    # 30 times 20 g were put in; small colonies leave some in the first days, hungry ones eat some of their own young beside it.
    assert last.eaten_in_all_g.value == pytest.approx(30 * 20, rel=0.03)
    assert sum(day.eaten_g.low for day in card.days) <= last.eaten_in_all_g.value <= sum(day.eaten_g.high for day in card.days)
    assert all(a.eaten_in_all_g.value < b.eaten_in_all_g.value for a, b in itertools.pairwise(card.days))
    # By hand: they could eat so much and find 20 g.
    assert last.hunger.value == pytest.approx(1 - 20 / last.appetite_g.value, abs=0.05)
    assert all(day.hunger.high < 0.01 for day in ask(ahead, SOME, days="5d").days)


def test_the_new_figures_carry_their_standing():
    found = {line.key: line for line in (*ask(numbers, SOME).basis, *ask(ahead, SOME, days="3d").basis)}
    for key in ("colony.frass", "colony.generation", "colony.eaten"):
        assert not found[key].standing.checked
        assert found[key].low < found[key].high


# ---- sparing


def test_every_advice_to_take_beetles_out_says_to_count_first_and_never_more_than_a_quarter():
    card = ask(thin, Asked(size="the bedding moves"), needed="0 g", counted="1d")
    assert card.do == "thin"
    assert card.title.text.startswith("none to ")
    words = " ".join(step.text for step in card.steps)
    assert "Count a second scoop first" in card.steps[0].text
    assert "never past a quarter" in words
    assert "First a spare colony in another place" in words
    split = ask(second, Asked(size="300"), needed="2 kg", days="20d")
    assert "Count first. Split off no more than a quarter" in split.steps[0].text
    late = ask(ahead, SOME, days="5d", waiting="40 kg")
    assert "split off a quarter at most" in " ".join(flag.next.text for flag in late.flags)


def test_a_spare_colony_elsewhere_is_advised_until_the_room_has_one():
    assert "colony.second.insurance" in keys(ask(second, SOME, needed="20 g"))
    room = known_in(replace(Room(), features=("spare colony",)))
    assert "colony.second.insurance" not in keys(second(room, SOME, needed="20 g"))


def test_nothing_is_thinned_without_a_count_of_the_last_two_weeks():
    assert ask(thin, SOME, needed="1 g").do == "count"
    assert ask(thin, SOME, needed="1 g", counted="20d").do == "count"
    assert ask(thin, SOME, needed="1 g", counted="20d").share_at_most == 0


@pytest.mark.parametrize("size", ["500", "3000", "thousands", "the bedding moves"])
@pytest.mark.parametrize("needed", ["0 g", "5 g", "50 g"])
def test_never_more_than_a_quarter_is_thinned(size, needed):
    assert 0 <= ask(thin, Asked(size=size), needed=needed, counted="1d").share_at_most <= 0.25


def test_a_colony_that_is_needed_whole_is_kept_whole():
    card = ask(thin, SOME, needed="5 kg", counted="1d")
    assert (card.do, card.share_at_most) == ("keep all", 0)


def test_thinning_says_never_let_go_and_freeze():
    found = {caution.key for caution in ask(thin, SOME, needed="1 g", counted="1d").cautions}
    assert found >= {"colony.release", "colony.surplus", "box.dust", "colony.quarantine"}


def test_a_second_colony_is_asked_for_by_work_or_as_insurance():
    assert ask(second, Asked(size="300"), needed="2 kg", days="20d").do == "second colony"
    assert ask(second, SOME, needed="20 g").do == "spare colony elsewhere"
    assert ask(second, SOME, needed="20 g", has_spare="yes").do == "one is enough"


# ---- harm


def test_a_colder_and_longer_spell_costs_more():
    cost = [ask(harm, SOME, fell_to=cold, lasted=hours).appetite for cold, hours in (("10 C", "1d"), ("2 C", "1d"), ("2 C", "4d"))]
    assert cost[0] < cost[1] < cost[2] < 1


def test_an_event_at_the_usual_warmth_costs_nothing():
    card = ask(harm, Asked(size="3000", temperature="27 C"), fell_to="27 C", lasted="2d")
    assert (card.appetite_low, card.appetite_high) == (0, 0)
    assert card.title.key == "colony.harm.none"


def test_a_deep_freeze_of_days_leaves_no_larvae():
    # -20 °C kills the unprotected within an hour or two (reference biology, section on freezing).
    assert ask(harm, SOME, fell_to="-20 C", lasted="2d").larvae > 0.99


# ---- rules of the trade, from outside


def test_a_mouse_takes_about_a_day_in_a_busy_box():
    # common practice, no source: a mouse-sized piece takes about a day. "About" is taken as half a day to two.
    card = ask(clean_by, species="white-footed mouse", inside="0d")
    assert 0.5 <= card.days_50 <= card.days_80 <= 2


def test_a_hundred_skulls_a_year_go_through_one_colony_at_eighty_fahrenheit():
    # common practice, no source: about a hundred skulls a year of mixed medium game, one chest freezer, 80 F, no added water.
    # A raccoon stands for medium game: 100 heads of 161 g of tissue are 44 g a day. Nearly all is eaten by a cautious colony.
    known = NOBODY.work(lambda k: k)
    a_day = 100 * read_heads(known, "raccoon")[0].tissue_kg.value / 365
    card = ask(ahead, Asked(size="thousands", temperature="80 F"), days="365d", ration=f"{1000 * a_day:.1f} g")
    assert sum(day.eaten_g.plan for day in card.days) >= 0.95 * 1000 * a_day * 365


# ---- refused in words


@pytest.mark.parametrize(
    ("act", "colony", "asked", "fault", "words"),
    [
        (numbers, Asked(), {}, Impossible, "nobody said how many"),
        (numbers, Asked(size="lots"), {}, NotAQuantity, "'lots' is no size of a colony"),
        (numbers, Asked(size="-5"), {}, Impossible, "-5 beetles"),
        (numbers, Asked(), {"scoop_count": "5"}, Impossible, "a scoop is two things"),
        (numbers, Asked(), {"scoop_count": "-5", "scoop_part": "5%"}, OutsideRange, "it lies from 0 to"),
        (numbers, Asked(), {"scoop_count": "5", "scoop_part": "0%"}, OutsideRange, "it lies above 0"),
        (numbers, Asked(), {"before": "100 g", "after": "120 g", "apart": "1d"}, Impossible, "weigh it again"),
        (numbers, Asked(), {"before": "100 g", "after": "90 g", "apart": "1h"}, OutsideRange, "six hours or more"),
        (numbers, Asked(size="300", dry="perhaps"), {}, NotAQuantity, "neither yes nor no"),
        (ahead, SOME, {"days": "0d"}, OutsideRange, "1 to 400"),
        (ahead, SOME, {"days": "900d"}, OutsideRange, "1 to 400"),
        (ahead, SOME, {"ration": "-5 g"}, OutsideRange, "the ration is -5 g; it is 0 g a day or more"),
        (ahead, Asked(size="300", temperature="27 C; ; 26 C"), {"days": "1d"}, Impossible, "a series has 3 hours; 24 are needed"),
        (ahead, GAP, {"days": "1d"}, Impossible, "no value for hour 11"),
        (ahead, Asked(size="300", temperature="90 C"), {"days": "1d"}, OutsideRange, "from -60 to 80"),
        (ahead, SOME, {"first_day": "tomorrow"}, NotAQuantity, "'tomorrow' is no day"),
        (ramp_up, SOME, {"season": "60d", "target": "0 g"}, OutsideRange, "it must be above 0"),
        (least, SOME, {"keep": "0%"}, OutsideRange, "give a share above 0"),
        (least, Asked(size="300", temperature="-20 C"), {}, Impossible, "no food keeps"),
        (away, SOME, {"days": "100d"}, Impossible, "somebody must keep it"),
        (second, SOME, {"needed": "0 g"}, Impossible, "asks for no colony"),
        (ahead, Asked(size="300", temperature="; 27 C"), {"days": "1d"}, Impossible, "a series has 2 hours"),
        (ahead, Asked(size="1e9"), {}, NotAQuantity, "no size of a colony"),
        (ahead, Asked(size="99999999"), {}, OutsideRange, "look at its unit"),
        (ahead, Asked(size="300", floor="5 cm2"), {}, OutsideRange, "the floor is 5 cm2"),
        (harm, SOME, {"fell_to": "-200 C", "lasted": "2h"}, OutsideRange, "the temperature is -200 C"),
        (harm, SOME, {"fell_to": "2 C", "lasted": "0h"}, OutsideRange, "write how long"),
        (tonight, SOME, {"waiting": "0 raccoon"}, OutsideRange, "1 to 60 at once"),
        (tonight, SOME, {"waiting": "-3 raccoon"}, NotAQuantity, "no list of heads"),
        (tonight, SOME, {"waiting": "2 unicorn"}, BonebenchError, "unicorn"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_in_words(act, colony, asked, fault, words):
    with pytest.raises(fault) as caught:
        ask(act, colony, **asked)
    assert words in caught.value.said.text
