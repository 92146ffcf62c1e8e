"""The door's photos: keep what was taken in, list it, find a file, take one out."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from bonebench.records import attached
from bonebench.records.book import Book
from bonebench.services.log.record import Kept
from bonebench.services.photos import keep, looks, show
from bonebench.services.photos.cards import PhotoFile, PhotoOutCard, PhotosAddedCard, PhotosCard, RefusedPhoto, Taken
from bonebench.services.photos.keep import About
from bonebench.services.photos.looks import ColourLook
from bonebench.shop.photo_entries import ColourMeasured


class Photos:
    """Mixed into the door; ``write``, ``book`` and ``now`` are the door's own."""

    write: Callable[..., Any]
    book: Book
    now: Callable[[], datetime]

    def photos(self, tag: str) -> PhotosCard:
        """Return the photos of one specimen, in the order of the work."""
        with self.book.reading() as tx:
            return show.photos_of(tx, tag, self.book.files)

    def keep_photos(
        self, about: About, taken: list[Taken], refused: list[RefusedPhoto] | None = None, who: str | None = None
    ) -> PhotosAddedCard:
        """Keep photos that were opened and cleaned: the files first, then in one short transaction what they are of."""
        with self.book.reading() as tx:
            keep.check_about(tx, about)
            ready = [keep.known_before(tx, self.book.files, one) for one in taken]
        for one in ready:
            keep.lay_down(self.book.files, one)
        kept: Kept = self.write(lambda tx, pen: keep.note_photos(tx, pen, about, ready), who)
        with self.book.reading() as tx:
            return show.added(tx, kept, self.book.files, about.tag, refused or [])

    def photo_file(self, sha256: str) -> PhotoFile:
        """Return where one photo lies."""
        with self.book.reading() as tx:
            return show.file_of(tx, self.book.files, sha256)

    def colour_looks(self, tag: str) -> tuple[ColourLook, ...]:
        """Return the colours measured of one specimen, oldest first."""
        with self.book.reading() as tx:
            return looks.looks_of(tx, tag)

    def keep_colour(self, tag: str, photo: str, what: ColourMeasured, who: str | None = None) -> str:
        """Write down a colour that was measured in a photo; returns the entry's id."""
        kept: Kept = self.write(lambda tx, pen: looks.keep_look(tx, pen, tag, photo, what), who)
        return kept.entries[0].id

    def take_photo_out(self, tag: str, photo: str, *, erase: bool = False, who: str | None = None) -> PhotoOutCard:
        """Take one photo out of a specimen's; with ``erase`` its file goes, too, once nothing shows it any more."""
        entry, erased = self.write(lambda tx, pen: keep.take_out(tx, pen, tag, photo, erase=erase), who)
        if erased:
            attached.erase(self.book.files, attached.Named(entry.what.sha256, "image/jpeg", 0))
        with self.book.reading() as tx:
            return show.taken_out(tx, entry, erase=erase, erased=erased)
