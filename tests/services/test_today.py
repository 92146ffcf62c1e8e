"""Today: tasks with reasons, clean work first, what fits into the minutes, what comes before the work."""

from datetime import date

import pytest

from bonebench.door import Door
from bonebench.shop.steps import CLEAN_TO_DIRTY

from .hands import flags, moved, press, take_in

CLEAN = [kind.value for kind in CLEAN_TO_DIRTY]


def of_specimens(card):
    """The tasks about specimens; rounds belong to a place and have none."""
    return [task for task in card.tasks if task.specimen is not None]


def busy(door: Door) -> dict[str, str]:
    """A room with something at both ends of the wall; returns the tags by what is next."""
    tags = {name: take_in(door, arrived="2026-03-20").tag for name in ("thaw", "trim", "dry", "teeth", "hand over")}
    door.log(tags["trim"], "moved", ["place=thaw-shelf", "step=thaw to trim"], about="1d")
    door.log(tags["dry"], "moved", ["place=pot", "step=degrease"], about="20d")
    door.log(tags["teeth"], "moved", ["place=rack", "step=dry"], about="10d")
    door.log(tags["hand over"], "done", ["step=finish"])
    return tags


def test_every_task_says_what_where_why_and_how_to_answer(door):
    tags = busy(door)
    card = door.today()
    assert {task.specimen for task in of_specimens(card)} == set(tags.values())
    for task in card.tasks:
        assert (task.why.text, task.action.text, task.place_name, task.answers) > ("", "", "", ())
        assert task.minutes >= 0
    assert len({task.id for task in card.tasks}) == len(card.tasks)


def test_the_work_goes_from_clean_to_dirty(desk):
    tags = busy(desk)
    order = [task.specimen for task in of_specimens(desk.today())]
    by_name = {tag: name for name, tag in tags.items()}
    found = [by_name[tag] for tag in order]
    # common practice, no source: glue and shelf before pots, pots before raw heads.
    assert found.index("teeth") < found.index("dry") < found.index("trim")
    assert found.index("hand over") < found.index("dry") < found.index("thaw")
    assert CLEAN[0] == "glue bench"
    assert CLEAN[-1] == "trim bench"


def test_the_reason_says_since_when_how_long_and_how_well_that_is_known(desk):
    tags = busy(desk)
    whys = {task.specimen: task.why.text for task in of_specimens(desk.today())}
    assert whys[tags["thaw"]] == "frozen hold since 20 Mar 2026; the plan has room for it now"
    assert whys[tags["hand over"]] == "finish was on 4 May 2026; this comes next"
    assert whys[tags["dry"]].startswith("degrease since 14 Apr 2026, 20 days; it takes about 8 days, from 3 days to 14 days (")


def test_a_promise_stands_in_the_reason(desk):
    take_in(desk, promised="2026-08-01")
    (task,) = of_specimens(desk.today())
    assert task.why.text.endswith("; promised for 1 Aug 2026")


def test_half_an_hour_holds_what_fits_and_says_what_it_left_out(desk):
    busy(desk)
    whole = desk.today()
    for minutes in (1, 30, 60, 600):
        card = desk.today(minutes=minutes)
        assert card.minutes == pytest.approx(sum(task.minutes for task in card.tasks))
        assert card.minutes <= minutes
        assert len(card.tasks) + card.left_out == len(whole.tasks)
    assert (desk.today(minutes=600).left_out, whole.left_out) == (0, 0)


def test_what_is_late_comes_first_into_the_minutes(desk, clock):
    # common practice, no source: a head may thaw two days at most, so after five it is late for the knife.
    first, late = take_in(desk).tag, take_in(desk).tag
    moved(desk, late, "thaw-shelf", "step=thaw to trim")
    clock.advance(days=5)
    (task,) = [task for task in of_specimens(desk.today()) if task.specimen == late]
    assert task.late_days == 3
    assert [t.specimen for t in of_specimens(desk.today(minutes=task.minutes))] == [late]
    assert first != late


def test_what_is_held_is_no_task_and_comes_back_when_it_is_free(desk):
    tag = take_in(desk).tag
    desk.log(tag, "held", ["reason=papers"])
    assert of_specimens(desk.today()) == []
    desk.log(tag, "released", [])
    assert [task.specimen for task in of_specimens(desk.today())] == [tag]


def test_a_task_is_gone_once_it_is_answered(door):
    tag = take_in(door).tag
    (task,) = of_specimens(door.today())
    press(door, task.answers[0])
    assert [t for t in of_specimens(door.today()) if t.id == task.id] == []
    assert door.specimen(tag).state.step == "thaw to trim"


def test_what_comes_in_the_next_days_is_shown_with_its_day(desk):
    tag = take_in(desk).tag
    moved(desk, tag, "thaw-shelf", "step=thaw to trim")
    card = desk.today()
    assert of_specimens(card) == []
    (coming,) = card.coming
    # common practice, no source: a small head thaws in about three quarters of a day, so it is trimmed the next day.
    assert (coming.specimen, coming.due_from) == (tag, date(2026, 5, 5))


def test_another_day_shows_what_the_plan_has_for_it(desk):
    tag = take_in(desk).tag
    moved(desk, tag, "thaw-shelf", "step=thaw to trim")
    card = desk.today(on=date(2026, 5, 5))
    assert (card.date, [task.specimen for task in of_specimens(card)]) == (date(2026, 5, 5), [tag])


def test_problems_come_before_the_work_and_those_that_spread_louder(desk):
    tag = take_in(desk).tag
    for what in ("insects", "grease"):
        desk.log(tag, "problem", [f"what={what}"])
    alerts = {alert.what.text: (alert.level, alert.why.text) for alert in desk.today().alerts}
    assert alerts[f"{tag}: insects"] == ("act", "said on 4 May 2026, not settled yet")
    assert alerts[f"{tag}: grease"] == ("look", "said on 4 May 2026, not settled yet")


def test_too_long_in_a_bath_and_a_wet_antler_are_to_be_acted_on(desk):
    tag = take_in(desk, "white-tailed deer", parts="antlers", arrived="2026-04-01").tag
    desk.log(tag, "moved", ["place=tub", "step=whiten"], at="2026-05-01T08:00")
    alerts = {alert.what.text: alert.level for alert in desk.today().alerts}
    assert alerts[f"{tag}: whiten: 3 days so far; this method's longest is 2 days"] == "act"
    assert alerts[f"{tag}: antlers is in Tub; it must stay dry"] == "act"


def test_a_head_that_was_long_enough_in_the_box_is_to_be_looked_at_and_again_the_next_day(desk, clock):
    desk.set_place(key="beetle-box", kind="beetle box", eats="500 g")
    tag = take_in(desk, arrived="2026-03-01").tag
    desk.log(tag, "moved", ["place=beetle-box", "step=beetles"], at="2026-04-04T09:00")
    for _ in range(3):
        (task,) = of_specimens(desk.today())
        assert task.action.text == f"Look at {tag} in the box: is it clean?"
        press(desk, next(a for a in task.answers if a.key == "not-yet"))
        assert of_specimens(desk.today()) == []
        clock.advance(days=1)


def test_a_promise_that_is_past_is_looked_at(desk):
    tag = take_in(desk, promised="2026-05-01").tag
    alert = next(a for a in desk.today().alerts if "promised" in a.what.text)
    assert (alert.level, alert.what.text) == ("look", f"{tag}: it was promised for 1 May 2026")


def test_what_finds_no_time_is_said_once_with_its_reason(desk):
    desk.set_place(key="tub", kind="tub", open=False)
    tags = sorted(take_in(desk).tag for _ in range(2))
    alert = next(a for a in desk.today().alerts if a.what.key == "alert.no_time")
    assert alert.what.text == f"no time in the plan for {', '.join(tags)}"
    assert "no tub is open" in alert.why.text


def test_a_look_into_a_bath_is_asked_for_when_its_method_wants_one(desk, clock):
    tag = take_in(desk).tag
    moved(desk, tag, "pot", "step=degrease")
    assert [t for t in of_specimens(desk.today()) if t.action.key == "do.look"] == []
    clock.advance(days=3)
    (look,) = [t for t in of_specimens(desk.today()) if t.action.key == "do.look"]
    assert look.why.text == "looked at last on 4 May 2026; every 3 days for this method"
    press(desk, look.answers[0])
    assert [t for t in of_specimens(desk.today()) if t.action.key == "do.look"] == []


def test_a_skull_is_asked_after_months_after_it_left(desk, clock):
    tag = take_in(desk).tag
    desk.log(tag, "done", ["step=hand over"])
    clock.advance(days=90)
    assert of_specimens(desk.today()) == []
    clock.advance(days=1)
    (task,) = of_specimens(desk.today())
    assert task.action.text == f"Ask how {tag} looks after 3 months: grease, yellow?"
    assert task.place_name == "with its owner"


def test_two_missed_looks_back_are_one_task(desk, clock):
    tag = take_in(desk).tag
    desk.log(tag, "done", ["step=hand over"])
    clock.advance(days=200)
    assert [task.action.key for task in of_specimens(desk.today())] == ["do.look_back_6"]


def test_an_empty_room_is_taught_what_to_do_first(desk):
    card = desk.today()
    assert card.teach.text == "Nothing is in the room. Add the first specimen; its steps and dates follow from that."
    assert (of_specimens(card), card.demo, card.room) == ([], False, "Test room")


def test_a_room_without_places_is_taught_to_set_them_up(book, clock, rng):
    door = Door(book, clock=clock, rng=rng, writer="test")
    assert (
        door.today().teach.text
        == "This room has no places yet. Set the room up first: walk along the wall and say what stands there."
    )
    assert door.room().teach.key == "teach.room"


def test_what_was_not_said_of_the_room_is_flagged_until_it_is(desk):
    tag = take_in(desk).tag
    moved(desk, tag, "beetle-box", "step=beetles")
    assert set(flags(desk.today())) == {"flag.no_hours", "flag.no_appetite", "flag.no_smoke_alarm"}
    desk.set_place(key="beetle-box", kind="beetle box", eats="200 g")
    desk.set_person("Wren Halloway", ["mon 09:00-12:00"], "all")
    desk.set_features(["smoke alarm"])
    assert flags(desk.today()) == []


def test_today_ends_by_deferring_and_no_raw_head_is_without_cautions(desk):
    take_in(desk)
    card = desk.today()
    assert card.cautions[-1].key == "defer"
    (task,) = of_specimens(card)
    assert {"raw.hygiene", "raw.rabies", "defer"} <= {caution.key for caution in task.cautions}


def test_the_day_is_the_rooms_own(desk, clock):
    clock.advance(hours=14)  # four in the morning UTC of 5 May, eleven at night of 4 May in Chicago
    assert desk.today().date == date(2026, 5, 4)
    clock.advance(hours=2)
    assert desk.today().date == date(2026, 5, 5)


def test_a_drugged_head_shouts_at_the_box_even_when_its_hold_was_lifted(desk):
    desk.set_place(key="beetle-box", kind="beetle box", eats="500 g")
    safe = take_in(desk, arrived="2026-03-01", answers={"bite": "no", "drug": "no"}).tag
    drugged = take_in(desk, arrived="2026-03-01", answers={"bite": "no", "drug": "yes"}).tag
    desk.log(drugged, "released", [])
    for tag in (safe, drugged):
        desk.log(tag, "moved", ["place=freezer", "step=freeze again"], at="2026-03-20T09:00")
    cautions = {tag: {c.key for c in desk.specimen(tag).cautions} for tag in (safe, drugged)}
    assert "box.treated" in cautions[drugged]
    assert "box.treated" not in cautions[safe]
