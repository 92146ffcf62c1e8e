"""What the colony needs, in Today: water only where nothing moist went in, and warnings before the day's work."""

import subprocess
import sys

import pytest

from bonebench.door import Look

from .hands import take_in


def water(desk):
    return [task for task in desk.today().tasks if task.about.key == "round.water"]


def alerts(desk):
    return {alert.what.key: alert for alert in desk.today().alerts if alert.what.key.startswith("flag.colony")}


def done(desk):
    (task,) = water(desk)
    desk.tap(kind=task.answers[0].kind, subjects=task.answers[0].subjects, values=task.answers[0].values, task=task.id)


def test_a_new_room_is_asked_for_water_with_the_reason(desk):
    (task,) = water(desk)
    assert task.why.text.startswith("nobody wrote down a wet pad or moist food yet. Thirsty beetles lay far fewer eggs")
    assert "pad" in task.action.text


def test_water_is_asked_for_every_day_or_so(desk, clock):
    done(desk)
    assert water(desk) == []
    clock.advance(days=1)
    (task,) = water(desk)
    assert task.why.text.startswith("the last wet pad or moist food was on 4 May 2026. ")
    assert (task.due_by - task.due_from).days == 1


def test_a_frozen_head_that_went_in_is_water_for_a_day(desk, clock):
    tag = take_in(desk).tag
    desk.log(tag, "moved", ["place=beetle-box", "step=beetles"])
    assert water(desk) == []
    clock.advance(days=1)
    assert len(water(desk)) == 1


def test_a_head_that_came_in_dried_is_no_water(desk):
    tag = take_in(desk, condition="dried").tag
    desk.log(tag, "moved", ["place=beetle-box", "step=beetles"])
    (task,) = water(desk)
    assert task.why.text.startswith("the last food that went in was dried. ")


def test_fresh_food_written_down_is_water_and_dried_food_after_it_is_not(desk, clock):
    desk.note_colony(Look(fed="100 g"))
    assert water(desk) == []
    clock.advance(hours=2)
    desk.note_colony(Look(fed="50 g", dried="yes"))
    assert len(water(desk)) == 1


def test_a_damp_box_is_not_asked_for_water_but_warned_of(desk, clock):
    desk.note_colony(Look(humidity="74%"))
    assert water(desk) == []
    assert "flag.colony.damp_once" in alerts(desk)
    clock.advance(days=1)
    desk.note_colony(Look(humidity="60%"))
    assert len(water(desk)) == 1
    assert alerts(desk) == {}


def test_a_look_that_was_taken_back_puts_no_water_off(desk):
    entry = desk.note_colony(Look(fed="100 g"))
    desk.undo(entry)
    assert len(water(desk)) == 1


@pytest.mark.parametrize(
    ("look", "key", "level"),
    [
        (Look(counted="0", part="5%"), "flag.colony.none", "act"),
        (Look(hunger="starved"), "flag.colony.starved", "act"),
        (Look(smell="3"), "flag.colony.foul", "act"),
        (Look(smell="2"), "flag.colony.strong", "look"),
        (Look(pests="mites"), "flag.colony.pest", "act"),
        (Look(pests="mties"), "flag.colony.pest_near", "act"),
        (Look(temperature="81 F"), "flag.colony.flight", "look"),
    ],
)
def test_what_was_seen_comes_before_the_days_work(desk, look, key, level):
    desk.note_colony(look)
    found = alerts(desk)
    assert {name: alert.level for name, alert in found.items()} == {key: level}
    assert found[key].why.text


def test_pests_are_settled_by_their_round(desk, clock):
    desk.note_colony(Look(pests="mites"))
    clock.advance(days=4)
    (task,) = [task for task in desk.today().tasks if task.about.key == "round.pests"]
    answer = task.answers[0]
    desk.tap(kind=answer.kind, subjects=answer.subjects, values=answer.values, task=task.id)
    assert alerts(desk) == {}


def test_a_closed_box_is_not_warned_of(desk):
    desk.note_colony(Look(smell="3"))
    desk.set_place(key="beetle-box", kind="beetle box", open=False)
    assert alerts(desk) == {}


def test_today_is_made_without_compiling_anything():
    # `bonebench today` is looked at each morning, often on an old machine: numba and scipy stay out of it.
    code = "import sys, bonebench.services.today.do; print([m for m in ('numba', 'scipy', 'numba.core') if m in sys.modules])"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
