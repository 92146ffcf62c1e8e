"""What was acknowledged survives a program that is killed in the middle of writing."""

import random
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

from bonebench.door import Door
from bonebench.records import entries

from .rows import kept_states

WRITER = Path(__file__).with_name("keeps_writing.py")
ENOUGH = 40


def _acknowledged_until_killed(where: str) -> list[str]:
    with subprocess.Popen([sys.executable, str(WRITER), where], stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        seen = [writer.stdout.readline().strip() for _ in range(ENOUGH)]
        assert writer.poll() is None, "it ended by itself"
        writer.kill()
        # What it still said before it died was acknowledged too; a last line cut short was not.
        rest = writer.stdout.read()
    return seen + rest.split("\n")[:-1]


def test_every_acknowledged_entry_is_there_after_the_program_was_killed(where: str):
    acknowledged = _acknowledged_until_killed(where)
    assert len(acknowledged) == len(set(acknowledged)) >= ENOUGH
    later = datetime(2026, 5, 5, 14, 0, tzinfo=UTC)
    with Door.open(where, clock=lambda: later, rng=random.Random(2), writer="after") as door:
        with door.book.reading() as tx:
            stored = {entry.id for entry in entries.all_entries(tx)}
        assert set(acknowledged) <= stored
        assert door.check().whole
        before = kept_states(door.book)
        door.rebuild()
        assert kept_states(door.book) == before
