"""Renders every template with invented cards and takes pictures of them: `python -m tests.web.preview [FOLDER] [NAME ...]`.

The pages are served inside the browser under the same strict content security policy as the program serves them, so whatever
the policy blocks is printed; axe looks at each page in light and dark.
"""

import mimetypes
import sys
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Route, sync_playwright

from tests.web.sample_cards import PAGES, TEMPLATES, rendered

STATIC = TEMPLATES.parent / "static"
ORIGIN = "http://preview.test"
POLICY = "default-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
SIZES = {"phone": (390, 844), "desk": (1280, 900)}
LAUNCH = {
    "executable_path": "/usr/bin/chromium",
    "args": ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
             "--disable-component-update", "--disable-sync"],
}  # fmt: skip


def answer(route: Route) -> None:
    """Serve one file of the preview."""
    path = urlsplit(route.request.url).path
    if path.startswith("/static/"):
        file = STATIC / path.removeprefix("/static/")
        kind = mimetypes.guess_type(file.name)[0] or "text/plain"
        route.fulfill(body=file.read_bytes(), content_type=kind)
        return
    page = next(page for page in PAGES if f"/preview/{page.name}" == path)
    route.fulfill(body=rendered(page), content_type="text/html; charset=utf-8", headers={"Content-Security-Policy": POLICY})


def look(browser: Browser, folder: Path, size: str, scheme: Any, names: list[str]) -> None:
    """Take pictures at one size in one scheme, and print what is wrong."""
    width, height = SIZES[size]
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=scheme, has_touch=size == "phone")
    context.route("**/*", answer)
    tab = context.new_page()
    tab.on("console", lambda message: print(f"  {size} {scheme}: {message.text}"))
    for page in PAGES:
        if names and page.name not in names:
            continue
        tab.goto(f"{ORIGIN}/preview/{page.name}")
        wide = tab.evaluate("document.documentElement.scrollWidth")
        if wide > width:
            print(f"  {page.name} {size}: {wide} px wide")
        for fault in Axe().run(tab).response["violations"]:
            print(f"  {page.name} {size} {scheme}: {fault['id']}: {fault['help']}")
            for node in fault["nodes"][:4]:
                print(f"      {node['html'][:160]}\n      {node['failureSummary'][:300]}")
        tab.screenshot(path=folder / f"{page.name}-{size}-{scheme}-top.png")
        tab.screenshot(path=folder / f"{page.name}-{size}-{scheme}.png", full_page=True)
    context.close()


def main() -> None:
    """Look at every page at both sizes in both schemes."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else "/tmp/bonebench-preview")
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as play:
        browser = play.chromium.launch(**LAUNCH)
        for size in SIZES:
            for scheme in ("light", "dark"):
                look(browser, folder, size, scheme, sys.argv[2:])
        browser.close()
    print(f"pictures are in {folder}")


if __name__ == "__main__":
    main()
