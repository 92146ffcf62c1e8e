"""Scanning in a real browser: with a detector of its own the picture stays on the phone, without one the program reads it."""

import re

import pytest
from playwright.sync_api import expect

from tests.files.test_codes import photo
from tests.web.taps import FOX, IN_TUB
from tests.web.test_browser import address, browser, visit  # noqa: F401  the fixtures of the browser

pytestmark = pytest.mark.browser

# Chromium on a desk has no detector; a phone's has. This one finds what the test tells it, as the draft standard describes it
# (W3C Shape Detection API: getSupportedFormats, detect, rawValue).
DETECTOR = """
window.BarcodeDetector = class {
  static async getSupportedFormats() { return %s; }
  async detect(image) { if (image.width < 1) throw new Error("no image"); return %s.map((rawValue) => ({ rawValue })); }
};
"""


def sent_by(page) -> list[bytes]:
    """The bodies of what the page sends to /scan from now on."""
    found: list[bytes] = []
    page.on("request", lambda request: found.append(request.post_data_buffer or b"") if request.method == "POST" else None)
    return found


def choose(page, *texts: str) -> None:
    page.set_input_files("#scan-picture", {"name": "label.jpg", "mimeType": "image/jpeg", "buffer": photo(*texts)})


def with_detector(page, formats: str, codes: str):
    page.add_init_script(DETECTOR % (formats, codes))
    page.goto("/scan")
    return sent_by(page)


def test_without_a_detector_the_picture_is_sent_and_read(visit):  # noqa: F811
    page = visit("/scan")
    bodies = sent_by(page)
    choose(page, FOX)
    page.wait_for_url(re.compile(f"/specimens/{FOX}"))
    assert FOX.encode() not in bodies[0], "what was read there was not said here"


def test_with_a_detector_only_the_codes_are_sent(visit):  # noqa: F811
    page = visit("/")
    bodies = with_detector(page, '["qr_code"]', f'["{FOX}"]')
    choose(page, "milk")  # what the program itself would read
    page.wait_for_url(re.compile(f"/specimens/{FOX}"))
    assert FOX.encode() in bodies[0]
    assert b"label.jpg" not in bodies[0], "the picture stayed on the phone"


@pytest.mark.parametrize(("formats", "codes"), [('["ean_13"]', "[]"), ('["qr_code"]', "[]"), ('["qr_code"]', "null")])
def test_a_detector_that_finds_nothing_or_fails_leaves_it_to_the_program(visit, formats, codes):  # noqa: F811
    page = visit("/")
    with_detector(page, formats, codes)
    choose(page, FOX, IN_TUB)
    expect(page.locator("#found")).to_have_text("2 codes in the picture")


def test_without_scripts_the_button_sends_the_picture(visit):  # noqa: F811
    page = visit("/scan", java_script_enabled=False)
    choose(page, FOX)
    page.get_by_role("button", name="Read the picture").click()
    page.wait_for_url(re.compile(f"/specimens/{FOX}"))


def test_a_sheet_is_circled_and_typed_back_by_hand(visit, open_door):  # noqa: F811
    number = open_door.pencil_sheet().card.number
    rows = open_door.sheet(number).rows
    row = next(one.row for one in rows if IN_TUB in one.about)
    before = open_door.specimen(IN_TUB).state
    page = visit(f"/typed-back?sheet={number}")
    page.fill("#t-rows", f"{row} a, 99 b")
    page.get_by_role("button", name="Store the rows").click()
    expect(page.locator("#stored")).to_have_text(f"1 row of sheet {number}")
    expect(page.locator("#t-rows")).to_have_value("99 b")
    page.get_by_role("button", name="Take back").first.click()
    expect(page.locator("#stored")).to_have_count(0)
    assert open_door.specimen(IN_TUB).state == before
