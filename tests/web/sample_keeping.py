"""Invented cards of parts, condition, a place that was counted, lots and rolls of tags."""

from datetime import UTC, datetime, timedelta

from bonebench.said import said
from bonebench.services.cards import Answer, Flag, SpeciesName
from bonebench.services.lots.cards import LotCard, LotListCard, MemberCard
from bonebench.services.parts.cards import AskedMove, ConditionCard, ConditionLine, Offered, PartCard, RepairLine, SampleCard
from bonebench.services.places.cards import CountCard, MissingCard, PlaceBookCard, ShouldBeCard, StandsHere, StrangeCard
from bonebench.services.tags.cards import RollCard, TagsCard

NOW = datetime(2026, 5, 9, 13, 30, tzinfo=UTC)
COYOTE = SpeciesName("canis-latrans", "coyote", "Canis latrans")


def ago(days: float) -> datetime:
    return NOW - timedelta(days=days)


def moved(key: str, label: str, subject: str = "specimen:01/antlers", place: str = "rack") -> Answer:
    return Answer(key, said(f"tap.{key}", label), "moved", (subject,), {"place": place})


UNMARKED = Flag(
    said("flag.unmarked", "D3R-J and K7Q-K, each a coyote, are in Big pot and nothing marks them"),
    said("flag.unmarked.next", "one skull to a pot or bag"),
)
BACK = Answer("join", said("tap.back_with_rest", "Back with the rest"), "part-joined", ("specimen:01/antlers",), {"to": "skull"})
ASKED = AskedMove(
    "tub", "White tub", "out", "peroxide bleaches them", "keep them dry", "common practice, no source", "a source",
    moved("tub", "Into White tub", place="tub"),
)  # fmt: skip
PARTS = (
    PartCard("skull", "pot-1", "Big pot", ago(4), "skull", "its tray", "The part the route goes by."),
    PartCard("mandible", "pot-1", "Big pot", ago(4), joined_to="skull"),
    PartCard(
        "antlers", "rack", "Rack", ago(38), "antlers", "hung dry", "Off, or above the waterline.", apart=True, mass_kg=1.2,
        missing_since=ago(1), back=BACK, moves=(moved("rack", "Into Rack"),), asked=(ASKED,),
    ),
    PartCard("sample", "freezer", "Freezer", ago(40), "sample", "a vial", sample=SampleCard("muscle", "DNA", ago(40))),
    PartCard("sample 2", None, None, ago(3), sample=SampleCard("", "", ago(40)), sent_to="a laboratory"),
)  # fmt: skip
LOOKS = ConditionCard(
    came=(ConditionLine("e1", "came", "hole", "Hole: shot, bite or tool", "left cheek", "skull", ago(40), "small", ("a" * 64,)),),
    goes=(ConditionLine("e2", "goes", "whole", "Whole", "", "", ago(1), "", ("a" * 64, "b" * 64)),),
    repairs=(
        RepairLine("e3", "glued", "Glued", "nasals", "skull", "epoxy", "Two-part epoxy", False, "nothing that spares bone",
                   "common practice, no source", ago(2), "", ()),
        RepairLine("e4", "filled", "Gap filled", "", "", None, None, None, "", "", ago(2), "", ()),
        RepairLine("e5", "glued", "Glued", "", "", "paste", "paste", None, "", "", ago(2), "by the owner", ()),
    ),
)  # fmt: skip
OFFERED = Offered(
    ("skull", "antlers"), (("whole", "Whole"),), (("glued", "Glued"),), (("came", "As it came"),), (("bag", "In a bag"),),
    (("epoxy", "Two-part epoxy"),), (("freezer", "Freezer"),),
)  # fmt: skip
SPECIMEN_MORE = {"parts": PARTS, "looks": LOOKS, "offered": OFFERED, "former_tags": ("K7Q-K",), "marked": "bag"}

ITEMS = (
    ShouldBeCard("01", "D3R-J", COYOTE, "Marigold Teller", ("skull", "mandible"), (), ("specimen:01",), ago(4), ago(1), "Pot lot",
                 None, missing=False),
    ShouldBeCard("02", "K7Q-K", COYOTE, None, ("antlers",), ("hung dry",), ("specimen:02/antlers",), ago(4), None, None, "bag",
                 missing=True),
)  # fmt: skip
COUNT = CountCard(
    ago(0.1), "Ida Fennimore", "e9", 3, 2, ("D3R-J", "9ZZ-9"),
    (MissingCard("K7Q-K", COYOTE, ("antlers",), said("told.moved", "moved to Big pot"), ago(4), "Ida Fennimore",
                 Answer("found", said("tap.found", "Found, it is here"), "seen", ("specimen:02/antlers",), {"place": "pot-1"}),
                 (moved("rack", "Into Rack", "specimen:02/antlers"),)),),
    (StrangeCard("9ZZ-9", COYOTE, None, moved("here", "It was moved here", "specimen:03/skull", "pot-1")),),
    ("K7Q-A",), said("count.differs", "1 missing, 1 that the book has elsewhere, 1 with a tag nobody knows"),
)  # fmt: skip
MARKS = (
    Answer("mark-bag", said("tap.mark.bag", "In a mesh bag of its own"), "marked", ("specimen:01", "specimen:02"), {"how": "bag"}),
)
PLACE = PlaceBookCard(
    "pot-1", "Big pot", "pot", True, 2, ITEMS, (StandsHere("b1", "May detergent"),), ITEMS, MARKS, COUNT, flags=(UNMARKED,)
)  # fmt: skip
PLACE_EMPTY = PlaceBookCard("shelf", "Shelf", "shelf", True, 0, (), (), (), (), None)
MEMBERS = (
    MemberCard("01", "D3R-J", COYOTE, "Marigold Teller", "pot-1", "Big pot", ago(4), "bag"),
    MemberCard("02", "K7Q-K", COYOTE, None, None, None, None, None),
)
LOTS = LotListCard((LotCard("l1", "Pot lot", MEMBERS, flags=(UNMARKED,)),), None)
LOTS_NONE = LotListCard((), said("lots.teach", "No specimens are treated together."))
TAGS = TagsCard(
    (RollCard("Shed roll", ago(3), 3, 1, ("D3R-J", "K7Q-K")), RollCard("Spring", ago(100), 2, 2, ())), None
)  # fmt: skip
TAGS_NONE = TagsCard((), said("tags.teach", "No roll was issued yet."))
