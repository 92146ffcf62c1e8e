"""Parts, counts, lots and rolls in the pages and the JSON: written down, found, undone, and refused on the same page."""

import pytest

from tests.web.test_templates import Reading, words

API = "/api/v1"


def deer_of(pages) -> dict:
    """A demo deer in the cold with antlers."""
    for row in pages.get(f"{API}/specimens", params={"place": "chest-freezer"}).json()["rows"]:
        card = pages.get(f"{API}/specimens/{row['tag']}").json()
        if "antlers" in [part["name"] for part in card["parts"]]:
            return card
    raise AssertionError("the demo has a deer in the freezer")


def part(pages, tag: str, name: str) -> dict:
    return next(one for one in pages.get(f"{API}/specimens/{tag}/parts").json()["parts"] if one["name"] == name)


def test_a_part_is_moved_and_put_back_by_taps_on_the_page(pages):
    tag = deer_of(pages)["tag"]
    for wanted, place in (("Into Drying rack", "drying-rack"), ("Back with the rest", "chest-freezer")):
        html = pages.get(f"/specimens/{tag}").text
        assert wanted in words(html)
        form = next(
            f for f in Reading(html).taps() if f.id.startswith("part-3-") and f.sends("kind")
            and place in (*f.sends("values")[0].split('"'), *(["chest-freezer"] if f.sends("kind") == ["part-joined"] else []))
        )  # fmt: skip
        assert pages.post("/entries", data=dict(form.fields), follow_redirects=True).status_code == 200
        assert part(pages, tag, "antlers")["place"] == place
    assert part(pages, tag, "antlers")["joined_to"] == "skull"


def test_a_place_the_antlers_stay_out_of_says_why_before_its_button(pages):
    html = pages.get(f"/specimens/{deer_of(pages)['tag']}").text
    text = words(html)
    assert text.index("Beetle box: stays out.") < text.index("It went in all the same") < text.index("White tub: stays out.")
    assert "Peroxide bleaches them" in text


@pytest.mark.parametrize(
    ("what", "typed", "seen"),
    [
        ("part", {"part": "loose teeth"}, "loose teeth: nobody said where"),
        ("sample", {"purpose": "isotopes", "of": "tongue", "place": "chest-freezer"}, "tongue for isotopes"),
        ("send", {"part": "antlers", "to": "the owner"}, "sent to the owner"),
        ("mark", {"how": "bag"}, "Told from others by: bag"),
        (
            "condition",
            {"what": "cracked", "stage": "goes", "where": "tip", "note": "as before"},
            "As it goes Cracked, tip: as before",
        ),
        ("repair", {"what": "glued", "adhesive": "epoxy"}, "Two-part epoxy: does not come off again"),
    ],
)
def test_what_is_written_on_the_specimens_page_stands_there(pages, what, typed, seen):
    tag = deer_of(pages)["tag"]
    answer = pages.post(f"/specimens/{tag}/{what}", data=typed, follow_redirects=True)
    assert answer.status_code == 200
    assert seen in words(answer.text)


def test_what_cannot_be_is_said_on_a_page_of_the_house(pages):
    tag = deer_of(pages)["tag"]
    assert "say where it went" in words(pages.post(f"/specimens/{tag}/send", data={"part": "antlers"}).text)
    assert "say which part" in words(pages.post(f"/specimens/{tag}/part", data={}).text)


def test_another_tag_leads_on_and_the_old_one_says_which(pages):
    old = deer_of(pages)["tag"]
    answer = pages.post(f"/specimens/{old}/retag", data={"to": ""}, follow_redirects=True)
    assert f"Carried before: {old}" in words(answer.text)
    gone = pages.get(f"/specimens/{old}")
    assert gone.status_code == 404
    assert "was lost or replaced" in words(gone.text)


def test_a_place_is_counted_from_its_page_and_the_count_undone(pages):
    place = pages.get(f"{API}/places/small-pot").json()
    ticked = ",".join(place["items"][0]["subject"])
    answer = pages.post("/place/small-pot/count", data={"ticked": ticked, "tags": "K7Q-A"}, follow_redirects=True)
    text = words(answer.text)
    assert f"Missing: specimen {place['items'][1]['tag']}" in text
    assert "“K7Q-A” is no tag of this book" in text
    undo = next(form for form in Reading(answer.text).forms if form.action == "/undo")
    pages.post("/undo", data=dict(undo.fields))
    assert pages.get(f"{API}/places/small-pot").json()["count"] is None


@pytest.mark.parametrize(("typed", "said"), [({}, "say how many there are"), ({"found": "some"}, "'some' is not a whole number")])
def test_a_count_that_cannot_be_read_is_said_beside_the_form(pages, typed, said):
    answer = pages.post("/place/small-pot/count", data={**typed, "tags": ""})
    assert answer.status_code == 422
    assert said in words(answer.text)


def test_lots_are_split_and_joined_from_their_page(pages):
    lot = next(one for one in pages.get(f"{API}/lots").json()["lots"] if one["name"] == "Tray of mice")
    first, second, *rest = [member["tag"] for member in lot["members"]]
    assert pages.post("/lots/split", data={"name": "Tray of mice"}).status_code == 422
    pages.post("/lots/split", data={"name": "Tray of mice", "tag": [first, second]})
    pages.post("/lots", data={"name": "Two mice", "tags": f"{first}, {second}"})
    now = {one["name"]: [m["tag"] for m in one["members"]] for one in pages.get(f"{API}/lots").json()["lots"]}
    assert (now["Two mice"], now["Tray of mice"]) == ([first, second], rest)
    refused = pages.post("/lots", data={"name": "One", "tags": first + "Q"})
    assert refused.status_code == 422
    assert first + "Q" in refused.text


def test_a_roll_is_issued_from_its_page_and_a_tag_of_it_used_at_intake(pages):
    pages.post("/tags", data={"count": "3", "roll": "Phone"})
    roll = next(one for one in pages.get(f"{API}/tags").json()["rolls"] if one["roll"] == "Phone")
    form = {"species": "red fox", "tag": roll["free"][1]}
    assert pages.post("/add", data=form, follow_redirects=False).status_code == 303
    again = pages.post("/add", data=form)
    assert again.status_code == 422
    assert f"{form['tag']} is on the red fox already" in words(again.text)
    assert f'value="{form["tag"]}"' in again.text
    assert pages.post("/tags", data={"count": "none"}).status_code == 422


def test_the_json_refuses_in_the_same_words(pages):
    answer = pages.get(f"{API}/parts/antlers", params={"into": "white-tub"})
    assert (answer.status_code, answer.json()["error"]["key"]) == (422, "part.stays_out")
    assert pages.get(f"{API}/parts/antlers").json()["ways"]
    assert pages.post(f"{API}/places/white-tub/count", json={}).json()["error"]["key"] == "count.nothing"
    tag = deer_of(pages)["tag"]
    assert pages.post(f"{API}/specimens/{tag}/retag", json={}).json()["former_tags"] == [tag]
