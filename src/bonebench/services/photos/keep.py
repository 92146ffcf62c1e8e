"""Photos in an open transaction: write entries about them, take one out. The files lie in their folder before any entry says so."""

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from bonebench.errors import UnknownName
from bonebench.records import attached, files
from bonebench.records import entries as log_rows
from bonebench.records.book import Reading, Writing
from bonebench.records.files import FileRow
from bonebench.services.gather import known_of, room_of, specimen_by_tag
from bonebench.services.log.record import Kept, Pen, record, write_entry
from bonebench.services.log.states import story_of
from bonebench.services.photos.cards import Taken
from bonebench.services.plans.problem import subject_of
from bonebench.services.specimens.do import undo
from bonebench.services.specimens.notes import keep_note
from bonebench.shop.entries import Entry, When, exactly, root_of, specimen_subject
from bonebench.shop.photo_entries import Photographed
from bonebench.shop.specimen import Specimen
from bonebench.shop.steps import STEP_ORDER, Step

# A camera's time is believed within these; beyond, its clock was never set, and now is written. Our own bounds, no source.
FUTURE_SLACK = timedelta(minutes=10)
OLDEST = timedelta(days=3650)
FIRST = datetime(1, 1, 2, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class About:
    """What photos are of, as it was typed; the step the specimen is in unless said."""

    tag: str
    step: str | None = None
    part: str | None = None
    note: str | None = None


def step_now(tx: Reading, specimen: Specimen) -> Step:
    """Return the step a photo taken now belongs to: the one that runs, or the last that was done."""
    leg = subject_of(specimen, known_of(tx)).standing.leg
    if leg is not None:
        return leg.step
    ended = [mark for mark in specimen.ended if not mark.skipped]
    return max(ended, key=lambda mark: mark.at).step if ended else Step.RECEIVE


def read_step(text: str) -> Step:
    """Read a step as people write it."""
    wanted = " ".join(text.replace("-", " ").replace("_", " ").split()).casefold()
    for step in STEP_ORDER:
        if wanted == step.value:
            return step
    raise UnknownName(
        "photo.step", "'{text}' is no step; the steps are: {steps}", text=text, steps=", ".join(Step), could_be=tuple(Step)
    )


def read_part(text: str, specimen: Specimen) -> str:
    """Read a part of a specimen by its name."""
    names = tuple(part.name for part in specimen.parts)
    for name in names:
        if name.casefold() == text.strip().casefold():
            return name
    raise UnknownName(
        "photo.part", "{tag} has no part '{part}'; it has: {names}",
        tag=specimen.tag, part=text, names=", ".join(names) or "none", could_be=names,
    )  # fmt: skip


def check_about(tx: Reading, about: About) -> Specimen:
    """Refuse what cannot be before any file is written; returns the specimen."""
    specimen = specimen_by_tag(tx, about.tag)
    if about.step:
        read_step(about.step)
    if about.part:
        read_part(about.part, specimen)
    return specimen


def known_before(tx: Reading, folder: Path, taken: Taken) -> Taken:
    """Return the file that the same sent bytes became before, should another picture library have made other bytes of them."""
    row = files.sent_before(tx, taken.sent_sha256)
    if row is None or row.sha256 == taken.sha256 or not attached.is_whole(folder / row.named.name, row.named):
        return taken
    return replace(taken, sha256=row.sha256, large=(folder / row.named.name).read_bytes())


def lay_down(folder: Path, taken: Taken) -> None:
    """Write the file itself, whole and synced; before the transaction that speaks of it."""
    attached.put(folder, taken.named, taken.large, taken.small)


def note_photos(tx: Writing, pen: Pen, about: About, taken: list[Taken]) -> Kept:
    """List the files and store one entry for each; one that this specimen has already at this step is not stored again."""
    specimen = check_about(tx, about)
    step = read_step(about.step) if about.step else step_now(tx, specimen)
    subjects = (specimen_subject(specimen.id, read_part(about.part, specimen) if about.part else None),)
    there = {
        (entry.what.sha256, entry.what.step, entry.subjects): entry
        for entry in story_of(tx, specimen_subject(specimen.id))[0].entries
        if isinstance(entry.what, Photographed)
    }
    entries: list[Entry] = []
    fresh: list[Entry] = []
    for one in taken:
        files.add(tx, _row(one, pen.now))
        key = (one.sha256, step, subjects)
        if key not in there:
            there[key] = _entry(tx, pen, specimen, one, (step, about.note, subjects))
            fresh.append(there[key])
        entries.append(there[key])
    kept = record(tx, fresh, pen.now)
    how = {entry.id: kept.how.get(entry.id, "already stored") for entry in entries}
    return Kept(tuple({entry.id: entry for entry in entries}.values()), how)


def _row(one: Taken, now: datetime) -> FileRow:
    return FileRow(one.sha256, "image/jpeg", len(one.large), one.width_px, one.height_px, one.sent_sha256, now)


def _entry(tx: Writing, pen: Pen, specimen: Specimen, one: Taken, said: tuple[Step, str | None, tuple[str, ...]]) -> Entry:
    step, note, subjects = said
    entry_id = pen.new_id()
    camera = None if one.taken is None else one.taken.replace(tzinfo=None).isoformat()
    what = Photographed(one.sha256, step, specimen.visit(step), (note or "").strip() or None, camera)
    kept = keep_note(tx, what, entry_id=entry_id, subjects=subjects, writer=pen.who)
    when = when_taken(one.taken, pen.now, ZoneInfo(room_of(tx).zone))
    return write_entry(tx, pen, kept, subjects, when, entry_id=entry_id)


def when_taken(taken: datetime | None, now: datetime, zone: ZoneInfo) -> When:
    """Return when a photo was taken: the camera's time where it can be, else now."""
    if taken is None:
        return exactly(now)
    at = taken if taken.tzinfo is not None else taken.replace(tzinfo=zone)
    # Compared without the zones' offsets first: the first and the last year there is have none.
    if not 1 < at.year < 9999 or not now - OLDEST <= at <= now + FUTURE_SLACK:
        return exactly(now)
    return exactly(min(at, now))


def photo_named(tx: Reading, tag: str, name: str) -> Entry:
    """Return the entry of one photo of a specimen by the entry's id or the beginning of the file's hash."""
    subject = specimen_subject(specimen_by_tag(tx, tag).id)
    photos = [entry for entry in story_of(tx, subject)[0].entries if isinstance(entry.what, Photographed)]
    found = [entry for entry in photos if name == entry.id]
    if not found and len(name) >= 4:
        found = [
            entry for entry in photos if isinstance(entry.what, Photographed) and entry.what.sha256.startswith(name.casefold())
        ]
    if len(found) == 1:
        return found[0]
    if found:
        raise UnknownName("photo.several", "{count} photos of {tag} begin so; name the entry", count=len(found), tag=tag)
    raise UnknownName("photo.unknown", "{tag} has no photo '{name}'; `photo list {tag}` shows them", tag=tag, name=name)


def _shown(tx: Reading, sha256: str) -> bool:
    """Whether any photo entry that counts names this file."""
    rows = [row for row in log_rows.of_kind_since(tx, Photographed.KIND, FIRST) if row.values.get("sha256") == sha256]
    return any(row.id in {e.id for e in story_of(tx, root_of(s))[0].entries} for row in rows for s in row.subjects)


def take_out(tx: Writing, pen: Pen, tag: str, name: str, *, erase: bool) -> tuple[Entry, bool]:
    """Take one photo out; with ``erase`` its file is given up as well, unless another photo entry still shows it."""
    entry = photo_named(tx, tag, name)
    assert isinstance(entry.what, Photographed)
    undo(tx, pen, entry.id)
    if not erase or _shown(tx, entry.what.sha256):
        return entry, False
    files.set_erased(tx, entry.what.sha256, pen.now)
    return entry, True
