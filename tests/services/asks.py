"""Questions about a colony without a book, as the tests ask them."""

from datetime import UTC, datetime

from bonebench.door import NoBook
from bonebench.services.cards import Worked
from bonebench.services.colony.asked import Asked

NOBODY = NoBook(clock=lambda: datetime(2026, 1, 5, tzinfo=UTC))
SOME = Asked(size="3000", floor="0.5 m2", sites="20 L")
GAP = Asked(size="300", temperature="27 C;" * 10 + "-;" + "27 C;" * 13)


def ask(act, *colony, **asked):
    return NOBODY.work(lambda known: act(known, *colony, **asked))


def keys(card: Worked) -> set[str]:
    return {flag.what.key for flag in card.flags}
