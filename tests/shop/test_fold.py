"""The order-free fold: voids first, as a set; then the latest it can have happened, the writer's number, the id."""

import random
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bonebench.shop.entries import (
    ClockCorrected,
    Described,
    Done,
    Gone,
    Held,
    Joined,
    Moved,
    PartFound,
    Problem,
    Received,
    Released,
    SentBack,
    Settled,
    Skipped,
    Void,
    specimen_subject,
    writer_subject,
)
from bonebench.shop.fold import counting_strikes, tell
from bonebench.shop.specimen import fold_specimen
from bonebench.shop.steps import Step

from .logbook import FOX, NOON, about, entry, fox, story

RECEIVED = entry(1, Received("K7Q-K", "red-fox"))
OTHER = "11111111-1111-7111-8111-111111111111"


def told(*entries):
    return [e.id for e in story(*entries).entries]


def test_a_void_takes_its_target_out_even_when_it_arrives_first():
    assert told(entry(3, Void("e002")), RECEIVED, entry(2, Done(Step.TRIM))) == ["e001"]


def test_a_voided_void_gives_its_target_back():
    trimmed = entry(2, Done(Step.TRIM))
    assert told(RECEIVED, trimmed, entry(3, Void("e002")), entry(4, Void("e003"))) == ["e001", "e002"]


def test_a_void_of_a_voided_void_takes_the_entry_out_again():
    chain = [RECEIVED, entry(2, Done(Step.TRIM)), entry(3, Void("e002")), entry(4, Void("e003")), entry(5, Void("e004"))]
    assert told(*chain) == ["e001"]


def test_a_ring_of_voids_counts_for_nothing_and_is_flagged():
    ring = [RECEIVED, entry(2, Done(Step.TRIM)), entry(3, Void("e004")), entry(4, Void("e003"))]
    assert told(*ring) == ["e001", "e002"]
    assert {flag.what.key for flag in story(*ring).flags} == {"flag.ring"}


def test_an_entry_that_voids_itself_is_a_ring_of_one():
    assert "flag.ring" in {flag.what.key for flag in story(RECEIVED, entry(3, Void("e003"))).flags}


def test_what_a_ring_would_have_voided_stays():
    # e003 and e004 void each other and e004 also stands against e002 through e005, which e003 would void.
    counting, rings = counting_strikes({"a": {"b"}, "b": {"a"}, "c": {"a"}}, ["a", "b", "c"])
    assert (counting, rings) == ({"c"}, {"a", "b"})


def test_a_ring_broken_from_outside_is_decided():
    # c stands free and voids a; so a does not count, and b, which only a voids, does.
    counting, rings = counting_strikes({"a": {"b", "c"}, "b": {"a"}}, ["a", "b", "c"])
    assert (counting, rings) == ({"b", "c"}, set())


def test_replacing_voids_and_restates_in_one():
    wrong = entry(2, Done(Step.TRIM))
    right = entry(3, Done(Step.BEETLES), replaces="e002")
    assert told(RECEIVED, wrong, right) == ["e001", "e003"]
    assert told(RECEIVED, wrong, right, entry(4, Void("e003"))) == ["e001", "e002"]


def test_a_void_may_name_some_of_the_subjects_only():
    both = (specimen_subject(FOX), specimen_subject(OTHER))
    entries = [entry(2, Done(Step.TRIM), subjects=both), entry(3, Void("e002"), subjects=(specimen_subject(OTHER),))]
    assert [e.id for e in tell(entries, specimen_subject(FOX)).entries] == ["e002"]
    assert tell(entries, specimen_subject(OTHER)).entries == ()


def test_a_void_of_one_part_leaves_the_others_moved():
    parts = (specimen_subject(FOX, "skull"), specimen_subject(FOX, "mandible"))
    state = fox(RECEIVED, entry(2, Moved("pot"), subjects=parts), entry(3, Void("e002"), subjects=parts[1:]))
    assert (state.place_of("skull"), state.place_of("mandible")) == ("pot", None)


def test_entries_are_told_by_the_latest_they_can_have_happened():
    late = entry(2, Moved("pot"), when=about(NOON, NOON + timedelta(days=1)))
    early = entry(3, Moved("rack"))
    assert fox(RECEIVED, late, early).place_of("skull") == "pot"


def test_at_the_same_moment_the_writers_number_decides():
    assert fox(RECEIVED, entry(8, Moved("pot"), minutes=5), entry(9, Moved("rack"), minutes=5)).place_of("skull") == "rack"


def test_a_wrong_clock_is_corrected_without_touching_the_entry():
    ahead = entry(2, Moved("pot"), minutes=60 * 24 * 400, writer="phone", recorded=NOON)
    correction = ClockCorrected("phone", 1, 9, -86400.0 * 400)
    plain = tell([RECEIVED, ahead], specimen_subject(FOX))
    mended = tell([RECEIVED, ahead], specimen_subject(FOX), [correction])
    assert [flag.what.key for flag in plain.flags] == ["flag.future"]
    assert mended.flags == ()
    assert next(e for e in mended.entries if e.id == "e002").when.latest == NOON


def test_a_date_in_the_future_is_kept_and_flagged_in_words():
    flags = story(RECEIVED, entry(2, Moved("pot"), minutes=60 * 24 * 3, recorded=NOON, writer="phone")).flags
    assert flags[0].what.text == "an entry says it happened on 7 May 2026, after it was written"
    assert flags[0].next.text == "check the clock of phone, then correct it"


def test_done_twice_moves_nothing_and_is_flagged():
    state = fox(RECEIVED, entry(2, Done(Step.TRIM)), entry(3, Done(Step.TRIM)))
    assert [(m.step, m.visit, m.entry) for m in state.ended] == [(Step.TRIM, 1, "e002")]
    assert state.flags[0].what.text == "trim was done twice on visit 1; the first one counts"


def test_sent_back_asks_for_that_step_and_what_came_after_once_more():
    state = fox(
        RECEIVED, entry(2, Done(Step.DEGREASE)), entry(3, Done(Step.TEETH)), entry(4, SentBack(Step.DEGREASE)),
        entry(5, Done(Step.DEGREASE, 2)),
    )  # fmt: skip
    assert (state.visit(Step.DEGREASE), state.visit(Step.TEETH), state.visit(Step.WHITEN)) == (2, 2, 1)
    assert state.ending(Step.DEGREASE).entry == "e005"
    assert state.ending(Step.TEETH) is None


def test_entries_before_the_arrival_are_kept_and_said():
    assert fox(entry(2, Done(Step.TRIM))).flags[0].what.text == "there are entries about it, but none says it came in"


def test_a_detail_that_no_specimen_can_have_is_flagged_not_refused():
    state = fox(RECEIVED, entry(2, Described({"sex": "female", "wings": 2, "live_mass_kg": "heavy", "promised": "2026-06-01"})))
    assert (state.sex, state.live_mass_kg, state.promised.isoformat()) == ("female", None, "2026-06-01")
    assert {f.what.text for f in state.flags} == {
        "an entry changes 'wings', which no specimen has",
        "an entry sets 'live_mass_kg' to 'heavy', which cannot be",
    }


def test_a_problem_stays_open_until_it_is_settled():
    open_problem = fox(RECEIVED, entry(2, Problem("smell")))
    assert [p.what for p in open_problem.problems] == ["smell"]
    assert fox(RECEIVED, entry(2, Problem("smell")), entry(3, Settled("e002"))).problems == ()


def test_the_clock_subject_names_a_writer():
    assert writer_subject("phone") == "writer:phone"


WHATS = st.sampled_from(
    [
        Received("K7Q-K", "red-fox"), Received("K7R-2", "gray-fox", promised=None), Moved("pot", Step.DEGREASE), Moved("rack"),
        Moved("box", Step.BEETLES, 2), Done(Step.TRIM), Done(Step.TRIM, 2), Done(Step.DEGREASE), Skipped(Step.WHITEN),
        SentBack(Step.DEGREASE), Held("papers"), Released(), Problem("smell"), Settled("e003"), PartFound("antlers"),
        Joined("lot-1", "tray of mice"), Gone("lost"), Described({"sex": "male"}), Described({"species": "coyote", "nonsense": 1}),
    ]
)  # fmt: skip
SUBJECTS = st.sampled_from(
    [
        (specimen_subject(FOX),), (specimen_subject(FOX, "skull"),),
        (specimen_subject(FOX, "skull"), specimen_subject(FOX, "mandible")),
        (specimen_subject(FOX), specimen_subject(OTHER)), (),
    ]
)  # fmt: skip


@st.composite
def logs(draw):
    """A log with about times, several writers, voids of voids, replacements and rings."""
    size = draw(st.integers(1, 14))
    ids = st.integers(1, size).map(lambda n: f"e{n:03d}")
    entries = []
    for number in range(1, size + 1):
        what = draw(st.one_of(WHATS, WHATS, st.builds(Void, ids)))
        start = NOON + timedelta(minutes=draw(st.integers(0, 3)))
        more = {
            "when": about(start, start + timedelta(minutes=draw(st.integers(0, 2)))),
            "recorded": NOON,
            "writer": draw(st.sampled_from(["desk", "phone"])),
            "replaces": draw(st.one_of(st.none(), st.none(), st.none(), ids)),
        }
        subjects = draw(SUBJECTS) if isinstance(what, Void) else draw(SUBJECTS.filter(bool))
        entries.append(entry(number, what, subjects=subjects, **more))
    return entries


@settings(max_examples=150, deadline=None)
@given(logs(), st.randoms(use_true_random=False), st.integers(0, 5))
def test_the_same_state_for_every_order_of_arrival_with_repeats(entries, chance: random.Random, repeats):
    told_in_order = fold_specimen(FOX, tell(entries, specimen_subject(FOX)))
    shuffled = entries + [chance.choice(entries) for _ in range(repeats)]
    chance.shuffle(shuffled)
    assert fold_specimen(FOX, tell(shuffled, specimen_subject(FOX))) == told_in_order


@settings(max_examples=150, deadline=None)
@given(logs(), logs())
def test_a_late_entry_joins_as_if_it_had_come_in_time(first, later):
    """Folding what came first never spoils what is folded when the rest arrives: only the set matters."""
    merged = {e.id: e for e in [*later, *first]}
    everything = fold_specimen(FOX, tell(merged.values(), specimen_subject(FOX)))
    fold_specimen(FOX, tell(first, specimen_subject(FOX)))
    assert fold_specimen(FOX, tell(list(merged.values())[::-1], specimen_subject(FOX))) == everything


@settings(max_examples=100, deadline=None)
@given(logs())
def test_an_entry_is_told_exactly_once_or_is_voided(entries):
    result = story(*entries)
    about_fox = {e.id for e in entries if not isinstance(e.what, Void) and any(FOX in s for s in e.subjects)}
    assert {e.id for e in result.entries} | result.voided == about_fox
    assert not {e.id for e in result.entries} & result.voided


def brute_counts(voiders, voids):
    """Every labelling in which exactly those count that no counting one strikes: the definition, tried out."""
    names = list(voids)
    stable = []
    for bits in range(2 ** len(names)):
        chosen = {name for i, name in enumerate(names) if bits >> i & 1}
        if all((name in chosen) == (not voiders.get(name, set()) & chosen) for name in names):
            stable.append(chosen)
    return stable


@settings(max_examples=100, deadline=None)
@given(
    st.integers(1, 6).flatmap(
        lambda n: st.lists(st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)), max_size=8).map(lambda e: (n, e))
    )
)
def test_counting_agrees_with_the_definition_wherever_there_is_no_ring(case):
    size, strikes = case
    names = [f"v{i}" for i in range(size)]
    voiders: dict[str, set[str]] = {}
    for by, target in strikes:
        voiders.setdefault(names[target], set()).add(names[by])
    counting, rings = counting_strikes(voiders, names)
    if not rings:
        assert brute_counts(voiders, names) == [counting]
    else:
        assert counting.isdisjoint(rings)


@pytest.mark.parametrize("what", [Void("nobody"), Settled("nobody"), Gone()])
def test_entries_about_things_nobody_knows_raise_nothing(what):
    assert fox(RECEIVED, entry(2, what)).id == FOX
