"""A real week in the browser: somebody brings a head, seven days of taps, ten silent days and the walk after them, a hand-over."""

import pytest
from playwright.sync_api import expect

from tests.web.demo_tags import READY

# The fixtures of the browser live beside their first tests.
from tests.web.test_browser import add_a_raccoon, address, browser, told, visit  # noqa: F401

pytestmark = pytest.mark.browser


def first_taps(page, most: int = 4) -> int:
    """Tap the first button of the first few tasks about specimens, one at a time, as hands would; return how many were stored."""
    stored = 0
    for _ in range(most):
        page.goto("/")
        buttons = page.locator("article.task:has(a.tag) .taps > form:first-child button.lead")
        if buttons.count() == 0:
            break
        buttons.first.click()
        expect(told(page)).to_contain_text("Stored:", timeout=30_000)
        stored += 1
    return stored


def fewer_left(page, door, before: int) -> int:
    """Wait until the tap has reached the book, and return how many pieces are left to speak of."""
    for _ in range(300):
        left = door.catch_up().left
        if left < before:
            return left
        page.wait_for_timeout(100)
    raise AssertionError(f"{before} pieces are still to speak of after half a minute")


def test_intake_a_week_of_taps_catch_up_after_ten_silent_days_and_hand_over(visit, clock, open_door):  # noqa: F811
    page = visit("/", "phone")
    tag = add_a_raccoon(page)
    assert open_door.specimen(tag).state.held is None

    before = {row.tag: (row.step, row.place) for row in open_door.specimens().rows}
    for _ in range(7):
        assert first_taps(page) >= 1
        clock.advance(days=1)
    after = {row.tag: (row.step, row.place) for row in open_door.specimens().rows}
    assert sum(after.get(one) != where for one, where in before.items()) >= 5

    clock.advance(days=10)
    page.goto("/")
    expect(page.locator(".alerts")).to_contain_text("nobody wrote a word for")
    page.locator('a[href="/catch-up"]').first.click()
    left = open_door.catch_up().left
    assert left > 20
    while left:
        walk = page.locator("section.walk").filter(has=page.locator("button.lead")).first
        walk.locator("button.lead").first.click()
        left = fewer_left(page, open_door, left)
        page.goto("/catch-up")
    page.goto("/catch-up")
    expect(page.locator("#page")).to_contain_text("Everything in the room was spoken of lately")
    page.goto("/")
    expect(page.locator("#page")).not_to_contain_text("nobody wrote a word for")

    page.goto(f"/specimens/{READY}")
    if open_door.specimen(READY).state.status != "finished":
        page.get_by_role("button", name="Handed over").first.click()
        expect(told(page)).to_contain_text(f"Stored: {READY}")
    assert open_door.specimen(READY).state.status == "finished"
    assert READY not in {row.tag for row in open_door.specimens().rows}


def test_a_head_that_bit_somebody_waits_and_says_whom_to_ask(visit, open_door):  # noqa: F811
    page = visit("/", "phone")
    tag = add_a_raccoon(page, "Yes")
    held = open_door.specimen(tag)
    assert held.state.status == "held"
    expect(page.locator("#page")).to_contain_text("the health department, today")
    # It must not be frozen before they answered: the freezer is not where it was put.
    assert {part.place for part in held.parts} == {None}


def test_while_a_tap_is_on_its_way_the_buttons_show_that_no_other_is_taken(visit):  # noqa: F811
    page = visit("/", "phone")
    waiting = []
    page.route("**/entries", lambda route: waiting.append(route))  # noqa: PLW0108  playwright wants a function of its own
    page.locator("article.task .taps button.lead").first.click()
    expect(page.locator("article.task .taps button.lead").nth(1)).to_be_disabled()
    waiting[0].continue_()
    expect(told(page)).to_contain_text("Stored:", timeout=30_000)
    expect(page.locator("article.task .taps button.lead").first).to_be_enabled()
