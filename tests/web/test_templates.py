"""The pages without a book: nothing missing, nothing unescaped, plain forms, and cautions before the hand moves."""

import hashlib
import json
import re
from collections import Counter
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser
from typing import Any

import pytest
from jinja2 import UndefinedError

from bonebench.services.cards import SpeciesName
from bonebench.shop.steps import PlaceKind
from bonebench.units import Reader
from tests.web import sample_cards as sample
from tests.web.sample_cards import FRAME, PAGES, TEMPLATES, environment, page, rendered

STATIC = TEMPLATES.parent / "static"
ALL = pytest.mark.parametrize("shown", PAGES, ids=lambda shown: shown.name)
NASTY = '<script>alert("1")</script>'


@dataclass
class Form:
    """One form as a browser would send it: its fields, and the buttons that send it."""

    method: str
    action: str
    id: str
    fields: list[tuple[str, str]] = field(default_factory=list)
    buttons: list[tuple[str, str]] = field(default_factory=list)

    def whole(self) -> bool:
        """Whether its buttons carry whole answers."""
        return any(name == "answer" for name, _ in self.buttons)

    def sends(self, name: str) -> list[str]:
        return [value for field_name, value in self.fields if field_name == name]


class Reading(HTMLParser):
    """Reads the tags, forms and ids of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.forms: list[Form] = []
        self.loose: list[tuple[str, str, str]] = []
        self.outside: list[tuple[str, str, str]] = []
        self.text = ""
        self._open: Form | None = None
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        at = dict(attrs)
        self.tags.append((tag, at))
        name, value = str(at.get("name") or ""), str(at.get("value") or "")
        if tag == "form":
            self._open = Form(str(at["method"]), str(at["action"]), str(at.get("id") or ""))
            self.forms.append(self._open)
        elif tag == "button" and "form" in at:
            self.loose.append((str(at["form"]), name, value))
        elif tag == "button" and self._open is not None:
            self._open.buttons.append((name, value))
        elif tag == "input" and "form" in at:
            self.outside.append((str(at["form"]), name, value))
        elif tag in ("input", "select") and self._open is not None:
            self._open.fields.append((name, value))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None

    def handle_data(self, data: str) -> None:
        self.text += data

    def taps(self) -> list[Form]:
        """The forms of one answer each."""
        return [form for form in self.forms if form.action == "/entries" and not form.whole()]

    def trays(self) -> list[Form]:
        """The forms whose buttons carry a whole answer."""
        return [form for form in self.forms if form.action == "/entries" and form.whole()]

    def to(self, action: str) -> list[Form]:
        return [form for form in self.forms if form.action == action]


def words(html: str) -> str:
    return " ".join(Reading(html).text.split())


@ALL
def test_a_page_has_one_heading_its_landmarks_the_demo_mark_and_the_deference(shown):
    html = rendered(shown)
    tags = Counter(tag for tag, _ in Reading(html).tags)
    assert (tags["h1"], tags["main"], tags["nav"], tags["header"], tags["footer"]) == (1, 1, 1, 1, 1)
    assert "Demo room: invented people and specimens" in html
    assert "Defer to local codes and licensed practice." in html
    # "None to the bone." is how a way says that it harms nothing; a value that is missing would stand alone.
    assert "None" not in words(html).replace("None to the bone.", "")


@ALL
def test_a_variable_that_is_missing_is_an_error(shown):
    given = {**FRAME, "here": shown.here, **shown.values}
    name = next(name for name in ("card", "problem", "form") if name in given)
    del given[name]
    with pytest.raises(UndefinedError, match=name):
        environment().get_template(shown.template).render(given)


@ALL
def test_nothing_is_inline_so_that_the_strict_policy_blocks_nothing(shown):
    for tag, at in Reading(rendered(shown)).tags:
        assert tag != "style"
        assert tag != "script" or at.get("src")
        assert not [name for name in at if name == "style" or name.startswith(("on", "hx-on", "hx-vals"))]
        assert not str(at.get("href") or "").startswith(("http", "javascript", "data"))


@ALL
def test_ids_are_there_once_and_everything_that_points_at_one_finds_it(shown):
    tags = Reading(rendered(shown)).tags
    ids = Counter(at["id"] for _, at in tags if "id" in at)
    assert [name for name, count in ids.items() if count > 1] == []
    for _, at in tags:
        for pointer in ("for", "form", "list", "aria-labelledby", "aria-describedby"):
            assert at.get(pointer) is None or at[pointer] in ids


@ALL
def test_every_drawing_that_is_used_exists(shown):
    known = set(re.findall(r'<symbol id="([^"]+)"', (STATIC / "drawings.svg").read_text(encoding="utf-8")))
    used = re.findall(r"/static/drawings\.svg#([^\"]+)", rendered(shown))
    assert used
    assert set(used) <= known


def test_every_kind_of_place_is_drawn():
    known = (STATIC / "drawings.svg").read_text(encoding="utf-8")
    assert [kind for kind in PlaceKind if f'id="place-{kind.value.replace(" ", "-")}"' not in known] == []


@ALL
def test_the_mark_of_the_demo_is_only_on_a_demo(shown):
    assert "invented people" not in rendered(shown, demo=False)


NASTY_SPECIES = SpeciesName("x", NASTY, NASTY)
NASTY_TASK = replace(sample.TODAY.tasks[0], specimen=NASTY, species=NASTY_SPECIES, who=NASTY)


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("today", {"room_name": NASTY, "who": NASTY, "people": [("p", NASTY)]}),
        ("today", {"card": replace(sample.TODAY, tasks=(NASTY_TASK,))}),
        ("specimen", {"card": replace(sample.SPECIMEN, owner=NASTY, permit=NASTY, tag=NASTY, species=NASTY_SPECIES)}),
        ("add", {"form": {"species": NASTY, "owner": f'"{NASTY}'}, "species_names": [NASTY]}),
        ("mix", {"form": {"stock": f'">{NASTY}'}}),
        ("species", {"query": f'">{NASTY}'}),
    ],
)  # fmt: skip
def test_html_in_a_name_is_shown_as_text(name, changes):
    plain = Counter(tag for tag, _ in Reading(rendered(page(name))).tags)["script"]
    html = rendered(page(name), **changes)
    assert Counter(tag for tag, _ in Reading(html).tags)["script"] == plain
    assert "&lt;script&gt;" in html


@pytest.mark.parametrize("name", ["today", "specimen", "catch-up"])
def test_every_tap_is_a_plain_form_post_that_brings_its_entry_whole(name):
    reading = Reading(rendered(page(name)))
    assert reading.taps()
    for form in reading.taps():
        fields = dict(form.fields)
        assert form.method == "post"
        assert set(fields) == {"kind", "subject", "values", "task", "back", "id"}
        assert fields["kind"]
        assert fields["subject"]
        assert fields["back"] == page(name).here
        assert isinstance(json.loads(fields["values"]), dict)
        assert [name for name, _ in form.buttons] == ["about_time"]


def test_a_tap_sends_exactly_the_subjects_and_values_of_its_answer():
    answer = replace(sample.answer("move", "Into the pot", "moved", place="pot-1", visit=2), subjects=("s/skull", "s/mandible"))
    card = replace(sample.TODAY, tasks=(replace(sample.TODAY.tasks[0], answers=(answer,)),))
    (form,) = Reading(rendered(page("today"), card=card)).taps()
    assert [value for name, value in form.fields if name == "subject"] == ["s/skull", "s/mandible"]
    assert json.loads(dict(form.fields)["values"]) == {"place": "pot-1", "visit": 2}


def test_a_tap_about_an_earlier_time_is_one_button_of_the_same_form():
    reading = Reading(rendered(page("today")))
    first = reading.taps()[0].id
    later = [(name, value) for form, name, value in reading.loose if form == first]
    assert later == [("about_time", "this-morning"), ("about_time", "yesterday"), ("about_time", "about-3-days")]


def test_after_a_tap_the_page_says_what_was_stored_and_takes_it_back_in_one_tap():
    html = rendered(page("today-after"))
    undo = next(form for form in Reading(html).forms if form.action == "/undo")
    assert "D3R-J: on the rack" in words(html)
    assert undo.fields == [("entry", "e-77"), ("back", "/")]
    assert not [form for form in Reading(rendered(page("today"))).forms if form.action == "/undo"]


def test_who_is_working_is_said_with_one_tap():
    form = next(form for form in Reading(rendered(page("mix-card"))).forms if form.action == "/who")
    assert form.fields == [("back", page("mix-card").here)]
    assert form.buttons == [("person", "p-1"), ("person", "p-2"), ("person", "")]


def test_the_cautions_of_a_mix_stand_before_what_to_pour():
    text = words(rendered(page("mix-card")))
    pour = text.index("Pour in this order")
    for caution in sample.MIX.cautions:
        assert caution.hazard.text in text[:pour]
        assert caution.do.text in text[:pour]
        assert caution.standing.value in text[:pour]


def test_a_caution_that_says_stop_stands_before_the_button():
    html = rendered(page("today"))
    assert html.index("burns skin white in seconds") < html.index(">Rinsing</button>")


def test_every_caution_of_every_task_is_on_the_page():
    text = words(rendered(page("today")))
    for task in sample.TODAY.tasks:
        for caution in task.cautions:
            assert caution.hazard.text in text
            assert caution.do.text in text


def test_a_loud_caution_is_never_folded_unless_the_same_place_shows_it_open_above():
    def folded(count: int) -> list[str]:
        task = replace(sample.TODAY.tasks[1], gloves=None, cautions=(sample.STRONG, sample.DEFER))
        card = replace(sample.TODAY, tasks=(task,) * count)
        return re.findall(r'<div class="quiet"><p>([^<]+)', rendered(page("today"), card=card))

    assert sample.STRONG.hazard.text not in folded(1)
    assert folded(2).count(sample.STRONG.hazard.text) == 1


def test_a_date_is_shown_as_a_range_that_nobody_checked_here():
    text = words(rendered(page("specimen")))
    assert "24 May to 30 Jun" in text
    assert "Not checked in your room." in text
    checked = replace(sample.SPECIMEN, ready=replace(sample.READY, checked=True))
    assert "Not checked in your room." not in words(rendered(page("specimen"), card=checked))


def test_a_promise_says_how_often_it_holds():
    day = sample.DAY
    ready = replace(sample.READY, p50=day.replace(day=20), p80=day.replace(day=25), p95=day.replace(day=30))
    text = words(rendered(page("specimen"), card=replace(sample.SPECIMEN, ready=ready)))
    assert "one time in two by 20 May, four in five by 25 May, nineteen in twenty by 30 May" in text


def test_lateness_and_each_step_of_the_way_are_said_in_words():
    text = words(rendered(page("specimen")))
    for said in ("3 days late", "done 6 May", "left out", "passed, no record", "now, since 5 May", "ahead, planned"):
        assert said in text


def test_what_was_taken_back_is_kept_and_says_so():
    text = words(rendered(page("specimen")))
    assert "Trim done taken back".casefold() in text.casefold()
    assert text.count("Take back") == len([entry for entry in sample.SPECIMEN.entries if entry.can_undo])


@pytest.mark.parametrize("name", ["today-empty", "room-empty"])
def test_an_empty_page_teaches_the_first_step(name):
    card: Any = page(name).values["card"]
    assert card.teach.text in words(rendered(page(name)))


def test_the_room_says_in_words_when_a_place_is_full_closed_or_holds_too_much():
    card = replace(sample.ROOM, places=(sample.place("a", "Tub", PlaceKind.TUB, over=True, full=True), *sample.ROOM.places))
    text = words(rendered(page("room"), card=card))
    for said in (
        "More in it than it takes.",
        "Full.",
        "Out of use.",
        "takes 30 pieces",
        "takes 20 L",
        "nobody said how much it takes",
    ):
        assert said in text


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("mix-refused", "target strength 50 % is above the stock's 35 %: a bath cannot be diluted upward"),
        ("add-refused", "'ten buckets' is not a mass; write it like 350 g or 3 lb"),
        ("problem", "no specimen carries the tag 'D3R-K'"),
    ],
)
def test_a_refusal_is_said_in_its_own_words(name, said):
    assert said in words(rendered(page(name)))


def test_what_was_typed_is_still_there_after_a_refusal():
    form = next(form for form in Reading(rendered(page("add-refused"))).forms if form.action == "/add")
    assert ("species", "cojote") in form.fields
    assert ("head_mass", "ten buckets") in form.fields
    mix = next(form for form in Reading(rendered(page("mix-refused"))).forms if form.action == "/mix")
    assert {"stock": "35 %", "target": "50 %", "volume": "10 L"}.items() <= dict(mix.fields).items()


def test_the_form_of_add_asks_for_every_field_the_intake_reads():
    form = next(form for form in Reading(rendered(page("add"))).forms if form.action == "/add")
    assert {name for name, _ in form.fields} == {
        "species", "owner", "live_mass", "head_mass", "sex", "age", "condition", "finish", "measure", "permit", "promised",
        "parts", "tag", "arrived",
    }  # fmt: skip
    assert form.method == "post"


def test_a_reader_of_us_units_gets_them_on_the_recipe():
    values = {**FRAME, "here": "/mix", **page("mix-card").values}
    text = words(environment(Reader("us", sample.DAY)).get_template("mix.html").render(values))
    # 10 L is 2.64 US gallons (3.785411784 L each, exactly); 20 °C is 68 °F exactly.
    assert "3 % bath, 2.64 gal" in text
    assert "68 °F" in text


def test_vendored_files_are_the_ones_in_the_manifest():
    folder = STATIC / "vendor"
    manifest = json.loads((folder / "vendored.json").read_text(encoding="utf-8"))
    listed = {"vendored.json"}
    for package in manifest:
        listed |= {package["licence_file"], *package["files"]}
        for name, digest in package["files"].items():
            assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == digest
    assert {file.name for file in folder.iterdir()} == listed


def test_the_style_sheet_brings_nothing_from_elsewhere():
    style = (STATIC / "style.css").read_text(encoding="utf-8")
    assert "url(" not in style
    assert "@import" not in style


def test_each_change_of_gloves_is_one_line_before_the_place_it_is_for():
    text = words(rendered(page("today")))
    for task, place in ((sample.TODAY.tasks[0], "Glue bench"), (sample.TODAY.tasks[1], "Rinse water")):
        assert f"{task.gloves.text} {place}" in text
    assert text.count("Change: gloves and mask") == 1
    assert rendered(page("today")).count("#gloves") == len([task for task in sample.TODAY.tasks if task.gloves])


def test_a_tray_is_one_form_with_a_ticked_box_for_each_piece_and_whole_answers_on_its_buttons():
    task = next(task for task in sample.TODAY.tasks if task.members)
    (tray,) = Reading(rendered(page("today"))).trays()
    assert tray.sends("subject") == [",".join(member.subject) for member in task.members]
    first = json.loads(tray.buttons[0][1])
    assert first == {"kind": "done", "values": {"step": "judged clean", "visit": 1}, "task": "t-1", "about": None}
    boxes = [
        at for tag, at in Reading(rendered(page("today"))).tags if at.get("name") == "subject" and at.get("type") == "checkbox"
    ]
    assert all("checked" in box for box in boxes)
    assert len(boxes) == len(task.members)


def test_a_tray_can_be_answered_for_an_earlier_time():
    (tray,) = Reading(rendered(page("today"))).trays()
    answers = [json.loads(value) for _, value in tray.buttons]
    assert [a["about"] for a in answers if a["kind"] == "done"] == [None, "this-morning", "yesterday", "about-3-days"]


def rounds_of(html: str) -> list[bool]:
    """Whether each list of rounds stands open."""
    return ["open" in at for tag, at in Reading(html).tags if tag == "details" and at.get("class") == "rounds"]


def test_many_rounds_of_one_place_are_one_closed_line_and_late_ones_stand_open():
    assert rounds_of(rendered(page("today"))) == [False, True]
    assert "4 rounds here, 8 min" in words(rendered(page("today")))
    few = replace(sample.TODAY, tasks=sample.BOX_ROUNDS[:3])
    assert rounds_of(rendered(page("today"), card=few)) == [True]
    late = replace(sample.TODAY, tasks=(replace(sample.BOX_ROUNDS[0], late_days=1), *sample.BOX_ROUNDS[1:]))
    assert rounds_of(rendered(page("today"), card=late)) == [True]


def test_a_round_says_what_to_look_for_and_what_may_be_wrong_is_folded_beside_done():
    html = rendered(page("today"), card=replace(sample.TODAY, tasks=sample.BOX_ROUNDS[1:2]))
    assert "Look for: between 23 and 29 °C" in words(html)
    done, cold, hot = Reading(html).taps()
    assert json.loads(done.sends("values")[0]) == {"round": "round-12", "due": "2026-05-09"}
    assert [json.loads(form.sends("values")[0])["wrong"] for form in (cold, hot)] == ["Too cold", "Too hot"]
    assert html.index(">Done</button>") < html.index("<summary>Something is wrong") < html.index(">Too cold</button>")


def hazardous(**more: Any) -> str:
    """Today with one dangerous task."""
    task = next(task for task in sample.TODAY.tasks if task.hazard and task.hazard.answer)
    task = replace(task, cautions=(sample.STOP, sample.STRONG, sample.READ, sample.DEFER), hazard=replace(task.hazard, **more))
    return rendered(page("today"), card=replace(sample.TODAY, tasks=(task,)))


def test_a_danger_nobody_said_yes_to_stands_before_the_buttons_with_its_own_button():
    html = hazardous()
    assert (
        html.index(sample.POT_HARM.text)
        < html.index(">I have read this and do it so</button>")
        < html.index(">Into Big pot</button>")
    )
    yes = next(form for form in Reading(html).taps() if form.sends("kind") == ["hazard-acknowledged"])
    assert json.loads(yes.sends("values")[0]) == {"method": "hot-pot", "person": "p-1"}


def test_a_danger_is_said_yes_to_by_somebody_with_a_name():
    html = hazardous(answer=None)
    assert "Say who is working first:" in words(html)
    names = next(form for form in Reading(html).to("/who")[1:])
    assert names.buttons == [("person", "p-1"), ("person", "p-2")]
    assert ">Into Big pot</button>" in html


def test_what_was_read_is_one_fold_with_its_day_but_stop_stays_before_the_button():
    html = hazardous(acknowledged=sample.DAY, answer=None)
    assert "You read these on 9 May" in words(html)
    assert html.index(sample.STOP.hazard.text) < html.index(">Into Big pot</button>") < html.index("You read these on")
    folded = html[html.index("You read these on") :]
    for caution in (sample.STRONG, sample.READ, sample.DEFER):
        assert caution.hazard.text in folded
    assert sample.POT_HARM.text in folded


def test_days_without_a_word_lead_to_the_walk_through_the_room():
    links = [at.get("href") for tag, at in Reading(rendered(page("today"))).tags if tag == "a"]
    assert links.count("/catch-up") == 1
    assert "Nobody wrote a word for 2 days. Catch up" in words(rendered(page("today-nobody")))
    assert "/catch-up" not in rendered(page("today-empty"))


def test_the_card_at_the_door_has_a_box_for_each_tick_and_nothing_ticked_beforehand():
    (form,) = Reading(rendered(page("today"))).to("/left")
    assert form.sends("tick") == [tick.key for tick in sample.LEAVING.ticks]
    ticked = [at for _, at in Reading(rendered(page("today"))).tags if at.get("name") == "tick" and "checked" in at]
    assert ticked == []
    text = words(rendered(page("today")))
    for tick in sample.LEAVING.ticks:
        assert tick.why.text in text
        assert tick.if_not.text in text


def test_the_card_at_the_door_says_when_the_room_was_left_today():
    assert "Left today: 9 May 07:18" in words(rendered(page("today-nobody")))  # 0.05 days before 08:30 in Chicago


def test_a_room_without_places_has_no_card_at_the_door():
    card = replace(sample.EMPTY_TODAY, teach=replace(sample.EMPTY_TODAY.teach, key="teach.room"))
    assert Reading(rendered(page("today-empty"), card=card)).to("/left") == []


def test_everything_in_a_place_is_answered_at_once_with_exceptions_unticked():
    reading = Reading(rendered(page("room")))
    crowded = [place for place in sample.ROOM.places if len(place.sits) > 1]
    assert [len(form.sends("subject")) for form in reading.trays()] == [len(place.sits) for place in crowded]
    box = reading.trays()[1]
    assert [json.loads(value)["kind"] for _, value in box.buttons][:2] == ["seen", "moved"]
    assert {name for name, _ in box.fields} == {"back", "id", "subject"}


def test_a_walk_shows_every_piece_once_and_its_box_belongs_to_the_form_of_its_place():
    reading = Reading(rendered(page("catch-up")))
    (box,) = reading.trays()
    asked = sample.CATCH_UP.places[1].pieces
    assert [value for form, name, value in reading.outside if (form, name) == (box.id, "subject")] == [p.subject[0] for p in asked]
    assert json.loads(box.buttons[0][1])["kind"] == "seen"
    text = words(rendered(page("catch-up")))
    assert "5 of 10 still to say." in text
    assert "Freezer: all 4 pieces spoken of." in text


def test_each_piece_of_a_walk_can_be_moved_or_gone_in_one_tap_about_the_time_nobody_looked():
    forms = [form for form in Reading(rendered(page("catch-up"))).taps() if form.sends("subject") == ["specimen:D9K-P"]]
    assert [form.sends("kind")[0] for form in forms] == ["moved", "moved", "moved", "gone"]
    assert {form.buttons[0][1] for form in forms} == {"since 2026-04-29T13:30:00+00:00"}


def test_a_piece_alone_in_its_place_is_still_here_in_one_tap():
    forms = [form for form in Reading(rendered(page("catch-up"))).taps() if form.sends("subject") == ["specimen:D4A-6"]]
    assert forms[0].sends("kind") == ["seen"]


def test_every_way_that_is_allowed_and_not_in_use_can_be_chosen():
    forms = Reading(rendered(page("methods"))).to("/methods")
    assert [form.sends("method") for form in forms] == [["hot-pot"], ["no-degreasing"], ["none"]]
    text = words(rendered(page("methods")))
    assert "In use, chosen by this room" in text
    for method in sample.METHODS:
        assert method.harm in text
        assert method.standing in text


def test_how_long_a_way_takes_is_said_by_class_with_the_rooms_own_pieces_behind_it():
    text = words(rendered(page("methods")))
    assert "grease class 1: about 4 days, 2 days to 7 days, with 6 of your own behind it" in text
    assert "grease class 5: about 30 days, 14 days to 60 days how well this is known" in text


def test_a_locked_profile_says_why_a_way_cannot_be_chosen_and_is_unlocked_in_one_tap():
    html = rendered(page("methods-locked"))
    assert Reading(html).to("/methods") == []
    assert words(html).count("Locked: the museum profile keeps it out") == 3
    assert Reading(html).to("/profile")[0].buttons == [("name", "")]
    assert Reading(rendered(page("methods"))).to("/profile")[0].buttons == [("name", "museum")]


def test_what_the_room_has_is_ticked():
    reading = Reading(rendered(page("methods")))
    assert reading.to("/features")[0].sends("feature") == [feature.key for feature in sample.ROOM.features]
    assert [at["value"] for _, at in reading.tags if at.get("name") == "feature" and "checked" in at] == ["smoke alarm"]


def test_the_questions_that_must_be_asked_stand_open_and_the_rest_is_folded():
    html = rendered(page("add-questions"))
    form = next(form for form in Reading(html).forms if form.action == "/add")
    assert {name for name, _ in form.fields if name.startswith("ask ")} == {f"ask {q['key']}" for q in sample.QUESTIONS}
    assert form.sends("ask bite") == ["no", "yes", "unknown"]
    fold = html.index("More to ask if you can")
    assert html.index("ask drug") < fold < html.index("ask insects")


def test_an_answer_at_the_door_is_kept_after_a_refusal_and_its_fold_stands_open():
    asked = [{**q, "answer": "yes" if q["key"] == "salted" else ""} for q in sample.QUESTIONS]
    html = rendered(page("add-questions"), questions=asked)
    checked = [(at["name"], at["value"]) for _, at in Reading(html).tags if "checked" in at and str(at["name"]).startswith("ask ")]
    assert checked == [("ask salted", "yes")]
    assert re.search(r'<details class="more" open>\s*<summary>More to ask if you can', html)


def test_a_learned_duration_says_how_many_pieces_are_behind_it():
    text = words(rendered(page("specimen")))
    assert "from 5 pieces here" in text
    assert "from 1 piece here" in text
    assert "from 0 pieces" not in text
