"""The pages of a piece with the beetles, of its box, and of how good the dates are."""

from tests.web.test_templates import words


def tag_in_box(pages):
    rows = pages.get("/api/v1/specimens", params={"step": "beetles"}).json()["rows"]
    return next(row["tag"] for row in rows if row["species"]["common"] == "red fox")


def test_a_piece_s_page_says_when_to_look_and_takes_a_look_in_one_tap(pages):
    tag = tag_in_box(pages)
    text = pages.get(f"/specimens/{tag}").text
    assert "look by" in words(text).casefold()
    assert "clean on" not in words(text).casefold()
    assert all(grade in text for grade in ("Hardly touched", "Bare", "Foul"))
    before = pages.get(f"/api/v1/specimens/{tag}").json()["beetles"]
    answer = before["looks"][4]
    pages.post("/entries", data={"kind": answer["kind"], "subject": answer["subjects"], "values": '{"grade": "bare"}'})
    after = pages.get(f"/api/v1/specimens/{tag}").json()["beetles"]
    assert after["left"] < before["left"]


def test_a_weight_is_typed_on_the_page_and_nonsense_is_said(pages):
    tag = tag_in_box(pages)
    pages.post(f"/specimens/{tag}/weigh", data={"mass": "220 g", "back": f"/specimens/{tag}"})
    assert "weighed" in words(pages.get(f"/specimens/{tag}").text)
    bad = pages.post(f"/specimens/{tag}/weigh", data={"mass": "heavy"})
    assert bad.status_code == 422
    assert "heavy" in words(bad.text)


def test_a_box_is_set_on_its_page_and_what_cannot_be_is_said_with_nothing_lost(pages):
    place = pages.get("/api/v1/colony/box").json()["boxes"][0]["place"]
    bad = pages.post("/colony/box", data={"place": place, "heater": "50 W", "holding": "400 W", "floor": "1.1 m2"})
    assert bad.status_code == 422
    assert "more than the heater's 50 W" in words(bad.text)
    assert 'value="1.1 m2"' in bad.text
    pages.post("/colony/box", data={"place": place, "heater": "500 W", "holding": "400 W"})
    assert pages.get("/api/v1/colony/box").json()["boxes"][0]["heat_to_spare_w"] == 100


def test_the_colony_s_page_says_how_good_the_dates_are(pages):
    card = pages.get("/api/v1/colony/skill").json()
    text = words(pages.get("/colony").text)
    assert "How good the dates are" in text
    assert card["count"] == len(card["pieces"]) > 10
    assert all(piece["tag"] in text for piece in card["pieces"])
