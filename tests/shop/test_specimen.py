"""One specimen told from its entries, kind by kind. The order of telling and the voids are tested in test_fold."""

from datetime import UTC, date, datetime, timedelta

import pytest

from bonebench.shop.entries import (
    Described,
    Done,
    Gone,
    Held,
    Joined,
    Looked,
    MergedInto,
    Moved,
    Noted,
    Parted,
    PartFound,
    Problem,
    Received,
    Released,
    Retagged,
    SentBack,
    Settled,
    Skipped,
    Weighed,
    specimen_subject,
)
from bonebench.shop.steps import Step

from .logbook import FOX, NOON, entry, fox

CAME = entry(1, Received("K7Q-K", "red-fox", owner="p1", head_mass_kg=0.4, promised=date(2026, 6, 1), parts=("skull", "antlers")))


def words(specimen):
    return [flag.what.text for flag in specimen.flags]


def test_what_was_said_at_the_door_is_what_is_known():
    state = fox(CAME)
    assert (state.tag, state.species, state.owner, state.head_mass_kg) == ("K7Q-K", "red-fox", "p1", 0.4)
    assert (state.promised, state.received, state.finish) == (date(2026, 6, 1), NOON + timedelta(minutes=1), "white")
    assert ([part.name for part in state.parts], state.flags) == (["skull", "antlers"], ())


def test_a_second_arrival_changes_nothing_and_is_flagged_with_what_to_do():
    state = fox(CAME, entry(2, Received("B2C-3", "coyote")))
    assert (state.tag, state.species) == ("K7Q-K", "red-fox")
    assert words(state) == ["it was received twice; the first one counts"]
    assert state.flags[0].next.text == "take one of the two back, or give the second specimen a tag of its own"


def test_what_is_put_right_before_the_arrival_is_told_stays_right():
    early = entry(2, Described({"species": "gray-fox"}), minutes=0.5)
    assert fox(CAME, early).species == "gray-fox"


def test_a_move_takes_every_part_along_unless_it_names_some():
    antlers = (specimen_subject(FOX, "antlers"),)
    state = fox(CAME, entry(2, Moved("freezer")), entry(3, Moved("shelf"), subjects=antlers))
    assert (state.place_of("skull"), state.place_of("antlers"), state.place_of("tail")) == ("freezer", "shelf", None)


def test_a_move_that_names_the_whole_and_a_part_takes_everything():
    both = (specimen_subject(FOX), specimen_subject(FOX, "antlers"))
    assert [part.place for part in fox(CAME, entry(2, Moved("freezer"), subjects=both)).parts] == ["freezer", "freezer"]


def test_a_part_that_is_moved_before_anybody_named_it_is_kept_track_of():
    state = fox(CAME, entry(2, Moved("jar"), subjects=(specimen_subject(FOX, "loose teeth"),)))
    assert state.place_of("loose teeth") == "jar"
    assert [part.name for part in fox(CAME, entry(2, PartFound("sample"))).parts] == ["skull", "antlers", "sample"]


def test_a_stay_begins_once_for_each_visit():
    state = fox(CAME, entry(2, Moved("pot", Step.DEGREASE)), entry(3, Moved("pot-2", Step.DEGREASE)))
    assert [(m.step, m.visit, m.entry) for m in state.begun] == [(Step.DEGREASE, 1, "e002")]
    assert state.place_of("skull") == "pot-2"
    assert (state.beginning(Step.DEGREASE).entry, state.beginning(Step.WHITEN)) == ("e002", None)


def test_what_is_left_out_counts_as_over_and_says_so():
    mark = fox(CAME, entry(2, Skipped(Step.WHITEN, why="owner likes it brown"))).ending(Step.WHITEN)
    assert (mark.skipped, mark.entry) == (True, "e002")


def test_looks_are_kept_one_by_one():
    state = fox(CAME, entry(2, Looked(Step.WHITEN)), entry(3, Looked(Step.WHITEN)))
    assert [m.entry for m in state.looks] == ["e002", "e003"]


def test_a_hold_lasts_until_it_is_released():
    held = entry(2, Held("waits for its papers"))
    assert fox(CAME, held).held == "waits for its papers"
    assert fox(CAME, held, entry(3, Released())).held is None


def test_the_last_weighing_counts():
    state = fox(CAME, entry(2, Weighed(0.4)), entry(3, Weighed(0.3)))
    assert (state.weighed_kg, state.weighed_at) == (0.3, NOON + timedelta(minutes=3))


def test_a_lot_is_joined_and_left():
    joined = entry(2, Joined("lot-1", "Tray of mice"))
    assert (fox(CAME, joined).lot, fox(CAME, joined).lot_name) == ("lot-1", "Tray of mice")
    assert fox(CAME, joined, entry(3, Parted("lot-1"))).lot is None
    assert fox(CAME, joined, entry(3, Parted("lot-2"))).lot == "lot-1"


@pytest.mark.parametrize("what", [Gone("lost"), MergedInto("other"), Done(Step.HAND_OVER)])
def test_a_specimen_is_finished_when_it_is_gone_merged_or_handed_over(what):
    assert not fox(CAME).finished
    assert fox(CAME, entry(2, what)).finished


def test_why_it_is_gone_is_kept():
    state = fox(CAME, entry(2, Gone("thrown out")))
    assert (state.gone, state.gone_why) == (NOON + timedelta(minutes=2), "thrown out")
    assert fox(CAME, entry(2, MergedInto("other"))).merged_into == "other"


def test_handing_over_taken_back_by_sending_it_back_makes_it_work_again():
    assert not fox(CAME, entry(2, Done(Step.HAND_OVER)), entry(3, SentBack(Step.WHITEN))).finished


def test_a_new_tag_holds_and_a_note_changes_nothing():
    assert fox(CAME, entry(2, Retagged("B2C-3"))).tag == "B2C-3"
    assert fox(CAME, entry(2, Noted("n1"))).tag == "K7Q-K"


def test_settling_what_nobody_said_changes_nothing():
    state = fox(CAME, entry(2, Problem("smell")), entry(3, Settled("e001")))
    assert [problem.what for problem in state.problems] == ["smell"]


PUT_RIGHT = [
    ("species", "coyote"),
    ("owner", None),
    ("live_mass_kg", 5),
    ("sex", "female"),
    ("finish", "natural"),
    ("measure", True),
]
CANNOT_BE = [("species", None), ("species", 3), ("live_mass_kg", "heavy"), ("finish", "purple"), ("measure", "perhaps"),
             ("promised", "soon")]  # fmt: skip


@pytest.mark.parametrize(("name", "value"), PUT_RIGHT)
def test_what_was_said_can_be_put_right(name, value):
    state = fox(CAME, entry(2, Described({name: value})))
    assert (getattr(state, name), state.flags) == (value, ())


@pytest.mark.parametrize(("name", "value"), CANNOT_BE)
def test_what_cannot_be_is_flagged_and_changes_nothing(name, value):
    state = fox(CAME, entry(2, Described({name: value})))
    assert getattr(state, name) == getattr(fox(CAME), name)
    assert words(state) == [f"an entry sets '{name}' to '{value}', which cannot be"]
    assert state.flags[0].next.text == "take the entry back and write it again"


def test_a_promised_day_can_be_put_right_or_taken_away():
    assert fox(CAME, entry(2, Described({"promised": "2026-07-01"}))).promised == date(2026, 7, 1)
    assert fox(CAME, entry(2, Described({"promised": None}))).promised is None


def test_marks_stand_in_the_order_of_the_steps_and_visits():
    state = fox(CAME, entry(2, Done(Step.TEETH)), entry(3, Done(Step.TRIM, 2)), entry(4, Done(Step.TRIM)))
    assert [(m.step, m.visit) for m in state.ended] == [(Step.TRIM, 1), (Step.TRIM, 2), (Step.TEETH, 1)]


def test_an_about_time_is_told_by_its_latest_end():
    start = datetime(2026, 5, 1, tzinfo=UTC)
    came = entry(1, Received("K7Q-K", "red-fox"), when=type(CAME.when)(start, start + timedelta(days=1)))
    assert fox(came).received == start + timedelta(days=1)
