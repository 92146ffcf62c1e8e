"""Entries go in by one way, and the kept states are what the whole log comes to: whatever came, in whatever order."""

import random
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bonebench.door import Door, Intake
from bonebench.records import entries as log_rows
from bonebench.records import states
from bonebench.records.book import Book, Writing, about
from bonebench.services.log.record import record
from bonebench.services.log.states import rebuild
from bonebench.shop import entries as log
from bonebench.shop.entries import Entry, What, When, exactly
from bonebench.shop.steps import PlaceKind, Step
from tests.conftest import NOW
from tests.records.rows import kept_states, row, states_in

FOX, HARE = "specimen:fox", "specimen:hare"


def _entry(id: str, what: What, *, minutes: float = 0, subjects: Sequence[str] = (FOX,), **more: Any) -> Entry:
    at = NOW + timedelta(minutes=minutes)
    fields: dict[str, Any] = {"writer": "phone", "number": 1, "when": exactly(at), "recorded": NOW + timedelta(days=1)}
    return Entry(id=id, what=what, subjects=tuple(subjects), **{**fields, **more})


def _record(book: Book, *entries: Entry) -> dict[str, str]:
    with book.writing() as tx:
        return dict(record(tx, entries, NOW).how)


def _fox(book: Book) -> dict[str, Any]:
    with book.reading() as tx:
        state = states.specimen(tx, "fox")
    assert state is not None
    return state


ARRIVED = _entry("arrived", log.Received(tag="K7Q-K", species="vulpes-vulpes"))
ROOM = _entry("room", log.RoomDescribed("Test room", "America/Chicago"), subjects=("room",))


# -- laws: any log at all --------------------------------------------------------------------------------------------------------

IDS = [f"e{n}" for n in range(7)]
WRITERS = ["phone", "desk"]
SUBJECTS = [FOX, HARE, "specimen:fox/skull", "specimen:hare/mandible", "room", "writer:phone", "Specimen:fox", "place:pot"]
steps = st.sampled_from([Step.THAW, Step.BEETLES, Step.DEGREASE])
whats = st.one_of(
    st.builds(log.Received, tag=st.sampled_from(["K7Q-K", "K7R-X"]), species=st.just("vulpes-vulpes")),
    st.builds(log.Moved, place=st.sampled_from(["pot", "tub"]), step=st.none() | steps, visit=st.integers(1, 2)),
    st.builds(log.Done, step=steps, visit=st.integers(1, 2)),
    st.builds(log.SentBack, step=steps),
    st.builds(log.Problem, what=st.just("smells")),
    st.builds(log.Settled, problem=st.sampled_from(IDS)),
    st.builds(log.Described, changes=st.dictionaries(st.sampled_from(["sex", "finish", "tail"]), st.sampled_from(["f", "white"]))),
    st.builds(log.Weighed, mass_kg=st.sampled_from([0.3, 0.4])),
    st.builds(log.Retagged, tag=st.just("K7S-9")),
    st.builds(log.PlaceSet, key=st.just("pot"), name=st.sampled_from(["Pot", "Big pot"]), kind=st.just(PlaceKind.POT)),
    st.builds(log.Void, target=st.sampled_from(IDS)),
    st.builds(log.Void, target=st.sampled_from(IDS)),
    st.builds(
        log.ClockCorrected, writer=st.sampled_from(WRITERS), first=st.integers(0, 5), last=st.integers(3, 9),
        offset_seconds=st.sampled_from([-7200.0, 3600.0]),
    ),
)  # fmt: skip


@st.composite
def logs(draw: st.DrawFn) -> list[Entry]:
    """Draw entries with ids of their own: late ones, voids of what is there or is not, replacements, corrected clocks."""
    found = []
    for number, id in enumerate(IDS[: draw(st.integers(2, len(IDS)))]):
        what = draw(whats)
        some = [f"writer:{what.writer}"] if isinstance(what, log.ClockCorrected) else SUBJECTS
        fewest = 0 if isinstance(what, log.Void) else 1
        subjects = draw(st.lists(st.sampled_from(some), min_size=fewest, max_size=2, unique=True))
        latest = NOW + timedelta(minutes=draw(st.integers(0, 6)) * 30)
        found.append(
            _entry(
                id, what, subjects=subjects, writer=draw(st.sampled_from(WRITERS)), number=number,
                when=When(latest - timedelta(hours=draw(st.integers(0, 1))), latest),
                replaces=draw(st.none() | st.none() | st.sampled_from(IDS)),
            )
        )  # fmt: skip
    return found


@contextmanager
def _for_now(book: Book) -> Iterator[Writing]:
    """A transaction that is taken back in the end: hundreds of logs on one book, and no wait for the disk."""
    with book.writing() as tx:
        yield tx
        tx.connection.rollback()


def _parts(entries: list[Entry], rng: random.Random) -> Iterator[list[Entry]]:
    """Deal the entries out in any order, one to three at a time."""
    left = rng.sample(entries, len(entries))
    while left:
        count = rng.randint(1, 3)
        yield left[:count]
        left = left[count:]


LAW = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@LAW
@given(entries=logs(), rng=st.randoms(use_true_random=False))
def test_what_is_kept_is_what_the_whole_log_comes_to(book: Book, entries: list[Entry], rng: random.Random):
    clashing = [_entry(e.id, log.Noted("another"), subjects=e.subjects) for e in rng.sample(entries, 1)]
    again = rng.sample(entries, len(entries) // 2)
    with _for_now(book) as tx:
        record(tx, [ROOM], NOW)
        for part in _parts([*entries, *again, *clashing], rng):
            record(tx, part, NOW)
        before = states_in(tx)
        rebuild(tx)
        assert states_in(tx) == before


@LAW
@given(entries=logs(), rng=st.randoms(use_true_random=False))
def test_the_same_entries_in_any_order_come_to_the_same_states(book: Book, entries: list[Entry], rng: random.Random):
    with _for_now(book) as tx:
        record(tx, [ROOM, *entries], NOW)
        before = states_in(tx)
    with _for_now(book) as tx:
        for part in _parts([ROOM, *entries], rng):
            record(tx, part, NOW)
        assert states_in(tx) == before


# -- one thing at a time ---------------------------------------------------------------------------------------------------------


def test_a_void_that_arrives_before_its_target_strikes_it_out(book: Book):
    _record(book, ARRIVED, _entry("void", log.Void("weighed"), subjects=()))
    before = _fox(book)
    _record(book, _entry("weighed", log.Weighed(0.4), minutes=5))
    assert _fox(book) == before
    assert before["weighed_kg"] is None


def test_a_voided_void_and_a_replacement_reach_what_they_stand_for(book: Book):
    _record(book, ARRIVED, _entry("w1", log.Weighed(0.4), minutes=5), _entry("v1", log.Void("w1"), subjects=()))
    assert _fox(book)["weighed_kg"] is None
    _record(book, _entry("v2", log.Void("v1"), subjects=()))
    assert _fox(book)["weighed_kg"] == 0.4
    _record(book, _entry("w2", log.Weighed(0.5), minutes=1, replaces="w1"))
    assert _fox(book)["weighed_kg"] == 0.5


def test_a_replacement_under_another_specimen_frees_the_first(book: Book):
    _record(book, ARRIVED, _entry("wrong", log.Moved("pot"), minutes=5))
    _record(book, _entry("right", log.Moved("pot"), minutes=5, subjects=(HARE,), replaces="wrong"))
    assert [part["place"] for part in _fox(book)["parts"]] == [None, None]


def _times(book: Book) -> dict[str, datetime]:
    return {mark["step"]: datetime.fromisoformat(mark["at"]) for mark in _fox(book)["ended"]}


def test_a_corrected_clock_moves_the_times_of_what_its_writer_wrote_meanwhile(book: Book):
    done = [
        _entry("d1", log.Done(Step.THAW), minutes=10, number=1),
        _entry("d2", log.Done(Step.BEETLES), minutes=20, number=2),
        _entry("d3", log.Done(Step.DEGREASE), minutes=20, number=2, writer="desk"),
    ]
    correction = _entry("clock", log.ClockCorrected("phone", 2, 9, -600), subjects=("writer:phone",), writer="desk")
    _record(book, ARRIVED, *done)
    _record(book, correction)
    minutes = {step: (at - NOW) / timedelta(minutes=1) for step, at in _times(book).items()}
    assert minutes == {"thaw to trim": 10, "beetles": 10, "degrease": 20}
    # The stored times stay as they were written.
    with book.reading() as tx:
        stored = log_rows.entry(tx, "d2")
    assert stored is not None
    assert stored.latest == NOW + timedelta(minutes=20)


def test_a_corrected_clock_also_moves_what_comes_later_and_can_be_taken_back(book: Book):
    _record(book, ARRIVED, _entry("clock", log.ClockCorrected("phone", 2, 9, -600), subjects=("writer:phone",), writer="desk"))
    _record(book, _entry("d2", log.Done(Step.BEETLES), minutes=20, number=2))
    assert _times(book)["beetles"] == NOW + timedelta(minutes=10)
    _record(book, _entry("void", log.Void("clock"), subjects=()))
    assert _times(book)["beetles"] == NOW + timedelta(minutes=20)


def test_two_writers_that_disagree_lose_nothing(book: Book):
    _record(book, ARRIVED)
    there = [
        _entry("p1", log.Moved("pot"), minutes=10, number=1),
        _entry("d1", log.Moved("tub"), minutes=10, number=1, writer="desk"),
        _entry("p2", log.Done(Step.BEETLES), minutes=12, number=2),
        _entry("d2", log.Done(Step.BEETLES), minutes=11, number=2, writer="desk"),
    ]
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lambda entry: _record(book, entry), there))
    with book.reading() as tx:
        assert len(log_rows.entries_of(tx, FOX)) == 5
        assert about(tx).work_revision == 5
    fox = _fox(book)
    assert [mark["entry"] for mark in fox["ended"]] == ["d2"]
    assert [flag["what"]["text"] for flag in fox["flags"]] == ["beetles was done twice on visit 1; the first one counts"]


def test_the_same_again_does_nothing_and_other_content_is_kept_aside(book: Book):
    _record(book, ARRIVED, _entry("w1", log.Weighed(0.4)))
    before = kept_states(book)
    with book.reading() as tx:
        revision = about(tx).work_revision
    assert _record(book, _entry("w1", log.Weighed(0.4))) == {"w1": "already stored"}
    assert _record(book, _entry("w1", log.Weighed(0.5))) == {"w1": "clash"}
    with book.reading() as tx:
        assert about(tx).work_revision == revision
        assert [aside.content["values"] for aside in log_rows.asides(tx)] == [{"mass_kg": 0.5}]
    assert kept_states(book) == before


@pytest.mark.parametrize("second", [_entry("w1", log.Weighed(0.4)), _entry("w1", log.Weighed(0.5))])
def test_an_entry_that_comes_twice_in_one_go_is_told_once(book: Book, second: Entry):
    _record(book, ARRIVED)
    assert _record(book, _entry("w1", log.Weighed(0.4)), second) == {"w1": "stored"}
    assert _fox(book)["weighed_kg"] == 0.4


def test_an_entry_of_a_kind_nobody_knows_yet_is_flagged_and_kept(book: Book):
    _record(book, ARRIVED)
    with book.writing() as tx:
        log_rows.store(tx, row("x1", kind="x-rayed", subjects=(FOX,), values={"plates": 2}), NOW)
        rebuild(tx)
    fox = _fox(book)
    assert fox["tag"] == "K7Q-K"
    assert [(flag["what"]["text"], flag["next"]["text"]) for flag in fox["flags"]] == [
        ("1 entries of a kind this version does not know", "nothing is lost: a newer Bonebench reads them")
    ]
    with book.reading() as tx:
        kept = log_rows.entry(tx, "x1")
    assert kept is not None
    assert kept.values == {"plates": 2}


# -- through the door ------------------------------------------------------------------------------------------------------------


def _taps(door: Door) -> list[tuple[str, dict[str, Any]]]:
    pot = next(place.key for place in door.room().places if place.kind == "pot")
    return [
        ("moved", {"place": pot, "step": "degrease"}),
        ("done", {"step": "thaw to trim"}),
        ("problem", {"what": "smells"}),
        ("sent-back", {"step": "trim"}),
        ("weighed", {"mass_kg": 0.41}),
        ("gone", {"why": "lost"}),
    ]


def test_taking_an_entry_back_restores_the_state_before(door: Door, clock):
    fox = door.add(Intake("red fox"))
    for kind, values in _taps(door):
        clock.advance(minutes=5)
        before = kept_states(door.book)
        tapped = door.tap(kind=kind, subjects=(f"specimen:{fox.id}",), values=values)
        assert kept_states(door.book) != before, kind
        door.undo(tapped.entry_id)
        assert kept_states(door.book) == before, kind


def test_taking_an_undo_back_brings_the_entry_back(door: Door):
    fox = door.add(Intake("red fox"))
    tapped = door.tap(kind="weighed", subjects=(f"specimen:{fox.id}",), values={"mass_kg": 0.41})
    after = kept_states(door.book)
    undone = door.undo(tapped.entry_id)
    door.undo(undone.entry_id)
    assert kept_states(door.book) == after


@pytest.mark.parametrize("repeats", [1, 3])
def test_what_was_tapped_and_taken_through_the_door_is_what_a_rebuild_comes_to(door: Door, clock, repeats: int):
    fox, hare = door.add(Intake("red fox")), door.add(Intake("raccoon"))
    for kind, values in _taps(door):
        clock.advance(hours=2)
        door.tap(kind=kind, subjects=(f"specimen:{fox.id}/skull", f"specimen:{hare.id}"), values=values)
    late = (NOW + timedelta(hours=1)).isoformat()
    sent = {
        "id": "from-a-phone", "kind": "looked", "subjects": [f"specimen:{fox.id}"], "values": {"step": "beetles"}, "earliest": late,
        "latest": late, "writer": "phone", "number": 3,
    }  # fmt: skip
    assert [door.take(sent) for _ in range(repeats)] == ["stored"] + ["already stored"] * (repeats - 1)
    before = kept_states(door.book)
    card = door.rebuild()
    assert (kept_states(door.book), card.folded, card.whole) == (before, 3, True)
