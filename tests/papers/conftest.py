"""Papers of the invented room: its door on one fixed day."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bonebench.demo.build import make_demo
from bonebench.door import Door
from tests.papers.sheetcards import demo_door
from tests.web.conftest import DAY


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo book, made once."""
    path = tmp_path_factory.mktemp("papers") / "demo.db"
    make_demo(path, DAY)
    return path


@pytest.fixture
def demo(demo_file: Path, tmp_path: Path) -> Iterator[Door]:
    """The door over a copy of it."""
    with demo_door(demo_file, tmp_path) as door:
        yield door
