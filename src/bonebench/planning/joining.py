"""Where new pieces join an order that is kept.

A piece that is promised a day goes directly behind the last one of the order that is promised for that day or sooner: it goes
before nobody who was promised sooner, and past all behind that who were promised later or not at all. A piece without a day goes
to the end. New pieces stand among themselves by their day, then as they came. One at a time or all at once, the order is the same.

A plan lets real pieces join so (`search.completed`), a replay those it draws (`draws`, in arrays; a test holds the two equal):
a promise holds only while both do the same.
"""

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date
from itertools import accumulate

Dated = tuple[str, date | None]


def joined(kept: Sequence[Dated], new: Sequence[Dated]) -> tuple[str, ...]:
    """Return the keys of an order with new ones in it; each comes with its day, new ones as they came."""
    sooner = [*accumulate((due or date.max for _, due in reversed(kept)), min)][::-1]
    order: list[str] = []
    at = 0
    for key, due in sorted(new, key=lambda one: one[1] or date.max):
        place = len(kept) if due is None else bisect_right(sooner, due)
        order += [*(other for other, _ in kept[at:place]), key]
        at = place
    return (*order, *(other for other, _ in kept[at:]))
