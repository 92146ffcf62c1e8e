"""Free text of an entry is kept with the people, under the owner of what it is about, so that it can be erased with them."""

import hashlib
import uuid
from dataclasses import replace

from bonebench.records import people
from bonebench.records.book import Writing
from bonebench.services.gather import specimen_by_subject
from bonebench.shop.entries import Entry, Noted, Problem, What
from bonebench.shop.part_entries import WITH_NOTES
from bonebench.shop.photo_entries import Photographed


def keep_note(tx: Writing, what: What, *, entry_id: str, subjects: tuple[str, ...], writer: str | None) -> What:
    """Return what happened with its text put where it can be erased; the entry holds the text's id.

    The id follows from entry and text, so that the same entry sent again is the same.
    """
    if not isinstance(what, (Noted, Problem, Photographed, *WITH_NOTES)) or not what.note or people.has_note(tx, what.note):
        return what
    digest = hashlib.blake2b(f"{entry_id}\x1f{what.note}".encode("utf-8", "replace"), digest_size=16).digest()
    note = str(uuid.UUID(bytes=digest))
    if not people.has_note(tx, note):
        people.add_note(tx, note, _whose(tx, subjects) or writer, what.note)
    return replace(what, note=note)


def with_note_kept(tx: Writing, entry: Entry) -> Entry:
    """Return an entry that was written elsewhere with its text put where it can be erased."""
    what = keep_note(tx, entry.what, entry_id=entry.id, subjects=entry.subjects, writer=None)
    return entry if what is entry.what else replace(entry, what=what)


def _whose(tx: Writing, subjects: tuple[str, ...]) -> str | None:
    owners = (specimen_by_subject(tx, subject).owner for subject in subjects if subject.startswith("specimen:"))
    owner = next((owner for owner in owners if owner is not None), None)
    return owner if owner is not None and people.known(tx, owner) else None
