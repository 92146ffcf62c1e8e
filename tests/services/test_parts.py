"""Parts, vials, marks and condition through the door: stored and flagged; plans refused in words."""

import pytest

from bonebench.door import Door
from bonebench.errors import Impossible, InputError, UnknownName
from bonebench.records import states
from bonebench.services.gather import everything_in_work, known_of
from bonebench.services.parts import do as parts
from bonebench.services.parts.do import Seen, Vial
from bonebench.services.plans.problem import problem_of

from .hands import flags, moved, press, take_in


@pytest.fixture
def deer(desk: Door) -> str:
    return take_in(desk, "white-tailed deer", parts="Antlers", head_mass="5 kg").tag


def part(door: Door, tag: str, name: str):
    return next(one for one in door.specimen(tag).parts if one.name == name)


def note(door: Door, asked):
    return door.note_part(asked)


def test_antlers_that_went_into_a_tub_are_flagged_there_and_afterwards(desk: Door, deer):
    there = note(desk, lambda tx: parts.move(tx, deer, "antler", "tub"))
    assert (there.stored, "flag.dry_part" in flags(there)) == ("stored", True)
    out = note(desk, lambda tx: parts.move(tx, deer, "antlers", "Rack"))
    texts = [flag.what.text for flag in out.flags if flag.what.key == "flag.part_was_in_bath"]
    assert texts == [
        "antlers went into Tub on 4 May 2026: peroxide bleaches them, and it creeps up from a splash or a wick of cloth"
    ]
    desk.undo_last(deer)
    assert "flag.part_was_in_bath" not in flags(desk.undo_last(deer)), "an entry taken back never happened"


def test_antlers_on_the_skull_get_a_waterline_instead(desk: Door, deer):
    note(desk, lambda tx: parts.join(tx, deer, "antlers"))
    card = moved(desk, deer, "pot", "step=degrease")
    assert "flag.waterline" in flags(card)
    assert "flag.dry_part" not in flags(card)
    assert part(desk, deer, "antlers").place == "pot"


@pytest.mark.parametrize("name", ["antlers", "horn", "beak", "vial 2"])
def test_a_plan_that_puts_a_part_where_it_stays_out_is_refused_in_words(desk: Door, name):
    with pytest.raises(Impossible) as refused:
        desk.part_ways(name, "tub")
    assert " stay out of Tub: " in str(refused.value)
    assert "; instead: " in str(refused.value)


def test_a_plan_that_is_to_be_asked_or_is_free_says_what_to_do(desk: Door):
    assert [line.may for line in desk.part_ways("loose teeth", "tub").ways] == ["ask"]
    assert [line.may for line in desk.part_ways("cranium", "pot").ways] == ["in"]
    assert desk.part_ways("antlers", "rack").ways == (), "nothing is done to them on a rack"


def test_a_part_or_place_nobody_knows_is_refused_with_what_there_is(desk: Door, deer):
    with pytest.raises(UnknownName, match="nothing is known of 'wings'; there are: skull"):
        desk.part_ways("wings")
    with pytest.raises(UnknownName, match="this room has no place 'attic'; it has freezer"):
        note(desk, lambda tx: parts.move(tx, deer, "antlers", "attic"))


def test_a_part_the_specimen_has_not_is_stored_and_flagged(desk: Door, deer):
    card = note(desk, lambda tx: parts.move(tx, deer, "tail", "rack"))
    assert "flag.unsaid_part" in flags(card)
    assert part(desk, deer, "tail").place == "rack"
    assert "flag.unsaid_part" not in flags(note(desk, lambda tx: parts.add(tx, take_in(desk).tag, "tail")))


def test_a_part_that_is_there_is_not_added_twice(desk: Door, deer):
    with pytest.raises(InputError, match="has antlers already"):
        note(desk, lambda tx: parts.add(tx, deer, "RACK"))


def test_taps_move_a_part_only_where_it_may_go_and_ask_for_the_rest(desk: Door, deer):
    antlers = part(desk, deer, "antlers")
    assert {a.values["place"] for a in antlers.moves} == {"thaw-shelf", "trim-bench", "rack", "glue-bench", "shelf"}
    assert {a.place for a in antlers.asked} == {"beetle-box", "pot", "tub", "rinse-water"}
    assert all(a.may == "out" and a.why and a.do for a in antlers.asked)
    press(desk, next(a for a in antlers.moves if a.values["place"] == "rack"))
    assert part(desk, deer, "antlers").apart
    press(desk, part(desk, deer, "antlers").back)
    assert (part(desk, deer, "antlers").joined_to, part(desk, deer, "antlers").place) == ("skull", "freezer")


def test_the_log_says_which_part_a_line_is_about(desk: Door, deer):
    note(desk, lambda tx: parts.move(tx, deer, "antlers", "rack"))
    assert desk.specimen(deer).entries[0].what.text == "antlers: moved to Rack"


def test_a_vial_before_any_bath_is_right_and_after_one_is_flagged(desk: Door, deer, clock):
    first = note(desk, lambda tx: parts.sample(tx, deer, Vial("DNA", "muscle", "freezer")))
    assert "flag.sample_late" not in flags(first)
    moved(desk, deer, "pot", "step=degrease")
    clock.advance(hours=1)
    late = note(desk, lambda tx: parts.sample(tx, deer, Vial("isotopes")))
    said = [flag.what.text for flag in late.flags if flag.what.key == "flag.sample_late"]
    assert said == ["'sample 2' was filled after Pot"]
    assert part(desk, deer, "sample").place == "freezer", "the vial did not go into the pot"


def test_a_vial_filled_after_a_degreasing_that_was_only_ticked_is_flagged_too(desk: Door, deer, clock):
    desk.log(deer, "done", ["step=whiten"])
    clock.advance(hours=1)
    late = note(desk, lambda tx: parts.sample(tx, deer, Vial("DNA")))
    assert "flag.sample_late" in flags(late)


def test_where_a_vial_went_is_kept(desk: Door, deer):
    note(desk, lambda tx: parts.sample(tx, deer, Vial("a test", note="Marigold's deer")))
    note(desk, lambda tx: parts.send(tx, deer, "vial", "state laboratory"))
    assert (part(desk, deer, "sample").sent_to, part(desk, deer, "sample").place) == ("state laboratory", None)
    with pytest.raises(InputError, match="say where it went"):
        note(desk, lambda tx: parts.send(tx, deer, "sample", " "))
    with pytest.raises(InputError, match="has a vial 'sample' already"):
        note(desk, lambda tx: parts.sample(tx, deer, Vial(name="Sample")))


def load(door: Door):
    with door.book.reading() as tx:
        known = known_of(tx)
        return problem_of(everything_in_work(tx, known), known, door.now()).pieces[0].load


def test_capacity_is_what_fits_with_the_antlers_out(desk: Door, deer):
    # Weighed 5 kg with its antlers, which then weigh 1.2 kg by themselves: 3.8 kg go into the pot.
    assert load(desk).mass_kg == pytest.approx(5.0)
    desk.log(deer, "weighed", ["mass_kg=1.2"], parts=["antlers"])
    assert load(desk).mass_kg == pytest.approx(3.8)
    assert load(desk).volume_l == pytest.approx(3.8), "a head as heavy as water"


def test_antlers_heavier_than_the_head_with_them_are_flagged_and_left_out_of_the_reckoning(desk: Door, deer):
    card = desk.log(deer, "weighed", ["mass_kg=6"], parts=["antlers"])
    assert "flag.part_heavier" in flags(card)
    assert load(desk).mass_kg == pytest.approx(5.0)


def test_a_jaw_that_lies_elsewhere_takes_no_room_and_a_skeleton_takes_its_own(desk: Door):
    tag = take_in(desk, "red fox", head_mass="1 kg", live_mass="5 kg").tag
    note(desk, lambda tx: parts.move(tx, tag, "jaw", "tub"))
    # Estimate of the shop: the jaw is three tenths of a head's room.
    assert load(desk).volume_l == pytest.approx(0.7)
    note(desk, lambda tx: parts.add(tx, tag, "skeleton"))
    # Prange and others 1979, from memory: 0.061 * 5 ** 1.09 = 0.3525 kg.
    assert load(desk).volume_l == pytest.approx(0.7 + 0.3525, abs=1e-3)


def test_condition_and_repair_say_where_and_whether_it_comes_off_again(desk: Door, deer):
    note(desk, lambda tx: parts.condition(tx, deer, Seen("hole", "head", "came", "left cheek", "shot?", ("a" * 64,))))
    note(desk, lambda tx: parts.repair(tx, deer, Seen("glued", None, adhesive="Two-part epoxy")))
    card = note(desk, lambda tx: parts.repair(tx, deer, Seen("glued", None, adhesive="horse glue")))
    looks = desk.specimen(deer).looks
    assert [(c.words, c.part, c.where, c.note, len(c.photos)) for c in looks.came] == [
        ("Hole: shot, bite or tool", "skull", "left cheek", "shot?", 1)
    ]
    assert [(r.adhesive, r.reversible) for r in looks.repairs] == [("epoxy", False), ("horse glue", None)]
    assert "flag.glue_unknown" in flags(card)


def test_glue_that_a_bath_ahead_loosens_and_a_picture_that_is_none_are_flagged(desk: Door, deer):
    card = note(desk, lambda tx: parts.repair(tx, deer, Seen("glued", photos=("abc",), adhesive="pva-dispersion")))
    assert {"flag.glue_bath", "flag.photo"} <= set(flags(card))
    held = note(desk, lambda tx: parts.repair(tx, take_in(desk).tag, Seen("glued", adhesive="acrylic-in-acetone")))
    assert "flag.glue_bath" not in flags(held), "acrylic bears water and peroxide once it has aired"


def test_a_word_that_is_none_of_the_list_is_kept_and_no_word_is_refused(desk: Door, deer):
    note(desk, lambda tx: parts.condition(tx, deer, Seen("sooty")))
    assert desk.specimen(deer).looks.here[0].words == "sooty"
    for asked in (parts.condition, parts.repair):
        with pytest.raises(InputError, match="in a word, such as"):
            note(desk, lambda tx, asked=asked: asked(tx, deer, Seen(" ")))


def test_the_words_of_a_condition_can_be_found_and_erased(desk: Door):
    tag = take_in(desk, "red fox", owner="Marigold Teller").tag
    note(desk, lambda tx: parts.condition(tx, tag, Seen("broken", note="Dropped by the courier")))
    assert [row.tag for row in desk.find("courier").rows] == [tag]
    desk.erase_person("Marigold Teller")
    assert desk.find("courier").rows == ()
    assert desk.specimen(tag).looks.here[0].note == "text erased"


def test_what_marks_it_is_kept(desk: Door, deer):
    note(desk, lambda tx: parts.mark(tx, deer, "bag"))
    assert desk.specimen(deer).marked == "bag"


def test_states_are_the_same_after_everything_is_folded_again(desk: Door, deer):
    note(desk, lambda tx: parts.sample(tx, deer, Vial("DNA")))
    note(desk, lambda tx: parts.condition(tx, deer, Seen("hole")))
    with desk.book.reading() as tx:
        before = states.specimens(tx)
    desk.rebuild()
    with desk.book.reading() as tx:
        assert states.specimens(tx) == before
