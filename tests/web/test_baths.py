"""Baths in the pages and the JSON: made, tested, changed, undone, and what cannot be said on the same page."""

import pytest

from tests.web.taps import send
from tests.web.test_templates import Reading, words

API = "/api/v1/baths"


def test_a_bath_is_written_down_from_the_page_and_undone(pages):
    answer = pages.post("/baths", data={"place": "rinse-tub", "volume": "4 gal", "name": "Last rinse"}, follow_redirects=True)
    assert answer.status_code == 200
    assert "Last rinse" in words(answer.text)
    assert "Last rinse" in [row["name"] for row in pages.get(API).json()["rows"]]
    undo = next(form for form in Reading(answer.text).forms if form.action == "/undo")
    pages.post("/undo", data=dict(undo.fields))
    assert "Last rinse" not in [row["name"] for row in pages.get(API).json()["rows"]]


def test_what_cannot_be_read_is_said_beside_the_form_and_nothing_typed_is_lost(pages):
    answer = pages.post("/baths", data={"place": "white-tub", "volume": "lots", "strength": "3 %"})
    assert answer.status_code == 422
    assert "'lots' is not a volume" in words(answer.text)
    assert 'value="3 %"' in answer.text


def test_a_test_from_the_form_moves_what_is_said_of_the_bath(pages):
    before = pages.get(f"{API}/white-tub").json()["strength"]
    answer = pages.post(
        "/baths/white-tub", data={"happened": "tested", "how": "strip", "low": "1 %", "high": "3 %"}, follow_redirects=True
    )
    assert answer.status_code == 200
    after = pages.get(f"{API}/white-tub").json()["strength"]
    assert after["tests"] == before["tests"] + 1


def test_a_tap_on_the_bath_itself_tests_it_and_can_be_taken_back(pages):
    page = Reading(pages.get("/baths/white-tub").text)
    form = next(f for f in page.forms if ("kind", "bath-tested") in f.fields)
    tests = pages.get(f"{API}/white-tub").json()["strength"]["tests"]
    send(pages, dict(form.fields))
    assert pages.get(f"{API}/white-tub").json()["strength"]["tests"] == tests + 1


def test_a_change_of_water_asks_and_keeps_whose_teeth_were_found(pages):
    tag = pages.get(f"{API}/bear-pot").json()["contents"][0]["tag"]
    pages.post("/baths/bear-pot", data={"happened": "changed", "sieved": "yes", "teeth": "1", "whose": tag})
    newest = pages.get(f"{API}/bear-pot").json()["entries"][0]["what"]
    assert f"1 tooth found, of {tag}" in newest["values"]["found"]


@pytest.mark.parametrize(
    ("path", "status", "said"),
    [
        ("/baths/attic", 404, "there is no bath 'attic'"),
        ("/baths/ask/alchemy", 404, "there is no 'alchemy' to work out here"),
        ("/baths/ask/blend?a=35%25&b=3%25&target=50%25&total=1+L", 422, "does not lie between"),
        ("/baths/ask/cover?species=moose&length=20+cm&width=20+cm&depth=20+cm", 422, "take a longer one"),
        ("/baths/ask/whiten?species=unicorn", 422, "no species 'unicorn' is known"),
        ("/baths/ask/whiten?species=raccoon&strength=30%25", 422, "too far from this way's"),
        ("/baths/ask/test?sample=0&normality=0.1&used=1", 422, "the sample is 0 mL"),
        ("/baths/ask/pot?volume=20+L&open_area=1+L&wall_area=1+m2&temperature=45+C", 422, "'1 L' has no unit I know for a area"),
        ("/baths/ask/dry?species=raccoon&use=bathing", 422, "is nothing to be dry for here"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_in_clear_words_on_the_page(pages, path, status, said):
    answer = pages.get(path)
    assert answer.status_code == status
    assert said in words(answer.text)


@pytest.mark.parametrize("path", ["/baths/white-tub", "/baths/bear-pot", "/baths/ask/whiten?species=raccoon", "/baths/bench"])
def test_no_page_of_a_bath_is_without_its_cautions(pages, path):
    text = words(pages.get(path).text)
    assert "Take care." in text
    assert "Defer to local codes" in text


def test_the_json_makes_a_bath_and_says_what_happened_to_it(pages):
    made = pages.post(API, json={"place": "small-pot", "dose": "1 %", "volume": "2 gal"})
    assert made.status_code == 201
    again = pages.post(f"{API}/{made.json()['id']}", json={"what": "looked", "values": {"clarity": "cloudy"}})
    assert again.json()["entries"][0]["kind"] == "bath-looked"
    assert pages.post(API, json={"place": "attic"}).status_code == 404
    assert pages.post(f"{API}/small-pot", json={"what": "boiled"}).status_code == 404


def test_the_label_of_a_bath_is_a_pdf(pages):
    answer = pages.get("/baths/white-tub/label.pdf")
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/pdf")
    assert answer.content.startswith(b"%PDF")
