"""What people remember a specimen by: the words of its entries, for a search to find."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from bonebench.shop.entries import Entry, Joined, Noted, Problem, values_of
from bonebench.shop.names import plain_letters
from bonebench.shop.part_entries import WITH_NOTES, Marked
from bonebench.shop.photo_entries import Photographed
from bonebench.shop.what import What

# Nobody remembers an id, and the letters of one would answer to short words.
IDS = ("lot", "note")
WORDED = (Joined, Marked, *WITH_NOTES)
NOTING = (Noted, Problem, Photographed, *WITH_NOTES)


@dataclass(frozen=True, slots=True)
class Remembered:
    """What one entry says in words: in plain letters, and its note by id, for the text of that can be erased."""

    entry: str
    text: str
    note: str | None


def remembered(entries: Iterable[Entry]) -> Iterator[Remembered]:
    """Yield what these entries say in words; those without any are left out."""
    for entry in entries:
        text = plain_letters("\n".join(_texts(entry.what))) if isinstance(entry.what, WORDED) else ""
        note = entry.what.note if isinstance(entry.what, NOTING) else None
        if text or note:
            yield Remembered(entry.id, text, note or None)


def _texts(what: What) -> Iterator[str]:
    return (value for name, value in values_of(what).items() if name not in IDS and isinstance(value, str) and value)
