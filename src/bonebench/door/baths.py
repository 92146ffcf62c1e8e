"""The door's baths: say that one was made and what happened to it, show one, list them."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from bonebench.records.book import Book
from bonebench.services.baths import do as baths
from bonebench.services.baths import keep
from bonebench.services.baths.bathcard import BathCard, BathListCard
from bonebench.services.baths.keep import Happened, NewBath
from bonebench.services.baths.workcards import DegreaseCard, TitrateCard
from bonebench.services.log.record import Kept
from bonebench.units import read_number


class Baths:
    """Mixed into the door; ``write``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    book: Book
    now: Callable[[], datetime]

    def bath(self, name: str) -> BathCard:
        """Return one bath, whole."""
        with self.book.reading() as tx:
            return baths.show(tx, name, self.now())

    def baths(self, *, everything: bool = False) -> BathListCard:
        """Return the baths that stand in the room, or every one there ever was."""
        with self.book.reading() as tx:
            return baths.listed(tx, self.now(), everything=everything)

    def degrease(self, *, species: str, temperature: str | None = None, head: str | None = None) -> DegreaseCard:
        """Say how long a head stays in the pot, by the class table and the room's own pots."""
        with self.book.reading() as tx:
            return baths.degrease(tx, self.now(), species, temperature, head)

    def make_bath(self, new: NewBath, who: str | None = None) -> BathCard:
        """Say that a bath was made."""
        kept: Kept = self.write(lambda tx, pen: keep.make(tx, pen, new), who)
        return self.bath(kept.entries[0].subjects[0].removeprefix("bath:"))

    def note_titration(self, bath: str, card: TitrateCard, measured: Mapping[str, str], who: str | None = None) -> str:
        """Write a titration down as a test of a bath, with what was read off; returns the entry's id."""
        values = {
            "how": card.by, "strength": f"{100 * card.strength:.6g}% w/w", "low": f"{100 * card.low:.6g}% w/w",
            "high": f"{100 * card.high:.6g}% w/w",
        }  # fmt: skip
        numbers = {name: read_number(text, name.replace("_", " ")) for name, text in measured.items() if text}
        return self.note_bath(Happened(bath=bath, what="tested", values=values, measured=numbers), who)[0]

    def note_bath(self, happened: Happened, who: str | None = None) -> tuple[str, BathCard]:
        """Say what happened to a bath; returns the entry's id and the bath as it is then."""
        kept: Kept = self.write(lambda tx, pen: keep.note(tx, pen, happened), who)
        entry = kept.entries[0]
        return entry.id, self.bath(entry.subjects[0].removeprefix("bath:"))
