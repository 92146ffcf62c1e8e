"""The chart of a specimen, its jar, and what the pour, the glue and Today say of a tooth nobody can find."""

import pytest

from bonebench.door import Door, Happened, NewBath, TeethTold
from bonebench.errors import Impossible, InputError, NotAQuantity, UnknownName
from bonebench.services.gather import known_of, specimen_by_tag
from bonebench.services.teeth.chart import expected_teeth

from .hands import flags, moved, press, take_in


def mark(door: Door, tag: str, rest: str | None = None, **marks: str):
    return door.tell_teeth(TeethTold(tag=tag, marks=marks, rest=rest)).chart


def counted(card) -> int:
    return (
        card.in_place
        + card.loose
        + card.reseated
        + card.chipped
        + card.in_jar
        + card.missing
        + card.missing_before
        + card.not_looked
    )


def test_a_fresh_chart_expects_every_tooth_and_claims_nothing(desk: Door):
    card = desk.teeth(take_in(desk).tag)
    # A red fox has 42 teeth (R30, R31 of species.csv).
    assert (card.formula, card.expected, card.not_looked, card.in_place) == ("I3/3 C1/1 P4/4 M2/3 x2 = 42", 42, 42, 0)
    assert (card.jar, card.agrees, card.flags) == (None, True, ())
    assert len({tooth.code for tooth in card.teeth}) == 42


def test_teeth_are_marked_by_any_of_their_names(desk: Door):
    tag = take_in(desk).tag
    card = desk.tell_teeth(TeethTold(tag=tag, marks={"upper left P4": "loose", "309": "jar", "lrc": "missing"})).chart
    found = {tooth.code: tooth.state for tooth in card.teeth if tooth.state != "not looked at"}
    assert found == {"ULP4": "loose", "LLM1": "in the jar", "LRC": "missing now"}
    assert counted(card) == 42


def test_the_rest_is_in_place_in_one_tap_and_the_button_goes(desk: Door):
    tag = take_in(desk).tag
    mark(desk, tag, ULP4="loose")
    press(desk, next(a for a in desk.teeth(tag).answers if a.key == "rest"))
    card = desk.teeth(tag)
    assert (card.in_place, card.loose, card.not_looked) == (41, 1, 0)
    assert "rest" not in [a.key for a in card.answers]


def test_the_jar_has_to_agree_with_the_chart_and_one_tap_counts_it(desk: Door):
    tag = take_in(desk).tag
    card = mark(desk, tag, ULP4="in the jar", URP4="in the jar")
    assert (card.agrees, flags(card)) == (False, ["flag.teeth.jar_less"])
    press(desk, next(a for a in card.answers if a.key == "jar-counted"))
    card = desk.teeth(tag)
    assert (card.jar, card.in_jar, card.agrees, flags(card)) == (2, 2, True, [])
    press(desk, next(a for a in card.answers if a.key == "jar-more"))
    assert flags(desk.teeth(tag)) == ["flag.teeth.jar_more"]
    press(desk, next(a for a in desk.teeth(tag).answers if a.key == "jar-less"))
    assert desk.teeth(tag).agrees


def test_a_tooth_the_species_does_not_have_is_stored_and_flagged(desk: Door):
    tag = take_in(desk).tag
    card = mark(desk, tag, ULM3="loose")
    assert flags(card) == ["flag.teeth.foreign"]
    assert "ULM1 or ULM2" in card.flags[0].next.text
    assert counted(card) == 42  # a tooth of another animal is shown, and counted in nothing
    assert flags(desk.specimen(tag))[-1] == "flag.teeth.foreign"


def test_the_fourth_incisor_of_a_deer_is_told_to_be_its_canine(desk: Door):
    # Veterinary manual: the canine of domestic ruminants has commonly been counted as a fourth incisor.
    card = mark(desk, take_in(desk, "white-tailed deer").tag, LLI4="loose")
    assert "it may be LLC" in card.flags[0].next.text


def test_an_entry_with_a_code_nobody_can_read_is_kept_flagged_and_shown(desk: Door):
    tag = take_in(desk).tag
    desk.tap(kind="teeth-marked", subjects=[f"specimen:{desk.specimen(tag).id}"], values={"marks": {"<tusk>": "loose"}})
    card = desk.teeth(tag)
    assert flags(card) == ["flag.teeth.foreign"]
    assert card.teeth[-1].code == "<tusk>"


REFUSED = [
    ({"marks": {"P4": "loose"}}, UnknownName, "it could be URP4, ULP4, LRP4, LLP4"),
    ({"marks": {"tusk": "loose"}}, UnknownName, "'tusk' is no tooth I can read"),
    (
        {"marks": {"ULP4": "wobbly"}},
        UnknownName,
        "'wobbly' is no state of a tooth; it is one of in place, loose, in the jar, glued",
    ),
    ({"marks": {"ULP4": "loose", "208": "glued"}}, Impossible, "ULP4 is said to be loose and glued at once"),
    ({"marks": {}}, InputError, "nothing was said about the teeth of"),
    ({"jar": "some"}, NotAQuantity, "'some' is not a number of teeth"),
    ({"jar": "-1"}, NotAQuantity, "-1 is no number of teeth for one jar; write 0 to 260"),
    ({"jar_by": "999"}, NotAQuantity, "999 is no number of teeth for one jar"),
    ({"marks": {}, "rest": "wobbly"}, UnknownName, "'wobbly' is no state"),
]


@pytest.mark.parametrize(("said", "fault", "words"), REFUSED)
def test_what_cannot_be_read_is_refused_in_words_and_nothing_is_stored(desk: Door, said, fault, words):
    tag = take_in(desk).tag
    with pytest.raises(fault, match=words):
        desk.tell_teeth(TeethTold(tag=tag, **said))
    assert len(desk.specimen(tag).entries) == 2  # it came in, and into the freezer


def test_milk_teeth_are_charted_when_the_age_says_so(desk: Door):
    card = desk.teeth(take_in(desk, "domestic dog", age="milk teeth").tag)
    # Puppies have 28 deciduous teeth (veterinary table as quoted).
    assert (card.dentition, card.expected, card.formula) == ("milk", 28, "dI3/3 dC1/1 dP3/3 x2 = 28")
    assert {tooth.triadan // 100 for tooth in card.teeth} == {5, 6, 7, 8}


def test_a_young_mouth_may_hold_both_sets_and_no_number_is_demanded(desk: Door):
    tag = take_in(desk, "red fox", age="pup").tag
    card = mark(desk, tag, "in place", ULdP4="loose", ULM1="in place")
    assert (card.dentition, card.expected, card.not_looked, flags(card)) == ("changing", None, 0, [])
    assert (card.loose, card.in_place) == (1, 1)  # "all the others" says nothing of a mouth that changes


def test_a_deer_of_three_years_has_its_permanent_teeth_and_a_goat_not_yet(desk: Door):
    # Deer have them all by 2.5 years (wildlife page on deer teeth), goats by four (goat extension page).
    found = {kind: desk.teeth(take_in(desk, kind, age="3 years").tag) for kind in ("white-tailed deer", "domestic goat")}
    assert [card.expected for card in found.values()] == [32, None]


def test_a_milk_tooth_in_a_grown_animal_asks_for_its_age(desk: Door):
    card = mark(desk, take_in(desk).tag, ULdP4="loose")
    assert "if it is a young animal write its age" in card.flags[0].next.text


def test_small_premolars_of_a_bear_are_not_in_place_because_the_others_are(desk: Door):
    tag = take_in(desk, "black bear").tag
    card = mark(desk, tag, "in place")
    # Few adult bears have all 42, the smaller premolars are lost with age (wildlife page of Maine): 12 are left to be looked at.
    assert (card.expected, card.expected_low, card.in_place, card.not_looked) == (42, 34, 30, 12)
    press(desk, next(a for a in card.answers if a.key == "never-there"))
    assert (desk.teeth(tag).missing_before, desk.teeth(tag).not_looked) == (12, 0)


@pytest.mark.parametrize(
    ("species", "expected", "dentition"),
    [("mallard", 0, "none"), ("american alligator", None, "unknown"), ("horse", 40, "permanent")],
)
def test_a_jar_s_label_says_how_many_teeth_to_expect_or_none(desk: Door, species, expected, dentition):
    tag = take_in(desk, species).tag
    assert (desk.teeth(tag).expected, desk.teeth(tag).dentition) == (expected, dentition)
    with desk.book.reading() as tx:
        assert expected_teeth(specimen_by_tag(tx, tag), known_of(tx)) == expected


def test_a_wolf_tooth_is_on_the_chart_of_a_horse_and_not_expected(desk: Door):
    tag = take_in(desk, "horse").tag
    card = mark(desk, tag, URP1="loose")
    wolf = next(tooth for tooth in card.teeth if tooth.code == "URP1")
    assert (wolf.triadan, wolf.on_chart, flags(card)) == (105, "may be there", [])
    assert counted(card) == 41


def pot_with(door: Door) -> tuple[str, str]:
    tag = take_in(door).tag
    moved(door, tag, "pot", "step=degrease")
    return tag, door.make_bath(NewBath(place="pot")).id


def test_teeth_found_at_a_pour_go_into_the_jar_and_the_chart_asks_which(desk: Door):
    tag, bath = pot_with(desk)
    mark(desk, tag, ULP4="missing now")
    answer = desk.note_bath(Happened(bath=bath, what="changed", values={"sieved": "yes", "teeth": "1", "whose": tag}))[1]
    assert "flag.bath.teeth_wanted" in flags(answer)
    assert "ULP4" in next(f.what.text for f in answer.flags if f.what.key == "flag.bath.teeth_wanted")
    assert (desk.teeth(tag).jar, flags(desk.teeth(tag))) == (1, ["flag.teeth.missing", "flag.teeth.found"])
    assert not any("teeth_wanted" in key for key in flags(_after(desk, tag, bath, ULP4="in the jar")))


def _after(door: Door, tag: str, bath: str, **marks: str):
    mark(door, tag, **marks)
    return door.bath(bath)


def test_one_tap_at_the_bath_says_that_a_tooth_of_a_piece_in_it_was_found(desk: Door):
    tag, bath = pot_with(desk)
    press(desk, next(a for a in desk.bath(bath).answers if a.key == f"changed-tooth-{tag}"))
    assert desk.teeth(tag).jar == 1
    assert any("1 tooth found" in entry.what.text for entry in desk.specimen(tag).entries)


def test_teeth_found_in_a_tub_that_was_thrown_away_go_into_the_jar_too(desk: Door):
    tag = take_in(desk).tag
    bath = desk.make_bath(NewBath(place="tub", strength="3%", stock="35%", volume="10 L")).id
    desk.note_bath(Happened(bath=bath, what="discarded", values={"sieved": "yes", "teeth": "2", "whose": tag}))
    assert desk.teeth(tag).jar == 2


def test_today_says_which_tooth_is_missing_and_louder_at_the_glue(desk: Door):
    tag = take_in(desk).tag
    moved(desk, tag, "pot", "step=degrease")
    mark(desk, tag, ULP4="missing now")
    assert [(a.level, "ULP4" in a.what.text) for a in desk.today().alerts if "teeth" in a.what.key] == [("look", True)]
    moved(desk, tag, "rack", "step=dry")
    assert [(a.level, a.what.key) for a in desk.today().alerts if "teeth" in a.what.key] == [("act", "flag.teeth.glue.tagged")]
    mark(desk, tag, ULP4="missing before intake")
    assert not [a for a in desk.today().alerts if "teeth" in a.what.key]


def test_the_page_of_a_specimen_tells_its_teeth_in_a_line(desk: Door):
    tag = take_in(desk).tag
    assert desk.specimen(tag).teeth.marked is None
    mark(desk, tag, "in place")
    assert desk.specimen(tag).teeth.marked.text == "nothing loose, missing or in a jar"
    desk.tell_teeth(TeethTold(tag=tag, marks={"ULP4": "loose", "URC": "jar"}, jar="1"))
    assert desk.specimen(tag).teeth.marked.text == "ULP4 loose; URC in the jar; 1 counted in the jar"


def test_a_room_s_rebuild_gives_the_same_chart(desk: Door):
    tag = take_in(desk).tag
    before = mark(desk, tag, "in place", ULP4="loose", URC="in the jar")
    desk.rebuild()
    assert desk.teeth(tag) == before
