"""The door's parts, tags, lots and places: what keeps a specimen whole."""

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import Any, TypeVar

from bonebench.records.book import Book, Reading
from bonebench.services.log.record import Kept
from bonebench.services.lots import do as lots
from bonebench.services.lots.cards import LotCard, LotListCard
from bonebench.services.parts import do as parts
from bonebench.services.parts.cards import PartListCard, WaysCard
from bonebench.services.parts.do import ToWrite
from bonebench.services.places import do as places
from bonebench.services.places.cards import PlaceBookCard, PlaceListCard
from bonebench.services.places.do import Count
from bonebench.services.specimens.cards import LoggedCard
from bonebench.services.tags import do as tags
from bonebench.services.tags.cards import IssuedCard, TagsCard
from bonebench.shop.entries import values_of

T = TypeVar("T")


class Parts:
    """Mixed into the door; ``write``, ``tap``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    tap: Callable[..., LoggedCard]
    book: Book
    now: Callable[[], datetime]

    def _reading(self, act: Callable[[Reading], T]) -> T:
        with self.book.reading() as tx:
            return act(tx)

    # -- parts of one specimen -------------------------------------------------------------------------------------------------

    def parts(self, tag: str) -> PartListCard:
        """Return the parts of a specimen, each with its place."""
        return self._reading(lambda tx: parts.listed(tx, tag))

    def part_ways(self, part: str, place: str | None = None) -> WaysCard:
        """Return which baths a part may enter; refused in words where it stays out of the place that is named."""
        return parts.ways(part) if place is None else self._reading(lambda tx: parts.may_enter(tx, part, place))

    def note_part(
        self, asked: Callable[[Reading], ToWrite], *, at: str | None = None, about: str | None = None, who: str | None = None
    ) -> LoggedCard:
        """Store what was asked for about a part, the condition or a mark: one of the functions of `services.parts.do`."""
        wanted = self._reading(asked)
        return self.tap(
            kind=wanted.what.KIND, subjects=wanted.subjects, values=values_of(wanted.what), at=at, about=about, who=who
        )  # fmt: skip

    # -- tags ------------------------------------------------------------------------------------------------------------------

    def tags(self) -> TagsCard:
        """Return the blocks of tags that were handed out."""
        return self._reading(tags.listed)

    def issue_tags(self, count: int, roll: str | None = None, who: str | None = None) -> IssuedCard:
        """Hand out a block of tags."""
        issued: IssuedCard = self.write(lambda tx, pen: tags.issue(tx, pen, count, roll), who)
        return issued

    def retag(self, tag: str, to: str | None = None, who: str | None = None) -> Kept:
        """Put another tag on a specimen."""
        kept: Kept = self.write(lambda tx, pen: tags.retag(tx, pen, tag, to), who)
        return kept

    # -- lots ------------------------------------------------------------------------------------------------------------------

    def lots(self) -> LotListCard:
        """Return the lots of the room."""
        return self._reading(lots.listed)

    def lot(self, name: str) -> LotCard:
        """Return one lot."""
        return self._reading(lambda tx: lots.show(tx, name))

    def join_lot(self, name: str, tags_: Sequence[str], who: str | None = None) -> LotCard:
        """Treat specimens together from now on."""
        self.write(lambda tx, pen: lots.join(tx, pen, name, tags_), who)
        return self.lot(name)

    def split_lot(self, name: str, tags_: Sequence[str] = (), who: str | None = None) -> LotListCard:
        """Take specimens out of a lot, or all of them."""
        self.write(lambda tx, pen: lots.split(tx, pen, name, tags_), who)
        return self.lots()

    # -- places ----------------------------------------------------------------------------------------------------------------

    def places(self) -> PlaceListCard:
        """Return the places along the wall with what should be in each."""
        return self._reading(places.listed)

    def place(self, name: str) -> PlaceBookCard:
        """Return what should be in a place, and what its last count found."""
        return self._reading(lambda tx: places.show(tx, name, self.now()))

    def count_place(self, name: str, counted: Count, who: str | None = None) -> PlaceBookCard:
        """Count a place, and return what is missing and what is too many."""
        self.write(lambda tx, pen: places.count(tx, pen, name, counted), who)
        return self.place(name)
