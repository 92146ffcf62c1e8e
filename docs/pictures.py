"""Make the README's pictures from the running program: ``python docs/pictures.py`` (needs Chromium and the test packages)."""

import random
import sys
import tempfile
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.web.browser import NO_BROWSER, SIZES, find_chromium, launch, serving  # noqa: E402

from bonebench.demo.build import MORNING, make_demo  # noqa: E402
from bonebench.demo.room import ZONE  # noqa: E402
from bonebench.door import Door  # noqa: E402
from bonebench.web.app import make_app  # noqa: E402

DAY = date(2026, 5, 4)
# A desk shows three columns, so it is cut sooner: a picture stays under 200 kB.
TALL = {"phone": 1400, "desk": 1000}
PICTURES = (
    ("today-phone", "phone", "/"),
    ("today-desk", "desk", "/"),
    ("room-desk", "desk", "/room"),
    ("specimen-phone", "phone", "/specimens/0ZC-M"),
    ("mix-phone", "phone", "/mix?stock=35%25&target=3%25&volume=10+L"),
)


def main() -> None:
    """Serve the demo of a fixed day and photograph it."""
    chromium = find_chromium()
    if chromium is None:
        sys.exit(NO_BROWSER)
    now = datetime.combine(DAY, MORNING, ZoneInfo(ZONE))
    with tempfile.TemporaryDirectory() as folder:
        make_demo(Path(folder) / "demo.db", DAY)
        door = Door.open(Path(folder) / "demo.db", clock=lambda: now, rng=random.Random(1), writer="pictures")
        with serving(make_app(door)) as address, sync_playwright() as play:
            browser = launch(play, chromium)
            for name, size, path in PICTURES:
                view = {"width": SIZES[size]["width"], "height": TALL[size]}
                page = browser.new_context(base_url=address, viewport=view, color_scheme="light").new_page()
                page.goto(path)
                page.screenshot(path=ROOT / "docs/pictures" / f"{name}.png")
            browser.close()
        door.close()


if __name__ == "__main__":
    main()
