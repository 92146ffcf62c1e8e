"""How long the pages take while people use them: five readers, each asking for the next page every two seconds, for twenty seconds.

Run by hand: ``python benchmarks/pages.py [SECONDS [READERS]]``. The program runs in a process of its own over a demo book, on
loopback only; nobody writes. Without a pause between requests one would measure a queue, not a room.
"""

import os
import platform
import random
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from datetime import UTC, datetime
from http.client import HTTPConnection
from pathlib import Path

from bonebench.demo.build import ensure_demo

READERS = 5
PAUSE_S = 2.0
PAGES = (
    "/", "/specimens", "/specimens/0Z9-S", "/room", "/add", "/mix?stock=35%25&target=3%25&volume=10+L", "/species", "/api/v1/today",
    "/healthz",
)  # fmt: skip


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def ask(port: int, path: str) -> float:
    """Ask for one page and return how long it took, in milliseconds."""
    begun = time.perf_counter()
    asked = HTTPConnection("127.0.0.1", port, timeout=30)
    asked.request("GET", path)
    answer = asked.getresponse()
    answer.read()
    asked.close()
    if answer.status != 200:
        raise RuntimeError(f"{path} answered {answer.status}")
    return 1000 * (time.perf_counter() - begun)


def read(port: int, first: int, seconds: float, begin_s: float, taken: dict[str, list[float]]) -> None:
    """Be one reader, who begins a little later than the others and on another page."""
    time.sleep(begin_s)
    end, at = time.perf_counter() + seconds, first
    while time.perf_counter() < end:
        path = PAGES[at % len(PAGES)]
        taken[path].append(ask(port, path))
        at += 1
        time.sleep(PAUSE_S)


def wait_for(port: int, server: "subprocess.Popen[bytes]") -> None:
    while True:
        if server.poll() is not None:
            raise RuntimeError("the program stopped before it answered")
        try:
            ask(port, "/healthz")
            return
        except OSError:
            time.sleep(0.1)


def measure(port: int, seconds: float, count: int) -> dict[str, list[float]]:
    """Let everybody read at once, and return what each page took."""
    rng = random.Random(8437)
    taken: dict[str, list[float]] = {path: [] for path in PAGES}
    readers = [threading.Thread(target=read, args=(port, n, seconds, rng.uniform(0, PAUSE_S), taken)) for n in range(count)]
    for reader in readers:
        reader.start()
    for reader in readers:
        reader.join()
    return taken


def row(name: str, ms: list[float], first: float) -> str:
    cuts = statistics.quantiles(ms, n=20, method="inclusive")
    return f"{name:44} {len(ms):6} {first:7.0f} {cuts[9]:7.0f} {cuts[18]:7.0f} {max(ms):7.0f}"


def main() -> None:
    """Print a table."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
    count = int(sys.argv[2]) if len(sys.argv) > 2 else READERS
    with tempfile.TemporaryDirectory() as folder:
        book, port = str(Path(folder) / "demo.db"), free_port()
        ensure_demo(book, datetime.now(UTC))  # noqa: TID251  a benchmark is a face
        server = subprocess.Popen(
            [sys.executable, "-m", "bonebench", "serve", "--port", str(port), "--book", book], stdout=subprocess.DEVNULL
        )
        try:
            wait_for(port, server)
            first = {path: ask(port, path) for path in PAGES}
            taken = measure(port, seconds, count)
        finally:
            server.terminate()
            server.wait(10)
    print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, load {os.getloadavg()[0]:.1f}")
    print(f"{count} readers, one request each every {PAUSE_S:g} s, {seconds:g} s; milliseconds")
    print(f"{'page':44} {'asked':>6} {'first':>7} {'p50':>7} {'p95':>7} {'most':>7}")
    for path, ms in taken.items():
        if len(ms) > 1:
            print(row(path, ms, first[path]))
    print(row("all", [one for ms in taken.values() for one in ms], statistics.mean(first.values())))


if __name__ == "__main__":
    main()
