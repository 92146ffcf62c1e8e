"""Invented cards of the pages for paper: print, type back, scan."""

from datetime import UTC, date, datetime
from typing import Any

from bonebench.papers.advice import LABEL_ADVICE
from bonebench.papers.prints import HOLES, KINDS
from bonebench.papers.stocks import PAPERS_MM, STOCKS
from bonebench.said import said
from bonebench.services.prints.cards import FoundCode, ScanCard, SheetCard, SheetLine, TypedBackCard, TypedRow, UnreadCard
from bonebench.services.prints.scan import TEACH
from bonebench.shop.sheet_entries import SheetMark, SheetRow

DAY = date(2026, 5, 9)
AT = datetime(2026, 5, 9, 13, 0, tzinfo=UTC)
PRINT: dict[str, Any] = {
    "page": "print", "form": {}, "error": None, "could_be": (), "kinds": KINDS, "stocks": tuple(STOCKS.values()),
    "usual": "letter-3x10", "holes": HOLES, "papers": tuple(PAPERS_MM), "places": [("big-pot", "Big pot")],
    "sheets": (SheetLine("0509A-9", DAY, 12),),
    "rolls": [("Roll 1", "Roll 1: 40 tags, 3 used")], "advice": LABEL_ADVICE, "cautions": (),
}  # fmt: skip
MARKS = (SheetMark("a", "Trimmed", "done", ("specimen:1",)), SheetMark("d1", "Grease shows", "problem", ("specimen:1",)))
SHEET = SheetCard("0509A-9", DAY, AT, (SheetRow(1, "Trim D3R-J: skin, eyes, tongue, brain", MARKS),))
TYPED = TypedBackCard(
    sheet="0509A-9", day=DAY, again="9 b at 25:00",
    rows=(
        TypedRow(1, "a", "Trim D3R-J", "Trimmed", "stored", "e-1", AT, AT),
        TypedRow(2, "b", "Look at C4T-8", "Not yet", "already stored", "e-2", AT, AT),
    ),
    unread=(UnreadCard("9 b at 25:00", said("w", "'at 25:00' is no time; write it like 14:30. Nothing of it is stored")),),
    basis=(), flags=(), cautions=(),
)  # fmt: skip
FOUND = [
    (FoundCode("D3R-J", "specimen", "D3R-J", "white-tailed deer"), "/specimens/D3R-J"),
    (FoundCode("place:big-pot", "place", "big-pot", "Big pot"), "/specimens?place=big-pot"),
    (FoundCode("milk", "unknown", "milk", "milk"), "/find?q=milk"),
]
SCAN: dict[str, Any] = {"page": "scan", "card": None, "found": [], "error": None, "could_be": ()}
BACK: dict[str, Any] = {
    "page": "typed-back", "sheet": "", "text": "", "card": None, "printed": None, "error": None, "sheets": (),
}  # fmt: skip
# Each: name, template, address, what it is shown with.
PAPER_PAGES: tuple[tuple[str, str, str, dict[str, Any]], ...] = (
    ("print", "print.html", "/print", PRINT),
    ("print-refused", "print.html", "/print/labels.pdf", {
        **PRINT, "form": {"kind": "jar", "tags": "D3R-K", "start": "44", "paper": "a4"}, "could_be": ("D3R-J",),
        "error": said("e", "'D3R-K' is not a tag of this room"),
    }),
    ("typed-back", "typed_back.html", "/typed-back", BACK),
    ("typed-back-sheet", "typed_back.html", "/typed-back?sheet=0509A-9", {
        **BACK, "sheet": "0509A-9", "text": TYPED.again, "card": TYPED, "printed": SHEET, "sheets": PRINT["sheets"],
    }),
    ("typed-back-refused", "typed_back.html", "/typed-back", {
        **BACK, "sheet": "0509A-8", "text": "3 b", "error": said("e", "'0509A-8' is not the number of a sheet"),
    }),
    ("scan", "scan.html", "/scan", SCAN),
    ("scan-found", "scan.html", "/scan", {**SCAN, "card": ScanCard(tuple(one for one, _ in FOUND), ()), "found": FOUND}),
    ("scan-none", "scan.html", "/scan", {**SCAN, "card": ScanCard((), TEACH)}),
    ("scan-slip", "scan.html", "/scan", {**SCAN, "error": said("e", "'D3R-K' is not a tag of this room"), "could_be": ("D3R-J",)}),
)  # fmt: skip
