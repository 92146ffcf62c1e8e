"""The page of photos: sent from a phone, shown with headers that keep them, refused in words, nothing by a path."""

import base64

import pytest

from tests.services.test_photos import sent
from tests.web.demo_tags import IN_TUB

# An opossum of the demo that whitens, with drawn photos of its own.
PAGE = f"/specimens/{IN_TUB}/photos"
API = f"/api/v1/specimens/{IN_TUB}/photos"


def send(pages, *files, **said):
    return pages.post(PAGE, files=[("photo", one) for one in files], data=said)


def photos(pages):
    return pages.get(API).json()["photos"]


def test_photos_sent_from_a_phone_are_kept_and_shown(pages):
    before = len(photos(pages))
    answer = send(pages, ("IMG_1.jpg", sent(1)), ("IMG_2.jpg", sent(2)), step="whiten", note="left side", part="skull")
    assert (answer.status_code, answer.headers["location"]) == (303, PAGE)
    page = pages.get(PAGE).text
    assert "left side" in page
    fresh = [photo for photo in photos(pages) if photo["note"] == "left side"]
    assert (len(photos(pages)) - before, len(fresh), fresh[0]["step"], fresh[0]["part"]) == (2, 2, "whiten", "skull")
    assert all(photo["small_address"] in page for photo in fresh)
    assert fresh[0]["small_address"] in pages.get(f"/specimens/{IN_TUB}").text


def test_a_field_in_which_nothing_was_chosen_is_passed_over(pages):
    # Browsers send an empty part with an empty name for it.
    answer = send(pages, ("", b""), ("IMG_1.jpg", sent(1)))
    assert answer.status_code == 303
    answer = send(pages, ("", b""))
    assert answer.status_code == 422
    assert "no photo was chosen; take or choose one first" in answer.text


def test_twenty_go_at_once_beside_an_empty_field_and_more_are_refused_in_words(pages):
    many = [(f"{n}.jpg", b"x") for n in range(21)]
    answer = send(pages, ("", b""), *many)
    assert answer.status_code == 422
    assert "21 photos at once are too many: send 20 at a time; none of these was kept" in answer.text
    assert answer.text.count("Not kept") == 0
    assert send(pages, ("", b""), *many[:20]).text.count("Not kept") == 20


def test_one_that_is_no_photo_is_named_and_the_others_are_kept(pages):
    before = len(photos(pages))
    answer = send(pages, ("a.jpg", sent(1)), ("../../secret/b.jpg", b"%PDF-1.7"))
    assert answer.status_code == 422
    assert "Not kept: b.jpg holds PDF: save or share it as JPEG or PNG and send that" in answer.text
    assert "secret" not in answer.text
    assert len(photos(pages)) == before + 1


def test_a_photo_is_sent_to_be_kept_by_the_browser_and_taken_for_nothing_else(pages):
    send(pages, ("a.jpg", sent(1)))
    photo = photos(pages)[-1]
    for address in (photo["address"], photo["small_address"]):
        answer = pages.get(address)
        assert (answer.status_code, answer.headers["content-type"], answer.content[:3]) == (200, "image/jpeg", b"\xff\xd8\xff")
        assert answer.headers["cache-control"] == "private, max-age=31536000, immutable"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"


@pytest.mark.parametrize(
    "path",
    [
        "/photos/../../demo.db", "/photos/..%2f..%2fdemo.db", "/photos/%2e%2e%2fdemo.db.jpg", f"/photos/{'a' * 64}.jpg",
        f"/photos/{'A' * 64}.jpg", "/photos/small.jpg", "/photos/x/small.jpg", "/photos/%00.jpg", f"/photos/{'a' * 64}%0a.jpg",
    ],
)  # fmt: skip
def test_no_path_finds_anything_but_a_photo_of_the_book(pages, path):
    assert pages.get(path).status_code == 404


def test_a_small_picture_that_got_lost_is_made_again(pages, open_door):
    send(pages, ("a.jpg", sent(1, size=(900, 600))))
    photo = photos(pages)[-1]
    open_door.photo_file(photo["sha256"]).small.unlink()
    assert pages.get(photo["small_address"]).status_code == 200


def test_two_photos_are_laid_side_by_side_as_chosen(pages):
    send(pages, ("a.jpg", sent(1)), ("b.jpg", sent(2)), ("c.jpg", sent(3)))
    one, two = (photo["entry"] for photo in photos(pages)[-2:])
    page = pages.get(f"{PAGE}?a={two}&b={one}").text
    shown = page[page.index("Before and after") :]
    by_entry = {photo["entry"]: photo["address"] for photo in photos(pages)}
    assert 0 < shown.index(by_entry[two]) < shown.index(by_entry[one])
    assert pages.get(f"{PAGE}?a=nope&b=%00").status_code == 200


def test_a_photo_is_taken_out_with_a_tap_and_erased_where_that_is_ticked(pages):
    send(pages, ("a.jpg", sent(1)))
    photo = photos(pages)[-1]
    answer = pages.post(f"{PAGE}/out", data={"photo": photo["entry"], "erase": "yes"})
    assert (answer.status_code, answer.headers["location"]) == (303, PAGE)
    assert photo["entry"] not in [one["entry"] for one in photos(pages)]
    assert pages.get(photo["address"]).status_code == 404


def test_the_api_takes_base64_and_says_what_was_kept_and_why_not(pages):
    good = base64.b64encode(sent(7)).decode()
    body = {"photos": [{"name": "a.jpg", "data": good}, {"name": "b.jpg", "data": "bm9wZQ=="}], "step": "rinse"}
    answer = pages.post(API, json=body)
    assert (answer.status_code, answer.json()["kept"][0]["step"]) == (201, "rinse")
    assert answer.json()["refused"][0]["why"]["text"] == "b.jpg is not a picture this program knows: send a JPEG or PNG"
    answer = pages.post(API, json={"photos": [{"data": "not base 64!"}]})
    assert (answer.status_code, answer.json()["error"]["text"]) == (422, "the picture is not in base 64 (RFC 4648); send it so")
    answer = pages.post(API, json={"photos": [{"data": "bm9wZQ=="}]})
    assert answer.json()["error"]["key"] == "picture.none"


@pytest.mark.parametrize(
    ("headers", "status", "words"),
    [
        ({"Content-Length": "250000001", "Content-Type": "multipart/form-data; boundary=x"}, 413, "this is larger than 250 MB"),
        ({"Content-Length": "60000001", "Content-Type": "application/json"}, 413, "this is larger than 60 MB"),
        ({"Content-Length": "ten", "Content-Type": "application/json"}, 413, "this is larger than 60 MB"),
        ({"Transfer-Encoding": "chunked"}, 411, "this does not say how long it is, so it was not read"),
    ],
)
def test_what_is_too_large_is_turned_away_by_what_it_says_of_itself(pages, headers, status, words):
    answer = pages.post(API, headers=headers)
    assert answer.status_code == status
    assert answer.json()["error"]["text"].startswith(words)


COLOUR = f"/specimens/{IN_TUB}/colour"


def test_two_taps_mark_card_and_bone_and_a_third_writes_the_look_down(pages):
    # The demo's drawings have their card at 16, 20 and bone at 50, 46 in a hundred.
    entry = photos(pages)[-1]["entry"]
    first = pages.get(COLOUR, params={"photo": entry})
    assert "1. Tap the card" in first.text
    second = pages.get(COLOUR, params={"photo": entry, "wide": "320", "at.x": "51", "at.y": "48"})
    assert "2. Tap the bone" in second.text
    assert 'name="card" value="11.9 14.7 8.0 10.7"' in second.text
    marked = {"photo": entry, "card": "11.9 14.7 8.0 10.7", "wide": "320", "at.x": "160", "at.y": "110", "against": "grey"}
    third = pages.get(COLOUR, params=marked)
    assert "What comes out" in third.text
    before = pages.get(f"{API}/colour").json()["courses"]
    kept = {**marked, "bone": "46.0 40.5 8.0 10.7", "setting": "window"}
    assert pages.post(COLOUR, data=kept).status_code == 303
    assert len(pages.get(f"{API}/colour").json()["courses"]) == len(before) + 1
    assert "L*" in pages.get(f"/specimens/{IN_TUB}").text


def test_a_box_that_cannot_be_is_said_beside_the_form(pages):
    entry = photos(pages)[-1]["entry"]
    answer = pages.get(COLOUR, params={"photo": entry, "card": "90 90 20 20", "bone": "x"})
    assert answer.status_code == 422
    assert "is no box of the bone" in answer.text
    for odd in ({"at.x": "nan", "at.y": "1e999"}, {"at.x": "", "at.y": ""}, {"wide": "inf"}, {"size": "nan"}):
        assert pages.get(COLOUR, params={"photo": entry, **odd}).status_code == 200


def test_the_colour_of_the_demo_went_lighter_in_one_setting(pages):
    (course,) = pages.get(f"{API}/colour").json()["courses"]
    assert (course["looks"], course["setting"]) == (3, "bench lamp, room phone")
    assert course["lighter"] > 5
    page = pages.get(COLOUR).text
    assert course["title"]["text"][1:] in page


def test_the_api_measures_and_writes_down(pages):
    entry = photos(pages)[-1]["entry"]
    body = {"photo": entry, "card": "10 12 12 16", "bone": "44 40 12 12", "against": "18%", "setting": "s"}
    answer = pages.post(f"{API}/colour", json=body)
    assert (answer.status_code, answer.json()["schema"]) == (201, "photo.colour/1")
    answer = pages.post(f"{API}/colour", json={**body, "bone": "11 13 12 16"})
    assert answer.json()["error"]["text"].startswith("the two boxes overlap")
