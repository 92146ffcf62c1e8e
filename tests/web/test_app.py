"""The pages over the invented room: what a plain browser gets, and what becomes of what people type."""

import json
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from bonebench.shop.identity import tag_from_number
from bonebench.web.bathtools import TOOLS
from tests.web.taps import FOX, IN_TUB, IN_WORK, WOLF, send, tap_on, undo_of
from tests.web.test_templates import Reading, words

# Each calculation of the wet bench, asked in full.
WORKED = (
    "/baths/ask/test?by=permanganate&sample=25&dilution=25&normality=0.1&used=17.85",
    "/baths/ask/top-up?volume=10+L&strength=1.5%25&stock=35%25&target=3%25&largest=10+L",
    "/baths/ask/blend?a=35%25&b=0%25&target=3%25&total=10+L",
    "/baths/ask/decay?strength=3%25&days=5d&load=bone",
    "/baths/ask/cover?species=raccoon&length=60+cm&width=40+cm&depth=40+cm&round=no",
    "/baths/ask/whiten?species=black+bear",
    "/baths/ask/degrease?species=raccoon",
    "/baths/ask/pot?volume=20+L&open_area=0.07+m2&wall_area=0.35+m2&temperature=45+C&lid=yes&foam=no&watts=200+W",
    "/baths/ask/dry?species=raccoon&use=measure&weighings=0d+810+g,1d+780+g,3d+765+g",
)
PAGES = (
    "/", "/?minutes=30", "/specimens", "/specimens?late=1", "/specimens?step=beetles", "/specimens?owner=Ansel", "/room", "/mix",
    "/mix?stock=35%25&target=3%25&volume=10+L", "/mix?stock=30%25&parts=1:1&volume=2+gal", "/add", "/species", "/species?q=fox",
    "/print", "/typed-back", "/scan",
    "/species/raccoon", "/catch-up", "/methods", "/begin", "/baths", "/baths?all=yes", "/baths/white-tub", "/baths/big-pot",
    "/baths/bench", "/find?q=coyote", "/find?q=unicorn", *(f"/baths/ask/{tool}" for tool in TOOLS), *WORKED,
)  # fmt: skip
BOLD = '<b onclick="alert(1)">Ada</b>'


# -- what every page is ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", PAGES)
def test_every_page_answers_under_a_policy_that_lets_nothing_in_from_elsewhere(pages, path):
    answer = pages.get(path)
    assert answer.status_code == 200
    policy = dict(part.split(" ", 1) for part in answer.headers["content-security-policy"].split("; "))
    assert policy["default-src"] == policy["script-src"] == policy["style-src"] == policy["form-action"] == "'self'"
    assert policy["object-src"] == policy["base-uri"] == policy["frame-ancestors"] == "'none'"
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "path", [*PAGES, f"/specimens/{IN_TUB}", "/nope", "/specimens/XXX", "/mix?stock=3%25&target=6%25&volume=1+L"]
)
def test_no_page_holds_a_script_a_style_or_a_handler_of_its_own(pages, path):
    for tag, at in Reading(pages.get(path).text).tags:
        assert tag != "style"
        assert "style" not in at
        assert not [name for name in at if name.startswith(("on", "hx-on", "hx-vals"))], at
        if tag == "script":
            assert str(at["src"]).startswith("/static/")
        for name in ("href", "src", "action"):
            assert str(at.get(name) or "/").startswith(("/", "#")), at


def test_a_script_on_a_page_has_no_text_inside(pages):
    class Scripts(HTMLParser):
        inside = ""

        def handle_data(self, data: str) -> None:
            self.inside += data if self.lasttag == "script" else ""

    read = Scripts()
    read.feed(pages.get("/").text)
    assert read.inside.strip() == ""


def test_every_specimen_of_the_demo_has_a_page(pages):
    tags = [row["tag"] for row in pages.get("/api/v1/specimens").json()["rows"]]
    assert len(tags) == IN_WORK
    for tag in tags:
        assert pages.get(f"/specimens/{tag}").status_code == 200


def test_every_link_of_every_page_leads_to_a_page(pages):
    seen: set[str] = set()
    ahead = ["/"]
    while ahead:
        path = ahead.pop()
        if path in seen or (
            path.startswith(("/specimens/", "/species/", "/find")) and path not in (f"/specimens/{WOLF}", "/species/raccoon")
        ):
            continue
        seen.add(path)
        answer = pages.get(path)
        assert answer.status_code == 200, path
        if answer.headers["content-type"].startswith("text/html"):
            ahead += [str(at["href"]).split("#")[0] or "/" for tag, at in Reading(answer.text).tags if tag in ("a", "link")]
    assert {"/", "/room", "/mix", "/add", "/specimens", "/species", f"/specimens/{WOLF}", "/static/style.css"} <= seen


def test_the_demo_is_marked_and_its_quantities_are_in_us_units(pages):
    shown = words(pages.get("/").text)
    assert "Demo room: invented people and specimens" in shown
    assert "Quantities in US units" in shown
    mixed = words(pages.get("/mix?stock=35%25&target=3%25&volume=10+L").text)
    # 10 L is 2.64 US gallons of 3.785 L, and 20 °C is 68 °F: exact by definition, three digits shown.
    assert "2.64 gal" in mixed
    assert "68 °F" in mixed


def test_today_says_for_every_task_why(pages):
    card = pages.get("/api/v1/today").json()
    shown = words(pages.get("/").text)
    assert len(card["tasks"]) >= 6
    for task in card["tasks"]:
        # The page says it in the room's own units; up to the first quantity the words are the same.
        start = task["why"]["template"].split("{")[0].strip()
        assert task["why"]["text"]
        assert start in shown


# -- what people type ------------------------------------------------------------------------------------------------------------


def test_adding_a_specimen_leads_to_its_page_which_says_what_was_stored(pages):
    answer = pages.post("/add", data={"species": "Raccoon", "owner": "Ada Nobody", "promised": "2026-09-01"})
    assert answer.status_code == 303
    shown = words(pages.get(answer.headers["location"]).text)
    assert "raccoon" in shown
    assert "for Ada Nobody" in shown
    assert "Stored:" in shown
    assert "Promised to the owner for 1 Sep" in shown


def test_undoing_an_arrival_takes_the_specimen_out_of_the_room(pages):
    answer = pages.post("/add", data={"species": "raccoon"})
    shown = pages.get(answer.headers["location"]).text
    pages.post("/undo", data=undo_of(shown))
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


def test_html_in_what_people_type_is_shown_as_text(pages):
    answer = pages.post("/add", data={"species": "raccoon", "owner": BOLD, "condition": BOLD, "permit": BOLD, "parts": BOLD})
    assert answer.status_code == 303
    for path in (answer.headers["location"], "/specimens", "/room", "/"):
        html = pages.get(path).text
        assert "<b onclick" not in html, path
    assert BOLD in Reading(pages.get("/specimens").text).text


def test_html_in_a_question_is_shown_as_text(pages):
    bad = pages.get("/specimens/<b onclick=alert(1)>x</b>")
    assert bad.status_code == 404
    for path in ("/<b onclick=1>", "/species?q=<b onclick=1>", "/specimens?owner=<b onclick=1>", "/mix?stock=<b onclick=1>"):
        assert "<b onclick" not in pages.get(path).text + bad.text


def test_html_in_a_hold_is_shown_as_text(pages):
    data = tap_on(pages, f"/specimens/{FOX}", "Put on hold")
    shown = send(pages, {**data, "values": json.dumps({"reason": BOLD})})
    assert "<b onclick" not in shown
    assert BOLD in Reading(shown).text


def test_a_species_nobody_knows_says_what_it_could_be_and_keeps_what_was_typed(pages):
    answer = pages.post("/add", data={"species": "racoon dog cat", "owner": "Ada", "head_mass": "1 lb", "finish": "natural"})
    assert answer.status_code == 422
    shown = answer.text
    assert "racoon dog cat" in words(shown)
    typed = {str(at.get("name")): at for tag, at in Reading(shown).tags if tag == "input" and at.get("type") != "radio"}
    assert typed["species"]["value"] == "racoon dog cat"
    assert typed["owner"]["value"] == "Ada"
    assert typed["head_mass"]["value"] == "1 lb"
    chosen = [at["value"] for tag, at in Reading(shown).tags if tag == "input" and "checked" in at and at["name"] == "finish"]
    assert chosen == ["natural"]
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


def test_a_slip_of_the_pen_in_a_species_is_asked_back(pages):
    answer = pages.post("/add", data={"species": "bever"})
    assert answer.status_code == 422
    assert "Did you mean American beaver" in words(answer.text)


BAD_INTAKE = [
    ({"species": ""}, "say which species it is"),
    ({"species": "raccoon", "head_mass": "heavy"}, "'heavy' is not a mass; write it like 350 g or 3 lb"),
    ({"species": "raccoon", "head_mass": "3"}, "'3' has no unit I know for a mass"),
    ({"species": "raccoon", "promised": "soon"}, "'soon' is not a day; write it like 2026-05-09"),
    ({"species": "raccoon", "finish": "gold"}, "'gold' is no finish; it is white or natural"),
    ({"species": "raccoon", "head_mass": "3 kg", "live_mass": "2 kg"}, "a head weighs less"),
]


@pytest.mark.parametrize(("form", "said"), BAD_INTAKE)
def test_what_cannot_be_read_of_an_arrival_is_said_beside_the_form(pages, form, said):
    answer = pages.post("/add", data=form)
    assert answer.status_code == 422
    assert said in words(answer.text)
    for value in form.values():
        assert f'value="{value}"' in answer.text or value == "gold"
    assert len(pages.get("/api/v1/specimens").json()["rows"]) == IN_WORK


BAD_MIX = [
    ({"stock": "3%", "target": "6%", "volume": "10 L"}, "target strength 6 % is above the stock's 3 %"),
    ({"stock": "35%", "target": "3%", "volume": "ten buckets"}, "'ten buckets' is not a volume; write it like 10 L or 2 gal"),
    ({"stock": "35% v/v", "target": "3%", "volume": "10 L"}, "'35% v/v' by volume is not a peroxide strength"),
    ({"stock": "35%", "volume": "10 L"}, "a mix needs either a target strength or parts of stock and water"),
    ({"stock": "35%", "parts": "half", "volume": "10 L"}, "'half' is not two parts; write stock and water like 1:1"),
    ({"stock": "35%", "target": "3%", "volume": "10 L", "temperature": "warm"}, "'warm' is not a temperature"),
    ({"stock": "", "target": "3%", "volume": "10 L"}, "'' is not a strength"),
]


@pytest.mark.parametrize(("asked", "said"), BAD_MIX)
def test_a_mix_that_cannot_be_is_refused_in_words_and_keeps_what_was_typed(pages, asked, said):
    answer = pages.get("/mix", params=asked)
    assert answer.status_code == 422
    assert said in words(answer.text)
    typed = {str(at.get("name")): at.get("value") for tag, at in Reading(answer.text).tags if tag == "input"}
    assert {name: typed[name] for name in asked} == asked
    assert "Pour in this order" not in answer.text


def test_no_recipe_stands_above_its_cautions(pages):
    html = pages.get("/mix?stock=35%25&target=3%25&volume=10+L").text
    assert 0 < html.index('class="cautions"') < html.index("Pour in this order")
    assert "Defer to local codes and licensed practice" in html


# -- what is not there -----------------------------------------------------------------------------------------------------------


def test_a_tag_nobody_issued_is_a_page_of_the_house(pages):
    tag = tag_from_number(500)
    answer = pages.get(f"/specimens/{tag}")
    assert answer.status_code == 404
    assert f"{tag}" in words(answer.text)
    assert "Defer to local codes" in words(answer.text)


def test_a_tag_misread_by_one_character_is_caught_before_it_is_looked_for(pages):
    answer = pages.get("/specimens/0ZJ-9")
    assert answer.status_code == 404
    assert "it could be" in words(answer.text)
    assert "0ZJ-9" in words(answer.text)


def test_a_species_nobody_knows_is_a_page_that_names_the_nearest(pages):
    answer = pages.get("/species/bever")
    assert answer.status_code == 404
    assert "American beaver" in words(answer.text)


def test_a_page_that_is_not_there_says_so(pages):
    answer = pages.get("/nope")
    assert answer.status_code == 404
    assert "there is no page at /nope" in words(answer.text)
    assert pages.get("/api/v1/nope").json()["error"]["text"] == "there is no page at /api/v1/nope"


@pytest.mark.parametrize("minutes", ["soon", "-5", "nan", "inf"])
def test_a_time_at_hand_that_is_none_is_said_on_a_page(pages, minutes):
    answer = pages.get("/", params={"minutes": minutes})
    assert answer.status_code == 422
    assert "minutes cannot be read" in words(answer.text)


def test_a_book_that_breaks_under_the_program_is_said_in_words(pages, demo: Path):
    demo.write_bytes(b"this is no book" * 1000)
    for leftover in demo.parent.glob("demo.db-*"):
        leftover.unlink()
    answer = pages.get("/room")
    assert answer.status_code == 507
    assert not re.search(r"Traceback|Error\b", answer.text)
