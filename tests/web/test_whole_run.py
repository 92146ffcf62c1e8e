"""From intake to hand-over in a real browser: a beaver, a bear and a deer with antlers, with teeth, photos, labels and a card.

The one journey that crosses every subject of a specimen; each subject has tests of its own.
"""

from io import BytesIO

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from tests.conftest import Clock
from tests.papers.rendering import rendered, words_of
from tests.web.browser import Watched
from tests.web.test_browser import address, browser, told, visit  # noqa: F401  fixtures

pytestmark = pytest.mark.browser
MOST_TAPS = 60
PATIENCE_MS = 30_000  # a busy machine plans a room of forty in seconds


def take_in(page: Page, species: str, owner: str, parts: str = "") -> str:
    """Add a specimen as somebody at the door would, and return its tag."""
    page.goto("/add")
    page.get_by_label("Species", exact=True).fill(species)
    page.locator("input[name=owner]").fill(owner)
    if parts:
        page.locator("details").evaluate_all("all => all.forEach(one => { one.open = true; })")
        page.locator("input[name=parts]").fill(parts)
    for question in page.locator(".door-questions fieldset").all():
        question.get_by_label("No", exact=True).check()
    page.get_by_role("button", name="Add it").click()
    expect(page.locator("h1")).to_contain_text(species)
    return page.locator("h1 .tag").inner_text()


def mark_teeth(page: Page, tag: str, state: str, *codes: str) -> None:
    page.goto(f"/specimens/{tag}/teeth")
    page.locator("label.choice", has_text=state).first.tap()
    for code in codes:
        page.locator(f"label.tooth:has(input[value={code}])").tap()
    page.get_by_role("button", name="Write down the ticked teeth").tap()
    expect(told(page)).to_contain_text(state)
    for code in codes:
        expect(told(page)).to_contain_text(code)


def photograph(page: Page, tag: str, colour: tuple[int, int, int]) -> None:
    page.goto(f"/specimens/{tag}/photos")
    picture = BytesIO()
    Image.new("RGB", (640, 480), colour).save(picture, "JPEG")
    page.locator("#p-choose").set_input_files({"name": "../of it.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()})
    page.get_by_role("button", name="Keep the photos").click()
    expect(page.locator("main img").first).to_be_visible()


def walk(page: Page, tag: str, clock: Clock) -> list[str]:
    """Tap what comes next until nothing does; return the words of the buttons."""
    taps = []
    for _ in range(MOST_TAPS):
        page.goto(f"/specimens/{tag}")
        button = page.locator("section:has(> .body > #next) .tap.lead").first
        if button.count() == 0:
            return taps
        taps.append(button.inner_text())
        clock.advance(days=2)
        button.click()
        expect(told(page)).to_contain_text("Stored", timeout=PATIENCE_MS)
    raise AssertionError(f"{tag} is not through after {taps}")


def pdf(page: Page, address: str, path: str) -> tuple[str, bytes]:  # noqa: F811
    answer = page.request.get(address + path)
    assert answer.ok, answer.text()
    return words_of(answer.body()), answer.body()


@pytest.mark.parametrize(
    ("species", "parts", "loose"),
    [
        ("American beaver", "", ("ULI1", "LRI1")),
        ("black bear", "", ("ULP4", "LLP4")),
        ("white-tailed deer", "antlers", ("LLI1", "LRI2")),
    ],
    ids=["beaver", "bear", "deer with antlers"],
)
def test_a_skull_goes_from_the_door_to_its_owner(visit, address, clock, species, parts, loose):  # noqa: F811
    watched = Watched(address)
    page = visit("/", "phone", watched)
    tag = take_in(page, species, "Ines Łącka", parts)

    photograph(page, tag, (150, 120, 90))
    mark_teeth(page, tag, "loose", *loose)
    mark_teeth(page, tag, "in the jar", *loose)

    text, labels = pdf(page, address, f"/print/labels.pdf?kind=specimen&tags={tag}")
    assert tag in text
    assert tag in {code.text for code in zxingcpp.read_barcodes(rendered(labels))}
    text, _ = pdf(page, address, f"/print/labels.pdf?kind=jar&tags={tag}")
    assert "TEETH" in text

    taps = walk(page, tag, clock)
    assert len(taps) > 10
    mark_teeth(page, tag, "glued", *loose)
    photograph(page, tag, (235, 232, 225))

    page.goto(f"/specimens/{tag}")
    expect(page.locator(".lede")).to_contain_text("handed over")
    card, _ = pdf(page, address, f"/print/care-card.pdf?tag={tag}")
    assert tag in card
    assert species in card
    if parts:
        assert "antlers" in page.locator("main").inner_text()
    # Going on before a picture of the page before has come aborts it; that is no fault.
    assert [one for one in watched.complaints if "ERR_ABORTED" not in one] == []
