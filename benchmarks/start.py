"""How long the command line takes to answer, beside what it cannot be quicker than. Run by hand: ``python benchmarks/start.py``."""

import os
import platform
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from bonebench.demo.build import ensure_demo

RUNS = 5


def best_of(command: list[str], env: dict[str, str]) -> float:
    """Return the quickest of a few runs, in seconds."""
    taken = []
    for _ in range(RUNS):
        begun = time.perf_counter()
        subprocess.run(command, env=env, check=True, capture_output=True)
        taken.append(time.perf_counter() - begun)
    return min(taken)


def main() -> None:
    """Print a table."""
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with tempfile.TemporaryDirectory() as folder:
        book = str(Path(folder) / "demo.db")
        ensure_demo(book, datetime.now(UTC))  # noqa: TID251  a benchmark is a face
        rows = {
            "python -c pass": [sys.executable, "-c", "pass"],
            "python -c 'import sqlalchemy'": [sys.executable, "-c", "import sqlalchemy"],
            "bonebench --help": [sys.executable, "-m", "bonebench", "--help"],
            "bonebench today (40 specimens)": [sys.executable, "-m", "bonebench", "today", "--book", book],
        }
        print(f"{platform.machine()}, {os.cpu_count()} cores, Python {platform.python_version()}, best of {RUNS}")
        for name, command in rows.items():
            print(f"{name:34} {best_of(command, env):.2f} s")


if __name__ == "__main__":
    main()
