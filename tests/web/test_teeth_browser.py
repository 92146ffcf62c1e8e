"""The chart of teeth in a real browser: with a glove, with the keyboard alone, without scripts."""

import pytest
from playwright.sync_api import expect

from tests.web.test_browser import address, browser, told, visit  # noqa: F401  fixtures

pytestmark = pytest.mark.browser


@pytest.fixture
def chart(pages):
    """The page of a red fox that came in, with every tooth in place."""
    tag = pages.post("/api/v1/specimens", json={"species": "red fox"}).json()["tag"]
    assert pages.post(f"/api/v1/specimens/{tag}/teeth", json={"rest": "in place"}).status_code == 201
    return f"/specimens/{tag}/teeth"


def tooth(page, code):
    return page.locator(f"label.tooth:has(input[value={code}])")


def test_a_state_and_two_teeth_are_four_taps_on_targets_a_glove_hits(visit, chart):  # noqa: F811
    page = visit(chart)
    # common practice, no source: 64 px is what a wet glove hits.
    sizes = [one.bounding_box() for one in page.locator("label.tooth").all()]
    assert min(min(size["width"], size["height"]) for size in sizes) >= 64
    page.locator("label.choice", has_text="loose").tap()
    tooth(page, "ULP4").tap()
    tooth(page, "LRC").tap()
    page.get_by_role("button", name="Write down the ticked teeth").tap()
    expect(told(page)).to_contain_text("ULP4, LRC loose")
    expect(tooth(page, "ULP4")).to_contain_text("loose")
    # What was just stored stands above the button, and does not hide it from the next tap.
    tooth(page, "URP4").tap()
    page.locator("label.choice", has_text="chipped").tap()
    page.get_by_role("button", name="Write down the ticked teeth").tap()
    expect(told(page)).to_contain_text("URP4 chipped")


def test_teeth_are_marked_by_the_keyboard_alone(visit, chart):  # noqa: F811
    page = visit(chart, "desk")
    page.get_by_label("in place", exact=True).first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.value") == "URI1"
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    expect(told(page)).to_contain_text("URI1 loose")


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_without_scripts_the_same_form_stores_the_same(visit, size, chart):  # noqa: F811
    page = visit(chart, size, java_script_enabled=False)
    page.locator("label.choice", has_text="glued").click()
    tooth(page, "LLM1").click()
    page.get_by_role("button", name="Write down the ticked teeth").click()
    expect(told(page)).to_contain_text("LLM1 glued")


def test_a_reader_hears_jaw_side_tooth_and_state(visit, chart):  # noqa: F811
    page = visit(chart)
    box = page.get_by_role("checkbox", name="ULP4, upper left fourth premolar, 208: in place")
    expect(box).to_have_count(1)
    expect(page.get_by_role("group", name="Upper jaw, animal's left")).to_contain_text("P4")
