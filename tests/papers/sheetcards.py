"""A day's work with accents, signs and a very long name in it, made by the demo's room through the door."""

import random
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from bonebench.door import Door, Intake
from tests.web.conftest import DAY, MORNING, ZONE

LONG = "Wśród Nocnej Ciszy Łódzka Straż Przyrody i Krajobrazu " * 4


@contextmanager
def demo_door(demo_file: Path, folder: Path) -> Iterator[Door]:
    """A door over a copy of the demo book, its clock standing at half past seven."""
    book = shutil.copyfile(demo_file, folder / "demo.db")
    now = datetime.combine(DAY, MORNING, ZONE)
    with Door.open(book, clock=lambda: now, rng=random.Random(8437), writer="papers") as door:
        yield door


def take_in_named(door: Door, owner: str) -> str:
    """Take one more in, for an owner of this name, and return its tag."""
    return door.add(Intake("red fox", owner=owner, permit="Pozwolenie № 7 ≤ 3 ☐ −20 °C")).tag
