"""Flags on one specimen: what each says and what it says to do. They never refuse anything."""

from datetime import date, timedelta

import pytest

from bonebench.reference.methods import load_methods
from bonebench.shop.checks import DRY_PARTS, check_specimen
from bonebench.shop.entries import Done, Gone, Moved, Received, SentBack, Skipped, specimen_subject
from bonebench.shop.methods import Size
from bonebench.shop.room import Place, Room
from bonebench.shop.routes import Facts, route_of, stand
from bonebench.shop.steps import PlaceKind, Step

from .logbook import FOX, NOON, entry, fox

METHODS = load_methods()
PLACES = tuple(Place(kind.value, kind.value, kind, order) for order, kind in enumerate(PlaceKind))
ROOM = Room(places=PLACES)
CAME = entry(1, Received("K7Q-K", "red-fox", promised=date(2026, 6, 1), answers={"bite": "no", "drug": "no"}))
DAY = 24 * 60


def flags(*entries, at=ROOM, days=0.0, came=CAME):
    specimen = fox(came, *entries)
    standing = stand(specimen, route_of(specimen, Facts(Size.SMALL, 2, False), at, METHODS), at)
    return [(flag.what.text, flag.next.text) for flag in check_specimen(specimen, standing, at, NOON + timedelta(days=days))]


def in_box(number=5, *, cold=4 * DAY):
    """The way into the box; the trimmed head was ``cold`` minutes in the freezer before, more than the three days asked for."""
    return [
        entry(2, Moved("freezer", Step.FROZEN_HOLD), minutes=2 - 5 * DAY),
        entry(3, Moved("thaw shelf", Step.THAW), minutes=3 - 5 * DAY),
        entry(4, Done(Step.TRIM), minutes=4 - 5 * DAY), entry(number, Moved("freezer", Step.FREEZE_AGAIN), minutes=number - cold),
        entry(number + 1, Moved("beetle box", Step.BEETLES)),
    ]  # fmt: skip


def test_too_short_in_the_cold_before_the_box_is_flagged():
    assert flags(*in_box(cold=1 * DAY)) == [
        (
            "K7Q-K was frozen for 1 day before the box; it should be 3 days at least",
            "watch the box for mites and flies; freeze the next one longer",
        )
    ]


def test_a_head_nobody_asked_about_is_flagged_until_it_is_in_the_box():
    unasked = entry(1, Received("K7Q-K", "red-fox"))
    assert flags(came=unasked) == [
        (
            "nobody asked at the door about bites, drugs, poison, salt or insects",
            "ask whoever brought it before it is cut; no answer is no all-clear",
        )
    ]
    assert flags(*in_box(), came=unasked) == []


def test_a_piece_on_its_way_in_order_raises_no_flag():
    assert flags(*in_box()) == []
    assert flags() == []


def test_peroxide_before_any_degreasing_is_flagged():
    passed = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL, Step.DRY, Step.TEETH), 10)]
    assert flags(*in_box(), *passed, entry(20, Moved("tub", Step.WHITEN)))[0] == (
        "K7Q-K went into peroxide, and no degreasing is recorded",
        "grease under white bone yellows: look for it; fresh tissue in peroxide heats and foams",
    )


def test_a_head_that_was_not_frozen_after_the_trim_is_flagged():
    found = flags(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("thaw shelf", Step.THAW)), entry(4, Done(Step.TRIM)),
                  entry(5, Moved("beetle box", Step.BEETLES)))  # fmt: skip
    assert found == [
        (
            "K7Q-K went into the box, and no freezing after the trim is recorded",
            "watch the box for mites and flies; record the freezing if it was done",
        )
    ]


def test_every_other_step_without_a_record_is_named_in_one_flag():
    assert flags(entry(2, Moved("freezer", Step.FROZEN_HOLD)), entry(3, Moved("beetle box", Step.BEETLES)))[1] == (
        "no record of: thaw to trim, trim",
        "nothing to do if it was done; say so on its page if it was left out",
    )


def test_what_was_left_out_on_purpose_is_recorded():
    left_out = [entry(3, Skipped(Step.THAW)), entry(4, Skipped(Step.TRIM)), entry(5, Skipped(Step.FREEZE_AGAIN))]
    assert flags(entry(2, Moved("freezer", Step.FROZEN_HOLD)), *left_out, entry(6, Moved("beetle box", Step.BEETLES))) == []


def bath(minutes):
    done = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL, Step.DEGREASE, Step.DRY), 10)]
    return [*in_box(), *done, entry(15, Done(Step.TEETH)), entry(16, Moved("tub", Step.WHITEN), minutes=minutes)]


# bench 1.8, three per cent: stop at 48 h and look again. The flag comes the moment after, not at it.
@pytest.mark.parametrize(("days", "count"), [(1.9, 0), (2.0, 0), (2.01, 1)])
def test_a_bath_is_flagged_when_its_longest_stay_is_over(days, count):
    found = flags(*bath(minutes=20), days=days + 20 / DAY)
    assert len(found) == count


def test_too_long_in_a_bath_says_how_long_and_what_to_do():
    (found,) = flags(*bath(minutes=20), days=3.5 + 20 / DAY)
    assert found == (
        "whiten: 3.5 days so far; this method's longest is 2 days", "take it out now; longer than that harms bone and teeth"
    )  # fmt: skip


def test_a_piece_that_was_sent_back_is_not_said_to_sit_in_its_old_bath():
    rinsed = entry(17, Moved("rinse water", Step.RINSE), minutes=2 * DAY)
    dry = entry(18, Moved("rack", Step.DRY_AGAIN), minutes=3 * DAY)
    back = entry(19, SentBack(Step.RINSE), minutes=20 * DAY)
    assert flags(*bath(minutes=20), rinsed, dry, back, days=21) == []


@pytest.mark.parametrize("part", sorted(DRY_PARTS))
@pytest.mark.parametrize("place", ["pot", "tub", "rinse water"])
def test_a_part_that_must_stay_dry_is_flagged_in_every_wet_place(part, place):
    moved = entry(2, Moved(place), subjects=(specimen_subject(FOX, part),))
    assert flags(moved) == [
        (f"{part} is in {place}; it must stay dry", "take it out and dry it slowly; if it was never in, record where it is")
    ]


@pytest.mark.parametrize("place", ["shelf", "rack", "freezer", "beetle box"])
def test_a_dry_place_is_no_harm_to_it(place):
    assert flags(entry(2, Moved(place), subjects=(specimen_subject(FOX, "antlers"),))) == []


def test_a_place_the_room_does_not_have_is_flagged_for_each_part():
    found = flags(entry(2, Moved("attic"), subjects=(specimen_subject(FOX, "antlers"),)))
    assert found == [("antlers is in 'attic', which this room does not have", "say where it is, or set the place up")]


@pytest.mark.parametrize(("days", "count"), [(27, 0), (28, 0), (29, 1)])
def test_a_promise_is_passed_on_the_day_after_it(days, count):
    # Promised for 1 June; noon of 4 May and 28 days is noon of 1 June.
    found = flags(days=days)
    assert len(found) == count
    words = ("it was promised for 1 Jun 2026", "tell the owner today, with the date it is planned for now")
    assert found == [words] * count


def test_heat_that_cannot_kill_is_flagged_while_the_step_is_ahead():
    warm = Room(places=PLACES, methods={Step.KILL: "killed-in-the-hot-pot", Step.DEGREASE: "warm-pot"})
    hot = Room(places=PLACES, methods={Step.KILL: "killed-in-the-hot-pot", Step.DEGREASE: "hot-pot"})
    assert flags(at=warm) == [
        (
            "this room kills what is left by heat, but its pot is not hot enough at the core",
            "freeze it instead, as planned here, or choose the hot pot",
        )
    ]
    assert flags(at=hot) == []
    assert flags(*in_box(), *[entry(n, Done(s)) for n, s in ((8, Step.JUDGE_CLEAN), (9, Step.OUT), (10, Step.KILL))], at=warm) == []


def test_nothing_is_said_of_a_piece_that_is_finished_or_never_came():
    assert flags(entry(2, Gone("lost")), days=400) == []
    assert flags(came=entry(1, Done(Step.FINISH), subjects=()), days=400) == []


@pytest.mark.parametrize(("hours", "said"), [(0.1, False), (3, True), (23, True), (25, False)])
def test_peroxide_soon_after_glue_is_flagged_unless_both_were_written_down_together(hours, said):
    found = flags(entry(2, Done(Step.TEETH), minutes=10), entry(3, Moved("tub", Step.WHITEN), minutes=10 + 60 * hours))
    assert any("after its teeth were glued" in what for what, _ in found) == said


def whitened(*, degreased, method=None, first=(), back=()):
    """Clean, out and killed at noon; into the tub a day later; degreased so many minutes after noon, or never."""
    done = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL), 10)]
    pot = [] if degreased is None else [entry(14, Done(Step.DEGREASE), minutes=degreased)]
    tub = entry(20, Moved("tub", Step.WHITEN, method=method), minutes=DAY)
    return [what for what, _ in flags(*in_box(), *done, *pot, *first, tub, *back, days=1)]


def test_degreasing_after_the_peroxide_is_flagged_and_before_it_is_not():
    after = "K7Q-K went into peroxide before it was degreased, by the record"
    assert after in whitened(degreased=2 * DAY)
    assert after not in whitened(degreased=DAY - 60)
    assert after not in whitened(degreased=DAY + 10)  # written down together: the times say nothing


def test_a_piece_sent_back_to_the_pot_after_whitening_was_not_whitened_first():
    back = [entry(21, SentBack(Step.DEGREASE), minutes=2 * DAY), entry(22, Moved("pot", Step.DEGREASE), minutes=2 * DAY + 60)]
    assert not [what for what in whitened(degreased=DAY - 60, back=back) if "peroxide" in what]


@pytest.mark.parametrize(("method", "words"), [(None, "grease under white bone"), ("fifteen-percent", "much cold water, no lid")])
def test_strong_peroxide_on_what_is_not_clean_says_what_to_do_now(method, words):
    done = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL), 10)]
    found = dict(flags(*in_box(), *done, entry(20, Moved("tub", Step.WHITEN, method=method), minutes=DAY), days=1))
    assert words in found["K7Q-K went into peroxide, and no degreasing is recorded"]


# common practice, no source: a small skull dries a day at least (methods.toml, the quick end of its span).
@pytest.mark.parametrize(
    ("hours", "words"),
    [
        (0.1, None), (6, "after 6 h of drying; such a head dries 1 day at least"), (23, "after 23 h"), (25, None),
        (-5, "before it was dried"),
    ],
)  # fmt: skip
def test_teeth_glued_into_wet_bone_are_flagged(hours, words):
    done = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL, Step.DEGREASE), 10)]
    rack, teeth = entry(15, Moved("rack", Step.DRY), minutes=DAY), entry(16, Done(Step.TEETH), minutes=DAY + 60 * hours)
    found = [what for what, _ in flags(*in_box(), *done, rack, teeth, days=2) if "were glued" in what]
    assert [words in what for what in found] == ([] if words is None else [True])


def test_teeth_that_were_left_out_are_not_wet():
    done = [entry(n, Done(step)) for n, step in enumerate((Step.JUDGE_CLEAN, Step.OUT, Step.KILL, Step.DEGREASE), 10)]
    rack, none = entry(15, Moved("rack", Step.DRY), minutes=DAY), entry(16, Skipped(Step.TEETH), minutes=DAY + 300)
    assert not [what for what, _ in flags(*in_box(), *done, rack, none, days=2) if "were glued" in what]
