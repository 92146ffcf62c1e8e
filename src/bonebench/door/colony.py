"""The door's colonies: write a look down, and ask what needs the log."""

from collections.abc import Callable
from datetime import datetime
from typing import Any, TypeVar

from bonebench.records.book import Book, Reading
from bonebench.services.colony import keep
from bonebench.services.colony.keep import Look
from bonebench.services.log.record import Kept

T = TypeVar("T")


class Colonies:
    """Mixed into the door; ``write``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    book: Book
    now: Callable[[], datetime]

    def note_colony(self, look: Look, who: str | None = None) -> str:
        """Write down what was seen of a colony; returns the entry's id."""
        kept: Kept = self.write(lambda tx, pen: keep.note_look(tx, pen, look), who)
        return kept.entries[0].id

    def read(self, act: Callable[[Reading, datetime], T]) -> T:
        """Ask something of the log that loads more than most commands need; the asker brings it along."""
        with self.book.reading() as tx:
            return act(tx, self.now())
