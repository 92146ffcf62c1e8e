"""The door's teeth: show the chart of a specimen, mark teeth, count the jar."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from bonebench.records.book import Book
from bonebench.services.log.record import Kept
from bonebench.services.teeth import do as teeth
from bonebench.services.teeth.cards import TeethChartCard, TeethToldCard
from bonebench.services.teeth.do import TeethTold


class Teeth:
    """Mixed into the door; ``write``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    book: Book
    now: Callable[[], datetime]

    def teeth(self, tag: str) -> TeethChartCard:
        """Return the teeth of one specimen."""
        with self.book.reading() as tx:
            return teeth.show(tx, tag, self.now())

    def tell_teeth(self, asked: TeethTold, who: str | None = None) -> TeethToldCard:
        """Store what was said about the teeth of a specimen."""
        kept: Kept = self.write(lambda tx, pen: teeth.tell(tx, pen, asked), who)
        with self.book.reading() as tx:
            return teeth.told(tx, kept, self.now())
