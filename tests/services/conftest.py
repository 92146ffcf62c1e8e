"""A door on one database, for what depends on rules and not on how rows are kept; ``door`` is the one on both."""

import random
from collections.abc import Iterator

import pytest

from bonebench.door import Door
from bonebench.records.book import Book
from bonebench.services.rooms import do as rooms
from bonebench.shop.entries import RoomDescribed
from tests.conftest import ZONE, Clock


@pytest.fixture
def desk(sqlite_where: str, clock: Clock, rng: random.Random) -> Iterator[Door]:
    """The door over a book in a file, in a room with one place of each kind."""
    book = Book.open(sqlite_where)
    door = Door(book, clock=clock, rng=rng, writer="test")
    door.write(lambda tx, pen: rooms.set_up(tx, pen, [RoomDescribed("Test room", ZONE), *rooms.starter_places()]))
    yield door
    book.close()
