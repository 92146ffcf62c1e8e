"""The chart of teeth in the pages and the JSON: tapped, typed, refused with nothing lost, and usable without a script."""

import pytest

from tests.web.taps import send
from tests.web.test_templates import Reading, words


@pytest.fixture
def fox(pages):
    """A red fox that came in, with every tooth in place; its tag."""
    tag = pages.post("/api/v1/specimens", json={"species": "red fox"}).json()["tag"]
    assert pages.post(f"/api/v1/specimens/{tag}/teeth", json={"rest": "in place"}).status_code == 201
    return tag


def state_of(pages, tag, code):
    teeth = pages.get(f"/api/v1/specimens/{tag}/teeth").json()["teeth"]
    return next(tooth["state"] for tooth in teeth if tooth["code"] == code)


def test_several_teeth_are_tapped_and_written_down_by_one_plain_form_and_undone(pages, fox):
    form = {"state": "loose", "tooth": ["ULP4", "LRC"]}
    answer = pages.post(f"/specimens/{fox}/teeth", data=form, follow_redirects=True)
    assert answer.status_code == 200
    assert [state_of(pages, fox, code) for code in ("ULP4", "LRC", "URP4")] == ["loose", "loose", "in place"]
    assert "ULP4, LRC loose" in words(answer.text)
    undo = next(one for one in Reading(answer.text).forms if one.action == "/undo")
    pages.post("/undo", data=dict(undo.fields))
    assert state_of(pages, fox, "ULP4") == "in place"


def test_every_tooth_of_the_formula_is_on_the_page_with_its_name_and_state_in_words(pages, fox):
    text = pages.get(f"/specimens/{fox}/teeth").text
    chart = next(form for form in Reading(text).forms if form.action.endswith("/teeth") and form.sends("tooth"))
    assert len(chart.sends("tooth")) == 42  # a red fox, R30 and R31 of species.csv
    assert "ULP4, upper left fourth premolar, 208: in place" in words(text)
    for side in ("Upper jaw, animal's right", "Lower jaw, animal's left"):
        assert side in words(text)


def test_typed_codes_are_read_and_a_half_name_is_refused_beside_the_form_with_nothing_lost(pages, fox):
    answer = pages.post(f"/specimens/{fox}/teeth", data={"state": "chipped", "typed": "upper left P4, P3"})
    assert answer.status_code == 422
    assert "could be URP3, ULP3, LRP3, LLP3" in words(answer.text)
    assert 'value="upper left P4, P3"' in answer.text
    pages.post(f"/specimens/{fox}/teeth", data={"state": "chipped", "typed": "upper left P4, 107"})
    assert [state_of(pages, fox, code) for code in ("ULP4", "URP3")] == ["chipped", "chipped"]


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({"tooth": ["ULP4"]}, "say how they are first"),
        ({"state": "glued"}, "no tooth was tapped, so nothing was stored"),
        ({"jar": "many"}, "'many' is not a number of teeth"),
        ({}, "nothing was said about the teeth of"),
    ],
)
def test_half_a_tap_is_said_on_the_same_page(pages, fox, form, said):
    answer = pages.post(f"/specimens/{fox}/teeth", data=form)
    assert answer.status_code == 422
    assert said in words(answer.text)


def test_the_jar_is_counted_with_plus_and_by_typing(pages, fox):
    page = Reading(pages.get(f"/specimens/{fox}/teeth").text)
    send(pages, dict(next(f for f in page.forms if ("kind", "jar-changed") in f.fields).fields))
    pages.post(f"/specimens/{fox}/teeth", data={"jar": "4"})
    card = pages.get(f"/api/v1/specimens/{fox}/teeth").json()
    assert (card["jar"], card["in_jar"], card["agrees"]) == (4, 0, False)
    assert "Does not agree:" in words(pages.get(f"/specimens/{fox}/teeth").text)


def test_a_young_mouth_has_both_sets_apart_with_the_milk_teeth_inside(pages):
    tag = pages.post("/api/v1/specimens", json={"species": "red fox", "age": "pup"}).json()["tag"]
    text = pages.get(f"/specimens/{tag}/teeth").text
    legends = [part.split("</legend>")[0] for part in text.split("<legend>")[2:]]
    sets = (("Upper", "permanent"), ("Upper", "milk"), ("Lower", "milk"), ("Lower", "permanent"))
    rows = [f"{jaw} jaw, animal's {side}, {kind} teeth" for jaw, kind in sets for side in ("right", "left")]
    assert legends == [row.replace("'", "&#39;") for row in rows]


def test_the_page_of_a_specimen_leads_to_its_teeth(pages, fox):
    assert f'href="/specimens/{fox}/teeth"' in pages.get(f"/specimens/{fox}").text
    assert pages.get("/specimens/ZZZ-9/teeth").status_code == 404


def test_the_interface_s_keys_are_there(pages, fox):
    card = pages.get(f"/api/v1/specimens/{fox}/teeth").json()
    assert {
        "formula",
        "expected",
        "in_place",
        "loose",
        "reseated",
        "missing",
        "teeth",
        "schema",
        "basis",
        "flags",
        "cautions",
    } <= set(card)
    assert {"code", "state"} <= set(card["teeth"][0])


def test_teeth_are_told_as_json_and_refused_with_what_it_could_be(pages, fox):
    address = f"/api/v1/specimens/{fox}/teeth"
    told = pages.post(address, json={"marks": {"ULP4": "in the jar"}, "jar": 1})
    assert (told.status_code, told.json()["chart"]["jar"], told.json()["chart"]["agrees"]) == (201, 1, True)
    assert "URP4, ULP4" in pages.post(address, json={"marks": {"upper P4": "loose"}}).json()["error"]["text"]
    assert pages.post(address, json={"jar": -1}).status_code == 422


# Nothing the page draws is told by colour alone: each state has lines of its own in the drawing.
def test_each_state_is_drawn_in_a_way_of_its_own(pages, fox):
    text = pages.get(f"/specimens/{fox}/teeth").text
    radios = text.split('<fieldset class="states">')[1].split("</fieldset>")[0].split('<svg class="tooth-drawing"')[1:]
    drawings = [one.split("</svg>")[0] for one in radios]
    assert len(drawings) == 7
    # Missing and "missing before" have dashes by the style sheet besides; the others differ in the drawing itself.
    assert len(set(drawings)) == 7


def test_each_kind_of_tooth_has_a_shape_of_its_own(pages, fox):
    text = pages.get(f"/specimens/{fox}/teeth").text
    shapes = {
        code[2]: text.split(f'value="{code}"')[1].split('class="crown" d="')[1].split('"')[0]
        for code in ("URI1", "URC", "URP4", "URM1")
    }
    assert len(set(shapes.values())) == 4
