"""The door's colonies: write a look down, and ask what needs the log."""

from collections.abc import Callable
from datetime import datetime
from typing import Any, TypeVar

from bonebench.records.book import Book, Reading
from bonebench.services.colony import boxes, keep, notepiece
from bonebench.services.colony.boxes import BoxTyped
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

    def note_piece(self, tag: str, *, who: str | None = None, **said: str | None) -> tuple[str, ...]:
        """Write down a look at a piece, its smell or its weight; returns the entries' ids."""
        kept: Kept = self.write(lambda tx, pen: notepiece.note_piece(tx, pen, tag, **said), who)
        return tuple(entry.id for entry in kept.entries)

    def set_box(self, typed: BoxTyped, who: str | None = None) -> str:
        """Set a beetle box; returns the entry's id."""
        kept: Kept = self.write(lambda tx, pen: boxes.set_box(tx, pen, typed), who)
        return kept.entries[0].id

    def read(self, act: Callable[[Reading, datetime], T]) -> T:
        """Ask something of the log that loads more than most commands need; the asker brings it along."""
        with self.book.reading() as tx:
            return act(tx, self.now())
