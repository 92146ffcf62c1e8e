"""The photos of one specimen, from its entries and the list of files."""

from datetime import datetime
from pathlib import Path

from bonebench.errors import UnknownName
from bonebench.records import attached, files, people
from bonebench.records.book import Reading
from bonebench.said import said
from bonebench.services.cards import Flag
from bonebench.services.gather import known_of, names_of_people, specimen_by_tag
from bonebench.services.log.record import Kept
from bonebench.services.log.states import story_of
from bonebench.services.photos.cards import PhotoCard, PhotoFile, PhotoOutCard, PhotosAddedCard, PhotosCard, RefusedPhoto
from bonebench.services.photos.keep import step_now
from bonebench.services.specimens.names import species_name
from bonebench.shop.entries import Entry, root_of, specimen_subject
from bonebench.shop.photo_entries import Photographed
from bonebench.shop.steps import STEP_ORDER


class _Look:
    """Reads what a photo's card needs, once for all of them."""

    def __init__(self, tx: Reading, folder: Path) -> None:
        self._tx, self._folder = tx, folder
        self._notes, self._people = people.note_texts(tx), names_of_people(tx)

    def card(self, entry: Entry) -> PhotoCard:
        what = entry.what
        assert isinstance(what, Photographed)
        row = files.one(self._tx, what.sha256) if attached.is_hash(what.sha256) else None
        here = row is not None and row.erased_at is None and (self._folder / row.named.name).is_file()
        part = next((s.split("/", 1)[1] for s in entry.subjects if "/" in s), None)
        return PhotoCard(
            entry=entry.id,
            sha256=what.sha256,
            address=f"/photos/{what.sha256}.jpg" if here else "",
            small_address=f"/photos/{what.sha256}/small.jpg" if here else "",
            step=what.step.value if what.step is not None else None,
            visit=what.visit,
            part=part,
            note=self._notes.get(what.note, "text erased") if what.note else None,
            at=entry.when.latest,
            camera_said=what.taken,
            who=self._people.get(entry.who or ""),
            width_px=row.width_px if row is not None else None,
            height_px=row.height_px if row is not None else None,
            here=here,
        )


def _in_order(entry: Entry) -> tuple[int, int, datetime, int]:
    what = entry.what
    assert isinstance(what, Photographed)
    return (what.step.position if what.step is not None else -1), what.visit, entry.when.latest, entry.number


def photos_of(tx: Reading, tag: str, folder: Path) -> PhotosCard:
    """Return the photos of one specimen in the order of the steps."""
    specimen = specimen_by_tag(tx, tag)
    story, _ = story_of(tx, specimen_subject(specimen.id))
    entries = sorted((e for e in story.entries if isinstance(e.what, Photographed)), key=_in_order)
    look = _Look(tx, folder)
    photos = tuple(look.card(entry) for entry in entries)
    missing = sum(1 for photo in photos if not photo.here)
    return PhotosCard(
        tag=specimen.tag,
        species=species_name(specimen.species, known_of(tx)).common,
        now=step_now(tx, specimen).value,
        steps=tuple(step.value for step in STEP_ORDER),
        parts=tuple(part.name for part in specimen.parts),
        photos=photos,
        flags=(_missing(missing, folder),) if missing else (),
    )


def _missing(count: int, folder: Path) -> Flag:
    return Flag(
        said("photo.missing", "{count} photos are written down, but their files are not there", count=count),
        said("photo.missing.next", "copy {folder} back from a backup; `book check` names each file", folder=folder.name),
    )


def added(tx: Reading, kept: Kept, folder: Path, tag: str, refused: list[RefusedPhoto]) -> PhotosAddedCard:
    """Say what came of adding photos."""
    look = _Look(tx, folder)
    cards = {entry.id: look.card(entry) for entry in kept.entries}
    steps = [card.step for card in cards.values()]
    odd = [card for card in cards.values() if card.camera_said is not None and not _same_day(card)]
    return PhotosAddedCard(
        tag=tag,
        step=steps[0] if steps else None,
        kept=tuple(card for id, card in cards.items() if kept.how[id] == "stored"),
        already=tuple(card for id, card in cards.items() if kept.how[id] != "stored"),
        refused=tuple(refused),
        flags=tuple(_odd_clock(card) for card in odd[:1]),
    )


def _same_day(card: PhotoCard) -> bool:
    """Whether the camera's wall time was believed: within a day of what was written, whatever the zone."""
    said_at = datetime.fromisoformat(card.camera_said or "").replace(tzinfo=card.at.tzinfo)
    return abs((said_at - card.at).total_seconds()) < 86400 if 1 < said_at.year < 9999 else False


def _odd_clock(card: PhotoCard) -> Flag:
    day = datetime.fromisoformat(card.camera_said or "").date()
    return Flag(
        said("photo.clock", "the camera says this was taken on {day:day}, which cannot be; now was written", day=day),
        said("photo.clock.next", "set the camera's clock"),
    )


def taken_out(tx: Reading, entry: Entry, *, erase: bool, erased: bool) -> PhotoOutCard:
    """Say what came of taking a photo out."""
    what = entry.what
    assert isinstance(what, Photographed)
    flags: tuple[Flag, ...] = ()
    if erased:
        flags = (
            Flag(
                said("photo.copies", "copies of the book made before still hold this photo"),
                said("photo.copies.next", "delete the older copies, or keep them where nobody looks"),
            ),
        )
    elif erase:
        flags = (
            Flag(
                said("photo.shared", "the file stays, because another entry shows the same photo"),
                said("photo.shared.next", "take that one out as well"),
            ),
        )
    specimen = next(s for s in entry.subjects if s.startswith("specimen:"))
    return PhotoOutCard(_tag_of(tx, specimen), entry.id, what.sha256, erased, flags=flags)


def _tag_of(tx: Reading, subject: str) -> str:
    from_state = story_of(tx, root_of(subject))[0]
    tags = [getattr(entry.what, "tag", "") for entry in from_state.entries]
    return next((tag for tag in reversed(tags) if tag), "")


def file_of(tx: Reading, folder: Path, sha256: str) -> PhotoFile:
    """Return where one photo lies; only what the book lists is ever looked for, so no path can be made of a name."""
    row = files.one(tx, sha256) if attached.is_hash(sha256) else None
    if row is None or row.erased_at is not None or row.media_type != "image/jpeg":
        raise UnknownName("photo.no_file", "this book has no such photo")
    large = folder / row.named.name
    if not large.is_file():
        raise UnknownName("photo.file_missing", "the file of this photo is missing; copy it back from a backup")
    return PhotoFile(row.sha256, large, folder / attached.SMALL / row.named.name)
