"""Fixtures for tests on a real book: a copy of a migrated one, on both databases.

``where`` is the address of a fresh book, ``book`` that book open, ``door`` the door over it with starter places; ``clock`` is the
door's clock and can be moved. ``now`` is where it starts, ``rng`` the dice.
"""

import os
import random
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from bonebench.door import Door
from bonebench.records.book import Book
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import RoomDescribed
from bonebench.shop.fold import FOLD_VERSION
from bonebench.shop.identity import uuid7

from .servers import Cluster, NoServer, running_cluster

# A Monday, nine in the morning in the test room.
NOW = datetime(2026, 5, 4, 14, 0, tzinfo=UTC)
ZONE = "America/Chicago"


class Clock:
    """A clock that stands until it is moved."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def advance(self, *, days: float = 0, hours: float = 0, minutes: float = 0, seconds: float = 0) -> datetime:
        """Move on, and return the new time."""
        self.now += timedelta(days=days, hours=hours, minutes=minutes, seconds=seconds)
        return self.now


@pytest.fixture
def now() -> datetime:
    """When the tests begin."""
    return NOW


@pytest.fixture
def rng() -> random.Random:
    """The dice, thrown the same way every time."""
    return random.Random(8437)


@pytest.fixture
def clock(now: datetime) -> Clock:
    """The door's clock."""
    return Clock(now)


def _make(where: str | Path) -> None:
    Book.create(where, kind="room", book_id=uuid7(NOW, random.Random(1)), now=NOW, fold_version=FOLD_VERSION).close()


@pytest.fixture(scope="session")
def template_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new book as a file, made once; tests work on copies."""
    path = tmp_path_factory.mktemp("template") / "template.db"
    _make(path)
    return path


@pytest.fixture(scope="session")
def cluster() -> Iterator[Cluster]:
    """One PostgreSQL server for the whole session."""
    try:
        server = running_cluster()
        found = server.__enter__()
    except NoServer as missing:
        if os.environ.get("CI") == "true":
            pytest.fail(str(missing), pytrace=False)
        pytest.skip(str(missing))
    try:
        yield found
    finally:
        server.__exit__(None, None, None)


@pytest.fixture(scope="session")
def template_database(cluster: Cluster) -> str:
    """A new book as a database, made once."""
    name = cluster.create()
    _make(cluster.address(name))
    return name


@pytest.fixture
def sqlite_where(template_file: Path, tmp_path: Path) -> str:
    """A fresh book as a file."""
    return str(shutil.copyfile(template_file, tmp_path / "book.db"))


@pytest.fixture
def postgres_where(cluster: Cluster, template_database: str) -> Iterator[str]:
    """A fresh book as a database; tests that ask for it by name are marked ``postgres``."""
    name = cluster.create(like=template_database)
    yield cluster.address(name)
    cluster.drop(name)


@pytest.fixture
def empty_database(cluster: Cluster) -> Iterator[str]:
    """A database with nothing in it."""
    name = cluster.create()
    yield cluster.address(name)
    cluster.drop(name)


@pytest.fixture(params=["sqlite", pytest.param("postgres", marks=pytest.mark.postgres)])
def where(request: pytest.FixtureRequest) -> str:
    """A fresh, migrated, empty book, once on each database."""
    address: str = request.getfixturevalue(f"{request.param}_where")
    return address


@pytest.fixture
def book(where: str) -> Iterator[Book]:
    """That book, open."""
    opened = Book.open(where)
    yield opened
    opened.close()


@pytest.fixture
def door(book: Book, clock: Clock, rng: random.Random) -> Door:
    """The door over it, in a room with one place of each kind."""
    door = Door(book, clock=clock, rng=rng, writer="test")
    described = RoomDescribed("Test room", ZONE)
    door.write(lambda tx, pen: rooms.set_up(tx, pen, [described, *rooms.starter_places()]))
    return door
