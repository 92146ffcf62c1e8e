"""What happens to parts, vials, marks, condition, counts and rolls of tags: the kinds of entry about keeping a specimen whole.

None is ever demanded. ``note`` is free text and lives with the people, as everywhere; ``photos`` are the SHA-256 of pictures.
"""

from dataclasses import dataclass
from typing import ClassVar, Literal

from bonebench.shop.what import What

Stage = Literal["came", "here", "goes"]


@dataclass(frozen=True)
class PartJoined(What):
    """A part is on another one again and goes where that goes: antlers on the skull, loose teeth back in."""

    KIND: ClassVar[str] = "part-joined"
    to: str = "skull"


@dataclass(frozen=True)
class SampleTaken(What):
    """A sample was taken into a vial, which is a part from now on: of which tissue, what for, and where the vial was put."""

    KIND: ClassVar[str] = "sample-taken"
    vial: str = "sample"
    of: str = ""
    purpose: str = ""
    place: str | None = None
    note: str | None = None


@dataclass(frozen=True)
class PartSent(What):
    """A part left the room, and is still kept track of: a vial at a laboratory, antlers with the owner."""

    KIND: ClassVar[str] = "part-sent"
    to: str
    note: str | None = None


@dataclass(frozen=True)
class Marked(What):
    """How it is told from others in one vessel: a bag, a jar of its own, its tag tied on; "nothing" takes the mark away."""

    KIND: ClassVar[str] = "marked"
    how: str


@dataclass(frozen=True)
class ConditionNoted(What):
    """How it, or a part of it, looks: as it came, while it is here, or as it goes."""

    KIND: ClassVar[str] = "condition-noted"
    what: str
    stage: Stage = "here"
    where: str = ""
    note: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True)
class Repaired(What):
    """Something was mended; ``adhesive`` is a key of the shipped glues, or words for one that is not shipped."""

    KIND: ClassVar[str] = "repaired"
    how: str
    where: str = ""
    adhesive: str | None = None
    note: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True)
class Counted(What):
    """A place was counted. The entry is about the place and about every piece that was seen or missed.

    ``found`` is how many stand there; ``seen`` and ``missing`` name subjects where tags were ticked or scanned; ``unknown`` are
    tags as they were read that nothing here carries. ``expected`` is how many the book had there at that moment.
    """

    KIND: ClassVar[str] = "counted"
    place: str
    found: int | None = None
    seen: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    expected: int | None = None


@dataclass(frozen=True)
class TagsIssued(What):
    """A block of tags was handed out: printed on a roll, or given to a device that works without the network."""

    KIND: ClassVar[str] = "tags-issued"
    roll: str
    first: int
    last: int


PART_KINDS: tuple[type[What], ...] = (
    PartJoined, SampleTaken, PartSent, Marked, ConditionNoted, Repaired, Counted, TagsIssued,
)  # fmt: skip

# Their free text is kept with the people, so that it can be erased and searched.
WITH_NOTES = (SampleTaken, PartSent, ConditionNoted, Repaired)

# What a short list offers; whatever else is written is kept as it stands.
CONDITIONS: tuple[tuple[str, str], ...] = (
    ("whole", "Whole"),
    ("broken", "Broken"),
    ("cracked", "Cracked"),
    ("chipped", "Chipped"),
    ("piece missing", "A piece is missing"),
    ("tooth missing", "Tooth missing"),
    ("tooth split", "Tooth split"),
    ("hole", "Hole: shot, bite or tool"),
    ("sawn", "Sawn"),
    ("gnawed", "Gnawed"),
    ("weathered", "Weathered, flaking"),
    ("greasy", "Grease shows"),
    ("stained", "Stained"),
    ("chalky", "Chalky or pitted"),
    ("old glue", "Old glue or filler"),
    ("painted", "Painted or varnished"),
    ("mould", "Mould"),
)
REPAIRS: tuple[tuple[str, str], ...] = (
    ("glued", "Glued"),
    ("filled", "Gap filled"),
    ("strengthened", "Soaked with a thin resin"),
    ("pinned", "Pinned"),
    ("wired", "Wired"),
    ("taken apart", "An old repair taken apart"),
)
STAGES: tuple[tuple[Stage, str], ...] = (("came", "As it came"), ("here", "While it was here"), ("goes", "As it goes"))
MARKS: tuple[tuple[str, str], ...] = (
    ("bag", "In a mesh bag of its own"),
    ("jar", "In a jar of its own"),
    ("tag on", "Its tag is tied on"),
    ("nothing", "Nothing marks it"),
)
# Vessels in which unmarked pieces of one species are mixed up within a minute.
UNMARKED = "nothing"
