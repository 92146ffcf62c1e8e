"""What the invented room keeps whole: a roll of tags, a lot in a pot, a vial, antlers apart, damage and a repair, a count."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta

from bonebench.records.book import Reading
from bonebench.services.gather import everything_in_work, known_of
from bonebench.shop.entries import ROOM, Entry, Joined, What, specimen_subject
from bonebench.shop.identity import number_of_tag
from bonebench.shop.part_entries import ConditionNoted, Counted, Marked, Repaired, SampleTaken, TagsIssued
from bonebench.shop.rounds import place_subject
from bonebench.shop.routes import main_part
from bonebench.shop.specimen import Specimen

Write = Callable[[What, tuple[str, ...], datetime], Entry]
POT_LOT = "Small pot, this month"


def kept_entries(tx: Reading, now: datetime, write: Write) -> Iterator[Entry]:
    """Yield the entries, written some hours or days before the morning of the demo."""
    everything = [subject.specimen for subject in everything_in_work(tx, known_of(tx))]
    yield from _roll(everything, now, write)
    yield from _lot(everything, now, write)
    yield from _deer(everything, now, write)
    yield from _count(everything, now, write)


def _in(specimens: list[Specimen], place: str) -> list[Specimen]:
    return [one for one in specimens if (part := main_part(one)) is not None and part.place == place]


def _roll(specimens: list[Specimen], now: datetime, write: Write) -> Iterator[Entry]:
    """The tags of the room so far came off one roll."""
    numbers = [number for one in specimens if (number := number_of_tag(one.tag)) is not None]
    yield write(TagsIssued("Roll of spring", min(numbers), max(numbers)), (ROOM,), now - timedelta(days=150))


def _lot(specimens: list[Specimen], now: datetime, write: Write) -> Iterator[Entry]:
    """Two in the small pot are treated together; one is in a bag, so they stay apart."""
    together = _in(specimens, "small-pot")[:2]
    at = now - timedelta(days=4)
    subjects = tuple(specimen_subject(one.id) for one in together)
    if len(together) > 1:
        yield write(Joined("lot-small-pot", POT_LOT), subjects, at)
        yield write(Marked("bag"), subjects[:1], at)


def _deer(specimens: list[Specimen], now: datetime, write: Write) -> Iterator[Entry]:
    """A deer in the cold: its muscle sampled before any bath, a hole as it came; one further on was mended."""
    antlered = [one for one in specimens if any(part.name == "antlers" for part in one.parts)]
    cold = [one for one in antlered if one in _in(specimens, "chest-freezer")]
    for one in cold[:1]:
        subject = (specimen_subject(one.id),)
        yield write(ConditionNoted("hole", "came", "behind the left eye"), subject, now - timedelta(days=1))
        vial = SampleTaken("sample", "muscle", "a wasting disease test", "chest-freezer")
        yield write(vial, subject, now - timedelta(hours=20))
    for one in _in(antlered, "white-tub")[:1]:
        subject = (specimen_subject(one.id),)
        yield write(ConditionNoted("cracked", "came", "right nasal bone"), subject, now - timedelta(days=20))
        yield write(Repaired("glued", "right nasal bone", "acrylic-in-acetone"), subject, now - timedelta(days=5))


def _count(specimens: list[Specimen], now: datetime, write: Write) -> Iterator[Entry]:
    """The drying rack was counted last evening, and all was there."""
    here = [
        specimen_subject(one.id, part.name) for one in specimens for part in one.parts if part.place == "drying-rack"
    ]  # fmt: skip
    pieces = len({subject.split("/", 1)[0] for subject in here})
    what = Counted("drying-rack", pieces, tuple(here), expected=pieces)
    yield write(what, (place_subject("drying-rack"), *here), now - timedelta(hours=14))
