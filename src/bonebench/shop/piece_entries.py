"""What was seen of one piece with the beetles: the kind of entry about a head while it is eaten."""

from dataclasses import dataclass
from typing import ClassVar

from bonebench.shop.what import What


@dataclass(frozen=True)
class PieceSeen(What):
    """Somebody looked at a piece or put a nose to it: a ``grade`` in five words, a ``smell`` 0 none to 3 foul, or both."""

    KIND: ClassVar[str] = "piece-seen"
    grade: str | None = None
    smell: int | None = None


PIECE_KINDS: tuple[type[What], ...] = (PieceSeen,)
