"""Entries: the envelope, reading values back, and what cannot be read."""

from datetime import UTC, datetime, timedelta

import pytest

from bonebench.errors import EntryUnreadable
from bonebench.shop.entries import (
    DESCRIBED_FIELDS,
    KINDS,
    ClosedOn,
    Done,
    PersonSet,
    PlaceSet,
    Received,
    Void,
    Weighed,
    When,
    exactly,
    read_what,
    root_of,
    specimen_subject,
    values_of,
    writer_subject,
)
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import PlaceKind, Step

from .logbook import NOON, entry

SAMPLES = {
    "received": {"tag": "K7Q-K", "species": "red-fox", "promised": "2026-06-01", "parts": ["skull", "antlers"]},
    "moved": {"place": "pot", "step": "degrease", "visit": 2},
    "done": {"step": "trim"}, "skipped": {"step": "trim", "why": "came trimmed"}, "sent-back": {"step": "degrease"},
    "looked": {"step": "whiten"}, "problem": {"what": "grease"}, "settled": {"problem": "e1"}, "held": {"reason": "papers"},
    "released": {}, "weighed": {"mass_kg": 1}, "described": {"changes": {"sex": "male", "head_mass_kg": 0.4, "measure": True}},
    "part-found": {"part": "antlers"}, "joined": {"lot": "l1", "name": "Tray", "tray": True}, "parted": {"lot": "l1"},
    "gone": {"why": "lost"}, "retagged": {"tag": "K7Q-K"}, "merged-into": {"into": "x"}, "noted": {"note": "n1"},
    "void": {"target": "e1"}, "clock-corrected": {"writer": "phone", "first": 1, "last": 9, "offset_seconds": -3600},
    "room-described": {"name": "Room", "zone": "UTC"}, "place-set": {"key": "pot", "name": "Pot", "kind": "pot", "count": 2},
    "person-set": {"person": "p1", "hours": {"mon": [["09:00", "12:00"]]}, "trained": ["teeth"]},
    "method-chosen": {"step": "whiten", "method": "three-percent"},
    "species-set": {"key": "red-fox", "values": {"grease_class": 2}}, "closed-on": {"days": ["2026-12-25"]},
    "bath-made": {"name": "Tub", "place": "tub", "recipe": "peroxide", "volume_l": 10, "strength_w": 0.03, "stock_w": 0.35},
    "bath-added": {"what": "stock", "volume_l": 0.5, "strength_w": 0.35}, "bath-taken": {"volume_l": 1},
    "bath-tested": {"how": "permanganate", "strength_w": 0.028, "measured": {"used_ml": 16.4}},
    "bath-looked": {"clarity": "hazy", "temperature_c": 44, "level": "sunk"},
    "water-changed": {"clarity": "fat on top", "sieved": True, "teeth": 2, "whose": "fox"}, "bath-discarded": {"how": "stood open"},
    "sheet-printed": {"number": "1126A-4", "day": "2026-11-26", "rows": [{"row": 1, "about": "Trim", "marks": [
        {"code": "a", "label": "Trimmed", "kind": "done", "subjects": ["specimen:s"], "values": {"step": "trim"}, "task": "t"}]}]},
    "colony-seen": {"counted": 40.0, "part": 0.02, "pupae": 0.0, "fed_kg": 0.2, "smell": 1, "pests": ["mites"]},
    "photographed": {"sha256": "ab" * 32, "step": "whiten", "note": "n1", "taken": "2026-05-03T17:20:05"},
    "colour-measured": {
        "sha256": "ab" * 32, "lightness": 84.2, "a": 1.1, "b": 11.5, "spread": 2.0, "card": [0.1, 0.1, 0.08, 0.08],
        "bone": [0.5, 0.5, 0.1, 0.1], "reflectance": 0.9, "setting": "bench lamp",
    },
    "round-done": {"round": "water", "due": "2026-05-04"}, "left": {"ticks": ["lid"]}, "seen": {"place": "pot"},
    "hazard-acknowledged": {"method": "hot-pot", "person": "p1"}, "profile-set": {"profile": "museum"},
    "feature-set": {"features": ["fence"]},
    "teeth-marked": {"marks": {"ULP4": "loose", "LRC": "in the jar"}, "rest": "in place"}, "jar-counted": {"count": 2},
    "jar-changed": {"by": -1},
    "piece-seen": {"grade": "half gone", "smell": 1},
    "box-set": {"key": "box", "floor_m2": 0.6, "sites": 1500, "beetles": "Dermestes maculatus", "heater_w": 120, "holding_w": 70},
    "prices-set": {"currency": "EUR", "since": "2026-01-01", "prices": {"kwh": "0.32", "hour": None}},
    "part-joined": {"to": "skull"}, "part-sent": {"to": "a laboratory"}, "marked": {"how": "bag"},
    "sample-taken": {"vial": "sample", "of": "muscle", "purpose": "DNA", "place": "freezer"},
    "condition-noted": {"what": "cracked", "stage": "came", "where": "left cheek", "photos": ["a" * 64]},
    "repaired": {"how": "glued", "adhesive": "epoxy"}, "tags-issued": {"roll": "Roll 1", "first": 100, "last": 160},
    "counted": {"place": "pot", "found": 2, "seen": ["specimen:x"], "missing": ["specimen:y/antlers"], "unknown": ["K7Q-A"]},
}  # fmt: skip


def test_there_is_a_sample_of_every_kind():
    assert set(SAMPLES) == set(KINDS)


@pytest.mark.parametrize("kind", SAMPLES)
def test_every_kind_is_read_from_json_and_back_to_the_same(kind):
    what = read_what(kind, 1, SAMPLES[kind])
    assert (type(what), what.KIND) == (KINDS[kind], kind)
    assert read_what(kind, 1, values_of(what)) == what


def test_values_are_plain_json_with_days_as_iso_text():
    assert values_of(ClosedOn((datetime(2026, 12, 25, tzinfo=UTC).date(),))) == {"days": ["2026-12-25"]}
    assert values_of(Done(Step.TRIM)) == {"step": "trim", "visit": 1, "method": None}


def test_whole_numbers_are_taken_where_a_mass_is_wanted():
    assert read_what("weighed", 1, {"mass_kg": 1}) == Weighed(1.0)


UNREADABLE = [
    ("teleported", 1, {}, "'teleported' is no kind of entry this version knows"),
    ("done", 2, {"step": "trim"}, "done comes in form 2; this version reads up to form 1"),
    ("done", 1, {"step": "trim", "colour": "red"}, "done has no value called 'colour'"),
    ("weighed", 1, {"mass_kg": float("nan")}, "weighed holds a number that is none, such as nan; leave it out"),
    ("species-set", 1, {"key": "x", "values": {"a": float("inf")}},
     "species-set holds a number that is none, such as nan; leave it out"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "form", "values", "words"), UNREADABLE)
def test_what_this_version_cannot_read_is_refused_in_words(kind, form, values, words):
    with pytest.raises(EntryUnreadable) as refused:
        read_what(kind, form, values)
    assert str(refused.value) == words


@pytest.mark.parametrize(
    ("kind", "values"),
    [("done", {}), ("done", {"step": "fly"}), ("weighed", {"mass_kg": "heavy"}),
     ("place-set", {"key": "a", "name": "A", "kind": "sink"})],
)  # fmt: skip
def test_values_of_the_wrong_shape_are_refused_with_where_they_are(kind, values):
    with pytest.raises(EntryUnreadable, match=f"^{kind} cannot be read: "):
        read_what(kind, 1, values)


def test_a_time_without_its_zone_is_refused():
    with pytest.raises(ValueError, match="a time in the log must carry its zone"):
        When(datetime(2026, 5, 4), NOON)  # noqa: DTZ001  the point of the test


def test_a_time_is_exact_when_its_ends_are_one():
    assert exactly(NOON).exact
    assert not When(NOON, NOON + timedelta(hours=1)).exact


def test_a_part_belongs_to_its_specimen():
    assert specimen_subject("x", "antlers") == "specimen:x/antlers"
    assert (root_of("specimen:x/antlers"), root_of("specimen:x"), root_of("room")) == ("specimen:x", "specimen:x", "room")
    assert writer_subject("phone") == "writer:phone"


def test_an_entry_names_what_it_takes_out_of_the_count():
    assert entry(1, Void("e9")).targets == ("e9",)
    assert entry(1, Done(Step.TRIM), replaces="e8").targets == ("e8",)
    assert entry(1, Void("e9"), replaces="e8").targets == ("e9", "e8")
    assert (entry(1, Done(Step.TRIM)).targets, entry(1, Done(Step.TRIM)).kind) == ((), "done")


def test_what_can_be_put_right_later_is_all_that_intake_says_and_a_specimen_has():
    assert set(DESCRIBED_FIELDS) <= set(Received.__dataclass_fields__) - {"tag", "parts"}
    assert set(DESCRIBED_FIELDS) <= set(Specimen.__dataclass_fields__)


def test_settings_come_back_as_they_were_said():
    place = PlaceSet("pot", "Pot", PlaceKind.POT, 3, count=2, volume_l=8.0)
    person = PersonSet("p1", {"mon": [("09:00", "12:00")]}, ("teeth",))
    assert (read_what("place-set", 1, values_of(place)), read_what("person-set", 1, values_of(person))) == (place, person)
