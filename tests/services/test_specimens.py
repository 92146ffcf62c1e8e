"""Specimens through the door, on both databases: add, log, take back, list. What happened is never refused."""

from datetime import UTC, date, datetime, timedelta

import pytest

from bonebench.door import Intake
from bonebench.errors import EntryUnreadable, InputError, NotAQuantity, OutsideRange, UnknownName
from bonebench.records import entries as log_rows
from bonebench.records.book import about
from bonebench.services.log.states import story_of
from bonebench.shop.entries import read_what, specimen_subject, values_of

from .hands import flags, moved, press, press_next, take_in


def stored(door):
    with door.book.reading() as tx:
        return about(tx).entries


def test_a_specimen_gets_a_tag_a_route_a_date_and_a_place(door):
    added = take_in(door, "Vulpes vulpes", owner="Ida Fennimore", head_mass="14 oz")
    card = door.specimen(added.tag)
    assert [leg.step for leg in added.route][:3] == ["receive", "frozen hold", "thaw to trim"]
    assert (card.species.common, card.owner, card.state.step, card.state.place_name) == (
        "red fox", "Ida Fennimore", "frozen hold", "Freezer"
    )  # fmt: skip
    assert added.ready.planned is not None
    assert added.ready.if_quick <= added.ready.planned <= added.ready.if_slow
    assert (added.basis != (), added.cautions[-1].key) == (True, "defer")


def test_tags_are_issued_one_after_the_other_and_never_twice(desk):
    tags = [take_in(desk).tag for _ in range(5)]
    assert len(set(tags)) == 5


def test_the_same_owner_is_one_person_however_it_is_typed(door):
    for name in ("Ida Fennimore", " ida  FENNIMORE "):
        take_in(door, owner=name)
    assert list(door.surface().people.values()) == ["Ida Fennimore"]
    assert door.specimen(take_in(door, owner="   ").tag).owner is None


def test_with_two_freezers_nobody_guesses_which(desk):
    desk.set_place(key="second", kind="freezer", name="Second freezer")
    card = desk.specimen(take_in(desk).tag)
    assert (card.state.place, card.state.next_step) == (None, "frozen hold")
    assert [answer.label.text for answer in card.next_answers] == ["Into Freezer", "Into Second freezer"]


def test_a_freezer_out_of_use_takes_nothing_in(desk):
    desk.set_place(key="freezer", kind="freezer", open=False)
    assert desk.specimen(take_in(desk).tag).state.place is None


REFUSED = [
    ({"species": ""}, InputError, "say which species it is; 'list' of species shows the known ones"),
    ({"species": "unicorn"}, UnknownName,
     "no species 'unicorn' is known, nor one like it; look through the list of species, or add it as the room's own"),
    ({"species": "red fix"}, UnknownName, "no species 'red fix' is known; did you mean red fox?"),
    ({"species": "red fox", "head_mass": "9 kg", "live_mass": "5 kg"}, OutsideRange,
     "the head is 9 kg and the whole animal 5 kg; a head weighs less"),
    ({"species": "red fox", "promised": "soon"}, NotAQuantity, "'soon' is not a day; write it like 2026-05-09"),
    ({"species": "red fox", "arrived": "once"}, NotAQuantity, "'once' is not a length of time; write it like 2d or 8h"),
    ({"species": "red fox", "head_mass": "a lot"}, NotAQuantity, "'a lot' is not a mass; write it like 350 g or 3 lb"),
    ({"species": "red fox", "finish": "gold"}, InputError, "'gold' is no finish; it is white or natural"),
]  # fmt: skip


def test_what_cannot_be_is_refused_in_words_before_a_tag_or_a_person_is_used_up(door):
    first, entries, people = take_in(door).tag, stored(door), dict(door.surface().people)
    for said, kind, words in REFUSED:
        with pytest.raises(kind) as refused:
            door.add(Intake(**said, owner="Nobody Yet"))
        assert str(refused.value).startswith(words)
    assert (stored(door), dict(door.surface().people)) == (entries, people)
    # The next tag is the one that would have followed: a room that refused nothing issues the same.
    assert take_in(door).tag == following(first)


def following(tag):
    from bonebench.shop.identity import tag_from_number

    tags = [made for made in map(tag_from_number, range(1000, 1100)) if made is not None]
    return tags[tags.index(tag) + 1]


def test_a_suggestion_comes_with_an_unknown_species(desk):
    with pytest.raises(UnknownName) as refused:
        take_in(desk, "red fix")
    assert refused.value.could_be == ("red fox",)


def test_an_arrival_may_be_told_late_and_holds_the_whole_day(door):
    card = door.specimen(take_in(door, arrived="2026-05-01").tag)
    arrival = next(entry for entry in card.entries if entry.kind == "received")
    assert arrival.earliest == datetime(2026, 5, 1, 5, tzinfo=UTC)
    assert card.received == datetime(2026, 5, 2, 4, 59, 59, tzinfo=UTC)


def test_a_date_in_the_future_is_stored_and_flagged(door):
    tag = take_in(door).tag
    logged = moved(door, tag, "pot", "step=degrease", at="2026-06-01T08:00")
    assert (logged.stored, "flag.future" in flags(logged)) == ("stored", True)
    assert door.specimen(tag).state.step == "degrease"
    assert "flag.future" in flags(take_in(door, arrived="2031-01-01"))


def test_a_place_the_room_does_not_have_is_stored_and_flagged(desk):
    tag = take_in(desk).tag
    logged = moved(desk, tag, "attic")
    assert (logged.stored, flags(logged)) == ("stored", ["flag.unasked", "flag.place", "flag.place"])
    assert {part.place for part in desk.specimen(tag).parts} == {"attic"}


def test_what_was_done_out_of_turn_is_stored_and_flagged(desk):
    tag = take_in(desk).tag
    logged = moved(desk, tag, "tub", "step=whiten")
    assert logged.stored == "stored"
    assert {"flag.white_before_grease", "flag.no_record"} <= set(flags(logged))
    assert logged.flags[0].what.text == f"{tag} went into peroxide, and no degreasing is recorded"


def test_done_twice_moves_nothing_and_is_flagged(desk):
    tag = take_in(desk).tag
    desk.log(tag, "done", ["step=trim"])
    again = desk.log(tag, "done", ["step=trim"])
    assert (again.stored, "flag.done_twice" in flags(again)) == ("stored", True)


def test_one_piece_can_go_all_the_way_on_taps_alone(desk, clock):
    tag = take_in(desk).tag
    steps = []
    for _ in range(40):
        card = desk.specimen(tag)
        if not card.next_answers:
            break
        steps.append(card.state.next_step)
        press_next(desk, tag)
        clock.advance(days=1)
    assert (steps[0], steps[-1]) == ("thaw to trim", "hand over")
    assert (desk.specimen(tag).state.status, desk.specimen(tag).flags) == ("finished", ())


def test_a_tap_is_taken_back_in_one(door):
    tag = take_in(door).tag
    tapped = press_next(door, tag)
    assert door.specimen(tag).state.step == "thaw to trim"
    undone = door.undo(tapped.entry_id)
    assert (undone.stored, undone.state.step) == ("stored", "frozen hold")
    shown = {entry.id: entry.counts for entry in door.specimen(tag).entries}
    assert shown[tapped.entry_id] is False


def test_taking_an_arrival_back_takes_its_move_along(door):
    added = take_in(door)
    undone = door.undo(added.entry_id)
    assert (undone.state.status, undone.state.place) == ("not received", None)
    assert door.specimens().rows == ()
    with pytest.raises(UnknownName) as gone:
        door.specimen(added.tag)
    assert str(gone.value) == f"no specimen carries tag {added.tag} in this book"


def test_undo_takes_back_the_last_thing_said_and_then_the_one_before(desk, clock):
    tag = take_in(desk).tag
    for kind in (["step=trim"], ["step=beetles"]):
        clock.advance(minutes=1)
        desk.log(tag, "done", kind)
    desk.undo_last(tag)
    assert desk.specimen(tag).state.next_step == "freeze again"
    desk.undo_last(tag)
    assert desk.specimen(tag).state.step == "frozen hold"


def test_undo_says_when_there_is_nothing_left_or_nothing_there(desk):
    tag = take_in(desk).tag
    for _ in range(2):
        desk.undo_last(tag)
    with pytest.raises(UnknownName, match=f"no specimen carries tag {tag} in this book"):
        desk.undo_last(tag)
    with pytest.raises(UnknownName) as unknown:
        desk.undo("no-such-entry")
    assert str(unknown.value) == "there is no entry no-such-entry in this book to take back"


def test_undo_by_a_tag_takes_back_nothing_of_another_specimen(desk):
    one, other = take_in(desk), take_in(desk)
    with pytest.raises(UnknownName) as refused:
        desk.undo_last(one.tag, other.entry_id)
    assert str(refused.value) == f"entry {other.entry_id} is not about {one.tag}; `specimen show` lists its own"
    assert desk.undo_last(other.tag, other.entry_id).state.status == "not received"


def test_a_finger_that_taps_twice_within_ten_seconds_meant_it_once(door, clock):
    tag = take_in(door).tag
    answer = door.specimen(tag).next_answers[0]
    first = press(door, answer)
    clock.advance(seconds=10)
    second = press(door, answer)
    assert (second.stored, second.entry_id) == ("already stored", first.entry_id)
    clock.advance(seconds=1)
    assert press(door, answer).entry_id != first.entry_id


def test_a_tap_after_an_undo_is_meant_however_quick(desk, clock):
    tag = take_in(desk).tag
    answer = desk.specimen(tag).next_answers[0]
    first = press(desk, answer)
    clock.advance(seconds=2)
    desk.undo(first.entry_id)
    clock.advance(seconds=2)
    again = press(desk, answer)
    assert (again.stored, again.state.step) == ("stored", "thaw to trim")


ID = "019df349-0000-7000-8000-000000000001"


def test_the_same_entry_sent_again_is_stored_once(door, clock):
    tag = take_in(door).tag
    assert moved(door, tag, "pot", entry_id=ID).stored == "stored"
    clock.advance(hours=3)
    entries = stored(door)
    assert moved(door, tag, "pot", entry_id=ID).stored == "already stored"
    assert stored(door) == entries


def test_an_entry_with_lists_in_it_sent_again_is_stored_once_too(door, clock):
    tag = take_in(door).tag
    values = ["tag=K7Q-K", "species=red-fox"]
    assert door.log(tag, "received", values, entry_id=ID).stored == "stored"
    clock.advance(hours=3)
    assert door.log(tag, "received", values, entry_id=ID).stored == "already stored"


def test_other_content_under_a_known_id_is_kept_aside_and_said(door):
    tag = take_in(door).tag
    moved(door, tag, "pot", entry_id=ID)
    clash = moved(door, tag, "tub", entry_id=ID)
    assert (clash.stored, clash.entry_id, door.specimen(tag).state.place) == ("clash", ID, "pot")
    with door.book.reading() as tx:
        (aside,) = log_rows.asides(tx)
    assert (aside.id, aside.content["values"]["place"]) == (ID, "tub")
    assert door.today().alerts[0].what.text == "1 entries came twice with different content"


def test_another_time_under_a_known_id_is_a_clash_too(desk):
    tag = take_in(desk).tag
    moved(desk, tag, "pot", entry_id=ID, at="2026-05-04T08:00")
    assert moved(desk, tag, "pot", entry_id=ID, at="2026-05-04T08:00").stored == "already stored"
    assert moved(desk, tag, "pot", entry_id=ID, at="2026-05-03T08:00").stored == "clash"


SENT = {
    "id": ID, "writer": "phone", "number": 7, "kind": "done", "values": {"step": "trim"}, "who": None, "task": None,
    "replaces": None,
    "earliest": "2026-05-04T13:00:00+00:00", "latest": "2026-05-04T13:00:00+00:00",
}  # fmt: skip


def sent(door, **more):
    with door.book.reading() as tx:
        rows = [row for row in log_rows.all_entries(tx) if row.kind == "received"]
    return {**SENT, "subjects": list(rows[0].subjects), **more}


def test_an_entry_written_elsewhere_keeps_its_own_id_writer_number_and_time(door, clock):
    take_in(door)
    assert door.take(sent(door)) == "stored"
    clock.advance(days=1)
    assert door.take(sent(door)) == "already stored"
    assert door.take(sent(door, values={"step": "teeth in"})) == "clash"
    with door.book.reading() as tx:
        row = log_rows.entry(tx, ID)
    assert (row.writer, row.number, row.latest) == ("phone", 7, datetime(2026, 5, 4, 13, tzinfo=UTC))


UNREADABLE = [
    ({"earliest": "2026-05-04T13:00:00"}, "the times of an entry must be ISO 8601 with their zone"),
    ({"latest": "yesterday"}, "the times of an entry must be ISO 8601 with their zone"),
    ({"earliest": "2026-05-05T13:00:00Z"}, "an entry's earliest time lies after its latest"),
    ({"subjects": []}, "an entry must say what it is about"),
    ({"kind": "teleported"}, "'teleported' is no kind of entry this version knows"),
    ({"values": {"step": "trim", "mood": "good"}}, "done has no value called 'mood'"),
]


def test_only_what_cannot_be_read_is_turned_away_in_words(desk):
    take_in(desk)
    for more, words in UNREADABLE:
        with pytest.raises(EntryUnreadable) as refused:
            desk.take(sent(desk, **more))
        assert str(refused.value) == words


def test_an_entry_about_nothing_is_turned_away_in_words(desk):
    with pytest.raises(EntryUnreadable) as refused:
        desk.tap(kind="released", subjects=(), values={})
    assert str(refused.value) == "an entry must say what it is about"


def test_an_entry_about_a_specimen_that_has_not_arrived_yet_waits_for_it(door):
    stranger = specimen_subject("019df349-0000-7000-8000-00000000aaaa")
    logged = door.tap(kind="done", subjects=(stranger,), values={"step": "trim"})
    assert (logged.stored, logged.state.status, flags(logged)) == ("stored", "not received", ["flag.not_received"])


def test_a_tag_nobody_carries_is_said_and_a_mistyped_one_told_apart(desk):
    take_in(desk)
    with pytest.raises(UnknownName) as refused:
        desk.specimen("k7q k")
    assert str(refused.value) == "no specimen carries tag K7Q-K in this book"
    with pytest.raises(InputError, match="its check letter does not fit"):
        desk.specimen("K7Q-A")


def test_a_specimen_is_found_by_its_tag_however_it_is_typed(desk):
    tag = take_in(desk).tag
    assert desk.specimen(tag.replace("-", " ").lower()).tag == tag


def test_parts_are_moved_alone_and_antlers_stay_out_of_the_wet(desk):
    tag = take_in(desk, "white-tailed deer", parts="Antlers").tag
    desk.log(tag, "done", ["step=kill what is left"])
    desk.log(tag, "moved", ["place=shelf"], parts=["antlers"])
    press_next(desk, tag)
    places = {part.name: part.place for part in desk.specimen(tag).parts}
    assert places == {"skull": "pot", "mandible": "pot", "antlers": "shelf"}
    wet = desk.log(tag, "moved", ["place=pot"], parts=["antlers"])
    assert "antlers is in Pot; it must stay dry" in [flag.what.text for flag in wet.flags]


def test_problems_stay_open_until_their_own_button_is_pressed(desk):
    tag = take_in(desk).tag
    desk.log(tag, "problem", ["what=grease"])
    (problem,) = desk.specimen(tag).problems
    assert problem.what == "grease"
    press(desk, problem.settle)
    assert desk.specimen(tag).problems == ()


def test_every_button_of_a_specimen_stores_something_that_can_be_read(desk):
    tag = take_in(desk).tag
    card = desk.specimen(tag)
    for answer in (*card.next_answers, *card.problem_answers, *card.other_answers):
        assert values_of(read_what(answer.kind, 1, answer.values)).items() >= answer.values.items()
    for key in ("hold", "release-waiting for an answer", "skip", "into-shelf", "gone"):
        (answer,) = [one for one in desk.specimen(tag).other_answers if one.key == key]
        assert press(desk, answer).stored == "stored"
    assert desk.specimen(tag).state.status == "gone"


def test_what_is_held_says_why_and_is_planned_again_when_it_is_free(desk):
    tag = take_in(desk).tag
    held = desk.log(tag, "held", ["reason=waits for its papers"])
    assert (held.state.status, held.state.summary.text) == ("held", "on hold: waits for its papers")
    assert desk.specimen(tag).ready.why_not.text == "it is on hold: waits for its papers"
    desk.log(tag, "released", [])
    assert desk.specimen(tag).ready.planned is not None


def test_what_is_ready_to_hand_over_is_ready_now_and_a_finished_one_is_through(desk):
    tag = take_in(desk).tag
    desk.log(tag, "done", ["step=finish"])
    card = desk.specimen(tag)
    assert card.ready.why_not.text == "it is ready now"
    press_next(desk, tag)
    assert desk.specimen(tag).ready.why_not.text == "nothing more happens to it in this room"


def test_no_promise_is_made_before_one_was_worked_out(desk):
    for _ in range(2):
        ready = desk.specimen(take_in(desk).tag).ready
        assert (ready.p50, ready.p80, ready.p95, ready.checked) == (None, None, None, False)


def test_the_list_holds_what_is_in_work_and_says_what_it_left_out(desk):
    fox, deer = take_in(desk, owner="Ida Fennimore"), take_in(desk, "white-tailed deer", owner="Ansel Roake")
    desk.log(deer.tag, "done", ["step=hand over"])
    listed = desk.specimens()
    assert ([row.tag for row in listed.rows], listed.finished_left_out) == ([fox.tag], 1)
    finished = desk.specimens(step="hand-over")
    assert ([row.tag for row in finished.rows], finished.finished_left_out) == ([deer.tag], 0)


def test_asking_for_the_last_step_shows_those_that_wait_for_it_too(desk):
    waiting, handed = take_in(desk), take_in(desk)
    desk.log(waiting.tag, "done", ["step=finish"])
    desk.log(handed.tag, "done", ["step=hand over"])
    assert [row.tag for row in desk.specimens(step="hand over").rows] == [waiting.tag, handed.tag]


def test_the_list_is_narrowed_by_step_place_owner_and_lateness(door):
    fox = take_in(door, owner="Ida Fennimore", promised="2026-05-05").tag
    deer = take_in(door, "white-tailed deer", owner="Ansel Roake").tag
    moved(door, deer, "pot", "step=degrease")
    asked = [
        {"step": "Frozen-Hold"},
        {"step": "degrease"},
        {"place": "POT"},
        {"place": "freezer"},
        {"owner": "ida"},
        {"late": True},
    ]
    assert [[row.tag for row in door.specimens(**one).rows] for one in asked] == [[fox], [deer], [deer], [fox], [fox], [fox]]
    assert door.specimens(owner="nobody").teach.text == "No specimen answers to that. Ask for less."


def test_a_step_nobody_knows_is_refused_in_words_even_in_an_empty_room(desk):
    with pytest.raises(UnknownName) as refused:
        desk.specimens(step="polish")
    assert str(refused.value).startswith("'polish' is no step; the steps are: receive, frozen hold, thaw to trim, trim,")


def test_an_empty_list_teaches_the_first_step(desk):
    assert desk.specimens().teach.text == "Nothing is in the room. Add the first specimen; its steps and dates follow from that."


def test_a_promise_that_will_be_missed_is_counted_in_days(desk, now):
    card = desk.specimen(take_in(desk, promised="2026-05-05").tag)
    assert card.late_days == (card.ready.planned - date(2026, 5, 5)).days > 0


def test_the_log_is_shown_newest_first_with_who_and_what(desk, clock):
    tag = take_in(desk).tag
    clock.advance(hours=1)
    moved(desk, tag, "pot")
    entries = desk.specimen(tag).entries
    assert [entry.what.text for entry in entries] == ["moved to Pot", "moved to Freezer", f"came in as red fox, tag {tag}"]
    assert entries[0].latest - entries[1].latest == timedelta(hours=1)


def test_one_entry_is_told_back_with_its_tag(desk):
    added = take_in(desk)
    assert desk.told(added.entry_id).text == f"Stored: {added.tag} came in as red fox, tag {added.tag}"
    assert desk.told("no-such-entry") is None


def test_html_in_a_name_is_only_text(door):
    added = take_in(door, owner="<script>alert(1)</script>")
    assert door.specimen(added.tag).owner == "<script>alert(1)</script>"


def test_a_species_that_left_the_list_is_shown_as_it_was_written(desk):
    tag = take_in(desk).tag
    desk.tap(kind="described", subjects=story_subject(desk, tag), values={"changes": {"species": "jackalope"}})
    card = desk.specimen(tag)
    assert (card.species.common, card.basis[0].standing.value) == ("jackalope", "estimate")


def story_subject(door, tag):
    with door.book.reading() as tx:
        specimen = door.specimen(tag).id
        story, _ = story_of(tx, specimen_subject(specimen))
        return story.entries[0].subjects
