"""A colony with its box: the order of the coupling, limits that must hold, the balance, and what the card says."""

from dataclasses import replace
from datetime import UTC, date, datetime

import numpy as np
import pytest

from bonebench.door import NoBook
from bonebench.errors import Impossible
from bonebench.files.colony_toml import colony_of
from bonebench.science.colony.feeding import Air
from bonebench.science.colony.forecast import likely_colonies
from bonebench.science.colony.layout import STATE
from bonebench.science.colony.model import Housing, course_of, hourly_load
from bonebench.science.colony.traits import usual_traits
from bonebench.science.enclosure import Box, Heater, Holes, around_box, conductance_w_k, simulate
from bonebench.science.enclosure.layout import CO2, CO2_MOLE
from bonebench.services.colony.ahead import ahead
from bonebench.services.colony.asked import Asked
from bonebench.services.enclosure.around import Surroundings
from bonebench.services.enclosure.described import FewNumbers, box_of_numbers
from bonebench.services.season import coupled
from bonebench.services.season.boxed import with_box
from bonebench.services.season.by_file import InBox, by_file, day_of_year
from bonebench.services.season.coupled import MOST_GAP, MOVED_K, Eaters, couple, working_draw

NOBODY = NoBook(clock=lambda: datetime(2026, 1, 5, tzinfo=UTC))
SIZES = {"length": "1.20 m", "width": "0.65 m", "height": "0.80 m", "wall": "65 mm"}
FEW = FewNumbers(**SIZES, watts="100 W", low_holes="1", high_holes="1")
COLD = Surroundings(building="5 C", humidity="80 %", days="20d")
SOME = Asked(size="3000", floor="0.5 m2", sites="20 L")
HOUSE = Housing(0.5, 3000.0)
# A strong heater with a narrow thermostat, and so much air that the colony does not change its damp.
HELD = Box((1.2, 0.65, 0.8), heater=Heater(400.0, set_c=27.0, hysteresis_k=0.2, lag_s=0.0), measured_air_kg_s=(0.004, 0.004))


def ask(act, *said, **more):
    return NOBODY.work(lambda known: act(known, *said, **more))


def eaters(size=3000.0, **more):
    draws = likely_colonies(np.random.default_rng(6), size, count=11)
    return Eaters(usual_traits(), draws.states[5], HOUSE, **more)


def keys(card):
    return {flag.what.key for flag in card.flags}


# ---- the order of the coupling


class Watched:
    """Notes which load each run of the box was given, and answers as the box does or with a warmth moved by hand."""

    def __init__(self, monkeypatch, moves=()):
        self.loads, self.moves = [], list(moves)
        monkeypatch.setattr(coupled, "simulate", self)

    def __call__(self, box, around, **more):
        run = simulate(box, around, **more)
        self.loads.append(around.heat_w)
        if not self.moves:
            return run
        move = self.moves.pop(0)
        hours = run.hours.copy()
        hours[:, 0:3] += move
        return replace(run, hours=hours, year=replace(run.year, t_mean_c=run.year.t_mean_c + move))


def test_the_box_runs_with_the_load_of_the_colony_in_the_air_before_it(monkeypatch):
    watched, who = Watched(monkeypatch), eaters(ration_kg=0.08)
    around = around_box(240, t_c=5.0, rh=0.8)
    pair = couple(HELD, around, who)
    alone = simulate(HELD, around)
    first = who.load(coupled.air_in(alone))
    assert not watched.loads[0].any()
    assert np.array_equal(watched.loads[1], first.heat_w)
    assert len(watched.loads) == 1 + pair.passes
    assert np.array_equal(pair.given.heat_w, who.load(coupled.air_in(pair.run)).heat_w)


@pytest.mark.parametrize(("move", "passes"), [(0.5 * MOVED_K, 1), (1.5 * MOVED_K, 2), (20 * MOVED_K, 2)])
def test_it_goes_round_once_more_if_the_mean_warmth_moved_by_over_a_fifth_of_a_kelvin_and_never_a_third_time(
    monkeypatch, move, passes
):  # fmt: skip
    # A ration so small that what they give off hardly depends on warmth: only the move by hand decides.
    watched = Watched(monkeypatch, moves=[0.0, move, 3 * move, 9 * move])
    who = eaters(ration_kg=0.001)
    monkeypatch.setattr(coupled, "MOST_GAP", 1e9)
    assert couple(HELD, around_box(48, t_c=5.0, rh=0.8), who).passes == passes
    assert len(watched.loads) == 1 + passes


def test_it_also_goes_round_once_more_where_the_damp_of_the_colony_makes_it_another_colony(monkeypatch):
    # A dry box that breathes little: the thermostat holds its warmth, but not its damp, and damp sets their pace.
    box = Box((1.2, 0.65, 0.8), holes=(Holes(1, 0.0254, 0.05), Holes(1, 0.0254, 0.45)), heater=Heater(100.0))
    pair = couple(box, around_box(24 * 30, t_c=5.0, rh=0.8), eaters())
    assert abs(pair.moved_k[0]) < MOVED_K
    assert pair.passes == 2
    monkeypatch.setattr(coupled, "MOST_PASSES", 1)
    once = couple(box, around_box(24 * 30, t_c=5.0, rh=0.8), eaters())
    assert abs(once.gap) > MOST_GAP
    assert abs(pair.gap) < 0.5 * abs(once.gap)


WEAK = Box((1.2, 0.65, 0.8), holes=(Holes(1, 0.0254, 0.05), Holes(1, 0.0254, 0.45)), heater=Heater(30.0))
AUTUMN = around_box(24 * 30, t_c=np.linspace(15, 0, 24 * 30), rh=0.8)


def test_two_runs_come_near_to_going_round_until_nothing_moves(monkeypatch):
    # Brute force: twenty times round. What two runs leave open is told as the gap; the air they give lies within that of the end.
    pair = couple(WEAK, AUTUMN, eaters(ration_kg=0.15))
    for name, value in (("MOST_PASSES", 20), ("MOVED_K", 0.0), ("MOST_GAP", 0.0)):
        monkeypatch.setattr(coupled, name, value)
    settled = couple(WEAK, AUTUMN, eaters(ration_kg=0.15))
    assert abs(settled.gap) < 1e-3
    assert pair.given.kwh == pytest.approx(settled.given.kwh, rel=0.02)
    assert pair.run.year.t_mean_c == pytest.approx(settled.run.year.t_mean_c, abs=0.1)
    assert pair.run.year.rh_mean == pytest.approx(settled.run.year.rh_mean, abs=0.01)


def test_led_together_they_do_as_a_box_and_a_colony_that_take_turns_day_by_day():
    # Another way to couple, with none of ours in it: each day on its own, gone over until box and colony agree, then the next.
    who = eaters(ration_kg=0.15)
    pair, start, state, days = couple(WEAK, AUTUMN, who), None, who.start, []
    heat = water = np.zeros(24)
    for day in range(30):
        points = slice(24 * day, 24 * day + 25)
        for _ in range(4):
            part = around_box(24, t_c=AUTUMN.t_c[points], ratio=AUTUMN.ratio[points], heat_w=heat, water_kg_s=water)
            run = simulate(WEAK, part, start=start)
            food = coupled.air_in(run).fed(who.ration_kg, HOUSE.food_dry_share)
            heat, water = hourly_load(who.traits, state, HOUSE, food)
        start, state = run.end, course_of(who.traits, state, HOUSE, food).end
        days.append((run.columns()["t_mean_c"], run.columns()["rh_mean"], heat))
    t, rh, watts = (np.concatenate(each) for each in zip(*days, strict=True))
    assert pair.run.year.t_mean_c == pytest.approx(t.mean(), abs=0.1)
    assert pair.run.year.rh_mean == pytest.approx(rh.mean(), abs=0.01)
    assert pair.given.heat_w.sum() == pytest.approx(watts.sum(), rel=0.02)


def test_a_box_runs_with_its_colony_for_whole_days():
    with pytest.raises(Impossible, match="for whole days, not for 30 hours"):
        couple(HELD, around_box(30, t_c=5.0, rh=0.8), eaters())


# ---- limits


def test_no_beetles_leave_the_box_as_it_is_exactly():
    none = Eaters(usual_traits(), np.zeros(STATE), HOUSE)
    around = around_box(240, t_c=np.linspace(-5, 12, 240), rh=0.8, water_kg_s=1e-6)
    pair = couple(HELD, around, none)
    assert pair.passes == 1
    assert np.array_equal(pair.run.hours, simulate(HELD, around).hours, equal_nan=True)
    assert pair.given.kwh == pair.received.kwh == 0.0


def test_a_box_held_at_one_warmth_gives_what_that_warmth_typed_gives():
    # The thermostat keeps 27 +- 0.1 degC; the pace changes by (30.3 - 27) / 7.41**2 = 6 % for each kelvin (the curve's slope, by
    # hand), so the load lies within 1 % of that at a constant 27 degC with the same damp.
    who = eaters(ration_kg=0.05)
    pair = couple(HELD, around_box(24 * 20, t_c=5.0, rh=0.8), who, step_s=5.0)
    assert pair.run.year.t_mean_c == pytest.approx(27.0, abs=0.1)
    typed = who.load(Air(20, 27.0, pair.air.humidity))
    assert pair.given.heat_w.sum() == pytest.approx(typed.heat_w.sum(), rel=0.01)
    assert pair.given.water_kg_s.sum() == pytest.approx(typed.water_kg_s.sum(), rel=0.01)


def test_without_a_heater_in_winter_they_stop_growing_and_it_is_said():
    card = ask(with_box, SOME, box=box_of_numbers(FewNumbers(**SIZES, low_holes="1", high_holes="1")), given=COLD)
    assert "season.idle" in keys(card)
    assert card.longest_idle_days >= 18  # the box begins warm and has cooled through within two days
    idle = next(flag for flag in card.flags if flag.what.key == "season.idle")
    assert "too cold for them to grow" in idle.what.text
    month = card.months[0]
    assert month.hours_idle > 18 * 24
    assert card.days[-1].larvae.value < card.days[0].larvae.value


def test_a_colony_that_freezes_runs_down_and_it_is_said():
    bare = box_of_numbers(FewNumbers(**SIZES, low_holes="1", high_holes="1"))
    card = ask(with_box, SOME, box=bare, given=replace(COLD, building="-10 C"))
    assert {"season.idle", "season.dwindles"} <= keys(card)
    assert card.days[-1].larvae.value == 0.0
    assert "season.dwindles" not in keys(ask(with_box, SOME, box=box_of_numbers(FEW), given=COLD))


def test_a_box_shut_too_tight_is_said_to_be_stale():
    # One hole alone lets a tenth of the air of two through.
    card = ask(with_box, SOME, box=box_of_numbers(FewNumbers(**SIZES, watts="100 W", low_holes="1")), given=COLD)
    assert "season.stale" in keys(card)
    assert "season.stale" not in keys(ask(with_box, SOME, box=box_of_numbers(FEW), given=COLD, ration="20 g"))


def test_what_they_breathe_out_stands_in_the_air_by_how_much_air_passes():
    # By hand: at rest the share is 420 ppm and the moles breathed out over the moles of air; 44.01 and 28.96 g/mol.
    who = eaters(ration_kg=0.05)
    pair = couple(HELD, around_box(240, t_c=5.0, rh=0.8), who)
    breathed = 7.8e-8 * pair.received.heat_w[-1] / 0.004 * 28.96 / 44.01 * 1e6
    assert pair.run.hours[-1, CO2] / CO2_MOLE * 1e6 == pytest.approx(420 + breathed, rel=0.01)


# ---- the balance


def test_the_heat_the_colony_gave_off_is_the_heat_the_box_was_given():
    # The load by the hour against the rows by the day of the same colony in the same air: one run summed in two ways. The box of
    # that run closes its balance of heat with it. Rounding only.
    who = eaters(ration_kg=0.08)
    pair = couple(HELD, around_box(24 * 10, t_c=5.0, rh=0.8), who)
    food = pair.air.fed(who.ration_kg, HOUSE.food_dry_share)
    course = course_of(who.traits, who.start, HOUSE, food)
    heat, water = hourly_load(who.traits, who.start, HOUSE, food)
    assert heat.sum() * 3600 == pytest.approx(course.day_values("heat_w").sum() * 86400, rel=1e-9)
    assert water.sum() * 3600 == pytest.approx(course.day_values("water_kg").sum(), rel=1e-9)
    assert np.array_equal(pair.around.heat_w, pair.received.heat_w)
    assert pair.run.heat_error < 1e-9
    assert pair.run.water_error < 1e-9
    # What is left open is what the colony does in the last air against the one before it: its own damp.
    assert abs(pair.gap) < 2e-3


def test_the_heat_of_the_colony_warms_an_unheated_box_by_what_its_walls_let_through():
    # By hand: a sealed box without heater stands Q / UA above its building, less the latent heat of the water that settles nowhere.
    box = Box((1.2, 0.65, 0.8), measured_air_kg_s=(0.0005, 0.0005), bedding=None)
    around = around_box(24 * 12, t_c=27.0, rh=0.5, heat_w=0.0)
    pair = couple(box, around, eaters(30_000.0, ration_kg=0.3))
    last = slice(-72, None)
    rise = pair.run.columns()["t_mean_c"][last].mean() - 27.0
    load = pair.received.heat_w[last].mean() - 2.45e6 * pair.received.water_kg_s[last].mean()
    assert rise == pytest.approx(load / (conductance_w_k(box) + 0.0005 * 1006), rel=0.03)  # the load still grows as the box lags


# ---- the card


def test_the_middle_colony_stands_for_all_of_them():
    draws = likely_colonies(np.random.default_rng(1), 3000, count=25)
    air = Air(10, 27.0, 0.55)
    picked = working_draw(draws, HOUSE, air, None)
    heats = [Eaters(draws.traits[k], draws.states[k], HOUSE).load(air).kwh for k in range(25)]
    assert sorted(range(25), key=lambda k: heats[k])[12] == picked


def test_months_are_those_the_days_lie_in_and_bands_run_upward():
    card = ask(with_box, SOME, box=box_of_numbers(FEW), given=replace(COLD, first_day=20, days="45d"), ration="80 g")
    # By hand: 45 days from 21 January on are 11 of January, 28 of February and 6 of March.
    assert [(month.month, month.days) for month in card.months] == [(1, 11), (2, 28), (3, 6)]
    for month in card.months:
        for band in (month.larvae, month.adults, month.appetite_g, month.heat_w, month.water_g_h):
            assert 0 <= band.low <= band.plan <= band.value <= band.high
    assert len(card.days) == 45
    assert card.coupling.passes == len(card.coupling.moved_k) == 1


def test_what_the_colony_changes_is_told_against_the_box_without_it():
    card = ask(with_box, SOME, box=box_of_numbers(FEW), given=COLD, ration="80 g")
    assert card.coupling.changed_rh > 0
    assert card.coupling.heat_given_kwh == pytest.approx(card.coupling.heat_received_kwh, rel=MOST_GAP)
    told = {fact.value.key: fact.value.text for fact in card.facts}
    assert {"season.coupling", "season.bands"} <= told.keys()
    points = f"{100 * card.coupling.changed_rh:.1f} points damper"
    assert told["season.changed.stays"].startswith(f"on the mean as warm as without it, {points}; the heater takes ")
    assert card.cautions[-1].key == "defer"
    assert len({one.key for one in card.cautions}) == len(card.cautions)


def test_damp_and_flight_in_the_box_are_warned_of():
    wet = replace(COLD, building="24 C", humidity="95 %")
    card = ask(with_box, SOME, box=box_of_numbers(FewNumbers(**SIZES, watts="100 W", low_holes="3", high_holes="3")), given=wet)
    assert "colony.warn.lid_and_screens" in keys(card)
    assert keys(card) & {"colony.warn.watch_the_damp", "colony.warn.dry_the_box"}
    assert card.months[0].hours_damp > 24


# ---- by a file


FILE = """
[colony]
size = 3000
[house]
floor = "0.5 m2"
blocks = "20 L"
[food]
ration = "80 g"
[ahead]
days = "10 d"
first_day = 2026-05-04
"""


def test_a_file_gives_what_the_same_words_typed_give():
    by_words = ask(ahead, replace(SOME, temperature="26 C"), ration="80 g", days="10d", first_day="2026-05-04")
    assert ask(by_file, colony_of(FILE + '[air]\ntemperature = "26 C"\n')) == by_words


def test_a_file_with_a_box_is_told_in_the_air_of_that_box():
    text = FILE + '[box]\nfile = "enclosure.toml"\nbuilding = "5 C"\nhumidity = "80 %"\n'
    card = ask(by_file, colony_of(text), box=InBox(box_of_numbers(FEW)))
    boxed = ask(
        with_box, SOME, box=box_of_numbers(FEW), given=replace(COLD, days="10d", first_day=day_of_year(card.days[0].date)),
        ration="80 g",
    )  # fmt: skip
    assert [day.appetite_g for day in card.days] == [day.appetite_g for day in boxed.days]
    assert "season.air" in {fact.value.key for fact in card.facts}
    assert any(line.key == "heater.set" for line in card.basis)


def test_weather_that_ends_before_the_days_asked_for_is_said(tmp_path):
    rows = [f"5,{4 + n // 24},{n % 24 + 1},{10 + n % 24 / 4},5" for n in range(72)]
    (tmp_path / "may.csv").write_text("\n".join(["month,day,hour,T_C,Tdew_C", *rows]))
    text = FILE + '[box]\nfile = "enclosure.toml"\nweather = "may.csv"\n'
    card = ask(by_file, colony_of(text, beside=tmp_path), box=InBox(box_of_numbers(FEW)))
    assert len(card.days) == 3
    assert "season.short" in keys(card)


def test_looks_in_a_file_move_the_numbers_as_a_count_does():
    few, many = (
        ask(by_file, colony_of(FILE + f'[[looks]]\ndays_ago = "3 d"\ncounted = {counted}\npart = "10 %"\n'))
        for counted in (20, 2000)
    )
    assert few.days[0].larvae.value + few.days[0].adults.value < many.days[0].larvae.value + many.days[0].adults.value


@pytest.mark.parametrize(("day", "number"), [("2026-01-01", 0), ("2026-03-01", 59), ("2028-02-29", 58), ("2028-12-31", 364)])
def test_a_day_has_its_place_in_a_year_without_a_leap_day(day, number):
    assert day_of_year(date.fromisoformat(day)) == number
