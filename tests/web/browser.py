"""A real browser and a real server for the tests of the pages: Chromium of this machine, the program on a free port of loopback."""

import os
import shutil
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import uvicorn
from fastapi import FastAPI
from playwright.sync_api import Browser, Page, Playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "msedge")
SIZES = {"phone": {"width": 390, "height": 844}, "desk": {"width": 1280, "height": 900}}
QUIET = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync")  # fmt: skip
NO_BROWSER = "Chromium is not here: install it, or name it in BONEBENCH_CHROMIUM"


def find_chromium() -> Path | None:
    """Return the browser of this machine; playwright's own download is never used."""
    named = os.environ.get("BONEBENCH_CHROMIUM")
    found = named or next((where for where in map(shutil.which, NAMES) if where), None)
    return Path(found) if found else None


def launch(play: Playwright, chromium: Path) -> Browser:
    """Start the browser, quiet and without a window."""
    return play.chromium.launch(executable_path=str(chromium), args=list(QUIET))


@contextmanager
def serving(app: FastAPI) -> Iterator[str]:
    """Serve a program on a free port of this machine, and return its address."""
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False, lifespan="off"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        thread.start()
        try:
            while not server.started:
                if not thread.is_alive():
                    raise RuntimeError("the server stopped before it had started")
                thread.join(0.01)
            yield f"http://127.0.0.1:{listening.getsockname()[1]}"
        finally:
            server.should_exit = True
            thread.join(10)


@dataclass
class Watched:
    """Everything a page complained of: messages, failed requests, answers that are faults, requests to another host."""

    address: str
    complaints: list[str] = field(default_factory=list)

    def watch(self, page: Page) -> None:
        """Listen to a page from now on."""
        page.on("console", lambda message: self.complaints.append(f"console {message.type}: {message.text}"))
        page.on("pageerror", lambda fault: self.complaints.append(f"fault in a script: {fault}"))
        page.on("requestfailed", lambda request: self.complaints.append(f"no answer: {request.url} {request.failure}"))
        page.on("response", lambda answer: self._status(answer.status, answer.url))
        page.on("request", lambda request: self._host(request.url))

    def _status(self, status: int, url: str) -> None:
        if status >= 400:
            self.complaints.append(f"{status}: {url}")

    def _host(self, url: str) -> None:
        if not url.startswith((f"{self.address}/", "data:")):
            self.complaints.append(f"another host: {url}")
