"""How what happened to parts, marks, condition, counts and rolls of tags is told back, in words."""

from collections.abc import Callable, Mapping
from typing import Any

from bonebench.said import Said, said
from bonebench.shop import part_entries as log
from bonebench.shop.what import What

Names = Mapping[str, str]
_REPAIRS, _STAGES, _MARKS = dict(log.REPAIRS), dict(log.STAGES), dict(log.MARKS)


def note_text(note: str | None, names: Names) -> str:
    """The text of a note by its id; it lives with the people, and may have been erased there."""
    return "" if not note else names.get(note, "text erased")


def _after(mark: str, words: str) -> str:
    return f"{mark}{words}" if words else ""


def _joined(what: log.PartJoined, names: Names) -> Said:
    del names
    return said("told.part_joined", "on the {to} again", to=what.to)


def _sample(what: log.SampleTaken, names: Names) -> Said:
    return said(
        "told.sample", "sample{of} taken into '{vial}'{purpose}{place}{note}",
        of=_after(" of ", what.of), vial=what.vial, purpose=_after(" for ", what.purpose),
        place=_after(", put in ", names.get(what.place or "", what.place or "")), note=_after(": ", note_text(what.note, names)),
    )  # fmt: skip


def _sent(what: log.PartSent, names: Names) -> Said:
    return said("told.part_sent", "sent to {to}{note}", to=what.to, note=_after(": ", note_text(what.note, names)))


def _marked(what: log.Marked, names: Names) -> Said:
    del names
    return said("told.marked", "told from others by: {how}", how=_MARKS.get(what.how, what.how).casefold())


def _photos(photos: tuple[str, ...]) -> str:
    return "" if not photos else f" ({len(photos)} picture{'s' if len(photos) > 1 else ''})"


def _condition(what: log.ConditionNoted, names: Names) -> Said:
    return said(
        "told.condition", "{stage}: {what}{where}{note}{photos}",
        stage=_STAGES.get(what.stage, what.stage).casefold(), what=what.what, where=_after(", ", what.where),
        note=_after(": ", note_text(what.note, names)), photos=_photos(what.photos),
    )  # fmt: skip


def _repaired(what: log.Repaired, names: Names) -> Said:
    return said(
        "told.repaired", "{how}{where}{adhesive}{note}{photos}",
        how=_REPAIRS.get(what.how, what.how).casefold(), where=_after(", ", what.where),
        adhesive=_after(", with ", names.get(what.adhesive or "", what.adhesive or "")),
        note=_after(": ", note_text(what.note, names)), photos=_photos(what.photos),
    )  # fmt: skip


def _counted(what: log.Counted, names: Names) -> Said:
    found = "counted" if what.found is None else f"{what.found} counted"
    rest = [f"the book has {what.expected}"] if what.expected is not None else []
    rest += [f"{len(what.missing)} missing"] if what.missing else []
    rest += [f"{len(what.unknown)} unknown tags"] if what.unknown else []
    place = names.get(what.place, what.place)
    return said("told.counted", "{found} in {place}{rest}", found=found, place=place, rest=_after("; ", ", ".join(rest)))


def _issued(what: log.TagsIssued, names: Names) -> Said:
    del names
    return said("told.tags_issued", "tags issued on roll '{roll}'", roll=what.roll)


TELL_PARTS: Mapping[type[What], Callable[[Any, Names], Said]] = {
    log.PartJoined: _joined,
    log.SampleTaken: _sample,
    log.PartSent: _sent,
    log.Marked: _marked,
    log.ConditionNoted: _condition,
    log.Repaired: _repaired,
    log.Counted: _counted,
    log.TagsIssued: _issued,
}
