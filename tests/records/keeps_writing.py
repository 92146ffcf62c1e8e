"""Stores entries through the door, one transaction each, and says each id once it is stored; never ends by itself."""

import random
import sys
from datetime import UTC, datetime, timedelta
from itertools import count

from bonebench.door import Door, Intake

START = datetime(2026, 5, 4, 14, 0, tzinfo=UTC)


def main(where: str) -> None:
    now = [START]
    with Door.open(where, clock=lambda: now[0], rng=random.Random(5), writer="killed") as door:
        door.describe_room("Killed room", "UTC", "metric")
        fox = door.add(Intake("red fox"))
        print(fox.entry_id, flush=True)
        for number in count(1):
            now[0] = START + timedelta(minutes=number)
            values = {"mass_kg": 0.3 + number / 1000}
            print(door.tap(kind="weighed", subjects=(f"specimen:{fox.id}",), values=values).entry_id, flush=True)


if __name__ == "__main__":
    main(sys.argv[1])
