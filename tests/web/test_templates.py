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


class Reading(HTMLParser):
    """Reads the tags, forms and ids of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.forms: list[Form] = []
        self.loose: list[tuple[str, str, str]] = []
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
        elif tag in ("input", "select") and self._open is not None:
            self._open.fields.append((name, value))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None

    def handle_data(self, data: str) -> None:
        self.text += data

    def taps(self) -> list[Form]:
        return [form for form in self.forms if form.action == "/entries"]


def words(html: str) -> str:
    return " ".join(Reading(html).text.split())


@ALL
def test_a_page_has_one_heading_its_landmarks_the_demo_mark_and_the_deference(shown):
    html = rendered(shown)
    tags = Counter(tag for tag, _ in Reading(html).tags)
    assert (tags["h1"], tags["main"], tags["nav"], tags["header"], tags["footer"]) == (1, 1, 1, 1, 1)
    assert "Demo room: invented people and specimens" in html
    assert "Defer to local codes and licensed practice." in html
    assert "None" not in words(html)


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


@pytest.mark.parametrize("name", ["today", "specimen"])
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
        assert form.buttons == [("about_time", "")]


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
        task = replace(sample.TODAY.tasks[1], cautions=(sample.STRONG, sample.DEFER))
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
        "parts", "arrived",
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
