"""The cards of photos. Light: nothing here opens a picture."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from bonebench.errors import UnknownName
from bonebench.records.attached import Named
from bonebench.services.cards import Basis, Caution, Flag, Said


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo that was opened and cleaned, not yet stored: what will lie in the folder, and what is known of it."""

    name: str
    large: bytes
    small: bytes
    width_px: int
    height_px: int
    sha256: str
    sent_sha256: str
    taken: datetime | None

    @property
    def named(self) -> Named:
        """How the folder names it."""
        return Named(self.sha256, "image/jpeg", len(self.large))


@dataclass(frozen=True)
class RefusedPhoto:
    """A file that could not be taken in, and why."""

    name: str
    why: Said


@dataclass(frozen=True, slots=True)
class PhotoFile:
    """Where a photo lies; the small one may have to be made again."""

    sha256: str
    large: Path
    small: Path


@dataclass(frozen=True)
class PhotoCard:
    """One photo: what it is of, when, and where a page finds it; ``here`` is False where its file is missing."""

    entry: str
    sha256: str
    address: str
    small_address: str
    step: str | None
    visit: int
    part: str | None
    note: str | None
    at: datetime
    camera_said: str | None
    who: str | None
    width_px: int | None
    height_px: int | None
    here: bool


@dataclass(frozen=True)
class PhotosCard:
    """The photos of one specimen, in the order of the work; ``now`` is the step a new photo belongs to unless said."""

    tag: str
    species: str
    now: str
    steps: tuple[str, ...]
    parts: tuple[str, ...]
    photos: tuple[PhotoCard, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "photo.list/1"

    def photo(self, entry: str | None) -> PhotoCard | None:
        """Return one of them by its entry."""
        return next((photo for photo in self.photos if photo.entry == entry), None)

    def named(self, name: str) -> PhotoCard:
        """Return one of them by its entry or the beginning of its file's name; refuses one that is not there."""
        found = self.photo(name) or next((p for p in self.photos if len(name) >= 4 and p.sha256.startswith(name.casefold())), None)
        if found is None or not found.here:
            raise UnknownName(
                "photo.unknown", "{tag} has no photo '{name}'; `photo list {tag}` shows them", tag=self.tag, name=name
            )
        return found

    @property
    def pair(self) -> tuple[PhotoCard, PhotoCard] | None:
        """The first and the last that are there, for before and after; None while there are not two."""
        there = sorted((photo for photo in self.photos if photo.here), key=lambda photo: photo.at)
        return (there[0], there[-1]) if len(there) > 1 else None


@dataclass(frozen=True)
class PhotosAddedCard:
    """What came of adding photos: those kept, those that were there already, those refused and why."""

    tag: str
    step: str | None
    kept: tuple[PhotoCard, ...]
    already: tuple[PhotoCard, ...]
    refused: tuple[RefusedPhoto, ...]
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "photo.add/1"


@dataclass(frozen=True)
class PhotoOutCard:
    """What came of taking a photo out; ``erased`` says whether its file is gone, too."""

    tag: str
    entry: str
    sha256: str
    erased: bool
    basis: tuple[Basis, ...] = ()
    flags: tuple[Flag, ...] = ()
    cautions: tuple[Caution, ...] = ()
    schema: str = "photo.take-out/1"
