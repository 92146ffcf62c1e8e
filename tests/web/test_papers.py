"""Print, type back, scan: through the pages as a browser without scripts sends them, and the same as JSON."""

import io

import pypdf
import pytest
from PIL import Image

from bonebench.web.pages.scan import page_of
from tests.files.test_codes import photo
from tests.web.taps import FOX, IN_TUB
from tests.web.test_templates import words

PRINTS = {
    "/print/labels.pdf?kind=specimen&waiting=1": "DEMO",
    f"/print/labels.pdf?kind=jar&tags={FOX}&stock=a4-3x7-63.5x38.1&start=5": "TEETH",
    "/print/labels.pdf?kind=place&place=white-tub": "NO METAL",
    "/print/labels.pdf?kind=test": "SHELF",
    "/print/labels.pdf?kind=guide": "How to read the holes",
    f"/print/labels.pdf?kind=strip&tags={FOX},{IN_TUB}&holes=gloved": FOX,
    "/print/labels.pdf?kind=blank&tags=K7Q-K": "K7Q-K",
    "/print/worksheet.pdf?minutes=30": "Work of",
    "/print/intake-form.pdf?copies=2": "Intake form",
    f"/print/care-card.pdf?tag={FOX}": "Care card",
}


def text_of(answer) -> str:
    assert answer.status_code == 200, words(answer.text)
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"].startswith("inline; filename=")
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(answer.content)).pages).split())


@pytest.mark.parametrize(("path", "said"), PRINTS.items())
def test_a_link_prints_a_paper(pages, path, said):
    assert said in text_of(pages.get(path))


REFUSED = {
    "/print/labels.pdf?kind=specimen": "no specimen is chosen",
    "/print/labels.pdf?kind=specimen&tags=XXX": "is not a tag of this room",
    f"/print/labels.pdf?tags={FOX}&stock=a5-1x1": "there is no label stock called a5-1x1",
    f"/print/labels.pdf?tags={FOX}&start=44": "printing starts at label 44",
    f"/print/labels.pdf?tags={FOX}&start=first": "'first' is not a whole number",
    f"/print/labels.pdf?tags={FOX}&right=wide": "'wide' is not a length",
    f"/print/labels.pdf?tags={FOX}&down=-30+mm": "nudged by 0.394 in or more",
    "/print/care-card.pdf?tag=": "is not a tag of this room",
    "/print/worksheet.pdf?on=tomorrow": "'tomorrow' is not a day",
    "/print/intake-form.pdf?copies=999": "999 forms are asked for",
}


@pytest.mark.parametrize(("path", "said"), REFUSED.items())
def test_what_cannot_be_printed_is_said_on_the_page_and_nothing_typed_is_lost(pages, path, said):
    answer = pages.get(path)
    assert answer.status_code == 422
    assert said in words(answer.text)
    for name in ("tags", "start", "right", "down", "on", "copies"):
        typed = next((part.partition("=")[2] for part in path.partition("?")[2].split("&") if part.startswith(f"{name}=")), "")
        assert not typed or f'value="{typed.replace("+", " ")}"' in answer.text


def test_the_print_page_says_what_a_label_can_stand_where_the_hand_is(pages):
    said = words(pages.get(f"/print?tags={FOX}").text)
    for line in ("send a test strip through your own pot and your own tub", "No metal goes into peroxide", "One skull to a pot"):
        assert line in said
    assert f'value="{FOX}"' in pages.get(f"/print?tags={FOX}").text


@pytest.mark.parametrize("path", ["/", f"/specimens/{FOX}", "/room"])
def test_print_is_reached_from_the_day_from_a_piece_and_from_a_place(pages, path):
    assert 'href="/print' in pages.get(path).text


def test_new_tags_are_given_out_by_a_form_that_is_sent_and_never_by_a_link(pages):
    first, second = (text_of(pages.post("/print/new-tags", data={"count": "2", "kind": "blank"})) for _ in range(2))
    assert first != second
    assert "Intake form" in text_of(pages.post("/print/new-tags", data={"count": "1", "kind": "form"}))
    assert pages.get("/print/labels.pdf?kind=blank&count=2").status_code == 422
    answer = pages.post("/print/new-tags", data={"count": "9999", "kind": "blank"})
    assert answer.status_code == 422
    assert "9999 tags on one roll; it takes 1 to 2000" in words(answer.text)


def printed_sheet(pages) -> str:
    text = text_of(pages.post("/print/pencil-sheet", data={}))
    return text.split("Pencil sheet ")[1].split(" ")[0]


def row_of(pages, number: str, tag: str) -> int:
    rows = pages.get(f"/api/v1/sheets/{number}").json()["rows"]
    return next(row["row"] for row in rows if tag in row["about"])


def test_a_sheet_is_printed_circled_and_typed_back(pages):
    number = printed_sheet(pages)
    row = row_of(pages, number, IN_TUB)
    next_step = pages.get(f"/api/v1/specimens/{IN_TUB}").json()["next_answers"][0]["values"]["step"]
    asked = words(pages.get(f"/typed-back?sheet={number}").text)
    assert f"Sheet {number}" in asked
    answer = pages.post("/typed-back", data={"sheet": number, "rows": f"{row} a at 7:15, 99 b"})
    said = words(answer.text)
    assert "1 row of sheet" in said
    assert "this sheet has no row 99" in said
    assert ">99 b</textarea>" in answer.text
    shown = pages.get(f"/api/v1/specimens/{IN_TUB}").json()
    assert shown["state"]["step"] == next_step
    again = pages.post("/typed-back", data={"sheet": number, "rows": f"{row} a at 7:15"})
    assert "was stored already" in words(again.text)


def test_a_wrong_sheet_keeps_what_was_typed(pages):
    answer = pages.post("/typed-back", data={"sheet": "1126A-8", "rows": "3 b"})
    assert answer.status_code == 422
    assert "is not the number of a sheet" in words(answer.text)
    assert ">3 b</textarea>" in answer.text


# -- scan ------------------------------------------------------------------------------------------------------------------------


def send(pages, data: bytes, name: str = "label.jpg"):
    return pages.post("/scan", files={"picture": (name, data, "image/jpeg")})


def test_one_code_in_a_picture_leads_to_its_page(pages):
    for text, path in ((FOX, f"/specimens/{FOX}"), ("place:big-pot", "/specimens?place=big-pot")):
        answer = send(pages, photo(text))
        assert (answer.status_code, answer.headers["location"]) == (303, path)
        assert pages.get(path).status_code == 200


def test_several_codes_are_listed_and_a_strange_one_can_be_looked_for(pages):
    answer = send(pages, photo(FOX, IN_TUB, "milk"))
    said = words(answer.text)
    assert "3 codes in the picture" in said
    assert "milk is nothing of this room" in said
    assert f'href="/specimens/{IN_TUB}"' in answer.text


def test_no_code_says_what_to_try(pages):
    out = io.BytesIO()
    Image.new("RGB", (300, 300), "white").save(out, "PNG")
    for answer in (send(pages, out.getvalue()), pages.post("/scan", data={})):
        assert answer.status_code == 200
        assert "No code was found in it" in words(answer.text)
        assert "Go nearer until the code fills a third" in words(answer.text)


def test_what_is_no_picture_is_said_in_words(pages):
    answer = send(pages, b"%PDF-1.4 nothing", "<b>.pdf")
    assert answer.status_code == 422
    assert "<b>.pdf" not in answer.text
    assert pages.post("/scan", headers={"content-length": "99000000"}, content=b"x").status_code == 422


def test_codes_that_the_browser_read_itself_are_enough(pages):
    assert pages.post("/scan", data={"code": [FOX]}).headers["location"] == f"/specimens/{FOX}"
    assert "2 codes" in words(pages.post("/scan", data={"code": [FOX, IN_TUB, FOX]}).text)


def test_a_tag_is_typed_beside_it_and_a_slip_is_offered_what_it_could_be(pages):
    assert pages.get(f"/scan?code={FOX.lower()}").headers["location"] == f"/specimens/{FOX}"
    wrong = FOX[:-1] + ("N" if FOX[-1] != "N" else "P")
    answer = pages.get(f"/scan?code={wrong}")
    assert answer.status_code == 422
    assert f'href="/specimens/{FOX}"' in answer.text


def test_the_holes_of_a_strip_are_typed_as_a_finger_tells_them(pages):
    from bonebench.papers.punch import holes_in_words

    assert pages.get(f"/scan?code={holes_in_words(FOX).replace(' ', '+')}").headers["location"] == f"/specimens/{FOX}"
    assert "a whole one has 1, 3 or 5" in words(pages.get("/scan?code=12+2+135+6").text)


def test_the_same_as_json(pages):
    sent = pages.post("/api/v1/scan/picture", files={"picture": ("x.jpg", photo(FOX), "image/jpeg")})
    assert [one["key"] for one in sent.json()["found"]] == [FOX]
    assert pages.post("/api/v1/scan", json={"codes": [IN_TUB]}).json()["found"][0]["kind"] == "specimen"
    number = printed_sheet(pages)
    row = row_of(pages, number, IN_TUB)
    card = pages.post("/api/v1/typed-back", json={"sheet": number, "rows": f"{row} a"}).json()
    assert (card["schema"], card["rows"][0]["stored"]) == ("typed-back/1", "stored")
    assert pages.post("/api/v1/typed-back", json={"sheet": "x", "rows": ""}).status_code == 422
    assert pages.post("/api/v1/scan/picture", files={"picture": ("x", b"no", "text/plain")}).status_code == 422


def test_a_key_stays_one_step_of_an_address():
    from bonebench.services.prints.cards import FoundCode

    assert page_of(FoundCode("x", "unknown", "../a?b&c", "x")) == "/find?q=..%2Fa%3Fb%26c"
