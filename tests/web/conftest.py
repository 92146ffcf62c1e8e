"""Fixtures for tests of the pages: the invented room of one fixed day, a door over a copy of it, and the program over that.

The demo is made once; every test works on a copy. ``pages`` asks the program in process; a browser has a server of its own.
"""

import random
import shutil
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from bonebench.demo.build import MORNING, make_demo
from bonebench.door import Door
from bonebench.door.kinds import KINDS
from bonebench.door.work import Work
from bonebench.records.attached import folder_of
from bonebench.web.app import make_app
from tests.conftest import Clock

# A Monday; the demo is made for half past seven of that day, in its own zone.
DAY = date(2026, 5, 4)
ZONE = ZoneInfo("America/Chicago")
ADDRESS = "http://127.0.0.1:8437"


@pytest.fixture
def now() -> datetime:
    """When the tests of the pages begin."""
    return datetime.combine(DAY, MORNING, ZONE)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo book, made once."""
    path = tmp_path_factory.mktemp("demo") / "demo.db"
    make_demo(path, DAY)
    return path


def copy_of(demo_file: Path, folder: Path) -> Path:
    """Copy the demo book with its photos into a folder."""
    shutil.copytree(folder_of(str(demo_file)), folder / "demo-files")
    return Path(shutil.copyfile(demo_file, folder / "demo.db"))


@pytest.fixture
def demo(demo_file: Path, tmp_path: Path) -> Path:
    """A copy of the demo book."""
    return copy_of(demo_file, tmp_path)


@pytest.fixture
def open_door(demo: Path, clock: Clock) -> Iterator[Door]:
    """The door over that copy, with a clock that stands."""
    with Door.open(demo, clock=clock, rng=random.Random(8437), writer="pages") as door:
        yield door


@pytest.fixture(scope="session")
def built(demo_file: Path) -> FastAPI:
    """The program, put together once; each test gives it its own door."""
    with Door.open(demo_file, clock=lambda: datetime.combine(DAY, MORNING, ZONE), rng=random.Random(8437), writer="pages") as door:
        return make_app(door)


@pytest.fixture
def program(built: FastAPI, open_door: Door) -> Iterator[FastAPI]:
    """The program over that door."""
    built.state.door = open_door
    built.state.work = Work(open_door, KINDS)
    yield built
    built.state.work.close()


@pytest.fixture
def pages(program: FastAPI) -> TestClient:
    """A browser without scripts that does not follow where it is sent."""
    return TestClient(program, base_url=ADDRESS, follow_redirects=False)
