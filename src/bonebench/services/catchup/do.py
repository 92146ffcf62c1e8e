"""Catch-up in an open transaction."""

from datetime import datetime

from bonebench.records.book import Reading
from bonebench.services.catchup.cards import CatchUpCard
from bonebench.services.catchup.show import catch_up_card
from bonebench.services.gather import everything_in_work, known_of


def catch_up(tx: Reading, now: datetime) -> CatchUpCard:
    """Return the walk through the room."""
    known = known_of(tx)
    return catch_up_card(everything_in_work(tx, known), known, now)
