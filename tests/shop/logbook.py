"""Entries for tests: short to write, with ids and numbers of their own."""

from datetime import UTC, datetime, timedelta

from bonebench.shop.entries import Entry, What, When, exactly, specimen_subject
from bonebench.shop.fold import Story, tell
from bonebench.shop.specimen import Specimen, fold_specimen

NOON = datetime(2026, 5, 4, 12, 0, tzinfo=UTC)
FOX = "00000000-0000-7000-8000-00000000f0f0"


def entry(number: int, what: What, *, minutes: float = 0, subjects: tuple[str, ...] | None = None, **more: object) -> Entry:
    """Make entry ``number``; it happened so many minutes after noon and was written at once."""
    at = NOON + timedelta(minutes=minutes or number)
    fields: dict[str, object] = {
        "id": f"e{number:03d}",
        "writer": "desk",
        "number": number,
        "when": exactly(at),
        "recorded": at,
        "subjects": (specimen_subject(FOX),) if subjects is None else subjects,
        "what": what,
    }
    return Entry(**{**fields, **more})  # type: ignore[arg-type]


def about(start: datetime, end: datetime) -> When:
    """An about time."""
    return When(start, end)


def story(*entries: Entry) -> Story:
    """Tell these entries of the fox."""
    return tell(entries, specimen_subject(FOX))


def fox(*entries: Entry) -> Specimen:
    """Fold these entries of the fox."""
    return fold_specimen(FOX, story(*entries))
